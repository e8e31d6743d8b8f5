"""Photos whose names, hashes or kinds lead elsewhere, in a file or on the command line: no front follows them."""

import asyncio
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sitelog.job.log.entry import Author, Draft, seal
from sitelog.job.storage.file import JobFile
from sitelog.reports.formats.reply_form import script
from tests.hostile.fronts import BARRED, line_by_line, packs, pages, say, spoken
from tests.hostile.jobs import job, sample
from tests.length import long

MOMENT = datetime(2026, 11, 24, 16, 0, tzinfo=UTC)
ROWS: tuple[object, ...] = (
    {"hash": "../../../../outside", "type": "jpeg", "size": 7, "name": "a.jpg"},
    {"hash": "a" * 64, "type": "../../outside", "size": 7, "name": "b.jpg"},
    {"hash": "b" * 64, "type": "jpeg", "size": 7, "name": "../../../../outside"},
    {"hash": "c" * 64, "type": "jpeg", "size": 7, "name": "C:\\outside.jpg"},
    {"hash": "d" * 64, "type": "jpeg", "size": 10**30, "name": "\x1b]0;owned\x07\u202egpj.exe"},
    {"hash": "e" * 64, "type": "jpeg", "size": 7, "name": "<script>alert(1)</script>[/2 battens].jpg"},
    "../../../../outside",
    None,
    7,
    [["nested"]],
)
NAMES = ["../outside.jpg", "/etc/hostname", "C:\\x.jpg", "nul.jpg", "a\x1b[2J.jpg", "x" * 5000]


def forged(folder: Path) -> Path:
    """The sample with notes that name such photos, well sealed."""
    made = sample()
    for row in ROWS:
        note = Draft(act="note", part="main", check="plates.ties", note="see photo", value={"photos": [row]})
        made.append(seal(note, Author("M. Reed", made[-1].device, MOMENT), made[-1], made[-1].id))
    file = folder / "job.json"
    JobFile.create(file, made, author=Author("M. Reed", "testbed1", MOMENT)).close()
    return file


@long
def test_forged_photos_of_a_whole_file_are_named_and_lead_nowhere(tmp_path: Path) -> None:
    (tmp_path / "outside").write_text("not of this job")
    (tmp_path / "site").mkdir()
    file = forged(tmp_path / "site")
    before = file.read_bytes()
    for name, text in (*spoken(file), *line_by_line(file), *packs(file), *asyncio.run(pages(file))):
        assert not BARRED.search(text), name
        assert "not of this job" not in text, name
        assert "<script>" not in text.replace(f"<script>{script()}", "") or not name.endswith(".html"), name
    assert file.read_bytes() == before
    told = say("verify", file)
    assert told.code == 1
    assert told.out.count("photo") >= len(ROWS) - 1, told.out


@pytest.mark.parametrize("name", NAMES)
def test_a_photo_by_such_a_name_is_refused_or_kept_by_its_hash_alone(tmp_path: Path, name: str) -> None:
    file = job(tmp_path, lambda words: words)
    said = say("note", file, "main.plates", "see", f"photo={name}", "--by", "M. Reed")
    assert not BARRED.search(said.out + said.err)
    assert said.err.count("\n") <= 1
    kept = [path.name for path in (tmp_path / "job.json.files").iterdir() if path.suffix in (".jpg", ".png", ".webp")]
    assert not kept
    assert not [path for path in tmp_path.iterdir() if not path.name.startswith("job.json")]

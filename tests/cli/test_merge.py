"""Copies of a job joined by script: what came in, what two copies say differently, and what is refused."""

import shutil
from pathlib import Path

import pytest

from sitelog.job.storage.file import JobFile
from tests.cli.conftest import Say
from tests.cli.test_keep import BY, past
from tests.job.logs import after

PLATES = ("bc=6003", "cd=9007", "da=6002", "ac=10826", "bd=10813")


@pytest.fixture
def apart(say: Say, job: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[str, str]:
    """The job, and a copy that went on on another device; in both the plates were taped."""
    past(say, job, "job.before", "main.finish")
    copy = str(tmp_path / "phone.json")
    shutil.copy(job, copy)
    assert say("record", job, "main.plates.sides", "ab=8996", *PLATES, *BY).code == 1
    monkeypatch.setenv("SITELOG_DEVICE", "phone001")
    assert say("record", copy, "main.plates.sides", "ab=8998", *PLATES, "--by", "A. Dunn").code == 1
    assert say("note", copy, "main.plates", "bedded on the long wall first", "--by", "A. Dunn").code == 0
    return job, copy


def test_copies_are_joined_and_two_answers_are_told(say: Say, apart: tuple[str, str]) -> None:
    job, copy = apart
    other = Path(copy).read_bytes()
    said = say("merge", job, copy)
    assert said.code == 0
    first, answers, head = said.out.splitlines()
    assert first == f"{job}: 2 entries added, 9 in total"
    assert answers.startswith("two answers: main.plates.sides, using ab=8998 mm bc=6003 mm")
    assert answers.endswith(
        "(A. Dunn); also ab=8996 mm bc=6003 mm cd=9007 mm da=6002 mm ac=10826 mm bd=10813 mm (M. Reed)"
    )
    assert head.startswith("record code ")
    assert Path(copy).read_bytes() == other
    assert answers in say("show", job).out.splitlines()
    assert say("merge", copy, job).code == 0
    assert Path(copy).read_bytes() == Path(job).read_bytes()
    assert say("merge", job, copy).out.startswith(f"{job}: 0 entries added")
    assert say("verify", job).code == 0
    # An answer that knows both settles it.
    assert say("record", job, "main.plates.sides", "ab=8997", *PLATES, "--note", "taped again", *BY).code == 1
    assert "two answers" not in say("show", job).out


def test_two_answers_stand_on_the_first_page_of_the_pack(say: Say, apart: tuple[str, str], tmp_path: Path) -> None:
    job, copy = apart
    say("merge", job, copy)
    said = say("handover", job, "--to", "tiler", "--out", str(tmp_path / "pack"))
    assert "two answers 1" in said.out


def test_a_job_that_is_not_sound_after_a_merge_says_what_is_wrong(say: Say, apart: tuple[str, str]) -> None:
    job, copy = apart
    raw = Path(copy).read_text()
    for journal in Path(f"{copy}.files").glob("journal*"):
        journal.unlink()
    Path(copy).write_text(raw.replace("bedded on the long wall", "bedded on the other wall"))
    said = say("merge", job, copy)
    assert said.refused_in_one_line
    assert "its heading or its last entries have been changed since they were saved" in said.err
    Path(copy).write_text(raw.replace('"note":"not looked at in this test"', '"note":""', 1))
    said = say("merge", job, copy)
    assert (said.code, said.out) == (3, "")
    assert "Two different entries have the" in said.err


def test_a_journal_that_does_not_fit_is_brought_in_by_a_merge_and_what_is_missing_is_told(
    say: Say, apart: tuple[str, str]
) -> None:
    job, copy = apart
    Path(job).write_text("{}")  # else what is missing would be found in it
    older = Path(copy).read_bytes()
    for _ in range(2):
        with JobFile.open(copy) as file:
            file.append([after(file.entries)])
            (journal,) = file.files.glob(f"journal.{file.entries[-1].device}")
            left = journal.read_bytes()
        journal.unlink()
    (office := Path(copy).parent / "office").mkdir()
    whole = Path(shutil.copy(copy, office / "whole.json"))
    Path(copy).write_bytes(older)
    Path(f"{copy}.files", "journal").write_bytes(left)
    said = say("record", copy, "main.plates.sides", "ab=8996", *PLATES, "--note", "misread the tape", *BY)
    assert said.refused_in_one_line
    assert said.code == 4
    assert "join them with: sitelog merge phone.json COPY" in said.err
    said = say("merge", copy)
    assert said.code == 1, "it is one file again, but nobody holds what is missing"
    assert "is missing" in said.out or "are missing" in said.out
    said = say("merge", copy, str(whole))
    assert said.code == 0
    assert say("verify", copy).code == 0


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (("merge", "{job}", "none.json"), 2, "No job file"),
        (("merge", "none.json"), 2, "No job file"),
        (("merge",), 2, "Add FILE"),
        (("merge", "--driver", "{job}"), 2, "--driver needs the three files"),
        (("merge", "--driver", "{job}", "{job}"), 2, "--driver needs the three files"),
        (("merge", "--driver", "x", "{job}", "none.json"), 2, "No job file"),
    ],
)
def test_what_can_not_be_joined_is_refused_in_one_line(
    say: Say, job: str, words: tuple[str, ...], code: int, says: str
) -> None:
    before = Path(job).read_bytes()
    said = say(*(word.format(job=job) for word in words))
    assert said.refused_in_one_line
    assert said.code == code
    assert says in said.err
    assert Path(job).read_bytes() == before


def test_as_a_merge_driver_it_writes_the_union_over_ours_and_puts_nothing_beside(
    say: Say, apart: tuple[str, str], tmp_path: Path
) -> None:
    job, copy = apart
    scratch = tmp_path / "scratch"
    scratch.mkdir()
    ours, theirs = Path(shutil.copy(job, scratch / ".merge_a")), Path(shutil.copy(copy, scratch / ".merge_b"))
    said = say("merge", "--driver", "/dev/null", str(ours), str(theirs))
    assert (said.code, said.out, said.err) == (0, "", "")
    say("merge", job, copy)
    assert ours.read_bytes() == Path(job).read_bytes()
    assert sorted(path.name for path in scratch.iterdir()) == [".merge_a", ".merge_b"]


def test_a_file_that_could_not_be_brought_up_to_date_is_told_beside_what_was_done(
    say: Say, job: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("os.link", full)
        patch.setattr("shutil.copy2", full)
        said = say("note", job, "main", "seen", *BY)
    assert said.code == 0
    assert "noted" in said.out
    assert said.err.startswith("sitelog: roof.json is missing its last entries. They are safe next to it")
    assert "seen" in [entry.note for entry in JobFile.open(job, read_only=True).entries]
    assert say("verify", job).code == 0

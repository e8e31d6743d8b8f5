"""What is kept from one start to the next is told as if it were worked anew, before an entry and after it."""

import shutil
from pathlib import Path

import pytest

from sitelog import kept
from sitelog.checklist.schema.shipped import sample_folder
from tests.hostile.fronts import say
from tests.job.pictures import JPEG
from tests.length import long

RECORD = ("main.plates.sides", "--by", "M. Reed", "--note", "taped again", "ab=8990", "bc=6002", "cd=8991", "da=6001")
TIES = ("ac=10802", "bd=10803")


@pytest.mark.parametrize(
    "words",
    [
        ("show",),
        ("order",),
        ("drawings",),
        pytest.param(("order", "--csv"), marks=long),
        pytest.param(("drawings", "main"), marks=long),
    ],
)
def test_the_second_time_a_command_tells_what_it_told_the_first(
    words: tuple[str, ...], tmp_path: Path, lists_known: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    command = (words[0], file, *words[1:])
    said = [say(*command), say(*command)]
    assert any(lists_known.iterdir())
    assert say("record", file, *RECORD, *TIES).code == 0
    said += [say(*command), say(*command)]
    monkeypatch.setattr(kept, "find", lambda _: None)
    assert say(*command) == said[3] == said[2] != said[1] == said[0]


def test_a_photo_taken_away_is_told_however_often_the_job_was_shown(tmp_path: Path, lists_known: Path) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    (tmp_path / "seat.jpg").write_bytes(JPEG)
    photo = str(tmp_path / "seat.jpg")
    assert say("note", file, "main.plates.ties", "seat at A", "--photo", photo, "--by", "M. Reed").code == 0
    before = [say("show", file), say("show", file)]
    assert before[0] == before[1]
    assert ", MISSING: " not in before[1].out
    for picture in Path(f"{file}.files").glob("*.jpg"):
        picture.unlink()
    assert ", MISSING: " in say("show", file).out


def test_a_spoilt_file_of_what_was_kept_changes_nothing(tmp_path: Path, lists_known: Path) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    said = say("show", file)
    for path in lists_known.iterdir():
        path.write_bytes(path.read_bytes()[:-1])
    assert say("show", file) == said


def test_an_order_is_worked_anew_for_another_yard_file(tmp_path: Path, lists_known: Path) -> None:
    file = shutil.copy(sample_folder() / "kiln-lane.json", tmp_path)
    said = [say("order", file, "--buy")]
    for lengths in ("[4800]", "[6000]"):
        yard = "".join(f"[{section}]\nlengths = {lengths}\n" for section in ("47x150", "47x100", "47x220"))
        (tmp_path / "yard.toml").write_text(yard)
        said += [say("order", file, "--buy"), say("order", file, "--buy")]
    assert said[1] == said[2] != said[0]
    assert said[3] == said[4] != said[2]
    (tmp_path / "yard.toml").unlink()
    assert say("order", file, "--buy") == said[0]

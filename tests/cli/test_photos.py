"""Photos by script: attached under their hash, told in `show`, missed by `verify`, and names that stay names."""

import json
from pathlib import Path

import pytest

from sitelog.job.photos.keeping import look
from tests.cli.conftest import Say
from tests.job.pictures import JPEG, SECRET, exif, jpeg, png, segment

BY = ("--by", "M. Reed")
CHECK = "main.plates.ties"  # kind photo
BRUSHED = "main.plates.ends"
TAKEN = jpeg(segment(0xE1, b"Exif\0\0" + exif()))


@pytest.fixture
def pictures(tmp_path: Path) -> Path:
    """Two pictures in a folder of their own, as off a card."""
    card = tmp_path / "card"
    card.mkdir()
    (card / "IMG_1.JPG").write_bytes(TAKEN)
    (card / "IMG_2.png").write_bytes(png())
    return card


@pytest.fixture
def plates(say: Say, job: str) -> str:
    for stage in ("job.before", "main.finish"):
        assert say("release", job, stage, "--reason", "not looked at in this test", *BY).code == 0
    return job


def kept(job: str) -> list[Path]:
    return sorted(path for path in Path(f"{job}.files").iterdir() if path.suffix in (".jpg", ".png"))


def test_photos_are_attached_and_listed_and_verified(say: Say, plates: str, pictures: Path) -> None:
    both = f"{pictures / 'IMG_1.JPG'},{pictures / 'IMG_2.png'}"
    said = say("record", plates, CHECK, f"photo={both}", *BY)
    assert (said.code, said.out.splitlines()[0]) == (0, f"{CHECK}: done; photos IMG_1.JPG, IMG_2.png")
    assert {path.read_bytes() for path in kept(plates)} == {JPEG, png()}
    told = say("show", plates).out
    assert "[done: IMG_1.JPG, IMG_2.png]" in told
    assert f"photo IMG_1.JPG, 1 kB: {look(pictures / 'IMG_1.JPG').photo.file} ({CHECK}, M. Reed)" in told
    rows = json.loads(say("show", plates, "--json").out)["photos"]
    assert [(row["name"], row["path"], row["stands"]) for row in rows] == [
        ("IMG_1.JPG", CHECK, "there"),
        ("IMG_2.png", CHECK, "there"),
    ]
    assert say("verify", plates).code == 0
    kept(plates)[0].unlink()
    said = say("verify", plates)
    assert said.code == 1
    assert f"of {CHECK}, entry " in said.out
    assert "it is missing" in said.out
    assert ", MISSING: " in say("show", plates).out


@pytest.mark.parametrize("typed", ["{card}/IMG_1.JPG", "'{card}/IMG_1.JPG'", "{card}/copy of it.JPG"])
def test_a_photo_serves_a_second_check_only_if_the_command_says_so(
    say: Say, plates: str, pictures: Path, typed: str
) -> None:
    """By the picture and not by its name: a copy under another name is the same photo."""
    (pictures / "copy of it.JPG").write_bytes(TAKEN)
    assert say("record", plates, CHECK, f"photo={pictures / 'IMG_1.JPG'}", *BY).code == 0
    again = typed.format(card=pictures)
    for command in (("record", plates, BRUSHED, f"photo={again}"), ("note", plates, BRUSHED, "--photo", again)):
        said = say(*command, *BY)
        assert (said.code, said.out) == (2, "")
        assert "is already the photo of: " in said.err and f"Add --same-photo if it shows {BRUSHED} too" in said.err
        assert len(kept(plates)) == 1
    assert say("note", plates, CHECK, "--photo", again, *BY).code == 0, "of the same check it is no second one"
    assert say("note", plates, BRUSHED, "--photo", again, "--same-photo", *BY).code == 0


def test_a_camera_number_serves_a_second_check_only_if_the_command_says_so(say: Say, plates: str) -> None:
    assert say("record", plates, CHECK, "DSC_0412, DSC_0413", *BY).code == 0
    assert say("note", plates, CHECK, "--photo", "DSC_0412", *BY).code == 0, "of the same check it is no second one"
    again = ("record", plates, BRUSHED, "photo=dsc_0413.jpg")
    said = say(*again, *BY)
    assert (said.code, said.out) == (2, "")
    assert "dsc_0413 is already the photo of: " in said.err
    assert f"Add --same-photo if it shows {BRUSHED} too" in said.err
    assert say(*again, "--same-photo", *BY).code == 0
    assert say("note", plates, BRUSHED, "--photo", "DSC_0414, ends at A1", *BY).code == 0


def test_a_number_inside_a_range_of_another_check_is_asked_about(say: Say, plates: str) -> None:
    assert say("record", plates, CHECK, "2230 to 2234", *BY).code == 0
    said = say("record", plates, BRUSHED, "photo=2232", *BY)
    assert (said.code, said.out) == (2, "")
    assert "2232 is already the photo of: " in said.err
    said = say("note", plates, BRUSHED, "--photo", "2233-2240", *BY)
    assert "2233 to 2234 are already photos of: " in said.err
    assert say("record", plates, BRUSHED, "photo=2235", *BY).code == 0


def test_time_and_place_are_kept_only_where_it_is_asked(say: Say, plates: str, pictures: Path) -> None:
    assert say("record", plates, CHECK, str(pictures / "IMG_1.JPG"), "--whole", *BY).code == 0
    assert SECRET in kept(plates)[0].read_bytes()
    assert "photo IMG_1.JPG, 1 kB, with time and place kept: " in say("show", plates).out
    assert say("record", plates, CHECK, str(pictures / "IMG_1.JPG"), "--note", "shared outside", *BY).code == 0
    assert {SECRET in path.read_bytes() for path in kept(plates)} == {True, False}


@pytest.mark.parametrize("words", [("IMG_2201",), ("photo=IMG_2201",)])
def test_a_number_on_a_camera_is_a_name_only_and_told_so(say: Say, plates: str, words: tuple[str, ...]) -> None:
    said = say("record", plates, CHECK, *words, *BY)
    assert said.out.splitlines()[0] == f"{CHECK}: done; photo IMG_2201 (camera number only, no photo attached)"
    told = say("show", plates).out
    assert "[done: IMG_2201; camera number only, no photo attached]" in told
    assert f"photo IMG_2201, camera number only, no photo attached ({CHECK}, M. Reed)" in told
    assert kept(plates) == []


def test_a_picture_beside_the_job_is_found_by_its_name(say: Say, plates: str) -> None:
    folder = Path(plates).parent / "photos"
    folder.mkdir()
    (folder / "strap.jpg").write_bytes(JPEG)
    assert say("record", plates, CHECK, "photo=strap.jpg", *BY).out.startswith(f"{CHECK}: done; photo strap.jpg\n")


def test_notes_carry_photos_and_need_no_words_then(say: Say, plates: str, pictures: Path) -> None:
    one = str(pictures / "IMG_2.png")
    assert say("note", plates, "main.plates", "--photo", one, *BY).out.startswith("main.plates: noted; photo IMG_2.png")
    assert say("note", plates, CHECK, "the far side", "--photo", f"{one},IMG_7", *BY).code == 0
    assert say("note", plates, "day", "rain", "--photo", one, *BY).code == 0
    rows = json.loads(say("show", plates, "--json").out)["photos"]
    assert [(row["path"], row["name"], row["stands"]) for row in rows] == [
        ("main.plates", "IMG_2.png", "there"),
        (CHECK, "IMG_2.png", "there"),
        (CHECK, "IMG_7", "name only"),
        ("", "IMG_2.png", "there"),
    ]
    assert say("note", plates, CHECK, *BY).refused_in_one_line


@pytest.mark.parametrize("typed", ["/none/IMG.jpg", "../roof.json", "..", "photo=card/none.jpg", "card/half.jpg"])
def test_what_is_no_picture_is_refused_in_one_line_and_nothing_is_written(
    say: Say, plates: str, pictures: Path, typed: str
) -> None:
    (pictures / "half.jpg").write_bytes(JPEG[:80])
    before = Path(plates).read_bytes()
    said = say("record", plates, CHECK, typed, *BY)
    if typed == "..":
        assert "isn't a name" in said.err
    assert (said.code, said.refused_in_one_line) == (2, True)
    assert Path(plates).read_bytes() == before
    assert kept(plates) == []


def test_a_photo_of_an_act_that_is_refused_is_not_kept(say: Say, job: str, pictures: Path) -> None:
    said = say("record", job, CHECK, str(pictures / "IMG_1.JPG"), *BY)
    assert "can't be done yet" in said.err, "the stage is barred"
    assert kept(job) == []


def test_a_photo_that_cannot_be_written_is_not_saved_and_no_entry_names_it(
    say: Say, plates: str, pictures: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr("sitelog.job.photos.keeping.put", full)
        said = say("record", plates, CHECK, str(pictures / "IMG_1.JPG"), *BY)
    assert said.code == 4
    assert said.err == "sitelog: Not saved: IMG_1.JPG: the disk is full. Nothing was entered. Try again.\n"
    assert json.loads(say("show", plates, "--json").out)["photos"] == []


def test_a_file_that_no_entry_names_is_told_and_is_no_fault(say: Say, plates: str) -> None:
    (Path(f"{plates}.files") / "holiday.jpg").write_bytes(JPEG)
    said = say("verify", plates)
    assert said.code == 0
    assert said.out.splitlines()[0] == "holiday.jpg in roof.json.files doesn't belong to this job: no entry uses it."


def test_merge_brings_photos_over(say: Say, plates: str, pictures: Path, tmp_path: Path) -> None:
    copy = tmp_path / "tablet" / "roof.json"
    copy.parent.mkdir()
    copy.write_bytes(Path(plates).read_bytes())
    assert say("note", str(copy), CHECK, "--photo", str(pictures / "IMG_1.JPG"), "--by", "A. Dunn").code == 0
    said = say("merge", plates, str(copy))
    assert (said.code, said.out.splitlines()[1]) == (0, "1 photo brought over")
    assert kept(plates)[0].read_bytes() == JPEG

"""What can be said, and what is answered to what can't be."""

import shutil
from collections.abc import Sequence
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.job import Job
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.lines.words import WORDS_HERE
from sitelog.tui.keys import keys_of
from tests.job.lists import released_then_gone, without
from tests.job.pictures import SECRET, exif, jpeg, segment
from tests.lines.listener import ROW, ScriptedInput, walked
from tests.tui.site import Watch

# Acts of the screen as a screen: what it looks like, and the ways about in it.
OF_THE_SCREEN = ("app.theme", "acts", "help", "back", "whole")


def test_whatever_the_screens_can_do_at_a_job_can_be_said() -> None:
    words = {one.word: one.letter for one in WORDS_HERE}
    for key in keys_of("job"):
        if key.act == "stage(-1)":
            assert words["before"] == "["
        elif key.act == "stage(1)":
            assert words["after"] == "]"
        elif key.act not in OF_THE_SCREEN:
            assert key.word in words, f"plain mode has no {key.word!r}"
            assert not words[key.word] or words[key.word] == key.shown, "the letters are those of the screens"


def heard(file: Path, library: Library, watch: Watch, says: Sequence[str], *, by: str = "M. Reed") -> ScriptedInput:
    listener = ScriptedInput(says)
    walked(file, library, listener, watch, by=by)
    return listener


def entries(file: Path) -> int:
    return len(JobFile.open(file, read_only=True).entries)


REFUSED = [
    (["xyzzy"], "'xyzzy' isn't a command here. Type ? for the list."),
    (["ca"], "'ca' could be cautions or calculators: type more letters."),
    (["99"], "99 isn't a check in this stage: type 1 to 9."),
    (["undo"], "not what this story is about. Both stay in the record."),
    (["main.plates.sides", "do", "about nine metres"], "isn't a figure. Type a length such as 7500, 7.5m"),
    (["main.plates.sides", "do", ""], "nothing typed. Type a length such as 7500, 7.5m"),
    (["main.plates.ends", "do", ""], "'' isn't an answer here: type 1 for yes, note, or back."),
    (["main.plates.ends", "do", "yes"], "'yes' isn't an answer here: type 1 for yes, note, or back."),
    (["main.plates.hip-loads", "do", "3"], "'3' isn't an answer here: type a number from 1 to 2, or back."),
    (["main.plates.ties", "do", ""], "photo: type something, or back."),
    (["snag", "the mortar is soft", "", "Friday"], "due: 'Friday' isn't a date"),
    (["main.plates", "do"], "Wall plates can't be signed"),
    (["main.first-pair.common", "do"], "Sign Wall plates first, or carry on as it is"),
    (["release", ""], "reason: type something, or back."),
    (["later", "3", "not on site"], "Stage is '3': type the number of a later stage"),
    (["find", "chimney pot"], "Nothing found. Try another word."),
    (["main.plates.ends", "working"], "This check doesn't have a calculation."),
]


@pytest.mark.parametrize(("says", "answer"), REFUSED, ids=[" ".join(says)[:40] for says, _ in REFUSED])
def test_what_cant_be_taken_is_answered_in_one_line(
    plates: Path, library: Library, watch: Watch, says: list[str], answer: str
) -> None:
    listener = heard(plates, library, watch, says)
    assert any(answer in line for line in listener.heard), listener.heard[-6:]


def test_every_question_says_what_can_be_said(plates: Path, library: Library, watch: Watch) -> None:
    listener = heard(plates, library, watch, ["?", "main.plates.sides", "do", "?", "back"])
    for one in WORDS_HERE:
        assert one.told() in listener.heard
    assert "Enter on its own never saves an answer." in listener.heard
    assert "a length such as 7500, 7.5m or 24'8\"" in listener.text


def test_going_back_enters_nothing(plates: Path, library: Library, watch: Watch) -> None:
    heard(plates, library, watch, ["main.plates.sides", "do", "back"])
    before = entries(plates)
    questions = [
        ["main.plates.sides", "do", "9000", "back"],
        ["main.plates.ends", "do", "back"],
        ["snag", "soft mortar", "back"],
        ["release", "back"],
        ["facts", "3", "back"],
        ["journal", "1", "back", "back"],
        ["hand over", "2", "back"],
    ]
    heard(plates, library, watch, [word for question in questions for word in question])
    assert entries(plates) == before


def test_only_what_stops_holds_the_first_act_and_the_rest_is_read_three_at_a_time(
    plates: Path, library: Library, watch: Watch
) -> None:
    with Job.open(plates, library, read_only=True) as job:
        stage = job.state.stage("main.plates")
    assert stage
    stops, rest = ([one.id for one in stage.cautions if one.stops is stopping] for stopping in (True, False))

    def read(says: list[str]) -> list[str]:
        told = JobFile.open(plates, read_only=True).entries
        heard(plates, library, watch, says)
        return [
            str(one.value["id"])
            for one in JobFile.open(plates, read_only=True).entries[len(told) :]
            if one.act == "read"
        ]

    assert read(["main.plates.ends", "do", "back"]) == stops
    assert read(["main.plates.ends", "cautions"]) == rest[:3]
    assert read(["main.plates.ends", "cautions"]) == rest[3:]
    last = heard(plates, library, watch, ["main.plates.ends", "quit"])
    assert "Cautions to read" not in last.text


def test_each_caution_says_how_many_hold_the_act(plates: Path, library: Library, watch: Watch) -> None:
    listener = heard(plates, library, watch, ["main.plates.ends", "do", "back"])
    told = [line for line in listener.heard if line.startswith("Caution: ")]
    assert [line.split(". ")[-1] for line in told] == [f"{n} of {len(told)}." for n in range(1, len(told) + 1)]


def test_a_correction_keeps_the_tape_that_was_said_and_the_reason_that_was_said(
    plates: Path, library: Library, watch: Watch
) -> None:
    square = ["9000", "6000", "9000", "6000", "10817", "10817"]
    first = ["main.plates.sides", "do", *square, "T3", "tape", "II", "1"]
    again = ["main.plates.sides", "measure again", *square, "T7", "tape", "I", "1", "4"]
    heard(plates, library, watch, [*first, *again])
    last = JobFile.open(plates, read_only=True).entries[-1]
    assert (last.value["@instrument"], last.note) == ("T7", "measured again with a better tool")


def test_a_job_is_brought_to_the_newest_lists_and_tells_the_earlier_checks(
    tmp_path: Path, library: Library, watch: Watch
) -> None:
    file = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    with Job.open(file, library, read_only=True) as job:
        crowns = job.state.check("main.ridge.crowns")
    assert crowns
    newest = without(library, ("hipped", "ridge", "crowns"))
    listener = heard(file, newest, watch, ["main.ridge.crowns", "lists", "1", "newest", "lists", "quit"])
    assert "Lists, there are newer ones: see lists (=) in the job" in listener.heard
    assert "'1' isn't it: type newest, or go back to keep the checklists as they are." in listener.heard
    assert "The job uses the newest checklists from here on, by M. Reed." in listener.heard
    last = listener.heard[listener.heard.index("The job uses the newest checklists from here on, by M. Reed.") :]
    assert any(line.startswith(f"{crowns.check.ask}. Answer: ") and f"By: {crowns.by}" in line for line in last)
    assert "This job uses the newest checklists." in last
    assert JobFile.open(file, read_only=True).entries[-1].act == "pin"


def test_a_release_of_a_whole_stage_that_is_gone_stands_among_the_earlier_checks(
    tmp_path: Path, library: Library, watch: Watch
) -> None:
    file = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    gone = released_then_gone(file, library)
    listener = heard(file, gone, watch, ["lists", "quit"])
    assert any("Answer: released: crane booked" in line for line in listener.heard)


def test_the_stage_is_told_with_a_number_for_each_check(plates: Path, library: Library, watch: Watch) -> None:
    listener = heard(plates, library, watch, ["4"])
    assert "1 open, measure: Four sides and two diagonals, outside faces, mm" in listener.heard
    assert "Check 4 of 8:" in listener.text
    assert "9 HOLD: sign here before going on. foreman signs" in listener.heard


def test_after_a_rest_the_recap_comes_first_and_what_was_said_does_nothing(plates: Path, library: Library) -> None:
    """A minute and more goes by at each question."""
    listener = heard(plates, library, Watch(61.0), ["cautions", "next", "quit"])
    assert "You have been away. Type cautions again to do it." in listener.heard
    assert "Caution: " not in listener.text
    assert sum(line.startswith("Next, ") for line in listener.heard) == 2, "on opening, and after the rest"


def test_on_opening_it_is_told_what_was_last_by_whom_and_what_is_next(
    plates: Path, library: Library, watch: Watch
) -> None:
    listener = heard(plates, library, watch, ["2", "A. Vale", "note", "dry", "your name", "1", "quit"], by="")
    assert listener.heard[0] == "Mill barn"
    assert listener.heard[1].startswith("Last, carried on as it is, ")
    assert listener.heard[2].startswith("M. Reed, ")
    assert listener.heard[3] == "Next, Four sides and two diagonals, outside faces, mm"
    assert "'2' isn't a name: type a number from 1 to 1, or a name in letters." in listener.heard
    assert JobFile.open(plates, read_only=True).entries[-1].by == "A. Vale"


def test_a_picture_said_by_its_number_is_copied_into_the_folder_of_the_job_before_it_is_entered(
    plates: Path, library: Library, watch: Watch
) -> None:
    """Once as the answer of a check that wants a photo, once as a note; time and place are left out of it."""
    (plates.parent / "IMG_1.JPG").write_bytes(jpeg(segment(0xE1, b"Exif\0\0" + exif())))
    listener = heard(
        plates, library, watch, ["main.plates.ties", "do", "1", "", "photo", "1", "ties at C", "", "yes", "photos"]
    )
    assert "IMG_1.JPG is already the photo of: " in listener.text and "Does it show this check too?" in listener.text
    kept = [path.read_bytes() for path in beside(plates).glob("*.jpg")]
    assert len(kept) == 1
    assert SECRET not in kept[0]
    last = JobFile.open(plates, read_only=True).entries[-2:]
    assert [(entry.act, len(entry.value["photos"])) for entry in last] == [("answer", 1), ("note", 1)]
    assert sum(line[:1].isdigit() and "IMG_1.JPG" in line and line.endswith("there") for line in listener.heard) == 2
    assert verify(plates) == []


def test_a_camera_number_of_another_check_is_asked_about(plates: Path, library: Library, watch: Watch) -> None:
    says = ["main.plates.ties", "do", "IMG_2201", "", "main.plates.sides", "photo", "IMG_2201", "", "", "yes"]
    listener = heard(plates, library, watch, says)
    assert "IMG_2201 is already the photo of: " in listener.text and "Does it show this check too?" in listener.text
    assert JobFile.open(plates, read_only=True).entries[-1].value == {"photo": "IMG_2201"}


def test_a_tick_takes_a_note_first(plates: Path, library: Library, watch: Watch) -> None:
    says = ["main.plates.ends", "do", "note", "back", "n", "ref BC 118, wants to see the straps", "1"]
    listener = heard(plates, library, watch, says)
    assert any("Type 1 when it is done, note to add a note first" in line for line in listener.heard)
    noted, ticked = JobFile.open(plates, read_only=True).entries[-2:]
    assert (noted.act, noted.check, noted.note) == ("note", "plates.ends", "ref BC 118, wants to see the straps")
    assert (ticked.act, ticked.check) == ("answer", "plates.ends")


def test_a_photo_is_attached_to_the_page_of_the_day(plates: Path, library: Library, watch: Watch) -> None:
    (plates.parent / "IMG_1.JPG").write_bytes(jpeg())
    says = ["journal", f"{ROW} | attach a photo", "1", "mud at the gate", "", "back", "photos"]
    listener = heard(plates, library, watch, says)
    assert "Added to the site diary." in listener.heard
    assert {"Note: mud at the gate", "Photos: IMG_1.JPG"} <= set(listener.heard)
    assert any(line.startswith("1 Site diary: IMG_1.JPG, M. Reed, ") for line in listener.heard)
    last = JobFile.open(plates, read_only=True).entries[-1]
    assert (last.act, last.value["text"], len(last.value["photos"])) == ("diary", "mud at the gate", 1)


def test_an_instruction_by_lines_takes_its_photo_into_the_folder_of_the_job(
    plates: Path, library: Library, watch: Watch
) -> None:
    (plates.parent / "IMG_7.JPG").write_bytes(jpeg())
    says = ["instruction", "trim for a second rooflight", "P. Vale", "4 Dec 2026", "6", "", "IMG_7.JPG", "1"]
    heard(plates, library, watch, says)
    last = JobFile.open(plates, read_only=True).entries[-1]
    assert (last.act, len(last.value["photos"])) == ("instruct", 1)
    assert len(list(beside(plates).glob("*.jpg"))) == 1

"""Short stories of one check, in key presses."""

import os
from datetime import datetime, timedelta
from math import cos, radians
from pathlib import Path

import pytest
from textual.widgets import Input, OptionList

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.state.corrections import corrections
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.quantities.quantity import show_length
from sitelog.refusal import NOT_SAVED
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.working import WorkingPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import lines, text, until_shown
from tests.tui.site import Watch, begin, brought_to, fill, let_go, opened, stand_on
from tests.tui.walker import Walker

SIDES = "main.plates.sides"
SIDE_KEYS = ("ab", "bc", "cd", "da", "ac", "bd")
SQUARE = ("9000", "6000", "9000", "6000", "10817", "10817")
OUT = ("9000", "6000", "9000", "6000", "10800", "10830")  # the diagonals 30 apart, limit 10


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


def state_of(walker: Walker, path: str) -> str:
    view = walker.app.state.check(path)
    assert view
    return view.state


def foot(walker: Walker) -> str:
    return lines(walker.app)[-1].replace("\N{NO-BREAK SPACE}", " ")


async def taped_out(walker: Walker) -> CheckPage:
    page = await begin(walker, SIDES)
    await fill(walker, *OUT)
    await walker.press("enter")
    await walker.pilot.pause()
    return page


# --- plates -----------------------------------------------------------------------------------------------------------


async def test_plates_are_square_or_not_while_they_are_typed(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        assert "OK limit 10 mm (house)" in text(walker.app)
        await walker.press("backspace", "backspace", "3", "0", "up")
        await walker.type("10800")
        await walker.pilot.pause()
        seen = text(walker.app)
        assert "Diagonals differ by 30 mm" in seen
        assert "OUT by 20 mm limit 10 mm (house)" in seen
        assert "the longer: push those two corners towards each other" in seen
        assert state_of(walker, SIDES) == "open", "nothing is entered by typing"


async def test_what_is_out_is_entered_as_measured_and_has_three_ways_on(plates: Path) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        seen = text(walker.app)
        assert "Out of limit. Choose one:" in seen
        for way in ("1 Fix it and measure again", "2 Snag it", "3 Carry on as it is"):
            assert way in seen
        assert "Saved as measured. You can't go on until you fix it" in seen
        assert state_of(walker, SIDES) == "out"


async def test_the_first_way_measures_again_and_the_record_keeps_both(plates: Path) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        await walker.press("1")
        await walker.pilot.pause()
        await fill(walker, *SQUARE)
        await walker.press("enter", "enter")
        await walker.pilot.pause()
        assert not isinstance(walker.app.screen, AskPage), "that it was put right is the reason by itself"
        assert state_of(walker, SIDES) == "done"
        view = walker.app.state.check(SIDES)
        assert view
        assert view.history[-1].note == "fixed and measured again"
        assert [entry.value["bd"] for entry in view.history] == [10830, 10817]


async def test_an_answer_is_corrected_only_with_a_reason_and_the_strip_tells_what_it_was(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        await walker.press("enter")
        await walker.pilot.pause()
        before = len(walker.app.state.check(SIDES).history)  # type: ignore[union-attr]
        page = await begin(walker, SIDES, "m")
        await fill(walker, "9004", *SQUARE[1:])
        await walker.press("enter", "enter")
        await walker.pilot.pause()
        assert "Why are you changing it?" in text(walker.app)
        await walker.press(*["enter"] * 5)
        await walker.type("9", "enter")
        await walker.pilot.pause()
        assert "'9' isn't one of the reasons: type 1 to 4, or words." in text(walker.app)
        await walker.press("escape")
        await walker.pilot.pause()
        assert walker.app.screen is page, "what was typed is there still, and nothing is entered"
        assert len(walker.app.state.check(SIDES).history) == before  # type: ignore[union-attr]
        await walker.press("enter")
        await walker.type("2", "enter")
        await walker.pilot.pause()
        await stand_on(walker, SIDES)
        assert "Changed: misread the tape. Was" in text(walker.app)
        view = walker.app.state.check(SIDES)
        assert view and [one.reason for one in corrections(view)] == ["misread the tape"]


async def test_the_second_way_is_a_snag_with_who_and_when_and_a_bad_date_loses_no_word(plates: Path) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        await walker.press("2")
        await walker.pilot.pause()
        await walker.press("enter")
        await walker.type("a. dunn", "enter")
        await walker.type("friday", "enter")
        assert isinstance(walker.app.screen, AskPage)
        assert "due: 'friday' isn't a date" in text(walker.app)
        await walker.press(*["backspace"] * 6)
        await walker.type("2026-11-27", "enter")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage)
        (snag,) = walker.app.state.open_snags
        assert (snag.path, snag.who, snag.due) == (SIDES, "a. dunn", "2026-11-27")
        assert state_of(walker, SIDES) == "snagged"


async def test_the_third_way_is_a_release_by_name_and_reason(plates: Path) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        await walker.press("3")
        await walker.pilot.pause()
        await walker.press("enter")
        assert "type something here" in text(walker.app)
        await walker.type("wall is as built", "enter")
        await walker.press(*["backspace"] * 7)
        await walker.type("p. quill", "enter")
        await walker.pilot.pause()
        assert state_of(walker, SIDES) == "released"
        let_go = walker.app.state.releases[-1]
        assert (let_go.by, let_go.reason) == ("p. quill", "wall is as built")
        assert walker.app.by == "M. Reed", "who goes on is who went on before"
        assert "carried on as is (whole job)" in text(walker.app)


async def test_left_without_a_way_the_measurement_stays_and_the_stage_cant_be_signed(plates: Path) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        await walker.press("escape")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage)
        assert state_of(walker, SIDES) == "out"
        await stand_on(walker, "main.plates")
        await walker.press("enter")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage), "no name is asked for"
        assert walker.app.state.stage("main.plates").state != "signed"  # type: ignore[union-attr]
        await begin(walker, SIDES)
        assert "Out of limit. Choose one:" in text(walker.app), "it is asked again when the check is opened"


async def test_plates_out_once_more_under_an_open_snag_are_not_passed_over(plates: Path, library: Library) -> None:
    async with opened(plates) as walker:
        await taped_out(walker)
        await walker.press("2")
        await walker.pilot.pause()
        await walker.press("enter", "enter", "enter")
        await walker.pilot.pause()
        page = await begin(walker, SIDES, "m")
        await fill(walker, *OUT)
        await walker.press("enter", "enter")
        await walker.pilot.pause()
        await walker.type("1", "enter")
        await walker.pilot.pause()
        assert walker.app.screen is page
        assert "The snag is still open" in text(walker.app)


async def test_what_the_tape_cant_tell_is_unsure_and_says_so(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, "9000", "6000", "9000", "6000", "10812", "10822")  # apart by the limit itself
        assert "TOO CLOSE TO CALL" in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        assert state_of(walker, SIDES) == "unsure"
        assert "Too close to call. Choose one: 1 Accept it as read" in text(walker.app)
        await walker.press("1")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage)
        assert state_of(walker, SIDES) == "released", "by one key, and it is marked for good"
        (let_go,) = [one for one in walker.app.state.releases if one.path == SIDES]
        assert (let_go.by, let_go.reason) == ("M. Reed", "accepted as read, too close to call with class II assumed")


# --- what a form says and keeps ---------------------------------------------------------------------------------------


async def test_a_form_says_what_it_takes_its_limit_and_why_before_anything_is_typed(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        seen = text(walker.app)
        assert "AB, front: a length such as 7500" in seen
        assert "Limit 10 mm (house)" in seen
        assert page.view.check.why in seen
        assert "drawn 9000 mm" in seen


async def test_what_was_typed_and_left_is_there_again_and_after_a_restart(plates: Path) -> None:
    for again in (False, True):
        async with opened(plates) as walker:
            page = await begin(walker, SIDES)
            if not again:
                await fill(walker, "8996", "6003")
                await walker.press("escape")
                await walker.pilot.pause()
                page = await begin(walker, SIDES)
            fields = {field.name: field.value for field in page.query(Input)}
            assert (fields["ab"], fields["bc"]) == ("8996", "6003")
            assert state_of(walker, SIDES) == "open"


async def test_a_figure_that_cant_be_read_is_told_in_one_line_and_nothing_is_lost(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await walker.type("9,0 m")
        await walker.pilot.pause()
        assert "can't be read" not in text(walker.app), "half a figure is no fault yet"
        await walker.press("down")
        await walker.pilot.pause()
        assert "AB, front: '9,0 m'" in text(walker.app)
        await fill(walker, *SQUARE[1:])
        await walker.press("enter")
        await walker.pilot.pause()
        assert walker.app.screen is page
        assert "AB, front: '9,0 m'" in text(walker.app)
        assert next(iter(page.query(Input))).value == "9,0 m"
        assert len(walker.app.job.entries) == len(page.site.job.entries)  # type: ignore[union-attr]
        assert state_of(walker, SIDES) == "open"


async def test_letters_are_typed_in_a_field_and_keys_on_the_answer_and_the_foot_says_which(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        assert "down to the answer" in foot(walker)
        assert "working" not in foot(walker)
        await walker.press(*["down"] * 7)
        assert "w working" in foot(walker)
        await walker.press("w")
        assert page.shows_working
        await walker.press("w", "up")
        assert isinstance(walker.app.focused, Input)
        assert walker.app.focused.name == "@with"


async def test_an_instrument_that_is_not_known_is_asked_for_once(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        await walker.press("down")
        await walker.type("T9", "enter")
        await walker.pilot.pause()
        assert "T9 isn't on the list of tools" in text(walker.app)
        await walker.type("tape", "enter")
        await walker.type("IV", "enter")
        await walker.pilot.pause()
        assert state_of(walker, SIDES) == "open"
        assert "class: 'IV'" in text(walker.app)
        await walker.press(*["backspace"] * 2)
        await walker.type("I", "enter")
        await walker.pilot.pause()
        assert walker.app.state.instruments["T9"].grade == "I"
        view = walker.app.state.check(SIDES)
        assert view
        assert (view.state, view.instrument) == ("done", "T9")
        page = await begin(walker, "main.plates.span")
        assert {f.name: f.value for f in page.query(Input)}["@with"] == "T9"


async def test_a_correction_keeps_the_tape_where_it_was_typed_and_the_reason_where_it_was_asked(
    plates: Path, library: Library
) -> None:
    async with opened(plates) as walker:
        app = walker.app
        app.enter(actions.instrument("T3", "tape", "II"))
        app.enter(actions.instrument("T7", "tape", "I"))
        app.enter(actions.answer(app.state, library, SIDES, dict(zip(SIDE_KEYS, SQUARE, strict=True)), instrument="T3"))
        await begin(walker, SIDES, "m")
        await fill(walker, *SQUARE)
        await walker.press("enter")
        await walker.type("T7", "enter")
        await walker.pilot.pause()
        assert "Why are you changing it?" in text(app)
        await walker.type("4", "enter")
        await walker.pilot.pause()
        view = app.state.check(SIDES)
        assert view and view.instrument == "T7"
        assert [one.reason for one in corrections(view)] == ["measured again with a better tool"]


async def test_what_is_counted_names_no_instrument(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, "main.plates.laps")
        assert [field.name for field in page.query(Input)] == ["value"]


# --- sums -------------------------------------------------------------------------------------------------------------


async def test_what_is_drawn_for_the_ends_follows_the_span_in_the_middle_as_it_is_typed(
    tmp_path: Path, library: Library
) -> None:
    """Plates are parallel by their middle: both ends are held to it."""
    async with opened(brought_to(tmp_path, library, "main.plates")) as walker:
        page = await begin(walker, "main.plates.span")

        def end() -> float:
            figure = next(f for f in page.would_be().figures if f.key == "at_p")
            assert isinstance(figure.drawn, float)
            return figure.drawn

        await fill(walker, "6003")
        assert end() == pytest.approx(6003)
        assert f"drawn {show_length(6003)} mm" in text(walker.app)
        await walker.press("backspace", "7")
        await walker.pilot.pause()
        assert end() == pytest.approx(6007)
        assert f"drawn {show_length(6007)} mm" in text(walker.app)


async def test_a_sum_shows_drawn_beside_built_and_its_working(tmp_path: Path, library: Library) -> None:
    span = {"middle": "6010", "at_p": "6010", "at_q": "6010"}
    taped = lambda job: actions.answer(job.state, job.library, "main.plates.span", span)  # noqa: E731
    file = brought_to(tmp_path, library, "main.plates", taped, let_go("main.plates"))
    async with opened(file) as walker:
        page = await begin(walker, "main.first-pair.common")
        seen = text(walker.app)
        assert "run 3005 mm built" in seen
        assert "pitch 35.0° drawn" in seen
        for run, word in ((3005, ""), (3000, "drawn ")):
            assert f"{word}{(run - 38 / 2) / cos(radians(35)):.0f} mm" in seen, "half a ridge off the run, up the slope"
        await walker.press("w")
        await walker.pilot.pause()
        assert "working" in "\n".join(lines(walker.app)[:-1])
        assert "basis:" in text(walker.app) or page.query_one("#form").max_scroll_y > 0
        await walker.press("enter")
        await walker.pilot.pause()
        assert state_of(walker, "main.first-pair.common") == "unsure", "nobody has said whether the eaves are tied"
        assert "What ties the rafter feet" in text(walker.app), "what is open before it comes next"
        await stand_on(walker, "main.first-pair.common")
        assert "third is only for eaves that are tied" in text(walker.app), "its row says why, and the ways on"
        assert "Press f to change a figure it uses" in text(walker.app)
        await walker.press("w")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, WorkingPage)


# --- the other kinds --------------------------------------------------------------------------------------------------


async def test_a_choice_is_made_by_its_digit_and_enter_alone_makes_none(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, "main.plates.hip-loads")
        await walker.press("enter", "enter")
        await walker.pilot.pause()
        assert walker.app.screen is page
        await walker.press("2")
        await walker.pilot.pause()
        view = walker.app.state.check("main.plates.hip-loads")
        assert view
        assert (view.state, view.value) == ("done", view.check.choices[1].id)
        page = await begin(walker, "main.plates.hip-loads", "m")
        assert page.query_one("#choices", OptionList).highlighted == 1, "what stands is under the cursor"


async def test_a_tick_says_what_enter_says_and_is_done_by_it(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, "main.plates.ends")
        assert "Press Enter when it is done. Press n first to note who agreed what." in text(walker.app)
        assert "n note" in text(walker.app)
        await walker.press("n")
        await walker.pilot.pause()
        await walker.press(*"ref 118", "enter")
        await until_shown(walker.pilot, "ref 118")
        assert state_of(walker, "main.plates.ends") == "open"
        await walker.press("enter")
        await walker.pilot.pause()
        assert state_of(walker, "main.plates.ends") == "done"
        count = len(walker.app.job.entries)  # type: ignore[union-attr]
        await stand_on(walker, "main.plates.ends")
        await walker.press("enter")
        await walker.pilot.pause()
        assert "M. Reed has already done this" in text(walker.app)
        assert len(walker.app.job.entries) == count  # type: ignore[union-attr]


async def test_words_are_wanted_where_a_check_asks_for_words(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, "main.plates.ties")
        await walker.press("enter")
        await walker.pilot.pause()
        assert walker.app.screen is page, "an empty answer is none"
        await walker.type("IMG_31", "enter")
        await walker.pilot.pause()
        assert state_of(walker, "main.plates.ties") == "done"


# --- a disk that is full ----------------------------------------------------------------------------------------------


async def test_a_full_disk_says_not_saved_until_a_later_save_and_loses_nothing(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", full)
            await walker.press("enter")
            await walker.pilot.pause()
        assert lines(walker.app)[0].rstrip().endswith("NOT SAVED")
        assert walker.app.screen is page
        await walker.press("escape")
        await walker.pilot.pause()
        assert lines(walker.app)[0].rstrip().endswith("NOT SAVED"), "it is said on every page until it is saved"
        await begin(walker, "main.plates.ends")
        await walker.press("enter")
        await walker.pilot.pause()
        assert "NOT SAVED" not in text(walker.app)
        assert (state_of(walker, SIDES), state_of(walker, "main.plates.ends")) == ("done", "done")
        view = walker.app.state.check(SIDES)
        assert view
        assert len(view.history) == 1
    assert verify(plates) == []


def full(number: int) -> None:
    raise OSError(28, "No space left on device")


async def test_what_waits_to_be_saved_keeps_the_name_and_the_time_it_was_entered_under(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another person goes on at the same screen: what the first one entered is not theirs."""
    watch = Watch(1)
    async with opened(plates, watch) as walker:
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", full)
            assert not walker.app.enter(actions.note(walker.app.state, "main", "seen by M. Reed"))
            entered = watch.now
        watch.now += timedelta(hours=1)
        walker.app.by = "A. Dunn"
        assert walker.app.enter(actions.note(walker.app.state, "main", "seen by A. Dunn"))
        assert walker.app.job
        one, two = walker.app.job.entries[-2:]
        assert [(e.by, e.note) for e in (one, two)] == [("M. Reed", "seen by M. Reed"), ("A. Dunn", "seen by A. Dunn")]
        assert datetime.fromisoformat(one.at) <= entered < datetime.fromisoformat(two.at)
    assert verify(plates) == []


async def test_to_try_the_same_again_on_a_full_disk_enters_it_once(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", full)
            for _ in range(2):
                await walker.press("enter")
                await walker.pilot.pause()
                assert walker.app.screen is page
                assert "Not saved" in text(walker.app) and "NOT SAVED" in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        assert "NOT SAVED" not in text(walker.app)
        view = walker.app.state.check(SIDES)
        assert view and len(view.history) == 1


@pytest.mark.parametrize("key", ["q", "b"])
async def test_nothing_that_could_not_be_saved_is_lost_by_one_key(
    plates: Path, monkeypatch: pytest.MonkeyPatch, key: str
) -> None:
    async with opened(plates) as walker:
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", full)
            walker.app.enter(actions.note(walker.app.state, "main", "scaffold lifted"))
            await walker.press(key)
            await walker.pilot.pause()
            assert isinstance(walker.app.screen, JobPage)
            assert "scaffold lifted. Press the same key again to leave without saving it." in text(walker.app)
            assert walker.app.unsaved
            if key == "q":
                await walker.press(key)
                await walker.pilot.pause()
                assert walker.app.return_value == NOT_SAVED
                return
        await walker.press(key)
        await walker.pilot.pause()
        assert walker.app.job is None
    with JobFile.open(plates, read_only=True) as file:
        assert file.entries[-1].note == "scaffold lifted", "once there is room again, leaving saves it"


# --- small and wide ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (140, 40)])
async def test_every_field_and_all_three_ways_are_on_the_screen(plates: Path, size: tuple[int, int]) -> None:
    async with opened(plates, size=size) as walker:
        page = await begin(walker, SIDES)
        seen = text(walker.app)
        for figure in page.view.check.figures:
            assert figure.says in seen
        assert "drawn 10817 mm" in seen
        await fill(walker, *OUT)
        await walker.press("enter")
        await walker.pilot.pause()
        seen = text(walker.app)
        for words in (
            "OUT by 20 mm",
            "1 Fix it",
            "2 Snag it",
            "3 Carry on as it is: your name and your reason go in the",
        ):
            assert words in seen
        assert max(len(line.rstrip()) for line in lines(walker.app)) <= size[0]


@pytest.mark.parametrize("size", [(45, 70), (80, 24), (140, 40)])
async def test_what_each_way_moves_is_on_the_screen_before_one_is_chosen(plates: Path, size: tuple[int, int]) -> None:
    """The plates of the story are 20 apart on their diagonals; the verdict stays in sight above the ways."""
    async with opened(plates, size=size) as walker:
        await begin(walker, SIDES)
        await fill(walker, *OUT)
        await walker.press("enter")
        while "to as-built" not in text(walker.app):  # worked aside
            await walker.pilot.pause(0.05)
        seen = " ".join(text(walker.app).split())
        for words in (
            "OUT by 20 mm",
            "- Rack it: push C",
            "- Leave it and cut to as-built",
            "courses run out",
            "1 Fix it",
        ):
            assert words in seen, words


async def test_an_imperial_job_is_shown_in_feet_and_inches_and_takes_them(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.plates", units="imperial")) as walker:
        await begin(walker, SIDES)
        # 9000 mm / 25.4 = 354.33 in = 29 ft 6 5/16 in.
        assert "drawn 29' 6 5/16\"" in text(walker.app)
        await fill(walker, "29'6\"", "19'8\"", "29'6\"", "19'8\"", "35'5 1/2\"", "35'5 1/2\"")
        await walker.press("enter")
        await walker.pilot.pause()
        value = walker.app.state.facts["main.ab"].built
        assert value == pytest.approx(29.5 * 304.8)
        await stand_on(walker, SIDES)
        assert " mm" not in "".join(line for line in lines(walker.app) if "Diagonals differ by" in line)

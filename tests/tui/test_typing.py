"""How a line takes what is typed and pasted, in key presses."""

from pathlib import Path

import pytest
from textual.app import App, ComposeResult
from textual.events import Key, Paste

from sitelog.checklist.schema.model import Library
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.tui.widgets.entry import Entry, as_one_line
from tests.tui.seen import text, until, until_shown
from tests.tui.site import Watch, begin, brought_to, fill, opened, stand_on
from tests.tui.test_check import OUT, SIDES, SQUARE
from tests.tui.walker import Walker


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


def figures(page: CheckPage) -> list[str]:
    return [field.value for field in page.query(Entry) if field.name in ("ab", "bc", "cd", "da", "ac", "bd")]


async def paste(walker: Walker, words: str) -> None:
    walker.app.screen.post_message(Paste(words))
    await walker.pilot.pause()


async def test_what_a_field_begins_with_is_typed_over_and_an_arrow_edits_it(tmp_path: Path) -> None:
    app = SitelogApp(folder=tmp_path, clock=Watch(), device="walker01")
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot)
        await walker.press("n")
        await pilot.pause()
        assert isinstance(app.screen, NewJobPage)
        section = app.screen.form.field("1.section")
        assert section is not None
        begun = section.value
        section.focus()
        await pilot.pause()
        await walker.press("right", "backspace", "0")
        assert section.value == f"{begun[:-1]}0"
        section.value = begun
        app.screen.form.step(1)
        await pilot.pause()
        section.focus()
        await pilot.pause()
        await walker.press(*"47x175")
        assert section.value == "47x175"


async def test_a_correction_opens_with_what_was_answered_and_one_figure_is_typed_over(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        await walker.press("enter")
        await walker.pilot.pause()
        page = await begin(walker, SIDES, "m")
        assert figures(page) == list(SQUARE)
        await walker.press(*"9004", "enter")
        await walker.pilot.pause()
        assert walker.app.screen is page, "Enter goes to the next line, whatever stands in it"
        assert figures(page) == ["9004", *SQUARE[1:]]


async def test_an_undo_stands_on_what_was_undone_and_offers_its_figures(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        await walker.press("enter")
        await walker.pilot.pause()
        await stand_on(walker, "job.before.drawings")
        await walker.press("u")
        await walker.pilot.pause()
        page = walker.app.screen
        assert isinstance(page, JobPage)
        assert page.check is not None
        assert page.check.path == SIDES
        assert figures(await begin(walker, SIDES)) == list(SQUARE)


async def test_pasted_figures_fill_the_fields_and_what_is_over_is_told(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await paste(walker, "\n".join(SQUARE))
        assert figures(page) == list(SQUARE)
        await until_shown(walker.pilot, "6 figures pasted. Check each, then press Enter.")
        await walker.press("down")
        await paste(walker, "\t".join((*OUT, "1", "2")))
        assert figures(page) == [SQUARE[0], *OUT[:5]]
        await until_shown(walker.pilot, "Left over: 10830, 1, 2.")


async def test_pasted_lines_are_one_note_and_one_that_is_too_long_is_refused_whole(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press("n")
        await walker.pilot.pause()
        await paste(walker, "Corner C is proud.\r\n\nPlate to be eased\nT. Marsh told")
        await paste(walker, "x" * 400)
        assert "nothing was pasted" in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        view = walker.app.state.check(SIDES)
        assert view is not None
        assert view.history[-1].note == "Corner C is proud. Plate to be eased; T. Marsh told"


async def test_all_of_a_note_is_in_sight_while_it_is_typed(library: Library, tmp_path: Path) -> None:
    note = "R 12 rev B, R 14 rev A, engineer's E 3"
    async with opened(brought_to(tmp_path, library, "job.before")) as walker:
        await begin(walker, "job.before.drawings")
        await fill(walker, note)
        assert f" {note} " in text(walker.app)


async def test_a_figure_that_cant_be_read_has_the_cursor_and_the_reason_stays_told(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        cd = next(field for field in page.query(Entry) if field.name == "cd")
        cd.value = "9x0"
        await walker.pilot.pause()
        await walker.press("enter")
        await walker.pilot.pause()
        assert page.focused is cd
        assert "CD, back: '9x0'" in text(walker.app)


@pytest.mark.parametrize("why", ["1", "x", "12 3"])
async def test_a_figure_or_a_letter_is_no_reason(plates: Path, why: str) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press("x")
        await walker.pilot.pause()
        await walker.type(why, "enter")
        await walker.pilot.pause()
        assert f"'{why}' isn't a reason: say why in words" in text(walker.app)


def test_lines_run_on_where_they_end_in_a_stop() -> None:
    assert as_one_line("one\ntwo.\nthree\n") == "one; two. three"
    assert as_one_line("  \n") == ""


async def test_figures_that_a_slow_line_brings_at_once_go_each_into_its_own_field(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, "main.plates.sides")
        for key in [*"9003", "enter", *"6001", "enter", *"8997", "enter"]:
            walker.app.post_message(Key(key, key if len(key) == 1 else "\r"))
        await until(walker.pilot, lambda: walker.app.focused is page.query(Entry)[3])
        assert figures(page) == ["9003", "6001", "8997", "", "", ""]


class TwoLines(App[None]):
    def compose(self) -> ComposeResult:
        yield Entry("main 9000x6000 40", kind="text", offered="")
        yield Entry("9000", kind="length", offered="")


async def test_words_go_on_where_they_ended_and_a_figure_is_typed_over(tmp_path: Path) -> None:
    app = TwoLines()
    async with app.run_test() as pilot:
        words, figure = app.query(Entry)
        await pilot.press("enter", *"x", "tab", *"86", "enter", *"87")
        assert (words.value, figure.value) == ("main 9000x6000 40x", "87")

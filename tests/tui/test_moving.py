"""How somebody moves about by key and by finger, and what is never lost on the way."""

from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.dialogs.help import HelpPage
from sitelog.tui.dialogs.meant import MeantPage
from sitelog.tui.dialogs.palette import PalettePage
from sitelog.tui.dialogs.whole import WholePage
from sitelog.tui.keys import KEYS, foot_of, footer, key_at, keys_of
from sitelog.tui.pages.calculators import CalculatorPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.jobs import JobsPage
from sitelog.tui.widgets.listing import Paragraphs
from sitelog.tui.widgets.page import FootLine
from tests.tui.seen import lines, text
from tests.tui.site import begin, brought_to, opened, stand_on
from tests.tui.test_check import SIDES
from tests.tui.walker import Walker


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def touch(walker: Walker, words: str) -> None:
    """A finger on these words, where the screen shows them."""
    rows = lines(walker.app)
    y, x = next((y, line.index(words)) for y, line in enumerate(rows) if words in line)
    await walker.pilot.click(offset=(x, y))
    await walker.pilot.pause()


# --- keys that every program has --------------------------------------------------------------------------------------


async def test_f1_opens_the_help_over_a_half_filled_form_and_escape_goes_back_to_it(plates: Path) -> None:
    async with opened(plates) as walker:
        page: object = await begin(walker, SIDES)
        await walker.type("8996")
        await walker.press("f1")
        await walker.pilot.pause()
        helping = walker.app.screen
        assert isinstance(helping, HelpPage)
        assert helping.query_one(Paragraphs).told[0] == ("", "TYPING IN A FORM"), "the keys of the form come first"
        await walker.press("f1")
        assert walker.app.screen is helping
        assert "Press esc or b to go back" in text(walker.app)
        await walker.press("escape")
        assert walker.app.screen is page
        assert isinstance(walker.app.focused, Input) and walker.app.focused.value == "8996"


async def test_f1_helps_over_a_question_too_and_its_words_are_kept(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press("n")
        await walker.type("packed")
        await walker.press("f1")
        assert isinstance(walker.app.screen, HelpPage)
        await walker.press("escape")
        assert isinstance(walker.app.screen, AskPage)
        assert isinstance(walker.app.focused, Input) and walker.app.focused.value == "packed"


async def test_ctrl_p_lists_all_commands_and_in_a_form_says_where_they_are(plates: Path) -> None:
    async with opened(plates) as walker:
        await walker.press("ctrl+p")
        assert isinstance(walker.app.screen, PalettePage)
        await walker.press("escape")
        page: object = await begin(walker, SIDES)
        await walker.press("ctrl+p")
        await walker.pilot.pause()
        assert walker.app.screen is page
        assert "All commands are listed on a job's page: press a there." in text(walker.app)


async def test_ctrl_c_copies_what_is_marked_and_leaves_once_pressed_again_with_the_figures_kept(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    async with opened(plates) as walker:
        page: object = await begin(walker, SIDES)
        await walker.type("8996")
        await walker.press("shift+home", "ctrl+c")
        assert "Copied. Press ctrl-C again to quit. What you typed is kept." in text(walker.app)
        assert walker.app.clipboard == "8996"
        await walker.press("right", "ctrl+c")
        assert walker.app.screen is page and walker.app.return_value is None, "another key came between"
        await again(walker, "ctrl+c")
    assert walker.app.return_value == 0
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        assert page.texts()["ab"] == "8996"


async def again(walker: Walker, key: str) -> None:
    """The same key, by a finger that was lifted between."""
    walker.app._pressed = (key, 0.0)
    await walker.press(key)
    await walker.pilot.pause()


@pytest.mark.parametrize("key", ["n", "r", "y", "s", "l"])
async def test_ctrl_c_in_a_question_says_how_to_quit_and_what_was_typed_is_there_again(plates: Path, key: str) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press(key)
        await walker.pilot.pause()
        asking = walker.app.screen
        assert isinstance(asking, AskPage)
        field = asking.query(Input).first()
        typed = "A. Dunn" if key == "y" else "13 packers"
        field.value = typed
        await walker.press("ctrl+c")
        has_form = bool(asking.form)
        told = "Press ctrl-C again to quit." + " What you typed is kept." * has_form
        assert walker.app.screen is asking and told in text(walker.app)
        await again(walker, "ctrl+c")
    assert walker.app.return_value == 0
    if has_form:
        async with opened(plates) as walker:
            await stand_on(walker, SIDES)
            await walker.press(key)
            await walker.pilot.pause()
            assert walker.app.screen.query(Input).first().value == typed


async def test_ctrl_c_says_the_same_where_a_figure_is_asked_about(plates: Path) -> None:
    async with opened(plates) as walker:
        page: object = await begin(walker, SIDES)
        await walker.type("9", "enter")
        await walker.pilot.pause()
        asking = walker.app.screen
        assert isinstance(asking, MeantPage)
        await walker.press("ctrl+c")
        assert walker.app.screen is asking
        assert "Press ctrl-C again to quit. What you typed is kept." in text(walker.app)
        await walker.press("escape", "ctrl+c")
        assert walker.app.screen is page and walker.app.return_value is None


async def test_undo_three_times_takes_three_back_and_each_is_said_and_stood_on(plates: Path) -> None:
    """By u or by ctrl-Z: what was undone is under the cursor each time, and a fourth takes back what is before it."""
    paths = (SIDES, "main.plates.levels", "main.first-pair.twist")
    async with opened(plates) as walker:
        for path in paths:
            await stand_on(walker, path)
            await walker.press("n")
            await walker.type(f"note at {path.rpartition('.')[2]}", "enter")
        page = await stand_on(walker, "main.plates")
        for key, path in zip(("u", "ctrl+z", "ctrl+z"), reversed(paths), strict=True):
            await again(walker, key)
            assert page.check is not None and page.check.path == path
            assert f"note at {path.rpartition('.')[2]}" in text(walker.app).partition("Undone: ")[2]
        job = walker.app.job
        assert job is not None and [entry.act for entry in job.entries][-3:] == ["void"] * 3


async def test_ctrl_z_in_a_form_undoes_no_entry_and_says_where_to(plates: Path) -> None:
    async with opened(plates) as walker:
        page: object = await begin(walker, SIDES)
        job = walker.app.job
        assert job is not None
        before = job.file.count
        await walker.type("8996")
        await walker.press("ctrl+z")
        assert (walker.app.screen, job.file.count) == (page, before)
        assert "Press esc, then u, to undo the last entry." in text(walker.app)


# --- a finger, or a mouse ---------------------------------------------------------------------------------------------


async def test_a_row_touched_is_read_first_and_touched_again_is_done(plates: Path) -> None:
    async with opened(plates, size=(45, 70)) as walker:
        page = await stand_on(walker, "main.plates.levels")
        await begin(walker, SIDES)  # its cautions are read
        await touch(walker, "esc back")
        assert walker.app.screen is page
        await stand_on(walker, "main.plates.levels")
        await touch(walker, "Four sides and two")
        assert walker.app.screen is page
        assert page.check is not None and page.check.path == SIDES
        await touch(walker, "Four sides and two")
        assert isinstance(walker.app.screen, CheckPage)


async def test_fields_their_labels_and_the_keys_of_a_question_can_be_touched(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await begin(walker, SIDES)
        await walker.pilot.resize_terminal(60, 20)
        await walker.pilot.pause()
        await touch(walker, "CD, back")
        assert isinstance(page.focused, Input) and page.focused.name == "cd"
        await touch(walker, "esc back")
        await touch(walker, "note")
        assert isinstance(walker.app.screen, AskPage)
        await walker.type("packed at the head")
        await touch(walker, "enter save")
        assert isinstance(walker.app.screen, JobPage)
        assert walker.app.state.last is not None and walker.app.state.last.note == "packed at the head"


async def test_a_stage_along_the_top_and_what_is_cut_off_beneath_the_rows_can_be_touched(plates: Path) -> None:
    async with opened(plates, size=(60, 20)) as walker:
        page = await stand_on(walker, SIDES)
        await touch(walker, "read the other")
        assert isinstance(walker.app.screen, WholePage)
        await touch(walker, "b back")
        ruler = lines(walker.app)[1]
        await walker.pilot.click(offset=(ruler.index("first pair") + 2, 1))
        await walker.pilot.pause()
        assert page.stage_path == "main.first-pair", ruler
        await touch(walker, "PLATES" if "PLATES" in text(walker.app) else "plates")
        assert page.stage_path == "main.plates"


@pytest.mark.parametrize("place", sorted({place for key in KEYS for place in key.places}))
def test_every_key_of_every_foot_can_be_touched(place: str) -> None:
    line = footer(place)
    for key in keys_of(place):
        if key.footer:
            at = line.index(foot_of(f"{key.shown} {key.word}"))
            assert key_at(line, at + len(key.shown)) in key.keys.split(","), key


@pytest.mark.parametrize(
    ("words", "pressed"),
    [
        ("enter", "enter"),
        ("do", "enter"),
        ("[", "left_square_bracket"),
        ("]", "right_square_bracket"),
        ("find", "slash"),
        ("?", "question_mark"),
        ("esc", "escape"),
    ],
)
def test_each_key_of_a_foot_is_found_under_the_finger(words: str, pressed: str) -> None:
    line = FootLine(foot_of("enter do", "[ ] stage", "/ find", "? help", "esc back"))._lines(80)[0]
    assert key_at(line, line.index(words)) == pressed
    assert key_at(line, line.index("  ")) == key_at(line, 200) == ""


# --- escape, and what leads on ----------------------------------------------------------------------------------------


async def test_escape_pressed_twice_leaves_the_form_and_not_the_job(plates: Path) -> None:
    async with opened(plates) as walker:
        page = await stand_on(walker, SIDES)
        await begin(walker, SIDES)
        await walker.type("8996")
        await walker.press("escape", "escape")
        await walker.pilot.pause()
        assert walker.app.screen is page
        assert "Press Esc once more for the list of jobs." in text(walker.app)
        assert (await begin(walker, SIDES)).texts()["ab"] == "8996"
        await walker.press("escape", "down", "escape")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobsPage), "by itself it goes one back"
        await walker.press("escape", "escape")
        assert isinstance(walker.app.screen, JobsPage), "and never out of the program"


async def test_what_was_typed_into_a_calculator_is_there_again(plates: Path) -> None:
    async with opened(plates) as walker:
        for again in (False, True):
            await walker.app.push_screen(CalculatorPage("hip"))
            await walker.pilot.pause()
            page = walker.app.screen
            assert isinstance(page, CalculatorPage)
            assert page.form.inputs[0].value == ("88" if again else "")
            await walker.type("88")
            await walker.press("escape")


async def test_each_stop_says_the_key_that_leads_on(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.press("escape")
        await walker.pilot.resize_terminal(60, 20)
        await stand_on(walker, "main.hips")
        await walker.press("enter")
        await walker.pilot.pause()
        assert "Press space for what comes first" in text(walker.app), "a hold before it"
        page = await stand_on(walker, "main.plates")
        await begin(walker, SIDES)
        await walker.press("escape", "end", "enter")
        await walker.pilot.pause()
        assert "can't be signed yet" in text(walker.app) and "Press space for what comes first" in text(walker.app)
        await walker.press("space")
        assert page.check is not None and page.check.path == SIDES


@pytest.mark.parametrize("size", [(60, 20), (45, 70)])
async def test_a_wind_that_stops_the_work_says_which_key_answers_it_again(plates: Path, size: tuple[int, int]) -> None:
    async with opened(plates, size=size) as walker:
        page = await stand_on(walker, SIDES)
        await walker.app.push_screen(CautionPage(["weather-wind"], page.stage_path))
        await walker.pilot.pause()
        await walker.type("40 45")
        for _ in range(6):  # on a small screen Enter reads to the end first
            if isinstance(walker.app.screen, CautionPage):
                await walker.press("enter")
                await walker.pilot.pause()
        assert walker.app.screen is page
        assert "STOP WORK. Wind" in text(walker.app) and "Press o when it has changed." in text(walker.app)
        await walker.press("enter")
        assert isinstance(walker.app.screen, CautionPage), "what stops it is asked again first"

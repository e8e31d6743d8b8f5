"""Figures that are likely slips, by keyboard: asked about before anything is worked or entered."""

from collections.abc import Callable
from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.meant import MeantPage
from sitelog.tui.pages.calculators import CalculatorPage
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.timber import OrderPage
from sitelog.tui.widgets.listing import Listing
from tests import shipped
from tests.tui.conftest import DEVICE, Clock
from tests.tui.seen import text, typed, until_shown
from tests.tui.site import begin, brought_to, fill, opened
from tests.tui.walker import Walker

SIDES = "main.plates.sides"
SQUARE = ("9000", "6000", "9000", "6000", "10817", "10817")


@pytest.fixture(scope="module")
def library() -> Library:
    return shipped.library()


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


def field(walker: Walker) -> Input:
    focused = walker.app.focused
    assert isinstance(focused, Input)
    return focused


def answered(walker: Walker) -> int:
    view = walker.app.state.check(SIDES)
    assert view
    return len([entry for entry in view.history if entry.act == "answer"])


# --- a check --------------------------------------------------------------------------------------------------------


async def test_nine_typed_for_nine_metres_is_asked_about_and_yes_takes_nine_metres(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.type("9")
        await walker.pilot.pause()
        assert "9 mm? Type 9m, or 9mm if you mean it" in text(walker.app), "it is said while it is typed"
        await walker.press("enter")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, MeantPage)
        assert "9 mm? Did you mean 9 m?" in text(walker.app)
        assert "Type 9mm in the field if you mean it." in text(walker.app)
        await walker.press("y")
        await walker.pilot.pause()
        assert field(walker).name == "bc", "it goes on to the next field, as Enter does"
        await fill(walker, *SQUARE[1:])
        await walker.press("enter")
        await walker.pilot.pause()
        view = walker.app.state.check(SIDES)
        assert view and view.state == "done"
        assert view.history[-1].value["ab"] == 9000


async def test_fast_fingers_answer_no_question_that_they_have_not_read(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.type("9", "enter")
        await walker.pilot.pause()
        await walker.type("6000", "enter", "9000", "enter")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, MeantPage), "neither figures nor Enter are an answer"
        await walker.press("n")
        await walker.pilot.pause()
        assert (field(walker).name, field(walker).value) == ("ab", "9")
        assert answered(walker) == 0


async def test_what_is_meant_is_typed_with_its_unit_and_taken_unasked(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.type("9", "enter")
        await walker.pilot.pause()
        await walker.press("escape")
        await walker.pilot.pause()
        await walker.type("mm", "enter")
        await walker.pilot.pause()
        assert field(walker).name == "bc"


async def test_nothing_is_worked_from_a_slip_and_the_last_field_does_not_enter_it(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE[:-1], "10.817")
        assert "Diagonals apart" not in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        assert "10.817 mm? Did you mean 10.817 m?" in text(walker.app)
        assert answered(walker) == 0
        await walker.press("y")
        await walker.pilot.pause()
        await walker.pilot.pause()
        assert answered(walker) == 1


async def test_a_slip_in_a_field_that_was_left_by_an_arrow_is_asked_about_before_it_is_entered(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.type("9", "down")
        await fill(walker, *SQUARE[1:])
        await walker.press("enter")
        await walker.pilot.pause()
        assert "9 mm? Did you mean 9 m?" in text(walker.app)
        await walker.press("y")
        await walker.pilot.pause()
        await walker.pilot.pause()
        assert answered(walker) == 1


async def test_a_figure_that_can_mean_nothing_else_is_named_and_stays_in_its_field(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await walker.type("250", "enter")
        await walker.pilot.pause()
        assert "250 mm? Type 250mm if you mean it" in text(walker.app)
        assert (field(walker).name, field(walker).value) == ("ab", "250")


# --- a new job, a figure of the drawing -----------------------------------------------------------------------------


async def test_no_job_of_nine_millimetres_is_set_up(tmp_path: Path, clock: Clock) -> None:
    app = SitelogApp(folder=tmp_path, clock=clock, device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n", *typed("mill barn"), "enter", *typed("far field"), "enter", *typed("a. dunn"))
        await pilot.press(*["enter"] * 6, *typed("9"), "enter")
        await pilot.pause()
        assert "9 mm? Did you mean 9 m?" in text(app)
        await pilot.press("y")
        await pilot.pause()
        await pilot.press(*typed("6"), "down", *typed("76"), "enter")
        await pilot.pause()
        assert "76 degrees? Type 76deg if you mean it" in text(app)
        await pilot.press(*["backspace"] * 2, *typed("40"), *["enter"] * 15)
        await pilot.pause()
        assert "6 mm? Did you mean 6 m?" in text(app), "what was left by an arrow is asked about before the job is made"
        assert not list(tmp_path.glob("*.json"))
        await pilot.press("y")
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, JobPage)
        assert [app.state.facts[f"main.{name}"].drawn for name in ("length", "width", "pitch")] == [9000, 6000, 40]


async def test_a_figure_drawn_again_is_asked_about(plates: Path) -> None:
    async with opened(plates) as walker:
        await walker.app.push_screen(FactsPage())
        await walker.pilot.pause()
        walker.app.screen.query_one(Listing).stand_on("main.length")
        await walker.press("enter", *["backspace"] * 4)
        await walker.type("9.2", "enter")
        await walker.pilot.pause()
        assert "9.2 mm? Did you mean 9.2 m?" in text(walker.app)
        assert walker.app.state.facts["main.length"].drawn == 9000
        await walker.press("y")
        await walker.pilot.pause()
        await walker.pilot.pause()
        assert walker.app.state.facts["main.length"].drawn == 9200


# --- sums -----------------------------------------------------------------------------------------------------------


async def test_a_sum_shows_the_question_and_no_nonsense(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.plates")) as walker:
        await walker.app.push_screen(CalculatorPage("common"))
        await walker.pilot.pause()
        await walker.type("3.0", "enter")
        await walker.pilot.pause()
        assert "3.0 mm? Did you mean 3.0 m?" in text(walker.app)
        await walker.press("y")
        await walker.pilot.pause()
        assert field(walker).name == "pitch"
        await walker.type("80")
        await walker.pilot.pause()
        assert "pitch: 80 degrees? Type 80deg if you mean it" in text(walker.app)


def sides(library: Library) -> Callable[[Job], Draft]:
    given = {"ab": "8996", "bc": "6003", "cd": "9007", "da": "6002", "ac": "10826", "bd": "10813"}
    return lambda job: actions.answer(job.state, library, SIDES, given)


async def test_an_order_is_not_worked_from_sticks_of_a_few_millimetres(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.first-pair", sides(library))) as walker:
        await walker.press("g")
        await walker.pilot.pause()
        await walker.press("o")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, OrderPage)
        await walker.press("down")
        await walker.type("4.8,5.4,6.0", "enter")
        await walker.pilot.pause()
        assert "4.8 mm? Did you mean 4.8 m?" in text(walker.app)
        await walker.press("y")
        await until_shown(walker.pilot, "Length bought")
        assert field(walker).value == "4.8m,5.4m,6.0m"

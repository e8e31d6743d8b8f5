"""Every field is seen while it is typed in, at every size: never under a message, never off the screen."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from textual.css.query import NoMatches
from textual.errors import NoWidget
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input

from sitelog.calculators.index import calculators
from sitelog.checklist.schema.model import Library
from sitelog.tui.app import SitelogApp
from sitelog.tui.building.block import BlockPage
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.pages.calculators import CalculatorPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.wording.building.fields import KINDS_TO_ADD
from tests.length import long
from tests.tui.seen import lines, text
from tests.tui.site import Watch, begin, brought_to, fill, opened, stand_on
from tests.tui.test_check import SIDES, SQUARE

SIZES = ((80, 24), (60, 20), (45, 70))
ROOF = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"


def in_sight(app: SitelogApp) -> str:
    """What is wrong with where the field with the cursor is shown, or ""."""
    field = app.focused
    assert isinstance(field, Input), field
    try:
        ends = [app.screen.get_widget_at(x, field.region.y)[0] for x in (field.region.x, field.region.right - 1)]
    except (NoWidget, NoMatches):
        ends = []
    if ends == [field, field]:
        return ""
    return f"{type(app.screen).__name__} {field.name or field.id} at {app.size.width}x{app.size.height}"


async def at_rest(app: SitelogApp, pilot: Pilot[int]) -> str:
    """The same once the page has been laid out anew, which a busy machine takes a while for."""
    for _ in range(50):
        await pilot.pause()
        if not in_sight(app):
            return ""
        await pilot.pause(0.02)
    return in_sight(app)


async def walked(app: SitelogApp, pilot: Pilot[int], sizes: Sequence[tuple[int, int]] = SIZES) -> list[str]:
    """The fields of the form on top that are not seen when the cursor stands in them, down and up at each size."""
    hidden = []
    fields = list(app.screen.query(Input))
    for size in sizes:
        await pilot.resize_terminal(*size)
        for place, field in enumerate(fields):
            if place:
                await pilot.press("down")
            else:
                field.focus()
            await pilot.pause()
            assert app.focused is field
            hidden.append(await at_rest(app, pilot))
    await pilot.resize_terminal(60, 20)
    hidden.append(await at_rest(app, pilot))
    return [words for words in hidden if words]


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def test_each_field_of_a_new_job_is_seen_above_what_is_told_of_it(tmp_path: Path) -> None:
    app = SitelogApp(folder=tmp_path, clock=Watch(), device="walker01")
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.press("n")
        await pilot.pause()
        assert isinstance(app.screen, NewJobPage)
        assert await walked(app, pilot, [(60, 20)]) == []


@long
async def test_each_field_of_each_form_of_a_new_job_is_seen_at_each_size(tmp_path: Path, library: Library) -> None:
    app = SitelogApp(folder=tmp_path, clock=Watch(), device="walker01")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("n")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, NewJobPage)
        for form in library.forms():
            await page._rebuild("1.form", form)
            await pilot.pause()
            assert await walked(app, pilot) == [], form


async def test_each_figure_of_a_check_is_seen_and_its_verdict_stays_in_sight(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        await fill(walker, *SQUARE)
        assert await walked(walker.app, walker.pilot, [(45, 70)]) == []
        for size in SIZES:
            await walker.pilot.resize_terminal(*size)
            next(iter(walker.app.screen.query(Input))).focus()
            await walker.pilot.pause()
            assert "OK limit 10 mm (house)" in text(walker.app)


@pytest.mark.parametrize("key", ["plus", "l", pytest.param("s", marks=long), pytest.param("p", marks=long)])
async def test_each_line_of_a_question_is_seen_with_its_keys(plates: Path, key: str) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press(key)
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, AskPage)
        assert await walked(walker.app, walker.pilot, [(60, 20)]) == []
        await walker.pilot.resize_terminal(45, 70)
        await walker.press("enter")
        await walker.pilot.pause()
        assert in_sight(walker.app) == ""
        assert "enter save" in lines(walker.app)[-1]


async def test_each_field_of_a_block_and_of_a_calculator_is_seen(plates: Path) -> None:
    async with opened(plates) as walker:
        for page in (BlockPage(ROOF, "dormer"), CalculatorPage("hip")):
            await walker.app.push_screen(page)
            await walker.pilot.pause()
            assert await walked(walker.app, walker.pilot, [(60, 20)]) == []


@long
async def test_each_field_of_each_block_and_of_every_calculator_is_seen_at_each_size(plates: Path) -> None:
    async with opened(plates) as walker:
        pages: list[Screen[Any]] = [BlockPage(ROOF, kind) for kind in KINDS_TO_ADD]
        for page in (*pages, *map(CalculatorPage, calculators())):
            await walker.app.push_screen(page)
            await walker.pilot.pause()
            assert await walked(walker.app, walker.pilot) == []
            await walker.app.pop_screen()


async def test_the_cursor_is_put_on_what_is_wrong(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await walker.press("s")
        await walker.type("corner C 11 out", "enter")
        await walker.type("A. Dunn", "enter")
        await walker.type("soonish", "up", "down", "enter")
        await walker.pilot.pause()
        assert walker.app.focused is walker.app.screen.query_one("#answer-2")
        await walker.press("escape")
        page = CalculatorPage("hip")
        await walker.app.push_screen(page)
        page.form.inputs[0].value = "9o00"
        page.form.inputs[-1].focus()
        await walker.press("enter")
        await walker.pilot.pause()
        assert page.focused is page.form.inputs[0]
        assert "'9o00'" in text(walker.app)


@long
async def test_each_figure_of_every_check_is_seen_at_each_size(plates: Path) -> None:
    async with opened(plates) as walker:
        for view in list(walker.app.state.checks()):
            await walker.app.push_screen(CheckPage(view.path))
            await walker.pilot.pause()
            if walker.app.screen.query(Input):
                assert await walked(walker.app, walker.pilot) == [], view.path
            await walker.app.pop_screen()

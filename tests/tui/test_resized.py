"""A window made larger and smaller a hundred times: nothing falls over, and a page comes back as it was."""

import random
from collections.abc import Callable
from typing import Any

import pytest
from textual.screen import Screen

from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.widgets.plan import DrawingPage
from tests.length import long
from tests.tui.seen import lines
from tests.tui.test_pages import SIZE, at_job

ODD = [(1, 1), (2, 1), (1, 50), (400, 100), (20, 5), (60, 20), (8, 3), (300, 2)]


@pytest.mark.parametrize(
    "make",
    [
        pytest.param(None, id="the job", marks=long),
        pytest.param(lambda: CheckPage("job.before.works"), id="a check", marks=long),
        pytest.param(lambda: DrawingPage("main.plates"), id="a drawing", marks=long),
    ],
)
async def test_resized_a_hundred_times_a_page_is_the_same_again(
    app: SitelogApp, make: Callable[[], Screen[Any]] | None
) -> None:
    chance = random.Random(7)
    sizes = ODD + [(chance.randint(1, 160), chance.randint(1, 50)) for _ in range(100 - len(ODD))]
    async with at_job(app, make() if make else None) as pilot:
        before = lines(app)
        for width, height in sizes:
            await pilot.resize_terminal(width, height)
        await pilot.resize_terminal(*SIZE)
        await pilot.pause()
        await pilot.pause()
        assert lines(app) == before


async def test_the_plan_is_beside_the_rows_or_beneath_them_where_they_leave_room(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        page = app.screen
        assert isinstance(page, JobPage)
        page.show_path("main.plates.sides")
        for size, shown in (((45, 70), 1), ((45, 40), 0), ((140, 40), 1), ((80, 24), 0)):
            await pilot.resize_terminal(*size)
            await pilot.pause()
            await pilot.pause()
            assert sum("plan, seen from above" in line for line in lines(app)) == shown, size
            assert any("Four sides" in line for line in lines(app)), size

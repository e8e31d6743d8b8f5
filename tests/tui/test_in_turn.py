"""Checks one after the other: which opens by itself, and what the form of the one before leaves behind."""

from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.widgets.entry import Entry
from tests.tui.seen import text, until
from tests.tui.site import begin, brought_to, fill, opened, stand_on
from tests.tui.test_check import SIDES, SQUARE
from tests.tui.walker import Walker


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def done_square(walker: Walker) -> None:
    await begin(walker, SIDES)
    await fill(walker, *SQUARE)
    await walker.press("enter")
    await walker.pilot.pause(0.1)


async def test_the_next_check_opens_by_itself_empty_and_tells_how_the_last_one_stands(plates: Path) -> None:
    async with opened(plates) as walker:
        await done_square(walker)
        page = walker.app.screen
        assert isinstance(page, CheckPage)
        assert page.path == "main.plates.levels"
        assert [field.value for field in page.query(Entry)] == ["", ""], "no figure of another check"
        assert "Four sides and two diagonals, outside faces, mm: done" in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, CheckPage), "Enter again enters nothing"
        assert walker.app.state.next == "main.plates.levels"


async def test_escape_leads_from_a_form_that_opened_by_itself_to_the_list_and_no_further(plates: Path) -> None:
    async with opened(plates) as walker:
        await done_square(walker)
        await walker.press("escape")
        await walker.pilot.pause()
        page = walker.app.screen
        assert isinstance(page, JobPage)
        assert page.check is not None
        assert page.check.path == "main.plates.levels"


async def test_a_check_out_of_its_turn_leads_back_to_the_list(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, "main.plates.straps")
        await fill(walker, "1800", "120")
        await walker.press("enter")
        await walker.pilot.pause(0.1)
        assert isinstance(walker.app.screen, JobPage)


@pytest.mark.parametrize("path", ["main.hip-lines.hip-a", "main.hip-lines.hip-b"])
async def test_what_enter_alone_would_do_never_opens_by_itself(tmp_path: Path, library: Library, path: str) -> None:
    """Each tick and each sum that is looked at is an act of its own."""
    async with opened(brought_to(tmp_path, library, "main.hip-lines")) as walker:
        await begin(walker, "main.hip-lines.meeting")
        await fill(walker, "1", "1")
        await walker.press("enter")
        await walker.pilot.pause(0.1)
        assert isinstance(walker.app.screen, JobPage)
        await stand_on(walker, path)
        await walker.press("enter")
        await walker.pilot.pause(0.1)
        assert walker.app.state.check(path).state == "open"  # type: ignore[union-attr]


async def test_a_length_that_only_places_the_readings_is_not_asked(tmp_path: Path, library: Library) -> None:
    """The bow of a string line hangs on its offsets alone; the length says where along it."""
    async with opened(brought_to(tmp_path, library, "main.hip-lines")) as walker:
        path = "main.hip-lines.line-a"
        await begin(walker, path)
        assert "if blank" not in text(walker.app)
        await fill(walker, "0,1,2,0")
        await walker.press("enter")
        await walker.pilot.pause(0.1)
        view = walker.app.state.check(path)
        assert view is not None
        assert view.state == "done"
        assert [figure.value for figure in view.figures] == [(0.0, 1.0, 2.0, 0.0)]
        assert view.answer is not None
        assert view.answer.results["bow"] == 2.0
        assert view.answer.results["station"] == pytest.approx(2 / 3 * 4704.2, abs=0.1)


async def test_a_signed_stage_leads_to_the_first_check_of_the_next(tmp_path: Path, library: Library) -> None:
    """What stops the work there is read first; a stray Enter answers neither."""

    def none(job: Job) -> Draft:
        return actions.answer(job.state, job.library, "main.openings.any", {"value": "none"})

    async with opened(brought_to(tmp_path, library, "main.openings", none)) as walker:
        await stand_on(walker, "main.openings")
        app = walker.app
        await walker.walk(lambda: app.state.next.startswith("main.ridge"))
        await until(walker.pilot, lambda: isinstance(app.screen, (CautionPage, CheckPage)))
        await walker.press("enter", "enter")
        await walker.pilot.pause(0.1)
        assert app.state.next == "main.ridge.ridge-line"
        await walker.walk(lambda: isinstance(app.screen, CheckPage))
        assert "Openings and collars: signed by M. Reed" in text(app)

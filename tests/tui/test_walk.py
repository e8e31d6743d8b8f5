"""A whole job through the keyboard: from where the sample stands to the signed handover, and a new job from nothing."""

import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.storage.verify import verify
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.pages.job import JobPage
from tests.tui.sample import SITE_CHOSEN, SITE_READ
from tests.tui.walker import Walker

SIZE = (80, 24)


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """Two seconds on at every look, from a cold morning."""
    now = [datetime(2026, 11, 25, 7, 52, tzinfo=UTC)]

    def look() -> datetime:
        now[0] += timedelta(seconds=2)
        return now[0]

    return look


@pytest.fixture
def sample(tmp_path: Path) -> Path:
    return Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))


async def test_the_sample_site_walks_on_to_the_signed_handover(sample: Path, clock: Callable[[], datetime]) -> None:
    app = SitelogApp(folder=sample.parent, file=sample, clock=clock, device="walker01")
    async with app.run_test(size=SIZE) as pilot:
        walker = Walker(app, pilot, SITE_READ, SITE_CHOSEN)
        await walker.walk(lambda: isinstance(app.screen, JobPage) and not app.state.next)
        assert app.state.handed_over
        assert all(check.state != "open" for check in app.state.checks())
        assert [snag.id for snag in app.state.open_snags] == ["1"]
        # What was let go stays to be seen.
        assert [r.path for r in app.state.releases] == ["main.first-pair.twist"]
    assert verify(sample) == []


async def test_a_restart_stands_at_the_next_thing_to_do(sample: Path, clock: Callable[[], datetime]) -> None:
    seen = ""
    for _ in range(3):
        app = SitelogApp(folder=sample.parent, file=sample, clock=clock, device="walker01")
        async with app.run_test(size=SIZE) as pilot:
            await pilot.pause()
            assert isinstance(app.screen, RecapPage)
            await pilot.press("space")
            assert isinstance(app.screen, RecapPage), "the key that goes to the next thing must not resume"
            await pilot.press("enter")
            await pilot.pause()
            page = app.screen
            assert isinstance(page, JobPage)
            assert (page.check.path if page.check else page.stage_path) == app.state.next != seen
            seen = app.state.next
            walker = Walker(app, pilot)
            await walker.walk(lambda seen=seen, app=app: app.state.next != seen)
            # The window is shut here, in the middle of whatever is on the screen.


DESIGN = {
    "title": "Long Lane, plot 2",
    "by": "M. Reed",
    "1.length": "9000",
    "1.width": "6000",
    "1.pitch": "35",
    "1.design_mass": "40",
}


async def test_a_new_job_is_set_up_and_reaches_the_signed_handover_by_keyboard_alone(
    tmp_path: Path, clock: Callable[[], datetime]
) -> None:
    app = SitelogApp(folder=tmp_path, clock=clock, device="walker01")
    async with app.run_test(size=SIZE) as pilot:
        walker = Walker(app, pilot)
        await walker.set_up(DESIGN)
        await walker.walk(lambda: isinstance(app.screen, JobPage) and not app.state.next)
        assert app.state.handed_over
        assert (app.state.title, app.state.snags, app.state.releases) == ("Long Lane, plot 2", (), ())
    (file,) = tmp_path.glob("*.json")
    assert verify(file) == []

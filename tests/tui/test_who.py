"""Whose name stands where: who is there is asked once, and nobody's name is filled in for somebody else."""

from datetime import timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.tui.app import STYLES, SitelogApp
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.jobs import JobsPage
from sitelog.wording.prompts import prompts
from tests.lines.listener import ScriptedInput, walked
from tests.tui.conftest import DEVICE
from tests.tui.seen import Pair, letters, text
from tests.tui.site import Watch, brought_to
from tests.tui.test_moving import touch
from tests.tui.walker import Walker

WALKED = "job.handover.walked"  # the next trade signs it


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


@pytest.mark.parametrize("by", ["", "A. Dunn"])
async def test_enter_chooses_who_is_there_and_a_name_given_before_is_not_asked_again(plates: Path, by: str) -> None:
    app = SitelogApp(folder=plates.parent, file=plates, by=by, clock=Watch(), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert ("Who are you?" in text(app)) is not bool(by)
        assert ("You are A. Dunn. Press Enter to go on." in text(app)) is bool(by)
        await pilot.press("space")
        assert isinstance(app.screen, RecapPage)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, JobPage)
        assert app.by == (by or "M. Reed")


async def test_the_recap_is_painted_as_it_stays_before_the_styles_of_other_pages_are_read(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    painted: list[list[Pair]] = []
    for read in (SitelogApp._get_ready, lambda app: None):
        monkeypatch.setattr(SitelogApp, "_get_ready", read)
        app = SitelogApp(folder=plates.parent, file=plates, clock=Watch(), device=DEVICE)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            await pilot.pause()
            assert app.stylesheet.has_source(str(STYLES)) is (not painted)
            painted.append(list(letters(app)))
    assert painted[0] == painted[1]


async def test_where_a_job_stands_is_read_as_it_was_left_and_its_state_worked_behind_it(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = []
    for state in (Job.state, property(lambda job: pytest.fail("worked before the recap is painted"))):
        monkeypatch.setattr(Job, "state", state)
        app = SitelogApp(folder=plates.parent, file=plates, clock=Watch(), device=DEVICE)
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            said.append(text(app))
        monkeypatch.setattr(SitelogApp, "_get_ready", lambda app: None)
    assert "Next" in said[0]
    assert said[0] == said[1]


@pytest.mark.parametrize(
    ("days", "says"),
    [(0, ""), (3, "Now 28 Nov 2026 07:52, 3 days after the last entry"), (90, "Set it if it is wrong")],
)
async def test_after_a_weekend_the_time_is_shown_and_no_clock_is_to_be_set(plates: Path, days: int, says: str) -> None:
    watch = Watch()
    watch.now += timedelta(days=days)
    app = SitelogApp(folder=plates.parent, file=plates, clock=watch, device=DEVICE)
    async with app.run_test(size=(140, 40)) as pilot:
        await pilot.pause()
        assert says in text(app)
        assert ("Set it" in text(app)) is (days > 60) and ("Now " in text(app)) is (days == 3)


async def test_a_name_that_is_touched_is_taken_and_escape_leads_to_the_jobs(plates: Path) -> None:
    app = SitelogApp(folder=plates.parent, file=plates, clock=Watch(), device=DEVICE)
    async with app.run_test(size=(45, 70)) as pilot:
        await pilot.pause()
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsPage) and not app.job
        await pilot.press("enter")
        await pilot.pause()
        await touch(Walker(app, pilot), "1  M. Reed")
        assert isinstance(app.screen, JobPage) and app.by == "M. Reed"


async def test_the_next_trades_name_is_not_filled_in_with_the_foremans(plates: Path, library: Library) -> None:
    app = SitelogApp(folder=plates.parent, file=plates, by="M. Reed", clock=Watch(), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("1")
        await app.push_screen(CheckPage(WALKED))
        await pilot.pause()
        assert [field.value for field in app.screen.query(Input)] == [""]
    with Job.open(plates, library, read_only=True) as job:
        stage = job.state.stage("main.plates")
        assert stage
        own = prompts.sign(job.state, stage, "M. Reed")
        engineers = prompts.sign(job.state, replace(stage, stage=replace(stage.stage, signer="engineer")), "M. Reed")
        assert [prompt.questions[0].start for prompt in (own, engineers)] == ["M. Reed", ""]


def test_nor_line_by_line(tmp_path: Path, library: Library) -> None:
    file, listener = brought_to(tmp_path, library, "job.handover"), ScriptedInput([WALKED, "do", "back", "quit"])
    walked(file, library, listener, Watch(2.0))
    assert "Type 1 to use: M. Reed" not in listener.text

"""Whose name stands where: who is there is asked once, and nobody's name is filled in for somebody else."""

from pathlib import Path

import pytest
from msgspec.structs import replace
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.wording.prompts import prompts
from tests.lines.listener import ScriptedInput, walked
from tests.tui.conftest import DEVICE
from tests.tui.seen import text
from tests.tui.site import Watch, brought_to

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

"""A job whose file is gone, an older copy that was put back, and what was not saved: stories at the screen."""

import os
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.machine.memory import End, Memory
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import text, until, until_shown
from tests.tui.site import DEVICE, Watch, brought_to, opened
from tests.tui.test_check import full


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def test_a_job_that_is_deleted_is_said_at_once_and_saved_in_another_place(plates: Path, tmp_path: Path) -> None:
    async with opened(plates) as walker:
        assert walker.app.enter(actions.note(walker.app.state, "main", "scaffold lifted"))
        plates.unlink()
        walker.app.look()
        await until_shown(walker.pilot, "roof.json was moved, renamed or deleted.")
        assert isinstance(walker.app.screen, AskPage)
        await walker.press("escape")
        await until_shown(walker.pilot, "Nothing you enter can be saved until it is back.")
        walker.app.look()
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage), "it is asked once"
        assert not walker.app.enter(actions.note(walker.app.state, "main", "sheeted"))
        await until(walker.pilot, lambda: isinstance(walker.app.screen, AskPage))  # again, as it could not be saved
        await until_shown(walker.pilot, "roof.json was moved, renamed or deleted.")
        await walker.press("enter")
        await until_shown(walker.pilot, "Saved in ")
        assert walker.app.unsaved == []
    assert [entry.note for entry in JobFile.open(plates, read_only=True).entries[-2:]] == ["scaffold lifted", "sheeted"]
    assert verify(plates) == []


async def test_what_can_not_be_found_is_said_and_gone_on_without_by_name(plates: Path, tmp_path: Path) -> None:
    memory = Memory(tmp_path / "state")
    with JobFile.open(plates) as file:
        lost = End("tablet09", 4, "f" * 64, "2026-11-24T07:00:00.000Z", "A. Dunn")
        memory.wrote(file.entries[0].id, plates, [lost])
    app = SitelogApp(folder=plates.parent, file=plates, by="M. Reed", clock=Watch(), device=DEVICE)
    app.memory = memory
    async with app.run_test(size=(80, 24)) as pilot:
        await until_shown(pilot, "This is an older copy of the job. 4 entries")
        await pilot.press("1")
        await until_shown(pilot, "sitelog merge")
        assert isinstance(app.screen, AskPage)
        await pilot.press(*"wet", "enter")
        await until_shown(pilot, "Entered: you go on without them.")
        assert app.job and app.job.file.missing == ()
    last = JobFile.open(plates, read_only=True, memory=memory).entries[-1]
    assert (last.by, last.note.endswith(": wet")) == ("M. Reed", True)


async def test_leaving_warns_anew_after_each_act_that_was_not_saved_and_names_nothing_that_is(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(plates) as walker:
        with monkeypatch.context() as disk:
            disk.setattr(os, "fsync", full)
            for words in ("scaffold lifted", "sheeted"):
                walker.app.enter(actions.note(walker.app.state, "main", words))
                await walker.press("b")
                await walker.pilot.pause()
                assert isinstance(walker.app.screen, JobPage), f"{words}: warned first"
                assert f"{words}. Press the same key again" in " ".join(text(walker.app).split())
        assert walker.app.enter(actions.note(walker.app.state, "main", "tidied"))
        await walker.pilot.pause()
        assert "Not saved" not in text(walker.app) and "NOT SAVED" not in text(walker.app)

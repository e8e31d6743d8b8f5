"""A copy of a job in its folder, on the screens and line by line: asked about, joined, and a job listed once."""

import shutil
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.lines.jobs import choose
from sitelog.lines.talk import Talk
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.left import LeftPage
from sitelog.tui.pages.job import JobPage
from sitelog.wording.jobs import job_files, peek_all
from tests.lines.listener import ScriptedInput, walked
from tests.tui.conftest import DEVICE
from tests.tui.seen import text
from tests.tui.site import Watch, brought_to
from tests.tui.walker import Walker

ASKED = "A copy from another tablet has 1 entry that isn't in this job: roof (1).json."


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


@pytest.fixture
def copy(plates: Path, library: Library) -> Path:
    """What a program that brings folders up to date has put beside it: another tablet has a note more."""
    path = Path(shutil.copy(plates, plates.with_name("roof (1).json")))
    with Job.open(path, library) as job:
        job.do(actions.note(job.state, "main", "from the tablet"), Author("A. Dunn", "tablet02", Watch()()))
    shutil.rmtree(beside(path))
    return path


def notes(file: Path) -> list[str]:
    return [entry.note for entry in JobFile.open(file, read_only=True).entries]


async def test_a_copy_is_asked_about_at_opening_and_joined(plates: Path, copy: Path) -> None:
    shutil.copy(plates, plates.with_name("roof (2).json"))
    for key, joined in (("1", False), ("2", True)):
        app = SitelogApp(folder=plates.parent, file=plates, by="M. Reed", clock=Watch(), device=DEVICE)
        async with app.run_test(size=(80, 24)) as pilot:
            walker = Walker(app, pilot)
            await pilot.pause()
            assert ASKED in " ".join(text(app).split())
            removed = "Removed roof (2).json: a copy of this job with nothing new in it."
            assert (removed in " ".join(text(app).split())) is not joined
            await walker.press("1")
            await pilot.pause()
            assert isinstance(app.screen, LeftPage)
            assert ASKED in " ".join(text(app).split())
            await walker.press("space", key)
            await pilot.pause()
            assert isinstance(app.screen, JobPage)
            if joined:
                assert "Joined roof (1).json: 1 entry added." in " ".join(text(app).split())
        assert ("from the tablet" in notes(plates)) is joined
        assert copy.exists() is not joined


def test_line_by_line_a_copy_is_asked_about_and_joined(plates: Path, copy: Path, library: Library) -> None:
    listener = ScriptedInput(["1", "quit"])
    assert walked(plates, library, listener, Watch()) == 0
    assert ASKED in listener.heard
    assert copy.exists()
    assert walked(plates, library, ScriptedInput(["2", "quit"]), Watch()) == 0
    assert "from the tablet" in notes(plates)
    assert not copy.exists()


def test_a_job_is_listed_once_with_what_its_copy_has(plates: Path, copy: Path) -> None:
    told = "A copy from another tablet has 1 entry: open the job to join it"
    assert job_files(plates.parent) == [plates]
    ((found, _),) = peek_all(plates.parent)
    assert (found.file, found.copies) == (plates, told)
    listener = ScriptedInput(["1"])
    talk = Talk(listener.read_line, listener.write_line, width=2_000)
    assert choose(talk, plates.parent) == plates
    assert any(told in line for line in listener.heard)


async def test_the_list_on_the_screen_has_a_line_for_it(plates: Path, copy: Path) -> None:
    app = SitelogApp(folder=plates.parent, by="M. Reed", clock=Watch(), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert text(app).count("roof") <= 2
        assert "A copy from another tablet has 1 entry: open the job to join it" in " ".join(text(app).split())

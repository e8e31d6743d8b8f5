"""A job on the disk, and the program over it with a clock of its own."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.tui.app import SitelogApp
from tests import shipped

FIGURES = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "55"}
START = datetime(2025, 11, 25, 7, 30, tzinfo=UTC)
DEVICE = "testbed1"
Clock = Callable[[], datetime]


@pytest.fixture(autouse=True)
def quick_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pilot's keys come faster than a person's: none of them counts as held down."""
    monkeypatch.setattr("sitelog.tui.app.HELD_SECONDS", 0.0)


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped checklists."""
    return shipped.library()


@pytest.fixture
def clock() -> Clock:
    """A clock that moves two seconds every time it is looked at."""
    ticks = iter(range(1_000_000))
    return lambda: START + timedelta(seconds=2 * next(ticks))


@pytest.fixture
def job_file(tmp_path: Path, library: Library, clock: Clock) -> Path:
    """A hipped roof of 9 m by 6 m at 35 degrees, set up and nothing done."""
    file = tmp_path / "kiln-lane.json"
    author = Author(by="M. Reed", device=DEVICE, now=clock())
    parts = [("main", "Main roof", "hipped", FIGURES)]
    setup = JobSetup(title="Kiln Lane, plot 3", place="Kiln Lane", units="metric", parts=parts)
    Job.create(file, library, author, setup).close()
    return file


@pytest.fixture
def app(job_file: Path, clock: Clock) -> SitelogApp:
    """The program over the folder of that job."""
    return SitelogApp(folder=job_file.parent, by="M. Reed", clock=clock, device=DEVICE)

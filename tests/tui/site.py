"""A job brought to the stage that a story is about, and the way from its recap to one of its checks."""

from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup, Part
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.quantities.quantity import Units
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from sitelog.wording.prompts.asking import asked_at, read_first
from tests.tui.walker import Walker, let_on

FIGURES = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "55", "longest_stick": "9600"}
DEVICE = "testbed1"
FILE = "roof.json"
MADE: dict[str, dict[Path, bytes]] = {}  # by what was asked for: a job's file and those beside it


class Watch:
    """A clock that goes on by `step` seconds at each look."""

    def __init__(self, step: float = 0.05) -> None:
        self.now = datetime(2026, 11, 25, 7, 52, tzinfo=UTC)
        self.step = step

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=self.step)
        return self.now


def brought_to(
    folder: Path,
    library: Library,
    stage: str,
    *first: Callable[[Job], Draft],
    units: Units = "metric",
    more: Sequence[Part] = (),
) -> Path:
    """A roof of 9 m by 6 m of which every hold before the stage was let go, then what else is to be entered first.

    `more` are other parts of the job.
    """
    if first or more:
        return _made(folder, library, stage, first, units, more)
    alike = f"{stage} {units} {library.digests}"
    if alike not in MADE:
        _made(folder, library, stage, first, units, more)
        made = [folder / FILE, *(folder / f"{FILE}.files").rglob("*")]
        MADE[alike] = {one.relative_to(folder): one.read_bytes() for one in made if one.is_file()}
    for name, raw in MADE[alike].items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(raw)
    return folder / FILE


def _made(
    folder: Path,
    library: Library,
    stage: str,
    first: Sequence[Callable[[Job], Draft]],
    units: Units,
    more: Sequence[Part],
) -> Path:
    file, watch = folder / FILE, Watch(60)
    watch.now -= timedelta(days=1)

    def author() -> Author:
        return Author(by="M. Reed", device=DEVICE, now=watch())

    parts: list[Part] = [("main", "Main roof", "hipped", FIGURES), *more]
    with Job.create(file, library, author(), JobSetup(title="Mill barn", place="", units=units, parts=parts)) as job:
        paths = [one.path for one in job.state.order]
        for path in [one.path for one in job.state.order[: paths.index(stage)] if one.stage.hold]:
            job.do(let_go(path)(job), author())
        for make in first:
            job.do(make(job), author())
    return file


def let_go(path: str) -> Callable[[Job], Draft]:
    return lambda job: actions.release(job.state, path, "not what this story is about")


@asynccontextmanager
async def opened(
    file: Path, watch: Watch | None = None, *, size: tuple[int, int] = (80, 24), ascii_only: bool = False
) -> AsyncIterator[Walker]:
    """Somebody at the job's page, as M. Reed."""
    app = SitelogApp(
        folder=file.parent, file=file, by="M. Reed", clock=watch or Watch(), device=DEVICE, ascii_only=ascii_only
    )
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await pilot.press("1")
        await pilot.pause()
        assert isinstance(app.screen, JobPage)
        yield Walker(app, pilot)


async def stand_on(walker: Walker, path: str) -> JobPage:
    """From the job's page, or from a form that opened by itself after an answer."""
    while isinstance(walker.app.screen, CheckPage | CautionPage):
        await walker.press("escape")
        await walker.pilot.pause()
    page = walker.app.screen
    assert isinstance(page, JobPage), page
    page.show_path(path)
    await walker.pilot.pause()
    return page


def read_what_is_due(app: SitelogApp, page: JobPage) -> None:
    """Each caution that would come before the check under the cursor, answered so that the work goes on."""
    stage = page.stage
    assert stage and app.job
    app.enter(
        [
            actions.read_caution(app.state, app.job.library, one.id, let_on(one), at=asked_at(stage, one))
            for one in read_first(stage, page.due(stage), app.state)
        ]
    )


async def begin(walker: Walker, path: str, key: str = "enter") -> CheckPage:
    """Stand on the check and begin it. What is due before it has been read: tests/tui/test_cautions.py reads it."""
    read_what_is_due(walker.app, await stand_on(walker, path))
    await walker.press(key)
    await walker.pilot.pause()
    page = walker.app.screen
    assert isinstance(page, CheckPage), page
    return page


async def fill(walker: Walker, *figures: str) -> None:
    """Type each figure and Enter; the last one is left as typed."""
    for figure in figures[:-1]:
        await walker.type(figure, "enter")
    await walker.type(figures[-1])
    await walker.pilot.pause()

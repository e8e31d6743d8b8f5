"""What every page behind the job's and the job's own have: help, the palette of acts, taking the last entry back."""

from typing import Any, Generic

from textual import work
from textual.app import App

from sitelog.job.state.views import CheckView, StageView
from sitelog.tui.dialogs import prompted
from sitelog.tui.registry import screen
from sitelog.tui.widgets.listing import HEIGHTS
from sitelog.tui.widgets.page import Page, T


class SitePage(Page[T], Generic[T]):
    """A page with the acts that are the same on all of them."""

    VERTICAL_BREAKPOINTS = HEIGHTS

    def go_to(self, path: str) -> None:
        """Leave for the check or stage at that path on the job's page."""
        self.dismiss()
        if job := job_page(self.app):
            job.show_path(path)

    @work
    async def action_undo(self) -> None:
        """Take the last entry back."""
        await prompted.undo(self)

    def action_page(self, name: str) -> None:
        """Open a page that is of the whole job."""
        self.app.push_screen(screen(name))

    def action_acts(self) -> None:
        """Let one of the page's acts be chosen by its words, and do it here."""

        def do(act: str | None) -> None:
            if act:
                self.call_later(self.run_action, act)

        self.app.push_screen(screen("palette", self.PLACE), do)

    def action_help(self) -> None:
        """What every key does."""
        self.app.push_screen(screen("help", self.place_of_keys()))


class JobPlace(SitePage[None]):
    """The job's page, as the pages behind it reach it: where it stands, and where it is to go."""

    stage_path: str

    @property
    def stage(self) -> StageView | None:
        """The stage that is shown."""
        raise NotImplementedError

    @property
    def check(self) -> CheckView | None:
        """The check under the cursor; None on the stage's own row."""
        raise NotImplementedError

    def show_path(self, path: str) -> None:
        """Stand on a check or a stage."""
        raise NotImplementedError


def job_page(app: App[Any]) -> JobPlace | None:
    """The job's page, if a job is open."""
    return next((page for page in reversed(app.screen_stack) if isinstance(page, JobPlace)), None)


def part_in_hand(app: App[Any]) -> str:
    """The part whose stage the job's page stands on, or ""."""
    job = job_page(app)
    if job and job.stage and job.stage.part != "job":
        return job.stage.part
    return ""

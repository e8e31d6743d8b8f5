"""The job in hand, as every page reaches it: read, entered into, told about. The program on the screen is one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from textual.widget import Widget

from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.shipped import firm_folders
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.machine.memory import Act, Memory
from sitelog.job.session import Session
from sitelog.job.storage.device import device_id
from sitelog.refusal import Refusal
from sitelog.text import clean
from sitelog.wording.prompts.drafts import Drafts
from sitelog.wording.recap import keep_standing, kept_words, lost

if TYPE_CHECKING:
    from sitelog.job.state.views import State
    from sitelog.tui.widgets.page import Page


class Host:
    """Holds the open job and who works on it. The program adds how words are told and how pages are shown anew."""

    def __init__(
        self,
        *,
        folder: Path,
        by: str,
        ascii_only: bool,
        clock: Callable[[], datetime],
        device: str,
    ) -> None:
        self.folder = folder
        self.by = clean(by)
        self.ascii_only = ascii_only
        self.session: Session | None = None
        self.drafts = Drafts(None)
        self._warned: list[Act] = []  # what was told that it is lost by leaving
        self.memory: Memory | None = None  # what this machine keeps of jobs
        self.sums: dict[str, dict[str, str]] = {}  # what was typed into each calculator at this job
        self.key_again = False  # whether the key that is done now is the one pressed just before it
        self.checklists: tuple[Path, ...] = ()  # folders of the firm's own, beside those supplied
        self._clock, self._device = clock, device
        self.chance: Callable[[], str] = str  # of the id of each act; none where it is to be the same again

    # -- what the program on the screen adds --

    def tell(self, words: str) -> None:
        """Show one line on the page on top: what was done, or what was refused and why."""
        raise NotImplementedError

    @property
    def page(self) -> Page[Any] | None:
        """The page on top, under a question that may stand over it."""
        raise NotImplementedError

    def missed(self) -> None:
        """Something could not be entered: where the job's file is gone, ask where to go on."""
        raise NotImplementedError

    def clear_notices(self) -> None:
        """Take away what each open page says of what was not saved: it has been since."""
        raise NotImplementedError

    def refresh_pages(self) -> None:
        """Let each open page read the new state."""
        raise NotImplementedError

    def open_job(self, file: Path) -> None:
        """Open the job and show it. Raises Refusal; one that another holds is opened to read only."""
        raise NotImplementedError

    # -- the job --

    def now(self) -> datetime:
        """The time, as the clock that was handed in has it."""
        return self._clock()

    def author(self) -> Author:
        """Who acts, on what device, now."""
        return Author(by=self.by, device=self._device or device_id(), now=self.now(), chance=self.chance())

    def lists(self, file: Path) -> Lists:
        """The shipped checklists, then those beside the job, then the firm's."""
        return Lists([*firm_folders(file), *self.checklists])

    @property
    def job(self) -> Job | None:
        """The job in hand."""
        if not self.session:
            return None
        return self.session.job

    @property
    def state(self) -> State:
        """The state of the job in hand. Only screens of a job ask for it; LookupError when none is open."""
        if self.job is None:
            raise LookupError("no job open")
        return self.job.state

    @property
    def read_only(self) -> str:
        """Why the job in hand can only be read, or ""."""
        if not self.session:
            return ""
        return self.session.read_only

    @property
    def unsaved(self) -> list[tuple[Draft, Author]]:
        """What was entered and is not on the disk yet, each with who entered it and when."""
        if not self.session:
            return []
        return self.session.unsaved

    def take(self, session: Session) -> None:
        """Make this the job in hand; the one before it is closed."""
        self.leave()
        self.session = session
        self.sums = {}
        self.drafts = Drafts.of_job(session.job.file.files, lambda: self.by)

    # -- leaving it --

    def leave(self) -> str:
        """Close the job in hand; what to say of it when its file could not be brought up to date, or ""."""
        if self.session is None:
            return ""
        keep_standing(self.session.job)
        left = " ".join(filter(None, (self.lost(), kept_words(self.session), self.session.close())))
        self.session = None
        return left

    def lost(self) -> str:
        """What is lost by leaving now, as it could not be saved, or ""."""
        if not self.session:
            return ""
        return lost(self.session)

    def may_leave(self) -> bool:
        """False where leaving would lose what can't be saved and nobody was told of all of that: it is told now."""
        if self.session is None or self.session.save_waiting() or self._warned == self.session.unsaved:
            return True
        self._warned = list(self.session.unsaved)
        self.tell(f"{self.lost()} Press the same key again to leave without saving it.")
        return False

    # -- entering --

    def enter(self, drafts: Draft | Sequence[Draft]) -> bool:
        """Enter an act and show the new state; False, with one line of notice, when it was refused.

        What could not be saved is kept, under its name and time, and goes in with the next save; until then the title
        says NOT SAVED.
        """
        if self.session is None:
            return False
        waited = bool(self.session.unsaved)
        try:
            self.session.enter(drafts, self.author())
        except Refusal as refusal:
            self.tell(refusal.message)
            self.missed()
            return False
        if waited:
            self.clear_notices()
        self.refresh_pages()
        return True

    def attempt(self, make: Callable[[], Draft | Sequence[Draft]]) -> bool:
        """Make a draft and enter it; a refusal of either is told in the notice."""
        try:
            drafts = make()
        except Refusal as refusal:
            self.tell(refusal.message)
            return False
        return self.enter(drafts)


def host_of(widget: Widget) -> Host:
    """The job in hand, from any widget or page on the screen."""
    return cast("Host", widget.app)

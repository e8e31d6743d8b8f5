"""A job open at a front: whether it can be entered into, and what waits because it could not be saved."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Self

from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft, several
from sitelog.refusal import HELD, NOT_SAVED, Refusal


class Session:
    """`unsaved` are acts, each with the author that did it; they go in with the next save, under that name and time."""

    def __init__(self, job: Job, held_by: str = "") -> None:
        self.job = job
        self.unsaved: list[tuple[Draft, Author]] = []
        self._held_by = held_by

    @classmethod
    def open(cls, file: Path, library: Library | Callable[[], Library], author: Author) -> Self:
        """The job of a file; one that another holds is opened to read only. Refusal as `Job.open` gives it."""
        try:
            return cls(Job.open(file, library, author=author))
        except Refusal as refusal:
            if refusal.code != HELD:
                raise
            return cls(Job.open(file, library, read_only=True), refusal.message)

    @property
    def read_only(self) -> str:
        """Why the job can only be read, or ""."""
        if not self.job.file.read_only:
            return ""
        return self._held_by or self.job.file.why_read_only

    @property
    def damage(self) -> str:
        """What beside the job can't be read, where that doesn't make it read only; or ""."""
        if self.job.file.read_only:
            return ""
        return self.job.file.damage

    def enter(self, drafts: Draft | Sequence[Draft], author: Author) -> None:
        """Enter an act, and with it what waits. Refusal: it is not entered, or (code 4) it waits with the rest."""
        fresh = [(draft, author) for draft in several(drafts)]
        # The same once more is another try, not another act.
        again = [draft for draft, _ in self.unsaved[-len(fresh) :]] == [draft for draft, _ in fresh]
        waiting = self.unsaved if again else [*self.unsaved, *fresh]
        try:
            self.job.enter(waiting)
        except Refusal as refusal:
            if refusal.code == NOT_SAVED:
                self.unsaved = waiting
            raise
        self.unsaved = []

    def save_waiting(self) -> bool:
        """Try once more to save what waits; True when nothing waits any longer."""
        if self.unsaved:
            with suppress(Refusal):
                self.job.enter(self.unsaved)
                self.unsaved = []
        return not self.unsaved

    def close(self) -> str:
        """Close the job; what to say when its file could not be brought up to date, or ""."""
        self.job.close()
        return self.job.file.left_beside

"""A job open at a front: whether it can be entered into, and what waits because it could not be saved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Self

from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft, Entry, digest_of, seal, several
from sitelog.job.machine.memory import Act as Act
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.copies import Settled, found, settle
from sitelog.refusal import HELD, NOT_SAVED, Refusal

TYPE_CHECKING = False  # the lists are proved, and what they are made of loaded, only for a job that isn't kept
if TYPE_CHECKING:
    from sitelog.checklist.schema.model import Library


class Session:
    """`unsaved` are acts, each with the author that did it; they go in with the next save, under that name and time.

    With a `memory` they are kept on this machine until then, `kept` says so, and a kill loses none of them. `came_back`
    are those that an earlier start has left.
    """

    def __init__(self, job: Job, held_by: str = "", memory: Memory | None = None) -> None:
        self.job = job
        self.unsaved: list[Act] = []
        self.kept = False
        self._held_by = held_by
        self._memory = memory
        self.came_back: Sequence[Act] = ()
        self.recalled = 0  # entries that an older copy lacked and this machine had kept
        if not job.file.read_only:
            self.recalled = job.recall()
        self.settled = Settled()  # copies beside the job that were removed, as they hold nothing new
        self.copies = found(job.file.path, job.file.entries)  # the others, to be asked about
        if not job.file.read_only:
            self._remove_copies()
        self.copies = [copy for copy in self.copies if copy.new or copy.why]
        if memory and not job.file.read_only:
            self.came_back = self.unsaved = _not_entered(memory.waiting(self._id, job.file.path), job.entries)
            self.kept = bool(self.unsaved)
            self.save_waiting()

    @classmethod
    def open(
        cls, file: Path, library: Library | Callable[[], Library], author: Author, memory: Memory | None = None
    ) -> Self:
        """The job of a file; one that another holds is opened to read only. Refusal as `Job.open` gives it."""
        try:
            return cls(Job.open(file, library, author=author, memory=memory), memory=memory)
        except Refusal as refusal:
            if refusal.code != HELD:
                raise
            return cls(Job.open(file, library, read_only=True, memory=memory), refusal.message)

    def _remove_copies(self) -> None:
        """Of the copies beside the job, those with nothing new; what can't be removed now does no harm."""
        spare = [copy for copy in self.copies if copy.spare]
        if spare:
            with suppress(Refusal):
                self.settled = settle(self.job.file, spare)

    def join_copies(self) -> Settled:
        """Join the copies beside the job. Refusal 4 where it can't be saved: they stay where they are."""
        done = settle(self.job.file, self.copies)
        self.copies = list(done.stays)
        if done.entries:
            self.job.look_again()
        return done

    @property
    def _id(self) -> str:
        return self.job.entries[0].id

    def _wait(self, acts: Sequence[Act]) -> None:
        """These wait now, and nothing else does."""
        if (acts or self.unsaved) and self._memory:
            self.kept = self._memory.keep_waiting(self._id, self.job.file.path, acts)
        self.unsaved = list(acts)

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
                self._wait(waiting)
            raise
        self._wait([])

    def save_waiting(self) -> bool:
        """Try once more to save what waits; True when nothing waits any longer."""
        if self.unsaved:
            with suppress(Refusal):
                self.job.enter(self.unsaved)
                self._wait([])
        return not self.unsaved

    def carry_on(self, place: Path, author: Author) -> None:
        """Go on in another place, as the job is gone from its own; what waits goes in there. Refusal: not there (2, 4).

        A folder means the job under its own name in it. Where the same job stands there already, it is joined.
        """
        self.job.carry_on(place / self.job.file.path.name if place.is_dir() else place, author, self._memory)
        self._wait(self.unsaved)
        self.save_waiting()

    def close(self) -> str:
        """Close the job; what to say when its file could not be brought up to date, or ""."""
        self.job.close()
        return self.job.file.left_beside


def _not_entered(acts: Sequence[Act], entries: Sequence[Entry]) -> list[Act]:
    """Those that are not among the entries: a kill may come between the save and forgetting that they wait."""
    if not acts:
        return []  # as most starts find it: a digest of each entry would take longer than to read them
    there = {_act_of(entry) for entry in entries}
    return [(draft, author) for draft, author in acts if _act_of(seal(draft, author, None)) not in there]


def _act_of(entry: Entry) -> tuple[object, ...]:
    """What was done, when and by whom, whatever its place in a chain."""
    return (entry.by, entry.device, entry.at, entry.act, entry.path, entry.note, digest_of(entry.value))

"""A job in hand: its file, the checklists, and the state that follows from both."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.naming import said
from sitelog.job.actions.setup import JobSetup, start
from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.lists import in_force, is_kept, update
from sitelog.job.log.entry import Author, Draft, Entry, seal, several
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.state.replay import state_of
from sitelog.job.state.views import State
from sitelog.job.storage.file import JobFile
from sitelog.refusal import Refusal


class Job:
    """What the screens and the command line hold. `do` is the only way to change it.

    `library` are the checklists that it goes by, `newest` those that it was opened with and can be brought to.
    """

    def __init__(self, library: Library, file: JobFile) -> None:
        self.newest = library
        self.file = file
        self._sort()
        self.state: State = self._look()

    @classmethod
    def create(cls, path: str | Path, library: Library, author: Author, setup: JobSetup) -> Self:
        """A new job in one save. Refusal: see `setup.start`; the name is taken (2), it can't be saved (4)."""
        entries = sealed(start(library, setup), author, ())
        return cls(library, JobFile.create(path, entries, author=author))

    @classmethod
    def open(
        cls, path: str | Path, library: Library | Callable[[], Library], *,
        read_only: bool = False, author: Author | None = None,
    ) -> Self:  # fmt: skip
        """The job in a file. Refusal: no such file (2), damaged (3), held by another (5).

        The lists may be given by what proves them: it takes long, and is asked for only once the file is a job.
        """
        file = JobFile.open(path, read_only=read_only, author=author)
        try:
            return cls(library() if callable(library) else library, file)
        except BaseException:
            file.close()
            raise

    @property
    def entries(self) -> list[Entry]:
        """Every entry in order of its id; a list of the caller's own."""
        return self.file.entries

    def do(self, draft: Draft | Sequence[Draft], author: Author) -> State:
        """Enter what was drafted, save it, and give the state that follows. Refusal (4) if it is not saved."""
        return self.enter([(single, author) for single in several(draft)])

    def enter(self, acts: Sequence[tuple[Draft, Author]]) -> State:
        """The same of acts by several hands, in one save: each is entered under its own name and time."""
        entries = _sealed(acts, self.file.entries)
        self.file.append(entries)
        if any(entry.act == "handover" for entry in entries):
            with suppress(Refusal):  # it is saved; only the journal is not folded in yet
                self.file.checkpoint()
        self._take(entries)
        return self.state

    def update_lists(self, author: Author) -> State:
        """Go by the newest lists from here on. Refusal where it does so already, and holds them."""
        return self.do(self.newest_lists(), author)

    def newest_lists(self) -> Draft:
        """The act that does so, and the same refusal."""
        if not self.state.changed_lists and is_kept(self._ledger):
            raise Refusal("This job uses the newest checklists already")
        return update(self.newest, self._ledger)

    def would_be(self, draft: Draft | Sequence[Draft], author: Author) -> State:
        """The state if that were entered; nothing is. An act that takes another back is not looked at beforehand."""
        entry_index = self._ledger.copy()
        for entry in sealed(several(draft), author, self.file.entries):
            entry_index.add(entry)
        return state_of(self.library, entry_index, self._kept.copy(), self.newest)

    def _take(self, entries: Sequence[Entry]) -> None:
        joined = self.file.count != self._ledger.count + len(entries)  # with those of another copy
        relisted = any(entry.act == "pin" for entry in entries)
        if joined or relisted or not all(self._ledger.take(entry) for entry in entries):
            self._sort()
        self.state = self._look()

    def _sort(self) -> None:
        """All the entries anew, and with them the lists that the job goes by."""
        self._ledger, self._kept = EntryIndex.of(self.file.entries), EvaluationCache()
        self.library = in_force(self.newest, self._ledger, self.file.files)

    def _look(self) -> State:
        return state_of(self.library, self._ledger, self._kept, self.newest)

    def close(self) -> None:
        """Bring the journal into the file, and let the job go."""
        self.file.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()


def seen(newest: Library, entries: Sequence[Entry]) -> State:
    """The state of a job that is not opened, by the lists that it goes by."""
    entry_index = EntryIndex.of(entries)
    return state_of(in_force(newest, entry_index), entry_index, None, newest)


def sealed(drafts: Sequence[Draft], author: Author, entries: Sequence[Entry]) -> list[Entry]:
    """The drafts as the next entries of the author's device. Refusal if nobody's name stands for them."""
    return _sealed([(draft, author) for draft in drafts], entries)


def _sealed(acts: Sequence[tuple[Draft, Author]], entries: Sequence[Entry]) -> list[Entry]:
    latest = entries[-1].id if entries else ""
    found: list[Entry] = []
    for draft, author in acts:
        name = said(author.by, "Type your name first")
        if draft.done and datetime.fromisoformat(draft.done) > author.now:
            raise Refusal(f"done: {draft.done} is in the future. Type when it was done")
        of_device = (entry for rows in (found, entries) for entry in reversed(rows) if entry.device == author.device)
        entry = seal(draft, Author(by=name, device=author.device, now=author.now), next(of_device, None), latest)
        latest = entry.id
        found.append(entry)
    return found

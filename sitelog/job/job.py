"""A job in hand: its file, the checklists, and the state that follows from both."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self, TypeVar

from msgspec import Struct

from sitelog import kept
from sitelog.checklist.proved import Lists
from sitelog.job.log.entry import Author, Draft, Entry, several
from sitelog.job.machine.memory import Memory
from sitelog.job.machine.shelf import Seen, Shelf
from sitelog.job.storage.file import JobFile
from sitelog.refusal import Refusal

TYPE_CHECKING = False  # what a state is made of is loaded where it is asked for: `show` mostly does without
if TYPE_CHECKING:
    from sitelog.checklist.schema.model import Library
    from sitelog.job.actions.setup import JobSetup
    from sitelog.job.facts.cache import EvaluationCache
    from sitelog.job.log.entry_index import EntryIndex
    from sitelog.job.state.views import State


RELISTS = ("pin", "part")  # the acts after which a job may go by other lists
T = TypeVar("T")


class Looked(Struct):
    """What a state is worked from: the lists that the job goes by, its entries sorted, and what was seen last.

    `newest` are the lists that it was opened with and can be brought to. Both are those of the job's forms alone: the
    others would take most of the time that it takes to read what was kept.
    """

    newest: Library
    library: Library
    entry_index: EntryIndex
    seen: EvaluationCache

    @classmethod
    def at(cls, newest: Library, entries: Sequence[Entry]) -> Self:
        """All the entries sorted anew, and with them the lists that the job goes by."""
        from sitelog.job.facts.cache import EvaluationCache
        from sitelog.job.lists import in_force
        from sitelog.job.log.entry_index import EntryIndex

        entry_index = EntryIndex.of(entries)
        return cls(*_of_its_forms(newest, in_force(newest, entry_index), entry_index), entry_index, EvaluationCache())

    @classmethod
    def since(cls, before: Seen, entries: Sequence[Entry]) -> Self:
        """The same with what was seen before some of them were entered, none of RELISTS."""
        from sitelog.job.log.entry_index import EntryIndex

        return cls(before.newest, before.library, EntryIndex.of(entries), before.seen)

    def state(self) -> State:
        """The state that follows."""
        from sitelog.job.state.replay import state_of  # not loaded where a kept state is all that is asked for

        return state_of(self.library, self.entry_index, self.seen, self.newest)


def _of_its_forms(newest: Library, library: Library, entry_index: EntryIndex) -> tuple[Library, Library]:
    forms = [str(part.value.get("form", "")) for part in entry_index.parts.values()]
    own = library.only(forms)
    return (own if newest is library else newest.only(forms)), own


class Job:
    """What the screens and the command line hold. `do` is the only way to change it.

    Its state follows from what was kept when its entries were last looked at by the same lists and program: that is
    read once it is asked for, and all the lists once something else is.
    """

    def __init__(self, lists: Library | Callable[[], Library], file: JobFile) -> None:
        self.file = file
        self._lists = lists
        self._newest: Library | None = None
        self._looked: Looked | None = None
        self._state: State | None = None
        self._shelf = Shelf(lists.key, file.entries) if isinstance(lists, Lists) else None
        if not (self._shelf and self._shelf.count):
            self._state = self._in_hand.state()
            self._keep()  # at once: a program that is killed never closes it

    @classmethod
    def create(
        cls, path: str | Path, library: Library, author: Author, setup: JobSetup, memory: Memory | None = None
    ) -> Self:
        """A new job in one save. Refusal: see `setup.start`; the name is taken (2), it can't be saved (4)."""
        from sitelog.job.actions.sealing import sealed
        from sitelog.job.actions.setup import start

        entries = sealed(start(library, setup), author, ())
        return cls(library, JobFile.create(path, entries, author=author, memory=memory))

    @classmethod
    def open(
        cls, path: str | Path, lists: Library | Callable[[], Library], *,
        read_only: bool = False, author: Author | None = None, memory: Memory | None = None,
    ) -> Self:  # fmt: skip
        """The job in a file. Refusal: no such file (2), damaged (3), held by another (5).

        The lists may be given by what proves them: it takes long, and is asked for only once the file is a job whose
        state is not kept.
        """
        file = JobFile.open(path, read_only=read_only, author=author, memory=memory)
        try:
            return cls(lists, file)
        except BaseException:
            file.close()
            raise

    @property
    def state(self) -> State:
        """What follows from the entries."""
        if self._state is None:
            self._state = self._in_hand.state()
        return self._state

    @property
    def entries(self) -> list[Entry]:
        """Every entry in order of its id; a list of the caller's own."""
        return self.file.entries

    def do(self, draft: Draft | Sequence[Draft], author: Author) -> State:
        """Enter what was drafted, save it, and give the state that follows. Refusal (4) if it is not saved."""
        return self.enter([(single, author) for single in several(draft)])

    def enter(self, acts: Sequence[tuple[Draft, Author]]) -> State:
        """The same of acts by several hands, in one save: each is entered under its own name and time."""
        from sitelog.job.actions.sealing import sealed_by

        entries, looked = sealed_by(acts, self.file.entries), self._in_hand
        self.file.append(entries)
        if any(entry.act == "handover" for entry in entries):
            with suppress(Refusal):  # it is saved; only the journal is not folded in yet
                self.file.checkpoint()
        self._take(looked.entry_index, entries)
        return self.state

    def odd_clock(self, author: Author) -> str:
        """What is odd about the clock of who enters now, held to the entries; "" for nothing."""
        from sitelog.job.log.clocks import odd_clock

        return odd_clock(author.now, author.device, self.file.entries)

    def rested(self, author: Author) -> str:
        """How many days there are between the last entry and now; "" for less than one."""
        from sitelog.job.log.clocks import rested

        return rested(author.now, self.file.entries)

    def update_lists(self, author: Author) -> State:
        """Go by the newest lists from here on. Refusal where it does so already, and holds them."""
        return self.do(self.newest_lists(), author)

    def newest_lists(self) -> Draft:
        """The act that does so, and the same refusal."""
        from sitelog.job.lists import is_kept, update

        if not self.state.changed_lists and is_kept(self._in_hand.entry_index):
            raise Refusal("This job uses the newest checklists already")
        return update(self.newest, self._in_hand.entry_index)

    def would_be(self, draft: Draft | Sequence[Draft], author: Author) -> State:
        """The state if that were entered; nothing is. An act that takes another back is not looked at beforehand."""
        from sitelog.job.actions.sealing import sealed

        entry_index = self._in_hand.entry_index.copy()
        for entry in sealed(several(draft), author, self.file.entries):
            entry_index.add(entry)
        looked = self._in_hand
        return Looked(looked.newest, looked.library, entry_index, looked.seen.copy()).state()

    @property
    def key(self) -> str:
        """What tells its state from every other, of any job: the entries, the lists, the program.

        "" where the lists that it was opened with have no key.
        """
        return self._shelf.key(self.file.entries) if self._shelf else ""

    def told(self, name: str, tell: Callable[[State], T]) -> T:
        """What `tell` makes of the state and of nothing else, kept from one start to the next under that name."""
        if not self.key:
            return tell(self.state)
        return kept.cached(kept.key_of(name.encode(), self.key.encode()), lambda: tell(self.state))

    # --- what the state is worked from ---

    @property
    def library(self) -> Library:
        """The lists that the job goes by, those of its forms."""
        return self._in_hand.library

    @property
    def newest(self) -> Library:
        """All the lists that it was opened with, and can be brought to."""
        if self._newest is None:
            self._newest = self._lists() if callable(self._lists) else self._lists
        return self._newest

    @property
    def _in_hand(self) -> Looked:
        if self._looked is None:
            entries = self.file.entries
            fresh = entries[self._shelf.count :] if self._shelf else entries
            before = self._shelf.seen() if self._shelf and not _relisted(fresh) else None
            self._looked = Looked.since(before, entries) if before else Looked.at(self.newest, entries)
        return self._looked

    def _take(self, entry_index: EntryIndex, entries: Sequence[Entry]) -> None:
        joined = self.file.count != entry_index.count + len(entries)  # with those of another copy
        if joined or _relisted(entries) or not all(entry_index.take(entry) for entry in entries):
            self._look_anew()
        self._state = self._in_hand.state()

    def _look_anew(self) -> None:
        """Sort all anew: entries came among those that were looked at, or other lists are gone by."""
        self._looked = Looked.at(self.newest, self.file.entries)
        if self._shelf:
            self._shelf.forget()

    # --- from one start to the next ---

    def _keep(self) -> None:
        """Keep the state as it stands, if what is kept lies far behind it."""
        entries = self.file.entries
        if self._shelf and self._state and self._state.entries == len(entries) and self._shelf.is_due(entries):
            looked = self._in_hand
            self._shelf.keep(entries, Seen(looked.library, looked.newest, looked.seen))

    def recall(self) -> int:
        """Bring in what is missing of an older copy that was put back, as far as this machine has kept it.

        What contradicts the copy or can't be saved now stays missing: it bars no work, and is said.
        """
        found = 0
        with suppress(Refusal):
            found = self.file.recall()
        if found:
            self.look_again()
        return found

    def look_again(self) -> None:
        """Work the state from all the entries: some came in by another way than `do`."""
        self._look_anew()
        self._state = self._in_hand.state()

    def carry_on(self, place: Path, author: Author, memory: Memory | None = None) -> None:
        """Go on in another place with all that is held, and the photos that can be read. Refusal: not there (2, 4)."""
        entries, files = self.file.entries, self.file.files
        self.file.unlock()  # where it was only moved, the lock went with it
        if place.exists():
            file = JobFile.open(place, author=author, memory=memory)
        else:
            again = place == self.file.path
            file = JobFile.create(place, entries, author=author, memory=memory, again=again)
        try:
            if file.entries[0].id != entries[0].id:
                raise Refusal(f"{place.name} is a different job. Choose another name.")
            from sitelog.job.photos.keeping import bring_all

            bring_all(files, file.files, entries)
            file.join(entries)
        except BaseException:
            file.close()
            raise
        self.file.let_go()
        self.file = file
        self.look_again()

    def close(self) -> None:
        """Bring the journal into the file, and let the job go."""
        self._keep()
        self.file.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()


def _relisted(entries: Sequence[Entry]) -> bool:
    return any(entry.act in RELISTS for entry in entries)


def seen(newest: Library, entries: Sequence[Entry]) -> State:
    """The state of a job that is not opened, by the lists that it goes by."""
    return Looked.at(newest, entries).state()

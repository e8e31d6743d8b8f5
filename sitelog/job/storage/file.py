"""The life of a job file: made, opened by one writer or to read only, added to, closed."""

from bisect import insort
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

import msgspec

from sitelog.job.log.entry import Author, Entry
from sitelog.job.log.union import BY_ID, joined, next_in
from sitelog.job.machine.lacking import Remembered, told
from sitelog.job.machine.lock import Lock
from sitelog.job.machine.memory import End, Memory
from sitelog.job.storage.disk import beside, named, reason
from sitelog.job.storage.door import barred, gone, must_be_free, sweep_job, unmake, why_not
from sitelog.job.storage.format import Contents, tables
from sitelog.job.storage.journals import Journals
from sitelog.job.storage.reading import journals_of, read
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import DAMAGED, NOT_SAVED, Refusal


class JobFile:
    """One job on the disk. `append` is the only way to change it, and `join` to bring a copy's entries to it.

    The entries are held in memory; the file is read once, and again if another program has changed it. What is
    appended goes to the journal beside the file, and into the file by `checkpoint`, at the latest when it is closed.
    `author` only tells a second opener who has the job. `memory` is what this machine keeps of jobs outside them.
    """

    def __init__(
        self, store: WholeFile, journals: Journals, found: Contents, lock: Lock | None, why: str, memory: Memory | None
    ) -> None:
        self._store = store
        self._journals = journals
        self._lock = lock
        self._remembered = Remembered(memory, store.path)
        self._entries: list[Entry]
        self.damage = ""  # what beside the file can't be read, in one line
        self._take(found)
        self._unsettled = False  # another program has changed the file, and it could not be read again so far
        self.why_read_only = why
        self.left_beside = ""

    @classmethod
    def create(
        cls, path: str | Path, entries: Sequence[Entry], *, author: Author | None = None,
        memory: Memory | None = None, again: bool = False,
    ) -> Self:  # fmt: skip
        """A new job that begins with these entries, or `again` one whose file is gone; `Refusal` 2 (name taken), 4."""
        store = WholeFile(path)
        must_be_free(store.path, again)
        lock = Lock.take(beside(store.path), author, memory.folder if memory else None)
        sweep_job(store.path)
        made = cls(store, journals_of(store), Contents([], "", {}), lock, "", memory)
        try:
            made._entries = joined((), entries)
            made._whole()
        except BaseException:
            made._unmake()
            raise
        return made

    @classmethod
    def open(
        cls, path: str | Path, *, read_only: bool = False, author: Author | None = None,
        memory: Memory | None = None, mend: bool = False,
    ) -> Self:  # fmt: skip
        """The job at `path`; `Refusal` 2 (no such file), 3 (damaged), 4 (no lock can be made) or 5 (held).

        A file that this program must not write is opened to read only, and `why_read_only` says why: that makes no file
        and no folder. What a crash has left is folded in; a journal that does not fit bars that, but with `mend`.
        """
        store = WholeFile(path)
        journals = journals_of(store)
        found = read(store, journals)
        why = why_not(found, mend) or ("it is open read-only" if read_only else barred(store.path))
        if why:
            return cls(store, journals, found, None, why, memory)
        lock = Lock.take(beside(store.path), author, memory.folder if memory else None)
        try:
            sweep_job(store.path)
            if store.changed() or journals.changed():  # by the writer before this one, between reading and lock
                found = read(store, journals)
        except OSError as error:
            lock.release()
            raise Refusal(f"{named(store.path)} can't be read: {reason(error)}.", code=DAMAGED) from error
        except BaseException:
            lock.release()
            raise
        opened = cls(store, journals, found, lock, why_not(found, mend), memory)
        opened._begin(author)
        return opened

    @property
    def missing(self) -> tuple[End, ...]:
        """Where the job ended when it was last written on this machine, as far as that isn't in it now."""
        return self._remembered.missing

    @property
    def lacks(self) -> str:
        """The same in one line, or ""."""
        return told(self._entries, self.missing)

    def gone(self) -> str:
        """Where nothing stands under the job's name any more, that in one line; or ""."""
        return gone(self.path)

    @property
    def entries(self) -> list[Entry]:
        """Every entry in order of its id; a list of the caller's own."""
        return list(self._entries)

    @property
    def count(self) -> int:
        """How many entries there are."""
        return len(self._entries)

    @property
    def read_only(self) -> bool:
        """Whether nothing can be saved; `why_read_only` says why."""
        return self.why_read_only != ""

    @property
    def path(self) -> Path:
        """The file itself, links followed."""
        return self._store.path

    @property
    def files(self) -> Path:
        """The folder beside it; it may not exist yet."""
        return beside(self.path)

    def append(self, entries: Sequence[Entry]) -> None:
        """Save these entries with those there, all or none; `Refusal` 4 (not saved), and the same again is right.

        An entry that is there already is not added twice; another under its id is refused (3). What another program has
        made of the file is joined with what is here.
        """
        self._must_write()
        self._settle()
        if self._due:
            self._whole()
        fresh = next_in(self._entries, entries)
        if fresh:
            self._store.must_hold(self._store.size + self._journals.size + len(msgspec.json.encode(fresh)))
            self._save(fresh)
            self.since += fresh
            for entry in fresh:
                insort(self._entries, entry, key=BY_ID)
            self._remembered.wrote(self._entries, fresh)

    def join(self, entries: Sequence[Entry]) -> int:
        """Bring the entries of a copy into the file; how many were new. `Refusal` 3 (contradicts), 4 (not saved).

        All or none of them: one that is refused bars no later save.
        """
        self._must_write()
        self._settle()
        held = self._entries
        self._entries = joined(held, entries)
        try:
            self._whole()
        except BaseException:
            self._entries = held
            raise
        return len(self._entries) - len(held)

    def recall(self) -> int:
        """Bring in what is missing, as far as this machine has kept it; how many entries. `Refusal` as of `join`."""
        lost = self._remembered.lost(self._entries) if self.missing else []
        return self.join(lost) if lost else 0

    def checkpoint(self) -> None:
        """Bring what stands in the journal into the file; `Refusal` 4 if it can't be: it stays where it is."""
        self._must_write()
        self._settle()
        if self._due or self.since or self._journals.unsettled:
            self._whole()

    def close(self) -> None:
        """Fold, and let the job go. If it can't be folded nothing is lost, and `left_beside` says so in one line."""
        written = self._remembered.has_written
        if not self.why_read_only:
            self.left_beside = self._fold(written)
        if written and not self.left_beside:
            self._remembered.closed(self._entries[0].id)
        self.let_go()

    def _fold(self, written: bool) -> str:
        """What stands in the journal, into the file; why that can't be, in one line."""
        if written and (where := self.gone()):
            return f"{where}.{self._remembered.rescue(msgspec.json.encode(tables(self._entries)))}"
        if self._due or self.since or self._journals.unsettled:
            try:
                self.checkpoint()
            except Refusal as refusal:
                safe = f"They are safe next to it, in {named(self.files)}, and go in when you next open it."
                return f"{named(self.path)} is missing its last entries. {safe} {refusal.message}"
        return ""

    def let_go(self) -> None:
        """Write no more to it, and free it for others; what stands where stays as it is."""
        self.why_read_only = self.why_read_only or "it is closed"
        self._journals.close()
        self.unlock()

    def unlock(self) -> None:
        """Let others write it."""
        if self._lock:
            self._lock.release()

    def _save(self, fresh: Sequence[Entry]) -> None:
        """Into the journal that stands there then: where another was renamed over it, both are joined."""
        for _ in range(3):
            self._journals.add(self._entries[0].id, self._seals, fresh)
            if not self._journals.replaced():
                return
            self._settle()
            self._journals.close()
        raise Refusal(f"Not saved: other programs change {named(self.files)} all the time. Try again.", code=NOT_SAVED)

    def _must_write(self) -> None:
        if self.why_read_only:
            raise Refusal(f"Not saved: {named(self.path)} is open read-only: {self.why_read_only}.", code=NOT_SAVED)

    def _take(self, found: Contents) -> None:
        self._entries = found.entries
        self._remembered.take(self._entries)
        self.since = list(found.since)  # what the file does not hold yet, or not for sure
        self._seals = found.seals
        self._due = bool(found.mend)  # must the file be written whole before anything is added?
        self.damage = found.mend or found.told or self.damage

    def _begin(self, author: Author | None) -> None:
        """What a crash has left, into the file. If the disk is full it stays in the journal, as safe as before."""
        if self.why_read_only:
            self.unlock()
            return
        self._journals.own_of(author, self._seals)
        if self.since or self._journals.unsettled:
            with suppress(Refusal):
                self._whole()
        else:
            self._journals.drop_held(self.path, self._seals.keys())

    def _stands(self) -> bool:
        """Are file and journal those that were last read or written here? `Refusal` 4 where that can't be told."""
        if where := self.gone():
            raise Refusal(f"Not saved: {where}.", code=NOT_SAVED)
        try:
            return not (self._unsettled or self._store.changed() or self._journals.changed())
        except OSError as error:
            what = f"Not saved: {named(self.path)}: {reason(error)}. The file has not changed. Try again."
            raise Refusal(what, code=NOT_SAVED) from error

    def _settle(self) -> None:
        """Join what another program has made of the file, or of the journal, with what is held here."""
        if self._stands():
            return
        name = named(self.path)
        self._unsettled = True
        try:
            found = read(self._store, self._journals)
            if found.entries[0].id != self._entries[0].id:
                raise Refusal(f"{name} is a different job now.")
            if found.read_only:
                raise Refusal(f"{name} can't be written now: {found.read_only}.")
            together = joined(self._entries, found.entries)
            self.damage = found.mend or found.told or self.damage
        except Refusal as refusal:
            what = f"Not saved: another program changed {name}. Nothing has been overwritten. {refusal.message}"
            raise Refusal(what, code=NOT_SAVED) from None
        self._entries = together
        self.since = list(found.since)
        self._due = self._due or len(together) > len(found.entries)  # something is held that stands nowhere
        self._unsettled = False

    def _whole(self) -> None:
        """Write the file with all that is held."""
        made = tables(self._entries)
        self._store.write(made)
        self._journals.settle(self._entries[0].id, made["job"]["1"]["seals"])
        self._take(Contents(self._entries, "", made["job"]["1"]["seals"]))
        self._remembered.wrote(self._entries)

    def _unmake(self) -> None:
        """Leave nothing of a job that could not be made, so that its name is free for the next try."""
        unmake(self._store)
        self.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()

"""The life of a job file: made, opened by one writer or to read only, added to, closed."""

import os
from bisect import bisect_left, insort
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

import msgspec

from sitelog.job.log.entry import Author, Entry
from sitelog.job.log.union import BY_ID, joined
from sitelog.job.storage.disk import beside, named, reason
from sitelog.job.storage.format import Contents, tables
from sitelog.job.storage.journal import Journal
from sitelog.job.storage.lock import Lock
from sitelog.job.storage.reading import journal_of, read
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import DAMAGED, NOT_SAVED, USAGE, Refusal
from sitelog.text import clean


class JobFile:
    """One job on the disk. `append` is the only way to change it, and `join` to bring a copy's entries to it.

    The entries are held in memory; the file is read once, and again if another program has changed it. What is
    appended goes to the journal beside the file, and into the file by `checkpoint`, at the latest when it is closed.
    `author` only tells a second opener who has the job.
    """

    def __init__(self, store: WholeFile, journal: Journal, found: Contents, lock: Lock | None, why: str) -> None:
        self._store = store
        self._journal = journal
        self._lock = lock
        self._entries: list[Entry]
        self.damage = ""  # what beside the file can't be read, in one line
        self._take(found)
        self._unsettled = False  # another program has changed the file, and it could not be read again so far
        self.why_read_only = why
        self.left_beside = ""

    @classmethod
    def create(cls, path: str | Path, entries: Sequence[Entry], *, author: Author | None = None) -> Self:
        """A new job that begins with these entries; `Refusal` 2 (the name is taken) or 4 (not saved)."""
        store = WholeFile(path)
        try:
            _must_be_free(store.path)
        except OSError as error:
            raise Refusal(f"Not saved: {named(store.path)}: {reason(error)}.", code=NOT_SAVED) from error
        lock = Lock.take(beside(store.path) / "lock", author)
        made = cls(store, journal_of(store), Contents([], "", {}), lock, "")
        try:
            made._entries = joined((), entries)
            made._whole()
        except BaseException:
            made._unmake()
            raise
        return made

    @classmethod
    def open(
        cls, path: str | Path, *, read_only: bool = False, author: Author | None = None, mend: bool = False
    ) -> Self:
        """The job at `path`; `Refusal` 2 (no such file), 3 (damaged), 4 (no lock can be made) or 5 (held).

        A file that this program must not write is opened to read only, and `why_read_only` says why. Opening
        to read only makes no file and no folder. What a crash has left in the journal is folded in; a journal that
        does not fit makes it read only, but with `mend`.
        """
        store = WholeFile(path)
        journal = journal_of(store)
        found = read(store, journal)
        why = _why(found, mend) or ("it is open read-only" if read_only else _barred(store.path))
        if why:
            return cls(store, journal, found, None, why)
        lock = Lock.take(beside(store.path) / "lock", author)
        try:
            store.sweep()
            journal.sweep()
            if store.changed() or journal.changed():  # by the writer before this one, between reading and lock
                found = read(store, journal)
        except OSError as error:
            lock.release()
            raise Refusal(f"{named(store.path)} can't be read: {reason(error)}.", code=DAMAGED) from error
        except BaseException:
            lock.release()
            raise
        if why := _why(found, mend):
            lock.release()
        opened = cls(store, journal, found, lock, why)
        if not why:
            opened._bring_in()
        return opened

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
        return bool(self.why_read_only)

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

        An entry that is there already is not added twice; another under its id is refused (3). If another program
        has changed the file, its entries are joined with those here and saved first.
        """
        self._must_write()
        self._settle()
        if self._due:
            self._whole()
        fresh = self._fresh(entries)
        if fresh:
            size = len(msgspec.json.encode(fresh))
            self._store.must_hold(self._store.size + self._journal.size + size)
            self._journal.add(self._entries[0].id, self._seals, self._since, fresh)
            self._since += fresh
            for entry in fresh:
                insort(self._entries, entry, key=BY_ID)

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

    def checkpoint(self) -> None:
        """Bring what stands in the journal into the file; `Refusal` 4 if it can't be: it stays where it is."""
        self._must_write()
        self._settle()
        if self._due or self._since:
            self._whole()
        elif self._journal.there:
            self._journal.drop()

    def close(self) -> None:
        """Fold, and let the job go. If it can't be folded nothing is lost, and `left_beside` says so in one line."""
        if not self.why_read_only and (self._due or self._since or self._journal.there):
            try:
                self.checkpoint()
            except Refusal as refusal:
                self.left_beside = (
                    f"{named(self.path)} is missing its last entries. They are safe next to it, in "
                    f"{named(self.files)}, and go in when you next open it. {refusal.message}"
                )
        self.why_read_only = self.why_read_only or "it is closed"
        self._journal.close()
        if self._lock is not None:
            self._lock.release()

    def _must_write(self) -> None:
        if self.why_read_only:
            raise Refusal(f"Not saved: {named(self.path)} is open read-only: {self.why_read_only}.", code=NOT_SAVED)

    def _fresh(self, entries: Sequence[Entry]) -> list[Entry]:
        """Those that are not there yet."""
        found = []
        for entry in joined((), entries):
            at = bisect_left(self._entries, entry.id, key=BY_ID)
            if at == len(self._entries) or self._entries[at].id != entry.id:
                found.append(entry)
            else:
                joined(self._entries[at : at + 1], [entry])
        return found

    def _take(self, found: Contents) -> None:
        self._entries = found.entries
        self._since = list(found.since)  # what the file does not hold yet, or not for sure
        self._seals = found.seals
        self._due = bool(found.mend)  # must the file be written whole before anything is added?
        self.damage = found.mend or found.told or self.damage

    def _bring_in(self) -> None:
        """What a crash has left, into the file. If the disk is full it stays in the journal, as safe as before."""
        if self._since:
            with suppress(Refusal):
                self._whole()

    def _settle(self) -> None:
        """Join what another program has made of the file, or of the journal, with what is held here."""
        name = named(self.path)
        try:
            if not (self._unsettled or self._store.changed() or self._journal.changed()):
                return
        except OSError as error:
            what = f"Not saved: {name}: {reason(error)}. The file has not changed. Try again."
            raise Refusal(what, code=NOT_SAVED) from error
        self._unsettled = True
        try:
            found = read(self._store, self._journal)
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
        self._due = True
        self._unsettled = False

    def _whole(self) -> None:
        """Write the file with all that is held."""
        made = tables(self._entries)
        self._store.write(made)
        self._journal.drop()
        self._take(Contents(self._entries, "", made["job"]["1"]["seals"]))

    def _unmake(self) -> None:
        """Leave nothing of a job that could not be made, so that its name is free for the next try."""
        with suppress(OSError):
            if not self._store.changed():
                self.path.unlink()
        with suppress(OSError):
            (self.files / "lock").unlink()
            self.files.rmdir()
        self.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()


def _must_be_free(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise Refusal(f"{named(path)} already exists. Choose another name.", code=USAGE)
    if not path.parent.is_dir():
        raise Refusal(f"No folder called {clean(str(path.parent))}.", code=USAGE)
    folder = beside(path)
    if folder.exists() and any(found.name != "lock" for found in folder.iterdir()):
        raise Refusal(f"{named(folder)} already exists, from another job. Choose another name.", code=USAGE)


def _why(found: Contents, mend: bool) -> str:
    return found.read_only or ("" if mend else found.mend)


def _barred(path: Path) -> str:
    """Why it may not be written. A write-protected file could be replaced, but was protected for a reason."""
    if path.parent.name == "copies":
        return "this is a backup copy. Save it under a new name to carry on from it"
    for place in (path, path.parent):
        if not os.access(place, os.W_OK):
            return f"you don't have permission to write {named(place)}"
    return ""

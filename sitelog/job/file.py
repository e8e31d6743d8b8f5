"""The life of a job file: made, opened by one writer or to read only, added to, closed."""

import os
from bisect import bisect_left
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from sitelog.job.disk import beside, named
from sitelog.job.entry import Entry, Hand
from sitelog.job.format import Contents, contents, tables
from sitelog.job.lock import Lock
from sitelog.job.store import WholeFile, parse
from sitelog.refusal import DAMAGED, NOT_SAVED, USAGE, Refusal
from sitelog.text import clean


class JobFile:
    """One job on the disk. `append` is the only way to change it.

    The entries are held in memory; the file is read once. `hand` only tells a second opener who has the job.
    """

    def __init__(self, store: WholeFile, entries: Sequence[Entry], lock: Lock | None, why: str) -> None:
        self._store = store
        self._entries = list(entries)
        self._lock = lock
        self.why_read_only = why

    @classmethod
    def create(cls, path: str | Path, entries: Sequence[Entry], *, hand: Hand | None = None) -> Self:
        """A new job that begins with these entries; `Refusal` 2 (the name is taken) or 4 (not saved)."""
        store = WholeFile(path)
        _must_be_free(store.path)
        lock = Lock.take(beside(store.path) / "lock", hand)
        made = cls(store, (), lock, "")
        try:
            made._save(joined((), entries))
        except BaseException:
            made._unmake()
            raise
        return made

    @classmethod
    def open(cls, path: str | Path, *, read_only: bool = False, hand: Hand | None = None) -> Self:
        """The job at `path`; `Refusal` 2 (no such file), 3 (damaged), 4 (no lock can be made) or 5 (held).

        A file that this program must not write is opened to read only, and `why_read_only` says why. Opening
        to read only makes no file and no folder.
        """
        store = WholeFile(path)
        found = read(store)
        why = found.read_only or ("it was opened to read only" if read_only else _barred(store.path))
        if why:
            return cls(store, found.entries, None, why)
        lock = Lock.take(beside(store.path) / "lock", hand)
        try:
            store.sweep()
            if store.changed():  # by the writer before this one, between the reading and the lock
                found = read(store)
        except BaseException:
            lock.release()
            raise
        if found.read_only:
            lock.release()
        return cls(store, found.entries, lock, found.read_only)

    @property
    def entries(self) -> list[Entry]:
        """Every entry in order of its id; a list of the caller's own."""
        return list(self._entries)

    @property
    def read_only(self) -> bool:
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
        """Save these entries with those there; `Refusal` 4 (not saved), 5 (changed underneath).

        Nothing is changed in memory or on the disk then (see `WholeFile.write`), and the same call again is
        right. An entry that is there already is not added twice; another under its id is refused.
        """
        if self.why_read_only:
            raise Refusal(f"Not saved: {named(self.path)} is open to read only: {self.why_read_only}.", code=NOT_SAVED)
        together = joined(self._entries, entries)
        if len(together) > len(self._entries):
            self._save(together)

    def _save(self, entries: list[Entry]) -> None:
        self._store.write(tables(entries))
        self._entries = entries

    def close(self) -> None:
        """Let the job go; what was appended is saved already."""
        self.why_read_only = self.why_read_only or "it is closed"
        if self._lock is not None:
            self._lock.release()

    def _unmake(self) -> None:
        """Leave nothing of a job that could not be made, so that its name is free for the next try."""
        with suppress(OSError):
            if not self._store.changed():
                self.path.unlink(missing_ok=True)
            (self.files / "lock").unlink()
            self.files.rmdir()
        self.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()


def joined(held: Sequence[Entry], added: Sequence[Entry]) -> list[Entry]:
    """The union of two sets of entries in order of id; `Refusal` 3 if one id stands for two entries."""
    together = list(held)
    for entry in added:
        at = bisect_left(together, entry.id, key=lambda e: e.id)
        if at == len(together) or together[at].id != entry.id:
            together.insert(at, entry)
        elif together[at] != entry:
            raise Refusal(f"Two different entries are called {entry.id}: one was changed.", code=DAMAGED)
    return together


def read(store: WholeFile) -> Contents:
    """The job in a file; a `Refusal` 3 names the last good copy."""
    name = named(store.path)
    try:
        return contents(store.read(), name)
    except Refusal as refusal:
        if refusal.code != DAMAGED:
            raise
        raise Refusal(f"{refusal.message} {advice(store)}", code=DAMAGED) from None


def advice(store: WholeFile) -> str:
    """Which copy of a damaged job is good, and how to look at it."""
    for copy in store.copies():
        try:
            found = contents(parse(copy.read_bytes(), copy.name), copy.name)
        except (Refusal, OSError):
            continue
        last = found.entries[-1]
        return f"The last good copy ends at {clean(last.at)}; look at it with: sitelog open {clean(str(copy))}"
    return "There is no good copy of it."


def _must_be_free(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise Refusal(f"{named(path)} is there already: choose another name.", code=USAGE)
    if not path.parent.is_dir():
        raise Refusal(f"There is no folder {clean(str(path.parent))}.", code=USAGE)
    folder = beside(path)
    if folder.exists() and any(found.name != "lock" for found in folder.iterdir()):
        raise Refusal(f"{named(folder)} is there already, from another job: choose another name.", code=USAGE)


def _barred(path: Path) -> str:
    """Why it may not be written. A write-protected file could be replaced, but was protected for a reason."""
    if path.parent.name == "copies":
        return "it is a kept copy; put it under a name of its own to go on from it"
    for place in (path, path.parent):
        if not os.access(place, os.W_OK):
            return f"there is no right to write {named(place)}"
    return ""

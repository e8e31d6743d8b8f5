"""The journal beside an open job: what was entered since its file was written, one line on the disk for each save."""

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import msgspec
from msgspec.structs import replace

from sitelog.job.log.chains import Link, loose
from sitelog.job.log.entry import Entry
from sitelog.job.log.union import joined
from sitelog.job.storage.disk import Stamp, load, named, reason, second_name, stamp, sync_folder
from sitelog.job.storage.format import Contents, Seals
from sitelog.job.storage.lines import KIND, Left, left, line
from sitelog.refusal import DAMAGED, NOT_SAVED, Refusal
from sitelog.text import text_if

BROKEN = "journal.broken"  # what a journal is kept as whose lines can't all be read; more of them by number
KEPT = "It can't be read, and is kept beside the job. If a copy has what it held, join it:"


class Journal:
    """NAME.files/journal: a first line that names the file it goes on from, then a line for each save.

    Each line is JSON, a space, and the beginning of a SHA-256 over the sum before it and that JSON. It is begun as a
    new file that takes the name when it is on the disk, so that its first lines are never torn. After a line that
    failed it is begun anew: what an fsync has refused once is not asked for again.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.size = 0
        self._name = f"{named(path.parent)}/{path.name}"
        self._handle: int | None = None
        self._sum = b""
        self._stamp: Stamp | None = None
        self._damaged = False

    def read(self) -> Left | None:
        """What is in it, None if there is none; `Refusal` 2 or 3 if it can't be read at all."""
        if self._gone():
            return None
        try:
            raw, self._stamp = load(self.path, self._name)
        except Refusal:
            if self._gone():  # folded in between
                return None
            raise
        found = left(raw)
        self._damaged = bool(found.fault or found.spoilt)
        return found

    @property
    def there(self) -> bool:
        """Was there one when it was last looked at?"""
        return self._stamp is not None

    def changed(self) -> bool:
        """Is it another than the one last read or written here, or gone?"""
        return stamp(self.path) != self._stamp

    def add(self, job: str, seals: Seals, since: Sequence[Entry], fresh: Sequence[Entry]) -> None:
        """Bring one save to the disk; `Refusal` 4 if it is not there.

        `since` is what stands in it already, of a job whose file has these seals.
        """
        try:
            if self._handle is None:
                first = {"journal": KIND, "job": job, "seals": seals}
                self._begin([first, since, fresh] if since else [first, fresh])
            else:
                self._put(self._handle, [fresh])
            self._stamp = stamp(self.path)
        except BaseException as error:
            self.close()
            self._mark()  # whatever stands there now is from here
            if isinstance(error, OSError):
                what = f"Not saved: {self._name}: {reason(error)}. Try again: it will go to a new file."
                raise Refusal(what, code=NOT_SAVED) from error
            raise

    def drop(self) -> None:
        """Take it away: all that is in it stands in the file. One that can't be removed does no harm.

        One with a damaged line is kept under another name.
        """
        self.close()
        with suppress(OSError):
            if self._damaged:
                self.path.replace(kept_as(self.path.parent))
            self.path.unlink()
        self._damaged = False
        self._mark()

    def close(self) -> None:
        """Write no more to it; the next line begins it anew."""
        if self._handle is not None:
            with suppress(OSError):
                os.close(self._handle)
        self._handle = None
        self.size = 0

    def sweep(self) -> None:
        """Remove a beginning that was killed. Only for who holds the lock."""
        with suppress(OSError):
            self._new.unlink()

    @property
    def _new(self) -> Path:
        return self.path.with_name("journal.new")

    def _mark(self) -> None:
        self._stamp = None
        with suppress(OSError):
            self._stamp = stamp(self.path)

    def _gone(self) -> bool:
        """Is there surely none?"""
        try:
            self._stamp = stamp(self.path)
        except OSError:
            return False
        return self._stamp is None

    def _begin(self, what: Sequence[object]) -> None:
        self.path.parent.mkdir(exist_ok=True)
        self._new.unlink(missing_ok=True)
        self._sum = b""
        handle = os.open(self._new, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        try:
            self._put(handle, what)
            if self._damaged:
                second_name(self.path, kept_as(self.path.parent))
                self._damaged = False
            self._new.replace(self.path)
            sync_folder(self.path.parent)
            sync_folder(self.path.parent.parent)  # the folder itself may be new
        except BaseException:
            os.close(handle)
            self.sweep()
            raise
        self._handle = handle

    def _put(self, handle: int, what: Sequence[object]) -> None:
        lines, before = b"", self._sum
        for text in map(msgspec.json.encode, what):
            added, before = line(before, text)
            lines += added
        rest = memoryview(lines)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
        self._sum = before
        self.size += len(lines)


def broken(files: Path) -> list[Path]:
    """The journals of a job's folder that were kept because lines of them can't be read, oldest first."""
    found = {path.name: path for path in files.glob(f"{BROKEN}*")}
    return [found[name] for name in sorted(found, key=lambda name: (len(name), name))]


def kept_as(files: Path) -> Path:
    """The name under which the next of them is kept: one that nothing has."""
    taken = {path.name for path in broken(files)}
    names = (BROKEN, *(f"{BROKEN}-{number}" for number in range(2, len(taken) + 2)))
    return files / next(name for name in names if name not in taken)


def with_journal(found: Contents, left: Left | None, name: str) -> Contents:
    """A job with what stands beside it; `Refusal` 3 if that is of another job, or says otherwise than the file."""
    if left is None:
        return found
    if left.job and left.job != found.entries[0].id:
        raise Refusal(f"{name}.files/journal belongs to another job: move it away, or move this file.", code=DAMAGED)
    together = joined(found.entries, left.entries)
    mend = text_if(left.fault, f"{name}.files/journal is damaged: {left.fault}")
    if not mend and _is_older(found, left, together):
        mend = "this looks like an older copy of the job: newer entries are missing from it"
    if mend:
        mend += f"; join them with: sitelog merge {name} COPY"
    told = text_if(left.spoilt, f"{name}.files/journal: {left.spoilt}. {KEPT} sitelog merge {name} COPY")
    # Those that stand in the file too: whoever put them there may have gone before its new name was on the disk.
    since = tuple(joined((), left.entries))
    read_only = found.read_only or left.strange
    return replace(found, entries=together, since=since, mend=mend, told=told, read_only=read_only)


def _is_older(found: Contents, left: Left, together: Sequence[Entry]) -> bool:
    """Whether the journal goes on from entries that the file doesn't have.

    Where the seals are the file's own it goes on from the file: only elsewhere are digests asked for.
    """
    if left.seals == found.seals:
        return False
    in_file = {entry.id for entry in found.entries}
    beside = [entry for entry in together if entry.id not in in_file]
    return bool(loose(_links(beside), _links(together)))


def _links(entries: Sequence[Entry]) -> list[Link]:
    return [Link(entry, entry.digest()) for entry in entries]

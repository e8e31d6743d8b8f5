"""The journal beside an open job: what was entered since its file was written, one line on the disk for each save."""

import os
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import msgspec

from sitelog.job.log.entry import Entry
from sitelog.job.storage.disk import (
    Stamp,
    begun,
    job_of,
    load,
    make_folder,
    named,
    reason,
    second_name,
    stamp,
    stamp_of,
    sync_folder,
    write,
)
from sitelog.job.storage.format import Seals
from sitelog.job.storage.lines import KIND, Left, last_sum, left, line
from sitelog.refusal import NOT_SAVED, Refusal

BROKEN = "journal.broken"  # what a journal is kept as whose lines can't all be read; more of them by number
_APPEND = os.O_WRONLY | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


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
        self._tail = b""  # the sum of its last line, where it can be gone on with
        self.unsure = False  # does a line stand in it that was never confirmed?

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
        self.unsure = found.torn
        self._tail = b"" if self._damaged or found.torn or found.strange else last_sum(raw)
        return found

    @property
    def there(self) -> bool:
        """Was there one when it was last looked at?"""
        return self._stamp is not None

    def changed(self) -> bool:
        """Is it another than the one last read or written here, or gone? What was written then may stand nowhere."""
        return stamp(self.path) != self._stamp

    def add(self, job: str, seals: Seals, since: Sequence[Entry], fresh: Sequence[Entry]) -> None:
        """Bring one save to the disk; `Refusal` 4 if it is not there.

        `since` is what stands in it already, of a job whose file has these seals.
        """
        try:
            self._go_on()
            if self._handle is None:
                first = {"journal": KIND, "job": job, "seals": seals}
                self._begin([first, since, fresh] if since else [first, fresh])
            else:
                self._put(self._handle, [fresh])
        except BaseException as error:
            self.close()
            self._mark_own()
            self.unsure = True
            if isinstance(error, OSError):
                what = f"Not saved: {self._name}: {reason(error)}. Try again: it will go to a new file."
                raise Refusal(what, code=NOT_SAVED) from error
            raise

    def renew(self, job: str, seals: Seals, entries: Sequence[Entry]) -> None:
        """Begin it anew with these entries and nothing else, where a line in it was never confirmed.

        Where that can't be done now it stays as it is: what was not confirmed may be there then.
        """
        if self.unsure:
            self.close()
            with suppress(OSError):
                self._begin([{"journal": KIND, "job": job, "seals": seals}, entries])

    def drop(self) -> None:
        """Take it away: all that is in it stands in the file. One that can't be removed does no harm.

        One with a damaged line is kept under another name, and one that was put there since by another is left.
        """
        self.close()
        with suppress(OSError):
            if self.changed():
                return
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
        self._tail = b""
        self.size = 0

    def _mark_own(self) -> None:
        """What stands there now is from here, though it failed, if it is the file that was written last."""
        with suppress(OSError):
            now = stamp(self.path)
            if now and self._stamp and now[2:] == self._stamp[2:]:
                self._stamp = now

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

    def _go_on(self) -> None:
        """Open it at its end, if it is whole and still the one that was read; otherwise it is begun anew."""
        if self._handle is None and self._tail:
            handle = os.open(self.path, _APPEND)
            if stamp_of(os.fstat(handle)) == self._stamp:
                self._handle, self._sum = handle, self._tail
            else:
                os.close(handle)

    def _begin(self, what: Sequence[object]) -> None:
        job = job_of(self.path.parent)
        make_folder(self.path.parent, job)
        self._sum = b""
        new, handle = begun(self.path, job)
        try:
            self._put(handle, what)
            if self._damaged:
                second_name(self.path, kept_as(self.path.parent))
                self._damaged = False
            new.replace(self.path)
            sync_folder(self.path.parent)
            sync_folder(self.path.parent.parent)  # the folder itself may be new
        except BaseException:
            os.close(handle)
            with suppress(OSError):
                new.unlink()
            raise
        self._handle = handle
        self.unsure = False

    def _put(self, handle: int, what: Sequence[object]) -> None:
        lines, before = b"", self._sum
        for text in map(msgspec.json.encode, what):
            added, before = line(before, text)
            lines += added
        write(handle, lines)
        os.fsync(handle)
        self._stamp = stamp_of(os.fstat(handle))
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

"""Who may write a job: one at a time on a machine, by locks of the system that end with the process that holds them.

Nothing of them stands in the job's folder, which a program may bring up to date with other machines.
"""

import hashlib
import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

import msgspec

from sitelog.job.log.entry import Author
from sitelog.job.storage.disk import job_of, make_folder, named, reason
from sitelog.refusal import HELD, NOT_SAVED, Refusal
from sitelog.text import clean, day_and_time

if sys.platform == "win32":  # pragma: no cover - Windows has no other lock
    import msvcrt
else:
    import fcntl

# Windows bars reading the bytes it locks, so the byte lies beyond the text that names the holder.
_BYTE = 1 << 30
_NO_LINK = getattr(os, "O_NOFOLLOW", 0)


class Holder(msgspec.Struct, frozen=True):
    """What this machine keeps of who has a job. `since` is local time, ISO 8601; "" where it was not given."""

    pid: int
    by: str = ""
    device: str = ""
    since: str = ""

    def __str__(self) -> str:
        words = [clean(self.by, most=60) or "another program"]
        words += [f"on {clean(self.device, most=20)}"] if self.device else []
        words += [f"since {day_and_time(self.since)}"] if self.since else []
        return f"{' '.join(words)} (process {self.pid})"


class Lock:
    """The right to write one job, from `take` to `release` or to the end of the process.

    It is on two things. One is the folder beside the job: the same by whatever path it is reached, by whom, and where
    it is moved to. The other is a file of the machine's own, by the job's path: it names the holder, and is enough on a
    disk that locks no folders.
    """

    def __init__(self, handles: Sequence[int], note: int | None) -> None:
        self._handles = handles
        self._note = note

    @classmethod
    def take(cls, files: Path, author: Author | None = None, machine: Path | None = None) -> "Lock":
        """The lock of the job with the folder `files`; `Refusal` 5 names its holder, 4 says why there can be none.

        `machine` is the folder of what this machine keeps.
        """
        job, note = named(job_of(files)), None
        try:
            make_folder(files, job_of(files))
        except OSError as error:
            raise Refusal(f"{job} can't be written: {reason(error)}.", code=NOT_SAVED) from error
        taken = _Taken()
        try:
            taken.take(files, os.O_RDONLY)  # on Windows no folder can be opened
            if machine:
                note = taken.take(_place(files, machine), os.O_RDWR | os.O_CREAT)
            _earlier(files)
        except BlockingIOError:
            taken.close()
            held = _holder(_place(files, machine)) if machine else _NOBODY
            told = f"{job} is already open in {held}. Close it there first, or open it read-only."
            raise Refusal(told, code=HELD) from None
        if not taken.handles:
            raise Refusal(f"{job} can't be locked here: {taken.why}.", code=NOT_SAVED)
        if note is not None:
            _say(note, author)
        return cls(taken.handles, note)

    def release(self) -> None:
        """Let it go; again does nothing."""
        if self._handles and self._note is not None:
            with suppress(OSError):
                os.ftruncate(self._note, 0)
        for handle in self._handles:
            os.close(handle)
        self._handles = ()


_NOBODY = "another program"


class _Taken:
    """What has been locked so far; `why` says why the last could not be."""

    def __init__(self) -> None:
        self.handles: list[int] = []
        self.why = ""

    def take(self, place: Path, flags: int) -> int | None:
        """Its handle, or None where it can't be locked; BlockingIOError where another has it."""
        try:
            if flags & os.O_CREAT:
                for folder in (place.parent.parent, place.parent):  # `mode` is not for the parents that are made
                    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            handle = os.open(place, flags | _NO_LINK, 0o600)
        except OSError as error:
            self.why = reason(error)
            return None
        try:
            _seize(handle)
        except OSError as error:
            os.close(handle)
            if isinstance(error, BlockingIOError):
                raise
            self.why = reason(error)
            return None
        self.handles.append(handle)
        return handle

    def close(self) -> None:
        """Let them all go."""
        for handle in self.handles:
            os.close(handle)


def _place(files: Path, machine: Path) -> Path:
    """What this machine's own is called for the job of that path."""
    path = os.path.normcase(os.path.realpath(job_of(files)))
    return machine / "locks" / hashlib.sha256(os.fsencode(path)).hexdigest()[:16]


def _earlier(files: Path) -> None:
    """Remove an earlier program's lock, a file in the job's folder; BlockingIOError where one is held."""
    place = files / "lock"
    if os.path.lexists(place):
        earlier = _Taken()
        earlier.take(place, os.O_RDWR)
        earlier.close()
        with suppress(OSError):
            place.unlink()


def _seize(handle: int) -> None:
    if sys.platform == "win32":  # pragma: no cover - Windows has no other lock
        os.lseek(handle, _BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except PermissionError as error:
            raise BlockingIOError from error
    else:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _say(handle: int, author: Author | None) -> None:
    holder = Holder(os.getpid())
    if author is not None:
        since = author.now.isoformat(sep=" ", timespec="minutes")
        holder = Holder(os.getpid(), author.by, author.device, since)
    with suppress(OSError):
        os.ftruncate(handle, 0)
        os.write(handle, msgspec.json.encode(holder))


def _holder(place: Path) -> str:
    """As it is named there; it may be half written, or not yet, or by somebody else on this machine."""
    try:
        handle = os.open(place, os.O_RDONLY | _NO_LINK)
        try:
            return str(msgspec.json.decode(os.read(handle, 4096), type=Holder))
        finally:
            os.close(handle)
    except (OSError, ValueError):
        return _NOBODY

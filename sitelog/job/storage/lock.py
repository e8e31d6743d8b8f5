"""Who may write a job: one at a time, by a lock of the system that ends with the process that holds it."""

import os
import sys
from contextlib import suppress
from pathlib import Path

import msgspec

from sitelog.job.log.entry import Author
from sitelog.job.storage.disk import job_of, make_folder, named, reason, rights
from sitelog.refusal import HELD, NOT_SAVED, Refusal
from sitelog.text import clean, day_and_time

if sys.platform == "win32":  # pragma: no cover - Windows has no other lock
    import msvcrt
else:
    import fcntl

# Windows bars reading the bytes it locks, so the byte lies beyond the text that names the holder.
_BYTE = 1 << 30


class Holder(msgspec.Struct, frozen=True):
    """What the lock file says of its holder. `since` is local time, ISO 8601; "" where it was not given."""

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
    """The right to write one job, from `take` to `release` or to the end of the process."""

    def __init__(self, handle: int) -> None:
        self._handle: int | None = handle

    @classmethod
    def take(cls, path: Path, author: Author | None = None) -> "Lock":
        """The lock at `path` (NAME.files/lock); `Refusal` 5 names its holder, 4 says why none can be made."""
        job = named(path.parent).removesuffix(".files")
        try:
            mode = rights(job_of(path.parent)) or 0o666
            make_folder(path.parent, job_of(path.parent))
            handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), mode)
        except OSError as error:
            raise Refusal(f"{job} can't be written: {reason(error)}.", code=NOT_SAVED) from error
        try:
            _seize(handle)
            _say(handle, author)
        except BlockingIOError:
            held = _holder(handle)
            os.close(handle)
            raise Refusal(
                f"{job} is already open in {held}. Close it there first, or open it read-only.", code=HELD
            ) from None
        except OSError as error:
            os.close(handle)
            raise Refusal(f"{job} can't be locked here: {reason(error)}.", code=NOT_SAVED) from error
        return cls(handle)

    def release(self) -> None:
        """Let it go; again does nothing."""
        if self._handle is not None:
            with suppress(OSError):
                os.ftruncate(self._handle, 0)
            os.close(self._handle)
            self._handle = None


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
    os.ftruncate(handle, 0)
    os.lseek(handle, 0, os.SEEK_SET)
    os.write(handle, msgspec.json.encode(holder))


def _holder(handle: int) -> str:
    """As the lock file names them; it may be half written, or not yet."""
    os.lseek(handle, 0, os.SEEK_SET)
    try:
        return str(msgspec.json.decode(os.read(handle, 4096), type=Holder))
    except ValueError:
        return "another program"

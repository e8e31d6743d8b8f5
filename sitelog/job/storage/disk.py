"""What the disk says of a job file: which file it is, its bytes, and in plain words why not."""

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path

from sitelog.refusal import DAMAGED, USAGE, Refusal
from sitelog.text import clean

Stamp = tuple[int, int, int]  # time of change [ns], size [bytes], inode

LARGEST = 256 * 1024 * 1024  # bytes; 50,000 entries are about 20 MiB

_REASONS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "your share of the disk is full",
    errno.EFBIG: "the file can't be that large here",
    errno.EIO: "the disk reports an error",
    errno.EROFS: "the disk is write-protected",
    errno.EACCES: "you don't have permission",
    errno.EPERM: "you don't have permission",
    errno.ENAMETOOLONG: "the name is too long: use a shorter one",
    errno.ELOOP: "its shortcuts go round in a circle",
}


def reason(error: OSError) -> str:
    """Why the system said no, in plain words."""
    return _REASONS.get(error.errno or 0, (error.strerror or str(error)).lower())


def named(path: Path) -> str:
    """The file's name as it may be shown."""
    return clean(path.name)


def beside(path: Path) -> Path:
    """The folder of a job file's own: photos, copies, the lock."""
    return path.parent / f"{path.name}.files"  # a folder named as a job may have no name to change


def stamp(path: Path) -> Stamp | None:
    """What tells a file from a later one under its name; None if there is none."""
    try:
        return _stamp(path.stat())
    except (FileNotFoundError, NotADirectoryError):
        return None


def load(path: Path, name: str = "") -> tuple[bytes, Stamp]:
    """A file's bytes and its stamp; `Refusal` 2 (no such file, no right) or 3 (too large, unreadable).

    `name` is what to call it, if not by its own.
    """
    right = "move it away" if name else "name the job file"
    name = name or named(path)
    try:
        # Asked before opening: to open a pipe would wait, to open a device may do something.
        _must_be_file(path, name, right)
        with path.open("rb") as file:
            found = os.fstat(file.fileno())
            if found.st_size > LARGEST:
                too_large = f"{name} is over {LARGEST >> 20} MB: too large for a job."
                raise Refusal(too_large, code=DAMAGED)
            return file.read(LARGEST), _stamp(found)
    except (FileNotFoundError, NotADirectoryError):
        raise Refusal(f"No job file called {clean(str(path))}.", code=USAGE) from None
    except OSError as error:
        code = DAMAGED if error.errno == errno.EIO else USAGE
        raise Refusal(f"{name} can't be read: {reason(error)}.", code=code) from None


def second_name(path: Path, copy: Path) -> None:
    """Keep a file under another name too; a full copy where the disk knows no second names."""
    try:
        os.link(path, copy)
    except OSError:
        import shutil  # loads much

        try:
            shutil.copy2(path, copy)
        except OSError:
            copy.unlink(missing_ok=True)
            raise


def put(path: Path, raw: bytes) -> None:
    """Bring a file to the disk whole, in place of what stands under its name; its folder is made if there is none.

    OSError if any step of it fails: then the name stands as it did, or for the whole of the new file.
    """
    new = path.with_name(f".{path.name}.saving")
    path.parent.mkdir(exist_ok=True)
    try:
        new.unlink(missing_ok=True)  # left by a kill
        with new.open("xb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        new.replace(path)
    except BaseException:
        with suppress(OSError):
            new.unlink()
        raise
    sync_folder(path.parent)
    sync_folder(path.parent.parent)  # the folder itself may be new


def sync_folder(folder: Path) -> None:
    """Bring a renaming in the folder to the disk."""
    if os.name == "nt":  # pragma: no cover - Windows: folders can't be opened, and its disk's journal has the renaming
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _stamp(found: os.stat_result) -> Stamp:
    return found.st_mtime_ns, found.st_size, found.st_ino


def _must_be_file(path: Path, name: str, right: str) -> None:
    mode = path.stat().st_mode
    if stat.S_ISDIR(mode):
        raise Refusal(f"{name} is a folder: {right}.", code=USAGE)
    if not stat.S_ISREG(mode):
        raise Refusal(f"{name} is a device or a pipe: {right}.", code=USAGE)

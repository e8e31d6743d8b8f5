"""What the disk says of a job file: which file it is, its bytes, and in plain words why not."""

import errno
import os
import stat
from contextlib import suppress
from pathlib import Path

from sitelog.refusal import DAMAGED, NOT_SAVED, USAGE, Refusal
from sitelog.text import clean

Stamp = tuple[int, int, int, int]  # time of change [ns], size [bytes], inode, device

SAVING = ".saving"  # what the name of a file ends with that is still being written

_MAKE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)

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
    """The folder of a job file's own: photos, journals, copies."""
    return path.parent / f"{path.name}.files"  # a folder named as a job may have no name to change


def job_of(files: Path) -> Path:
    """The job file whose folder this is."""
    return files.with_name(files.name.removesuffix(".files"))


def stamp(path: Path) -> Stamp | None:
    """What tells a file from a later one under its name; None if there is none."""
    try:
        return stamp_of(path.stat())
    except (FileNotFoundError, NotADirectoryError):
        return None


def stamp_of(found: os.stat_result) -> Stamp:
    """The same of a file that is open, or was asked about already."""
    return found.st_mtime_ns, found.st_size, found.st_ino, found.st_dev


def is_link(path: Path) -> bool:
    """Is it surely a link?"""
    return os.path.islink(path)  # noqa: PTH114 - one that can't be asked is met, and told, where it is opened


def no_links(*paths: Path) -> None:
    """`Refusal` 4 where a link has the name of something of the job's own: it could lead anywhere."""
    for path in paths:
        if is_link(path):
            raise Refusal(f"Not saved: {named(path)} is a shortcut. Remove it.", code=NOT_SAVED)


def load(path: Path, name: str = "") -> tuple[bytes, Stamp]:
    """A file's bytes and its stamp; `Refusal` 2 (no such file, no right) or 3 (too large, unreadable).

    `name` is what to call it, if not by its own.
    """
    right = "move it away" if name else "name the job file"
    name = name or named(path)
    try:
        # Asked before opening: to open a pipe would wait, to open a device may do something.
        meant = _must_be_file(path, name, right)
        with path.open("rb") as file:
            found = os.fstat(file.fileno())
            if (found.st_ino, found.st_dev) != (meant.st_ino, meant.st_dev):  # renamed in between: look again
                return load(path, "" if name == named(path) else name)
            if found.st_size > LARGEST:
                too_large = f"{name} is over {LARGEST >> 20} MB: too large for a job."
                raise Refusal(too_large, code=DAMAGED)
            return file.read(LARGEST), stamp_of(found)
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

        new, handle = begun(copy, path)
        os.close(handle)
        try:
            shutil.copy2(path, new)
            new.replace(copy)
        except OSError:
            new.unlink(missing_ok=True)
            raise


def begun(path: Path, like: Path | None = None) -> tuple[Path, int]:
    """A new file beside `path`, under a name that nothing has, and the handle to write it; OSError if it can't be made.

    Those may read it who may read `like`, a file that need not be there.
    """
    new = path.with_name(f".{path.name}.{os.urandom(4).hex()}{SAVING}")
    mode = rights(like) if like else None
    handle = os.open(new, _MAKE, 0o666 if mode is None else mode)
    try:
        if mode is not None:
            new.chmod(mode)
    except BaseException:
        os.close(handle)
        new.unlink(missing_ok=True)
        raise
    return new, handle


def fill(handle: int, raw: bytes, *, synced: bool = True) -> Stamp:
    """Write the bytes to what `begun` has begun, bring them to the disk and close it; what the file is told by then."""
    try:
        write(handle, raw)
        if synced:
            os.fsync(handle)
        return stamp_of(os.fstat(handle))
    finally:
        os.close(handle)


def write(handle: int, raw: bytes) -> None:
    """All the bytes: a system may take fewer than it was given."""
    left = memoryview(raw)
    while left:
        left = left[os.write(handle, left) :]


def rights(path: Path) -> int | None:
    """Who may read and write a file, as bits; None if there is none."""
    try:
        return stat.S_IMODE(path.stat().st_mode) & 0o666
    except (FileNotFoundError, NotADirectoryError):
        return None


def make_folder(folder: Path, like: Path) -> None:
    """A folder that those may enter who may read the file `like`, if there is none; OSError, `Refusal` for a link."""
    no_links(folder)
    mode = rights(like)
    folder.mkdir(exist_ok=True, mode=0o777 if mode is None else mode | (mode & 0o444) >> 2)


def put(path: Path, raw: bytes, like: Path | None = None, *, synced: bool = True) -> None:
    """Bring a file to the disk whole, in place of what stands under its name; its folder is made if there is none.

    OSError if any step of it fails: then the name stands as it did, or for the whole of the new file. `like` as in
    `begun`. Not `synced`, it may not outlast a power cut.
    """
    make_folder(path.parent, like or path)
    new, handle = begun(path, like)
    try:
        fill(handle, raw, synced=synced)
        new.replace(path)
    except BaseException:
        with suppress(OSError):
            new.unlink()
        raise
    if synced:
        sync_folder(path.parent)
        sync_folder(path.parent.parent)  # the folder itself may be new


def sweep(folder: Path, *names: str) -> None:
    """Remove the files of the folder that were being written when something was killed. Only for who holds the lock.

    `names` are those of the files that they were to replace; none for any. What can't be removed stays.
    """
    heads = tuple(f".{name}." for name in names) or (".",)
    with suppress(OSError), os.scandir(folder) as rows:
        for row in rows:
            if row.name.startswith(heads) and row.name.endswith(SAVING):
                with suppress(OSError):
                    Path(row.path).unlink()


def sync_folder(folder: Path) -> None:
    """Bring a renaming in the folder to the disk."""
    if os.name == "nt":  # pragma: no cover - Windows: folders can't be opened, and its disk's journal has the renaming
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _must_be_file(path: Path, name: str, right: str) -> os.stat_result:
    found = path.lstat()
    mode = found.st_mode
    if stat.S_ISLNK(mode):
        path.stat()  # which says so where it leads in a circle
        raise Refusal(f"{name} is a shortcut: {right}.", code=USAGE)
    if stat.S_ISDIR(mode):
        raise Refusal(f"{name} is a folder: {right}.", code=USAGE)
    if not stat.S_ISREG(mode):
        raise Refusal(f"{name} is a device or a pipe: {right}.", code=USAGE)
    return found

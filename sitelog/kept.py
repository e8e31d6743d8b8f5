"""What takes long to work is kept for the next start: in this user's cache folder, by a digest of all it hangs on.

The program's own files are part of every digest, so nothing kept is ever stale. It is done without where it can't be
read or written, and never taken from a job's folder, which others write to.
"""

import gc
import hashlib
import io
import os
import pickle
from binascii import crc32
from collections.abc import Callable, Iterator
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

MOST_BYTES = 1 << 25  # of one file: ten times what is kept of the shipped lists
MOST_FILES, MOST_IN_ALL = 60, 1 << 26  # those that were used last, and their bytes together
NAMED_BY = "XDG_CACHE_HOME"  # the variable that may name the user's folder for what can be made again
_MAKE = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
SUM = 4  # bytes after the rest: its CRC

T = TypeVar("T")


def key_of(*parts: bytes) -> str:
    """The key of what is made from these parts by this program."""
    digest = hashlib.sha256(program())
    for part in parts:
        digest.update(len(part).to_bytes(8, "big") + part)
    return digest.hexdigest()


def cached(key: str, make: Callable[[], T]) -> T:
    """What `make` gives, from the last time where it was kept."""
    found: T | None = find(key)
    if found is None:
        found = make()
        keep(key, found)
    return found


def find(key: str) -> Any:
    """What was kept under the key, whole; None if nothing was."""
    with suppress(Exception):  # whatever stands there: it is only worked again
        path = folder() / key
        # A pipe under its name would wait, a device never end.
        if path.is_file() and path.stat().st_size <= MOST_BYTES:
            raw = path.read_bytes()
            if crc32(memoryview(raw)[:-SUM]) == int.from_bytes(raw[-SUM:], "big"):
                os.utime(path)
                with _uncounted():
                    return _Reader(io.BytesIO(raw)).load()  # no copy of the bytes: it costs half as much again
    return None


def keep(key: str, what: object) -> None:
    """Keep it for the next start, if it can be."""
    with suppress(OSError, RuntimeError), _uncounted():
        raw = pickle.dumps(what, protocol=5)
        if len(raw) > MOST_BYTES - SUM:
            return
        folder().mkdir(mode=0o700, parents=True, exist_ok=True)
        _write(folder() / key, raw + crc32(raw).to_bytes(SUM, "big"))
        _sweep(folder())


def folder() -> Path:
    """Where it is kept: the user's folder for what can be made again. RuntimeError where the user has none."""
    given = Path(os.environ.get(NAMED_BY, ""))
    if given.is_absolute():
        return given / "sitelog"
    return Path.home() / ".cache" / "sitelog"


@cache
def program() -> bytes:
    """A digest of every module of this program: its path, when it was last written, its size."""
    package = Path(__file__).resolve().parent
    return hashlib.sha256(repr(sorted(_modules(str(package)))).encode("utf-8", "surrogateescape")).digest()


def _modules(place: str) -> Iterator[tuple[str, int, int]]:
    with os.scandir(place) as rows:
        for row in rows:
            if row.name.endswith(".py"):
                found = row.stat()
                yield row.path, found.st_mtime_ns, found.st_size
            elif "." not in row.name and row.name != "__pycache__" and row.is_dir():
                yield from _modules(row.path)


class _Reader(pickle.Unpickler):
    """Makes the program's own frozen structs and nothing else."""

    def find_class(self, module: str, name: str) -> Any:
        found = super().find_class(module, name)
        if (module, name) == ("msgspec._utils", "rebuild") or (
            module.startswith("sitelog.") and hasattr(found, "__struct_fields__")
        ):
            return found
        raise pickle.UnpicklingError(name)


class _uncounted:  # noqa: N801 - read as a word after `with`
    """Many small objects are made at once, and none is garbage: looking for it would take three times as long."""

    def __enter__(self) -> None:
        self._was = gc.isenabled()
        gc.disable()

    def __exit__(self, *_: object) -> None:
        if self._was:
            gc.enable()


def _write(path: Path, whole: bytes) -> None:
    """Old or new, never half: another start may be reading it."""
    new = path.with_name(f"{path.name}.{os.urandom(4).hex()}")
    try:
        with os.fdopen(os.open(new, _MAKE, 0o600), "wb") as file:
            file.write(whole)
        new.replace(path)
    except OSError:
        new.unlink(missing_ok=True)
        raise


def _sweep(place: Path) -> None:
    """Let go of what has not been used for longest."""
    with os.scandir(place) as rows:
        found = [(row.stat().st_mtime_ns, row.stat().st_size, row.path) for row in rows]
    room = MOST_IN_ALL
    for number, (_, size, path) in enumerate(sorted(found, reverse=True)):
        room -= size
        if number >= MOST_FILES or room < 0:
            with suppress(OSError):
                Path(path).unlink()

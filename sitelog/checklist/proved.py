"""A library once proved is kept from one start to the next; only what has changed is proved again."""

import hashlib
import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

import msgspec

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import MOST_BYTES, shipped_folder, toml_files

MOST_KEPT = 1 << 24  # bytes: twenty times what is kept of the shipped lists


class Kept(msgspec.Struct, frozen=True):
    """What the file of the cache holds: the library, and the key of all it was made from."""

    key: str
    library: Library


def proved_library(folders: Sequence[Path], cache: Path, *, shipped: Path | None = None) -> Library:
    """What `load` gives, from the file `cache` where nothing has changed since it was written.

    The cache is written if it can be, and never trusted to be whole. Raises Faults as `load` does.
    """

    def proved() -> Library:
        from sitelog.checklist.load import load

        return load(folders, shipped=shipped)

    return cached(cache, _key([shipped or shipped_folder(), *folders]), proved)


def cached(cache: Path, key: str, make: Callable[[], Library]) -> Library:
    """What `make` gives, from the file `cache` where it was made under the same key, which tells all it hangs on."""
    with suppress(OSError, ValueError, RecursionError):
        # A pipe under its name would wait, a device never end.
        if cache.is_file() and cache.stat().st_size <= MOST_KEPT:
            kept = msgspec.json.decode(cache.read_bytes(), type=Kept)
            if kept.key == key:
                return kept.library
    library = make()
    with suppress(OSError):
        # Only into a folder that is there: looking at a job leaves nothing beside it.
        _write(cache, msgspec.json.encode(Kept(key, library)))
    return library


def _key(folders: Sequence[Path]) -> str:
    """A digest of every checklist's name and bytes, and what the program that proves them is told by."""
    digest = hashlib.sha256()
    for folder in folders:
        for path in toml_files(folder):
            digest.update(f"{path}\0".encode(errors="surrogateescape") + _digest(path))
    return digest.hexdigest() + _program()


def key_of(texts: Sequence[tuple[str, str]]) -> str:
    """The same of files that a job keeps, each told by its name and digest."""
    return hashlib.sha256(msgspec.json.encode(texts)).hexdigest() + _program()


def modules() -> list[Path]:
    """The program's modules that read lists."""
    package = Path(__file__).resolve().parent.parent
    return sorted([*package.glob("*.py"), *package.glob("checklist/**/*.py"), *package.glob("calculators/*.py")])


def _program() -> str:
    """A digest of when each module that reads lists was last written."""
    digest = hashlib.sha256()
    for module in modules():
        digest.update(f"{module.name} {module.stat().st_mtime_ns}\0".encode())
    return digest.hexdigest()


def _digest(path: Path) -> bytes:
    """The SHA-256 of the file; empty for what `load` will refuse."""
    with suppress(OSError, ValueError):
        if path.is_file() and path.stat().st_size <= MOST_BYTES:
            return hashlib.sha256(path.read_bytes()).digest()
    return b""


def _write(cache: Path, whole: bytes) -> None:
    """Old or new, never half: another start may be reading it."""
    new = cache.with_name(f"{cache.name}.{os.getpid()}")
    try:
        new.write_bytes(whole)
        new.replace(cache)
    except OSError:
        new.unlink(missing_ok=True)
        raise

"""A library once proved is kept from one start to the next; only what has changed is proved again."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from contextlib import suppress
from functools import cached_property
from pathlib import Path

from sitelog import kept
from sitelog.checklist.schema.shipped import MOST_BYTES, shipped_folder, toml_files

TYPE_CHECKING = False  # a library is loaded with what it is made of
if TYPE_CHECKING:
    from sitelog.checklist.schema.model import Library


class Lists:
    """The shipped checklists, then those of each folder, which add to them or replace them by id.

    They are read and proved when they are asked for, and `key` tells them before. `shipped` stands in for the shipped
    folder.
    """

    def __init__(self, folders: Sequence[Path] = (), *, shipped: Path | None = None) -> None:
        self.folders = tuple(folders)
        self.shipped = shipped or shipped_folder()

    @cached_property
    def key(self) -> str:
        """A digest of every list's name and bytes, and of what they are read with."""
        paths = [path for folder in (self.shipped, *self.folders) for path in toml_files(folder)]
        return kept.key_of(b"lists", *(part for path in paths for part in (os.fsencode(path), _digest(path))))

    def __call__(self) -> Library:
        """What `load` gives. Raises Faults as it does."""
        return kept.cached(self.key, self._proved)

    def _proved(self) -> Library:
        from sitelog.checklist.load import load

        return load(self.folders, shipped=self.shipped)


def key_of(texts: Sequence[tuple[str, str]]) -> str:
    """The key of files that a job keeps, each told by its name and text."""
    return kept.key_of(b"own lists", *(part.encode("utf-8", "surrogatepass") for text in texts for part in text))


def _digest(path: Path) -> bytes:
    """The SHA-256 of the file; empty for what `load` will refuse."""
    with suppress(OSError, ValueError):
        if path.is_file() and path.stat().st_size <= MOST_BYTES:
            return hashlib.sha256(path.read_bytes()).digest()
    return b""

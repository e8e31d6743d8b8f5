"""How a job's tables reach the disk and come back: whole or not at all, with the last good copies kept."""

import os
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec

from sitelog.job.storage.disk import (
    LARGEST,
    Stamp,
    begun,
    beside,
    fill,
    is_link,
    load,
    make_folder,
    named,
    no_links,
    reason,
    rights,
    second_name,
    stamp,
    sync_folder,
)
from sitelog.refusal import DAMAGED, NOT_SAVED, Refusal
from sitelog.text import clean

Tables = dict[str, dict[str, Any]]

COPIES = 3


class WholeFile:
    """The tables of one TinyDB file: `TinyDB(path, storage=WholeFile)`, or used by itself, which loads no TinyDB.

    A write goes to a new file beside the old one, on to the disk, and only then takes its name. It is refused
    if the file is no longer the one last read or written here. A missing or empty file is never taken for a
    new job: reading refuses it. Links are followed first, so that a save never replaces a link by a file.
    """

    def __init__(self, path: str | Path) -> None:
        self.path = Path(os.path.realpath(path))
        self._copies = beside(self.path) / "copies"
        self._stamp: Stamp | None = None

    def read(self) -> Tables:
        """The tables as they stand on the disk; `Refusal` 2 (no such file, no right to it) or 3 (damaged)."""
        return parse(self.read_bytes(), named(self.path))

    def read_bytes(self) -> bytes:
        """The file's bytes, keeping in mind which file they came from; refuses as `read` does."""
        raw, self._stamp = load(self.path)
        return raw

    def write(self, data: Tables) -> None:
        """Put the tables on the disk; `Refusal` 4 (not saved, or changed underneath), the file as it was.

        Only if the very last step fails, the sync of the folder, does the new file stand, but it may not
        outlast a power cut: that is refused too, and to write the same again is right.
        """
        raw = msgspec.json.encode(data)
        self.must_hold(len(raw))
        try:
            self._replace(raw)
        except OSError as error:
            what = f"{named(self.path)}: {reason(error)}"
            raise Refusal(f"Not saved: {what}. The file has not changed. Try again.", code=NOT_SAVED) from error
        try:
            sync_folder(self.path.parent)
        except OSError as error:
            what = f"{named(self.path)} may be lost in a power cut: {reason(error)}"
            raise Refusal(f"Not safely saved: {what}. Try again.", code=NOT_SAVED) from error

    def close(self) -> None:
        """What TinyDB asks of every storage; nothing is held open."""

    @property
    def size(self) -> int:
        """Bytes of the file last read or written here."""
        if not self._stamp:
            return 0
        return self._stamp[1]

    def must_hold(self, size: int) -> None:
        """`Refusal` 4 if a file of so many bytes could not be opened again."""
        if size > LARGEST:
            raise Refusal(f"Not saved: {named(self.path)} would be over {LARGEST >> 20} MB.", code=NOT_SAVED)

    def changed(self) -> bool:
        """Is the file on the disk another than the one last read or written here?"""
        return stamp(self.path) != self._stamp

    def copies(self) -> list[Path]:
        """The kept copies of earlier states, newest first."""
        return [copy for copy in self._numbered() if not is_link(copy)]

    def _numbered(self) -> list[Path]:
        found = self._copies.iterdir() if self._copies.is_dir() and not is_link(self._copies) else ()
        return sorted((copy for copy in found if _number(copy)), key=_number, reverse=True)

    def _replace(self, raw: bytes) -> None:
        new, handle = begun(self.path, self.path)
        try:
            made = fill(handle, raw)
            if self.changed():
                raise Refusal(
                    (
                        f"Not saved: another program changed {named(self.path)} after you opened it. Nothing was "
                        "overwritten. Try again."
                    ),
                    code=NOT_SAVED,
                )
            if self._stamp is not None:
                self._keep_copy()
            new.replace(self.path)
        except BaseException:
            with suppress(OSError):
                new.unlink()
            raise
        self._stamp = made

    def _keep_copy(self) -> None:
        """The state before this save becomes the newest copy: a second name for it, so nothing is copied."""
        no_links(self._copies.parent, self._copies)
        kept = self.copies()
        # A save that failed after this step has kept this state already.
        if not kept or not _same(kept[0], self.path):
            make_folder(self._copies.parent, self.path)
            make_folder(self._copies, self.path)
            number = max(map(_number, self._numbered()), default=0) + 1
            second_name(self.path, self._copies / f"{number:06d}-{self.path.name}")
        mode = rights(self.path)
        for old in kept:
            with suppress(OSError):  # neither a copy's rights nor one copy too many is a reason to refuse an entry
                if mode is not None and rights(old) != mode:
                    old.chmod(mode)
        for old in self.copies()[COPIES:]:
            with suppress(OSError):
                old.unlink()


def parse(raw: bytes, name: str) -> Tables:
    """Bytes as TinyDB tables: {table: {document number: document}}; `Refusal` 3 that says what is wrong."""
    if not raw:
        raise Refusal(f"{name} is empty: not a job.", code=DAMAGED)
    try:
        tables = msgspec.json.decode(raw)
        # What writes back as the same bytes can't have held a name twice; anything else is looked through.
        if msgspec.json.encode(tables) != raw:
            import json  # a file of our own layout is read without

            json.loads(raw, object_pairs_hook=_once)
    except _TwiceError as twice:
        raise Refusal(f"{name} is damaged or not a job: {clean(str(twice))}.", code=DAMAGED) from None
    except (ValueError, RecursionError):
        raise Refusal(f"{name} is damaged or not a job: {_unreadable(raw)}.", code=DAMAGED) from None
    if not _is_tables(tables):
        raise Refusal(f"{name} is damaged or not a job: it doesn't have TinyDB tables.", code=DAMAGED)
    return dict(tables)


class _TwiceError(ValueError):
    """One name twice in one object."""


def _unreadable(raw: bytes) -> str:
    """Why bytes can't be read as JSON, in our own words: what a library says of it changes with its version."""
    import json

    try:
        text = raw.decode()
    except UnicodeDecodeError as error:
        return f"byte {error.start + 1} isn't UTF-8 text"
    try:
        json.loads(text, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        return f"it stops being JSON at byte {len(text[: error.pos].encode()) + 1}"
    except RecursionError:
        return "its lists are nested too deep"
    except ValueError:
        pass
    return "it has a number or a letter that JSON doesn't allow"


def _no_number(word: str) -> float:
    raise ValueError(word)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    seen: set[str] = set()
    for key, _ in pairs:
        if key in seen:
            raise _TwiceError(f"the name '{key}' is in one place twice")
        seen.add(key)
    return dict(pairs)


def _is_tables(tables: object) -> bool:
    return isinstance(tables, dict) and all(
        isinstance(table, dict) and all(number.isdecimal() and isinstance(doc, dict) for number, doc in table.items())
        for table in tables.values()
    )


def _same(copy: Path, path: Path) -> bool:
    """By time and size: on a disk that knows no second names, a copy has another inode."""
    first, other = stamp(copy), stamp(path)
    return first is not None and other is not None and first[:2] == other[:2]


def _number(copy: Path) -> int:
    """A copy's number, from 1; 0 for any other file."""
    head = copy.name.partition("-")[0]
    if not head.isdecimal():
        return 0
    return int(head)

"""The lines of a journal: each with its sum, and what they say of the entries when one was changed or broken off."""

import hashlib
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from sitelog.job.log.entry import Entry
from sitelog.job.storage.format import entry_of, is_id
from sitelog.refusal import Refusal

KIND = 1  # of journal: a program that knows only lower ones leaves it alone

_SAVE = msgspec.json.Decoder(list[Entry])
_SUM = 16  # hex digits of a SHA-256
_ID = rb'"id":"([0-9]{13}-[A-Za-z0-9_-]{1,40}-[0-9]{6,})"'
_NEVER_WRITTEN = bytes(8)  # JSON has no such byte; a disk that lost its power leaves whole blocks of them


class Left(Struct, frozen=True):
    """What stands in a journal. `job` and `seals` are of the file that it goes on from.

    `fault` says which line is not as it was written; the entries of all others are there. `spoilt` says the same where
    no line follows that goes on from it. `torn` is a last line that was never confirmed, and is not there. `strange`
    says why this program must not touch it.
    """

    job: str = ""
    seals: Mapping[str, Any] | None = None
    entries: tuple[Entry, ...] = ()
    fault: str = ""
    spoilt: str = ""
    strange: str = ""
    torn: bool = False

    @property
    def as_written(self) -> bool:
        """Was every line read, to its end?"""
        return not (self.fault or self.spoilt or self.strange or self.torn)


class Row(NamedTuple):
    """One line: its JSON, whether it is as it was written, and whether it was written to its end."""

    text: bytes
    whole: bool
    ended: bool


def line(before: bytes, text: bytes) -> tuple[bytes, bytes]:
    """A line to be written after one with the sum `before`, and its own sum."""
    own = sum_of(before, text)
    return b"%s %s\n" % (text, own), own


def sum_of(before: bytes, text: bytes) -> bytes:
    """The beginning of a SHA-256 over the sum of the line before and the JSON of this one."""
    return hashlib.sha256(before + text).hexdigest()[:_SUM].encode()


def last_sum(raw: bytes) -> bytes:
    """The sum at the end of the last line of a journal that is whole."""
    return raw[-_SUM - 1 : -1]


def left(raw: bytes) -> Left:
    """The bytes of a journal, understood as far as they can be."""
    rows = list(_rows(raw))
    first = _first(rows)
    if type(first.get("journal")) is not int:
        return Left(fault="its first line has been changed since it was written")
    found = Left(str(first.get("job")), first.get("seals"))
    if first["journal"] > KIND:
        return replace(found, strange="its newest entries were written by a newer sitelog")
    saves = [_save(row.text) for row in rows[1:] if row.whole]
    entries = tuple(entry for entries, _ in saves for entry in entries)
    found = replace(found, entries=entries, strange=next((strange for _, strange in saves if strange), ""))
    return _damaged(found, rows)


def unread(raw: bytes) -> Iterator[str]:
    """The ids of the entries in those lines of a journal that can't be read; "" for a line that shows none."""
    first, *rows = _rows(raw) or [Row(b"", False, False)]
    believed = bool(_first([first]))
    for row in rows:
        if row.ended and not (believed and row.whole):
            yield from [found.decode() for found in re.findall(_ID, row.text)] or [""]


def _damaged(found: Left, rows: Sequence[Row]) -> Left:
    """The same, with the line that was changed; or torn, where a crash broke off the last."""
    found = replace(found, torn=any(not row.ended for row in rows))
    broken = next((at for at, row in enumerate(rows) if row.ended and not row.whole), None)
    if broken is None:
        return found
    told = f"its line {broken + 1} has been changed since it was written"
    if any(row.whole for row in rows[broken:]):
        return replace(found, fault=told)
    return replace(found, spoilt=told)


def _rows(raw: bytes) -> list[Row]:
    """Each line; of those too short to be one, the first.

    A last line without its end was being written, or was never on the disk in part; any other was confirmed.
    """
    *lines, rest = raw.split(b"\n")
    before, short = b"", False
    rows = []
    for number, line in enumerate(lines, 1):
        if len(line) > _SUM:
            text, _, said = line.rpartition(b" ")
            whole = said == sum_of(before, text)
            rows.append(Row(text, whole, whole or number < len(lines) or bool(rest) or _NEVER_WRITTEN not in line))
            before = said
        elif not short:
            short = True
            rows.append(Row(line, False, True))
    if rest:
        text, _, said = rest[:-1].rpartition(b" ")
        rows.append(Row(rest, False, said == sum_of(before, text)))  # its last byte alone is another
    return rows


def _first(rows: Sequence[Row]) -> dict[str, Any]:
    """The first line of a journal, which tells whose it is; nothing where it isn't as it was written."""
    if not rows or not rows[0].whole:
        return {}
    try:
        found = msgspec.json.decode(rows[0].text)
    except (ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return found


def _save(text: bytes) -> tuple[list[Entry], str]:
    """The entries of one save, and why this program must not touch them ("" if it may)."""
    unknown = "its newest entries have something this sitelog doesn't know"
    try:
        entries = _SAVE.decode(text)
        if all(is_id(entry.id) for entry in entries):
            return entries, "" if msgspec.json.encode(entries) == text else unknown
        return [], unknown
    except (ValueError, RecursionError):
        return _newer(text), unknown


def _newer(text: bytes) -> list[Entry]:
    """Entries with acts of a newer program; none if they are not even that."""
    try:
        docs = msgspec.json.decode(text, type=list[dict[str, Any]])
        return [entry_of(doc) for doc in docs]
    except (Refusal, ValueError, RecursionError):
        return []

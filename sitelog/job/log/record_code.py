"""The record code: what a pack prints so that its reader can tell later whether the record has lost its end."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from operator import attrgetter

from sitelog.job.log.entry import Ends, Entry, ends_with
from sitelog.text import clean

CODE_LENGTHS = (20, 12)  # hex digits of a record code, newest first; the others are on older packs

Digests = Mapping[str, tuple[str, ...]]  # by device, of the last entries of its chain


def digests_of(last: Ends) -> Digests:
    """The digests that a record code is worked from."""
    return {device: tuple(sorted(entry.digest() for entry in last[device])) for device in sorted(last)}


def code_of(ends: Digests) -> str:
    """The record code over those digests, in order of device: hex digits."""
    text = "".join(f"{device}:{','.join(sorted(ends[device]))};" for device in sorted(ends))
    return hashlib.sha256(text.encode()).hexdigest()[: CODE_LENGTHS[0]]


def record_code(last: Ends) -> str:
    """The code of a job whose chains end there."""
    return code_of(digests_of(last))


def as_printed(text: str) -> str:
    """A record code as packs print it, however it was typed."""
    return clean(text).replace(" ", "").lower()


def same_code(printed: str, code: str) -> bool:
    """Whether a pack's code, of today's length or an older one, is that code."""
    return len(printed) in CODE_LENGTHS and code.startswith(printed)


def entries_at(entries: Iterable[Entry], printed: str) -> list[Entry] | None:
    """The entries that were there when a pack printed that code; None where they are not the first ones.

    Where copies were joined since, entries of another device stand between them.
    """
    rows = sorted(entries, key=attrgetter("id"))
    for count, code in enumerate(codes(rows), 1):
        if same_code(printed, code):
            return rows[:count]
    return None


def codes(rows: Iterable[Entry], beside: Digests | None = None) -> Iterator[str]:
    """The record code after each of the entries, in order of id; `beside` are the ends of chains not among them."""
    found: Ends = {}
    ends = dict(beside or {})
    for entry in rows:
        found[entry.device] = ends_with(found.get(entry.device, ()), entry)
        ends[entry.device] = tuple(end.digest() for end in found[entry.device])
        yield code_of(ends)

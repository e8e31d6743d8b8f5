"""The record code: what a pack prints so that its reader can tell later whether the record has lost its end."""

import hashlib
from collections.abc import Iterable, Iterator
from operator import attrgetter

from sitelog.job.log.entry import Ends, Entry, ends_with
from sitelog.text import clean

CODE_LENGTHS = (20, 12)  # hex digits of a record code, newest first; the others are on older packs


def record_code(last: Ends) -> str:
    """The code of a job: hex digits over the last digests of every device, in order of device."""
    digests = {device: ",".join(sorted(entry.digest() for entry in last[device])) for device in sorted(last)}
    text = "".join(f"{device}:{digest};" for device, digest in digests.items())
    return hashlib.sha256(text.encode()).hexdigest()[: CODE_LENGTHS[0]]


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
    for count, code in enumerate(_codes(rows), 1):
        if same_code(printed, code):
            return rows[:count]
    return None


def leads_to(entries: Iterable[Entry], printed: str) -> bool:
    """True when a pack's code is that of these entries, or of those up to any one of them.

    Where copies were joined since, the pack that was entered vouches for it.
    """
    rows = list(entries)
    if any(entry.act == "handover" and entry.value.get("head") == printed for entry in rows):
        return True
    return entries_at(rows, printed) is not None


def _codes(rows: Iterable[Entry]) -> Iterator[str]:
    found: Ends = {}
    for entry in rows:
        found[entry.device] = ends_with(found.get(entry.device, ()), entry)
        yield record_code(found)

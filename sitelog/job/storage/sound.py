"""A record that is as it was saved, proved in one pass over its bytes. However long it is, little is held."""

import hashlib
from collections.abc import Mapping
from datetime import datetime
from typing import Any

import msgspec
from msgspec import Struct

from sitelog.job.log.clocks import OddTimes
from sitelog.job.log.entry import FIRST, Entry, is_named
from sitelog.job.log.record_code import code_of, same_code
from sitelog.job.log.witness import kept_ends
from sitelog.job.storage.format import is_id, job_document
from sitelog.refusal import Refusal

_HEAD, _TAIL = b'{"job":{"1":%s},"entries":{', b"}}"


class _Tables(Struct, forbid_unknown_fields=True):
    job: dict[str, dict[str, Any]]
    entries: dict[str, msgspec.Raw]


class _End(Struct, frozen=True):
    """The last entry of a device's chain so far."""

    seq: int
    digest: str


_BEGINNING = _End(0, FIRST)


class Sound(Struct, frozen=True):
    """What is wanted of a sound record: its entries with photos, its odd times, whether a pack's code comes of it."""

    job: str  # its id
    ends: frozenset[str]  # digests
    with_photos: tuple[Entry, ...]
    odd: tuple[str, ...]
    leads: bool


def sound(
    raw: bytes, now: datetime | None = None, printed: str = "", beside: Mapping[str, Entry] | None = None
) -> Sound | None:
    """The record in those bytes if each byte is as this program saves it; None if any is not: then look closer.

    What stands `beside` it, by id, must be in it. One whose chains have more than one end, or whose packs were made on
    a copy that lacked entries, is None, too.
    """
    walk = _Walk(now, printed, dict(beside or {}))
    try:
        found = msgspec.json.decode(raw, type=_Tables)
        size = sum(walk.take(number, *row) for number, row in enumerate(found.entries.items(), 1))
        heading = walk.heading()
        head = _HEAD % msgspec.json.encode(heading)
    except (Refusal, ValueError, OverflowError, RecursionError, _OtherError):
        return None
    if walk.beside or not raw.startswith(head) or len(raw) != len(head) + size - 1 + len(_TAIL):
        return None
    return Sound(heading["id"], walk.ends(), tuple(walk.with_photos), tuple(walk.times.lines()), walk.leads)


class _OtherError(Exception):
    """It is not as this program saves it."""


class _Walk:
    """From one entry to the next, in order of id."""

    def __init__(self, now: datetime | None, printed: str, beside: dict[str, Entry]) -> None:
        self.beside = beside  # what was not met with so far
        self.times = OddTimes(now)
        self.with_photos: list[Entry] = []
        self.leads = False
        self._printed = printed
        self._starts: list[Entry] = []
        self._id = ""
        self._ends: dict[str, _End] = {}
        self._entry = msgspec.json.Decoder(Entry)
        self._plain, self._sorted = msgspec.json.Encoder(), msgspec.json.Encoder(order="sorted")

    def take(self, number: int, key: str, raw: msgspec.Raw) -> int:
        """One more entry; how many bytes it takes in the file, with its number and a comma."""
        entry = self._entry.decode(raw)
        text = self._plain.encode(entry)
        if memoryview(raw) != text or key != str(number) or not self._follows(entry) or not self._is_over(entry):
            raise _OtherError
        if self.beside.pop(entry.id, entry) != entry:
            raise _OtherError
        self._id = entry.id
        self._starts = self._starts or [entry]
        self._ends[entry.device] = _End(entry.seq, hashlib.sha256(self._sorted.encode(entry)).hexdigest())
        if "photos" in entry.value:
            self.with_photos.append(entry)
        self.times.take(entry)
        if self._printed and not self.leads:
            self.leads = same_code(self._printed, code_of(self._digests()))
        return len(text) + len(key) + len('"":,')

    def heading(self) -> Mapping[str, Any]:
        """The document of table `job`; `Refusal` where there is no start."""
        seals = {device: {"seq": end.seq, "digest": end.digest} for device, end in sorted(self._ends.items())}
        return {**job_document(self._starts), "seals": seals}

    def ends(self) -> frozenset[str]:
        """The digests of the last entries."""
        return frozenset(end.digest for end in self._ends.values())

    def _follows(self, entry: Entry) -> bool:
        before = self._ends.get(entry.device, _BEGINNING)
        return (
            (entry.seq, entry.prev) == (before.seq + 1, before.digest)
            and entry.id > self._id
            and is_id(entry.id)
            and is_named(entry)
        )

    def _is_over(self, pack: Entry) -> bool:
        """Is its record code over the ends that stand before it, if it is a pack that kept them?"""
        if pack.act != "handover" or "ends" not in pack.value:
            return True
        ends = self._digests()
        return kept_ends(pack.value) == ends and same_code(str(pack.value.get("head")), code_of(ends))

    def _digests(self) -> dict[str, tuple[str, ...]]:
        return {device: (end.digest,) for device, end in self._ends.items()}

"""A record that is as it was saved, proved in one pass over its bytes. However long it is, little is held."""

import hashlib
from collections.abc import Iterator, Mapping
from datetime import datetime
from typing import Any, Self

import msgspec
from msgspec import Struct

from sitelog.job.log.chains import missing
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
    """The last entry of a device's chain so far, or of a branch of it."""

    seq: int
    digest: str


_BEGINNING = _End(0, FIRST)


class Sound(Struct, frozen=True):
    """What is wanted of a sound record: its entries with photos, its odd times, whether a pack's code comes of it.

    `gaps` are the numbers that are missing from chains that are sound all else: a line for each.
    """

    job: str  # its id
    ends: frozenset[str]  # digests
    with_photos: tuple[Entry, ...]
    odd: tuple[str, ...]
    leads: bool
    gaps: tuple[str, ...] = ()


def sound(
    raw: bytes, now: datetime | None = None, printed: str = "", beside: Mapping[str, Entry] | None = None
) -> Sound | None:
    """The record in those bytes if each byte is as this program saves it; None if any is not: then look closer.

    What stands `beside` it, by id, must be in it. Chains that parted and packs made on a copy that lacked entries are
    walked a second time, with every digest held.
    """
    for walk in (_Walk(now, printed, dict(beside or {})), _Apart(now, printed, dict(beside or {}))):
        try:
            return _walked(raw, walk)
        except _OtherError:
            continue
    return None


class Held(Struct):
    """What a sound record has, as far as a copy is held against it: prints of its rows, and of their ids.

    In sound records two rows are the same entry if they are the same bytes.
    """

    first: bytes
    rows: set[bytes]
    ids: set[int]

    @classmethod
    def of(cls, raw: bytes) -> Self:
        """Of the record in those bytes."""
        held = cls(b"", set(), set())
        for mark, id in _marks(raw):
            held.first = held.first or mark
            held.rows.add(mark)
            held.ids.add(id)
        return held

    def lacks(self, raw: bytes) -> int | None:
        """How many entries of another sound record; None where it begins or says otherwise: then look closer."""
        first, new = b"", 0
        for mark, id in _marks(raw):
            first = first or mark
            if mark not in self.rows:
                if id in self.ids:
                    return None
                new += 1
        return new if first == self.first else None


class _Named(Struct):
    id: str


def _marks(raw: bytes) -> Iterator[tuple[bytes, int]]:
    """A print of each row, and of its id."""
    named = msgspec.json.Decoder(_Named)
    for row in msgspec.json.decode(raw, type=_Tables).entries.values():
        yield hashlib.blake2b(row, digest_size=16).digest(), hash(named.decode(row).id)


def _walked(raw: bytes, walk: "_Walk") -> Sound:
    try:
        found = msgspec.json.decode(raw, type=_Tables)
        size = sum(walk.take(number, *row) for number, row in enumerate(found.entries.items(), 1))
        heading = walk.heading()
        head = _HEAD % msgspec.json.encode(heading)
    except (Refusal, ValueError, OverflowError, RecursionError):
        raise _OtherError from None
    if walk.beside or not raw.startswith(head) or len(raw) != len(head) + size - 1 + len(_TAIL):
        raise _OtherError
    return Sound(
        heading["id"], walk.ends(), tuple(walk.with_photos), tuple(walk.times.lines()), walk.leads, walk.gaps()
    )


class _OtherError(Exception):
    """It is not as this program saves it."""


class _Walk:
    """From one entry to the next, in order of id: each chain has one end."""

    def __init__(self, now: datetime | None, printed: str, beside: dict[str, Entry]) -> None:
        self.beside = beside  # what was not met with so far
        self.times = OddTimes(now)
        self.with_photos: list[Entry] = []
        self.leads = False
        self._printed = printed
        self._starts: list[Entry] = []
        self._id = ""
        self._ends: dict[str, tuple[_End, ...]] = {}
        self._gaps: dict[str, list[str]] = {}
        self._entry = msgspec.json.Decoder(Entry)
        self._plain, self._sorted = msgspec.json.Encoder(), msgspec.json.Encoder(order="sorted")

    def take(self, number: int, key: str, raw: msgspec.Raw) -> int:
        """One more entry; how many bytes it takes in the file, with its number and a comma."""
        entry = self._entry.decode(raw)
        text = self._plain.encode(entry)
        if memoryview(raw) != text or key != str(number) or not self._is_named(entry) or not self._is_over(entry):
            raise _OtherError
        if self.beside.pop(entry.id, entry) != entry:
            raise _OtherError
        self._id = entry.id
        self._starts = self._starts or [entry]
        self._go_on(entry, hashlib.sha256(self._sorted.encode(entry)).digest())
        if "photos" in entry.value:
            self.with_photos.append(entry)
        self.times.take(entry)
        if self._printed and not self.leads:
            self.leads = same_code(self._printed, code_of(self._digests()))
        return len(text) + len(key) + len('"":,')

    def heading(self) -> Mapping[str, Any]:
        """The document of table `job`; `Refusal` where there is no start."""
        return {
            **job_document(self._starts),
            "seals": {device: _seal(*self._ends[device]) for device in sorted(self._ends)},
        }

    def ends(self) -> frozenset[str]:
        """The digests of the last entries."""
        return frozenset(end.digest for ends in self._ends.values() for end in ends)

    def gaps(self) -> tuple[str, ...]:
        """The numbers that are missing, device by device."""
        return tuple(line for device in self._ends for line in self._gaps.get(device, ()))

    def _is_named(self, entry: Entry) -> bool:
        return entry.id > self._id and is_id(entry.id) and is_named(entry)

    def _go_on(self, entry: Entry, digest: bytes) -> None:
        """The entry is its chain's new end. A gap before it is told, as none can vouch for what is gone."""
        (before,) = self._ends.get(entry.device, (_BEGINNING,))
        if entry.seq > before.seq + 1:
            told = missing(before.seq + 1, entry.seq - 1, entry.device)
            self._gaps.setdefault(entry.device, []).append(f"{told} before entry {entry.id}.")
        elif (entry.seq, entry.prev) != (before.seq + 1, before.digest):
            raise _OtherError
        self._ends[entry.device] = (_End(entry.seq, digest.hex()),)

    def _is_over(self, pack: Entry) -> bool:
        """Is its record code over the ends that stand before it, if it is a pack that kept them?"""
        if pack.act != "handover" or "ends" not in pack.value:
            return True
        ends = self._digests()
        return kept_ends(pack.value) == ends and same_code(str(pack.value.get("head")), code_of(ends))

    def _digests(self) -> dict[str, tuple[str, ...]]:
        return {device: tuple(end.digest for end in ends) for device, ends in self._ends.items()}


class _Apart(_Walk):
    """The same where copies went on apart and were joined: a chain is a tree, and a pack may know only part of it."""

    def __init__(self, now: datetime | None, printed: str, beside: dict[str, Entry]) -> None:
        super().__init__(now, printed, beside)
        self._known: dict[str, dict[bytes, int]] = {}  # the numbers of a device's entries, by their digests
        self._promised: set[tuple[str, bytes]] = set()  # what packs are over

    def heading(self) -> Mapping[str, Any]:
        """The same, once all that packs are over was met with."""
        if not all(digest in self._known.get(device, ()) for device, digest in self._promised):
            raise _OtherError
        return super().heading()

    def _go_on(self, entry: Entry, digest: bytes) -> None:
        known = self._known.setdefault(entry.device, {bytes.fromhex(FIRST): 0})
        if known.get(bytes.fromhex(entry.prev)) != entry.seq - 1:
            raise _OtherError
        known[digest] = entry.seq
        others = (end for end in self._ends.get(entry.device, ()) if end.digest != entry.prev)
        self._ends[entry.device] = (*others, _End(entry.seq, digest.hex()))

    def _is_over(self, pack: Entry) -> bool:
        if pack.act != "handover" or "ends" not in pack.value:
            return True
        over, head = kept_ends(pack.value), str(pack.value.get("head"))
        self._promised |= {(device, bytes.fromhex(digest)) for device, ends in over.items() for digest in ends}
        self.leads = self.leads or (head == self._printed and bool(head))
        return same_code(head, code_of(over))


def _seal(*ends: _End) -> dict[str, Any]:
    """As format.py seals the ends of a device's chain: the last by id, and the others under `also`."""
    *others, end = ({"seq": end.seq, "digest": end.digest} for end in ends)
    return {**end, "also": others} if others else end

"""Whether every entry stands in its device's chain, and which does not: each is vouched for by the one after it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitelog.job.entry import FIRST, Entry
from sitelog.text import clean


@dataclass(frozen=True)
class Link:
    """An entry with the digest of the document it came from."""

    entry: Entry
    digest: str

    def __str__(self) -> str:
        entry = self.entry
        what = f"{clean(entry.act, most=40)} {clean(entry.path, most=80)}".strip()
        return f"Entry {clean(entry.id, most=60)} ({what}, by {clean(entry.by, most=60)})"


Numbered = Mapping[int, Sequence[Link]]  # the links of one device by their number: one each, more where copies parted


def chains(links: Iterable[Link], seals: Mapping[str, object]) -> Iterator[str]:
    """What is wrong with the chain of each device; the heading's seals vouch for their ends."""
    devices: dict[str, dict[int, list[Link]]] = {}
    for link in links:
        devices.setdefault(link.entry.device, {}).setdefault(link.entry.seq, []).append(link)
    for device, chain in devices.items():
        numbered = dict(sorted(chain.items()))
        sealed = _Seal.of(seals.get(device))
        yield from _gaps(device, numbered)
        yield from _order(numbered)
        yield from _changed(device, numbered, sealed)
    for device in sorted(seals.keys() - devices.keys()):
        yield f"Every entry of device {clean(device, most=40)} is missing: the heading counts them."


def loose(links: Iterable[Link], among: Iterable[Link]) -> list[Link]:
    """Those whose entry before them, on their device, is not among the others."""
    there = {(link.entry.device, link.entry.seq, link.digest) for link in among}
    return [
        link
        for link in links
        if link.entry.seq > 1 and (link.entry.device, link.entry.seq - 1, link.entry.prev) not in there
    ]


@dataclass(frozen=True)
class _Seal:
    """What the heading says of the ends of a device's chain."""

    seq: int
    digests: frozenset[str]

    @classmethod
    def of(cls, seal: object) -> "_Seal":
        found = seal if isinstance(seal, dict) else {}
        seq, also = found.get("seq"), found.get("also", [])
        every = [found.get("digest"), *(also if isinstance(also, list) else [])]
        digests = frozenset(digest for digest in every if isinstance(digest, str))
        return cls(seq if isinstance(seq, int) else 0, digests)


def _gaps(device: str, chain: Numbered) -> Iterator[str]:
    wanted = 1
    for seq, links in chain.items():
        if seq > wanted:
            yield f"{_missing(wanted, seq - 1, device)} before entry {links[0].entry.id}."
        wanted = seq + 1


def _order(chain: Numbered) -> Iterator[str]:
    for seq, links in chain.items():
        before = {link.digest: link.entry for link in chain.get(seq - 1, ())}
        first = next(iter(before.values()), None)
        for link in links:
            known = before.get(link.entry.prev, first)
            if known is not None and link.entry.id < known.id:
                yield f"{link}: it follows {known.id} but its id sorts before it."


def _changed(device: str, chain: Numbered, sealed: _Seal) -> Iterator[str]:
    """The entries that neither a follower nor the seal vouches for, and those that should be there and are not."""
    last = max(chain)
    if sealed.seq > last:
        yield f"{_missing(last + 1, sealed.seq, device)} at the end: the heading counts them."
    doubtful = {seq: [k for k in links if not _vouched(k, chain, sealed)] for seq, links in chain.items()}
    in_doubt = []
    for seq, links in doubtful.items():
        for link in links:
            if doubtful.get(seq + 1):
                in_doubt.append(link)
            else:
                yield f"{link}: it is not as it was entered."
    for link in in_doubt:
        yield f"{link}: nothing vouches for it, as the entry after it was changed."
    yield from _lost(device, chain, doubtful, sealed)


def _vouched(link: Link, chain: Numbered, sealed: _Seal) -> bool:
    if link.entry.seq == 1 and link.entry.prev != FIRST:
        return False
    if link.digest in sealed.digests or any(f.entry.prev == link.digest for f in chain.get(link.entry.seq + 1, ())):
        return True
    # Before a gap there is none that could vouch for it: the gap is told.
    last = max(max(chain), sealed.seq)
    return link.entry.seq < last and link.entry.seq + 1 not in chain


def _lost(device: str, chain: Numbered, doubtful: Numbered, sealed: _Seal) -> Iterator[str]:
    """What is missing where copies parted: there a number that is still there hides one that is not."""
    links = [link for some in chain.values() for link in some]
    for link in loose(links, links):
        if link.entry.seq - 1 in chain and not doubtful[link.entry.seq - 1]:
            yield f"{link}: the entry that it follows is missing."
    unseen = sealed.digests - {link.digest for link in links}
    if unseen and sealed.seq <= max(chain) and not any(doubtful.values()):
        yield f"The last entry of a copy on device {clean(device, most=40)} is missing: the heading seals it."


def _missing(first: int, last: int, device: str) -> str:
    numbers = f"Number {first}" if first == last else f"Numbers {first} to {last}"
    verb = "is" if first == last else "are"
    return f"{numbers} of device {clean(device, most=40)} {verb} missing"

"""Whether every entry stands in its device's chain, and which does not: each is vouched for by the one after it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.job.log.entry import FIRST, Entry
from sitelog.text import clean


class Link(Struct, frozen=True):
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
        sealed = dict(_sealed(seals.get(device)))
        yield from _gaps(device, numbered)
        yield from _order(numbered)
        yield from _changed(device, numbered, sealed)
    for device in sorted(seals.keys() - devices.keys()):
        yield f"Every entry from device {clean(device, most=40)} is missing: the heading still counts them."


def loose(links: Iterable[Link], among: Iterable[Link]) -> list[Link]:
    """Those whose entry before them, on their device, is not among the others."""
    there = {(link.entry.device, link.entry.seq, link.digest) for link in among}
    return [
        link
        for link in links
        if link.entry.seq > 1 and (link.entry.device, link.entry.seq - 1, link.entry.prev) not in there
    ]


def _sealed(seal: object) -> Iterator[tuple[str, int]]:
    """Digest and number of each end of a device's chain, as the heading has them."""
    first = seal if isinstance(seal, dict) else {}
    also = first.get("also")
    for end in (first, *(also if isinstance(also, list) else ())):
        if isinstance(end, dict) and isinstance(end.get("digest"), str) and isinstance(end.get("seq"), int):
            yield end["digest"], end["seq"]


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
                yield f"{link}: it comes after {known.id}, but its id says it was earlier."


def _changed(device: str, chain: Numbered, sealed: Mapping[str, int]) -> Iterator[str]:
    """The entries that neither a follower nor a seal vouches for, and those that should be there and are not."""
    last, counted = max(chain), max(sealed.values(), default=0)
    if counted > last:
        yield f"{_missing(last + 1, counted, device)} at the end: the heading still counts them."
    links = [link for some in chain.values() for link in some]
    orphans = loose(links, links)
    after_none = {link.entry.seq for link in orphans}
    there = {link.digest for link in links}
    unseen = {seq for digest, seq in sealed.items() if digest not in there}
    end = max(last, counted)
    doubtful = {seq: [k for k in some if not _vouched(k, chain, sealed, end)] for seq, some in chain.items()}
    # Where copies parted, another entry of the same number can stand there though one is missing.
    lost = [k for k in orphans if k.entry.seq - 1 in chain and not doubtful[k.entry.seq - 1]]
    cut = [seq for seq in sorted(unseen) if seq in chain and not doubtful[seq]]
    absent = {k.entry.seq - 1 for k in lost} | set(cut)
    in_doubt = []
    for seq, some in doubtful.items():
        told_as_missing = seq + 1 in absent and seq not in unseen and seq + 1 not in after_none
        for link in () if told_as_missing else some:
            if doubtful.get(seq + 1):
                in_doubt.append(link)
            else:
                yield f"{link}: it has been changed since it was entered."
    for link in in_doubt:
        yield f"{link}: it can't be checked, because the entry after it was changed."
    for link in lost:
        yield f"{link}: the entry before it is missing."
    for seq in cut:
        yield f"{_missing(seq, seq, device)} from one of the copies that were joined: the heading still counts it."


def _vouched(link: Link, chain: Numbered, sealed: Mapping[str, int], end: int) -> bool:
    """`end` is the highest number that the chain or the heading knows."""
    if link.entry.seq == 1 and link.entry.prev != FIRST:
        return False
    if link.digest in sealed or any(f.entry.prev == link.digest for f in chain.get(link.entry.seq + 1, ())):
        return True
    # Before a gap there is none that could vouch for it: the gap is told.
    return link.entry.seq < end and link.entry.seq + 1 not in chain


def _missing(first: int, last: int, device: str) -> str:
    numbers = f"Number {first}" if first == last else f"Numbers {first} to {last}"
    verb = "is" if first == last else "are"
    return f"{numbers} from device {clean(device, most=40)} {verb} missing"

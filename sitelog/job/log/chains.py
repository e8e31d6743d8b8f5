"""Whether every entry stands in its device's chain, and which does not: each is vouched for by the one after it."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.job.log.entry import FIRST, Entry
from sitelog.job.log.parts import items, mapping
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
        yield f"Every entry from device {clean(device, most=40)} is missing, though the file's heading counts them."


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
    first = mapping(seal)
    for end in (first, *items(first.get("also"))):
        if isinstance(end, dict) and isinstance(end.get("digest"), str) and isinstance(end.get("seq"), int):
            yield end["digest"], end["seq"]


def _gaps(device: str, chain: Numbered) -> Iterator[str]:
    wanted = 1
    for seq, links in chain.items():
        if seq > wanted:
            yield f"{missing(wanted, seq - 1, device)} before entry {links[0].entry.id}."
        wanted = seq + 1


def _order(chain: Numbered) -> Iterator[str]:
    for seq, links in chain.items():
        before = {link.digest: link.entry for link in chain.get(seq - 1, ())}
        first = next(iter(before.values()), None)
        for link in links:
            known = before.get(link.entry.prev, first)
            if known is not None and link.entry.id < known.id:
                yield f"{link}: it comes after {known.id}, but its id says it was earlier."


class _Chain(Struct, frozen=True):
    """One device's links against what vouches for them: each is vouched for by the one after it, or by a seal.

    `sealed` has the digest of each end that the heading knows, and its number.
    """

    links: Numbered
    sealed: Mapping[str, int]

    @property
    def last(self) -> int:
        """The highest number that is there."""
        return max(self.links)

    @property
    def counted(self) -> int:
        """The highest number that the heading knows."""
        return max(self.sealed.values(), default=0)

    def doubtful(self) -> dict[int, list[Link]]:
        """By number, the links that nothing vouches for."""
        end = max(self.last, self.counted)
        return {seq: [link for link in some if not self._vouched(link, end)] for seq, some in self.links.items()}

    def unseen(self) -> set[int]:
        """The numbers of the ends that the heading knows and that are not there."""
        there = {link.digest for some in self.links.values() for link in some}
        return {seq for digest, seq in self.sealed.items() if digest not in there}

    def orphans(self) -> list[Link]:
        """The links whose entry before them is not there."""
        links = [link for some in self.links.values() for link in some]
        return loose(links, links)

    def _vouched(self, link: Link, end: int) -> bool:
        after = link.entry.seq + 1
        if link.entry.seq == 1 and link.entry.prev != FIRST:
            return False
        if link.digest in self.sealed or any(other.entry.prev == link.digest for other in self.links.get(after, ())):
            return True
        # Before a gap there is none that could vouch for it: the gap is told.
        return link.entry.seq < end and after not in self.links


def _changed(device: str, chain: Numbered, sealed: Mapping[str, int]) -> Iterator[str]:
    """The entries that neither a follower nor a seal vouches for, and those that should be there and are not."""
    links = _Chain(chain, sealed)
    doubtful, orphans, unseen = links.doubtful(), links.orphans(), links.unseen()
    if links.counted > links.last:
        yield f"{missing(links.last + 1, links.counted, device)} at the end, though the file's heading counts them."
    # Where copies parted, another entry of the same number can stand there though one is missing.
    lost = [link for link in orphans if _stands_for_another(link.entry.seq - 1, doubtful)]
    cut = [seq for seq in sorted(unseen) if _stands_for_another(seq, doubtful)]
    absent = _numbers_before(lost) | set(cut)
    told_as_missing = {seq - 1 for seq in absent} - unseen - _numbers_before(orphans)
    yield from _in_doubt({seq: some for seq, some in doubtful.items() if seq not in told_as_missing}, doubtful)
    for link in lost:
        yield f"{link}: the entry before it is missing."
    for seq in cut:
        gone = missing(seq, seq, device)
        yield f"{gone} from one of the copies that were joined, though the file's heading counts it."


def _numbers_before(links: Iterable[Link]) -> set[int]:
    return {link.entry.seq - 1 for link in links}


def _stands_for_another(seq: int, doubtful: Mapping[int, Sequence[Link]]) -> bool:
    """Whether there are entries of that number, and all are vouched for."""
    return seq in doubtful and not doubtful[seq]


def _in_doubt(told: Mapping[int, Sequence[Link]], doubtful: Mapping[int, Sequence[Link]]) -> Iterator[str]:
    """The entries that were changed; then those that can't be told because the one after them was."""
    unchecked = []
    for seq, some in told.items():
        for link in some:
            if doubtful.get(seq + 1):
                unchecked.append(link)
            else:
                yield f"{link}: it has been changed since it was entered."
    for link in unchecked:
        yield f"{link}: it can't be checked, because the entry after it was changed."


def missing(first: int, last: int, device: str) -> str:
    """That those numbers of a device are gone."""
    numbers = f"Number {first}" if first == last else f"Numbers {first} to {last}"
    verb = "is" if first == last else "are"
    return f"{numbers} from device {clean(device, most=40)} {verb} missing"

"""What a pack's record code proves: it is worked again from the entries, and never believed because one says so."""

from collections.abc import Iterable, Iterator, Sequence
from operator import attrgetter
from typing import Any

from sitelog.job.log.chains import Link
from sitelog.job.log.entry import FIRST, Entry
from sitelog.job.log.parts import items, mapping
from sitelog.job.log.record_code import Digests, code_of, codes, entries_at, same_code
from sitelog.text import clean


def kept_ends(value: Any) -> Digests:
    """The ends of the chains that a handover's code is over, as its value keeps them; none where it keeps none."""
    kept = mapping(mapping(value).get("ends"))
    return {str(device): tuple(map(str, items(digests))) for device, digests in kept.items()}


def unfit(links: Sequence[Link]) -> Iterator[str]:
    """What is wrong with the packs that were entered: a code that is not over its ends, or ends that are not there."""
    packs = [link for link in links if link.entry.act == "handover" and "ends" in link.entry.value]
    if not packs:
        return
    there = {(link.entry.device, link.digest) for link in links}
    for link in packs:
        ends, head = kept_ends(link.entry.value), str(link.entry.value.get("head"))
        gone = ", ".join(sorted({clean(device, most=40) for device, _ in _flat(ends) - there}))
        if not same_code(head, code_of(ends)):
            yield f"{link}: its record code {clean(head, most=40)} isn't that of the entries it names."
        elif gone:
            yield f"{link}: entries from device {gone} that its record code is over were changed or taken out."


def _flat(ends: Digests) -> set[tuple[str, str]]:
    return {(device, digest) for device, digests in ends.items() for digest in digests}


def packed_as(entries: Iterable[Entry], printed: str) -> list[Entry]:
    """The packs that were entered with that record code."""
    return [entry for entry in entries if entry.act == "handover" and entry.value.get("head") == printed]


def leads_to(entries: Iterable[Entry], printed: str) -> bool:
    """True when a pack's code is worked again from these entries: from the ends that the pack kept, or from those up to
    any one entry.

    An older pack kept no ends. If copies were joined since it was made, the code is looked for as its device's chain
    and what stood of the others at one time: what was joined more than once may not be found.
    """
    rows = sorted(entries, key=attrgetter("id"))
    packs = packed_as(rows, printed)
    return any(_gives(rows, pack, printed) for pack in packs) or entries_at(rows, printed) is not None


def _gives(rows: Sequence[Entry], pack: Entry, printed: str) -> bool:
    """Whether the entries give the pack's code: by the ends that it kept, or looked for where it has none."""
    ends = kept_ends(pack.value)
    if not ends:
        return _found_again(rows, pack, printed)
    there = {(entry.device, entry.digest()) for entry in rows}
    return same_code(printed, code_of(ends)) and _flat(ends) <= there


def _found_again(rows: Sequence[Entry], pack: Entry, printed: str) -> bool:
    """Whether the code is over the chain that the pack goes on from and some first entries of the other devices."""
    own: Digests = {} if pack.prev == FIRST else {pack.device: (pack.prev,)}
    others = [entry for entry in rows if entry.device != pack.device and entry.id < pack.id]
    there = pack.prev == FIRST or any(entry.digest() == pack.prev for entry in rows if entry.device == pack.device)
    return there and any(same_code(printed, code) for code in (code_of(own), *codes(others, own)))

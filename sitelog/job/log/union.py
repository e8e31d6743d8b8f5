"""Entries of one job put together: a set union, the same in whatever order they come."""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from operator import attrgetter

from sitelog.job.log.entry import Entry, alike, in_order
from sitelog.refusal import DAMAGED, Refusal

BY_ID = attrgetter("id")


def joined(held: Sequence[Entry], added: Iterable[Entry]) -> list[Entry]:
    """The union of two sets of entries in order of id.

    Two copies on one device could once give one id to two entries: where each is vouched for in its own set, both are
    kept. `Refusal` 3 if one of them is not: it was changed.
    """
    added = list(added)
    sets = _Vouching(held), _Vouching(added)
    together: dict[str, list[Entry]] = {}
    for entry in (*held, *added):
        known = together.setdefault(entry.id, [])
        if entry not in known:
            known.append(entry)
            if len(known) > 1:
                _must_be_twins(known, sets)
    return in_order(entry for rows in together.values() for entry in rows)


def new_in(held: Sequence[Entry], added: Iterable[Entry]) -> list[Entry]:
    """Those that are not held yet, in order of id, where `held` is; `Refusal` 3 where they contradict each other."""
    return [entry for entry in joined((), added) if entry not in _of_id(held, entry.id)]


def next_in(held: Sequence[Entry], added: Iterable[Entry]) -> list[Entry]:
    """The same of what was just entered: `Refusal` 3, too, if another entry is held under the id of one."""
    found = new_in(held, added)
    for entry in found:
        if _of_id(held, entry.id):
            raise Refusal(twice(entry.id), code=DAMAGED)
    return found


def _of_id(held: Sequence[Entry], id: str) -> Sequence[Entry]:
    at = bisect_left(held, id, key=BY_ID)
    return held[at : bisect_right(held, id, at, key=BY_ID)]


def _must_be_twins(rows: Sequence[Entry], sets: "Sequence[_Vouching]") -> None:
    """Refusal unless all those of one id are of one number on one device, and each set vouches for those it has."""
    for entry in rows:
        if not alike(entry, rows[0]) or not all(vouching.holds(entry) for vouching in sets):
            raise Refusal(twice(entry.id), code=DAMAGED)


def twice(id: str) -> str:
    """What is said of an id that stands for an entry and for one that was changed."""
    return f"Two different entries have the id {id}: one was changed."


class _Vouching:
    """What the entries of one set say of each other; worked only where one id stands for two of them."""

    def __init__(self, entries: Sequence[Entry]) -> None:
        self._entries = entries
        self._numbered: dict[tuple[str, int], list[Entry]] | None = None

    def holds(self, entry: Entry) -> bool:
        """False if an entry of the number after it goes on from one that is not in the set."""
        if self._numbered is None:
            self._numbered = {}
            for one in self._entries:
                self._numbered.setdefault((one.device, one.seq), []).append(one)
        there = self._numbered.get((entry.device, entry.seq), [])
        if entry not in there:
            return True  # this set says nothing of it
        known = {one.digest() for one in there}
        return all(after.prev in known for after in self._numbered.get((entry.device, entry.seq + 1), []))

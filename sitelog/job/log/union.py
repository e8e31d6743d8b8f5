"""Entries of one job put together: a set union, the same in whatever order they come."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from operator import attrgetter

from sitelog.job.log.entry import Entry
from sitelog.refusal import DAMAGED, Refusal

BY_ID = attrgetter("id")


def joined(held: Sequence[Entry], added: Iterable[Entry]) -> list[Entry]:
    """The union of two sets of entries in order of id; `Refusal` 3 if one id stands for two entries."""
    together = {entry.id: entry for entry in held}
    for entry in added:
        if together.setdefault(entry.id, entry) != entry:
            raise Refusal(f"Two different entries have the id {entry.id}: one was changed.", code=DAMAGED)
    return sorted(together.values(), key=BY_ID)


def new_in(held: Sequence[Entry], added: Iterable[Entry]) -> list[Entry]:
    """Those that are not held yet, in order of id, where `held` is; `Refusal` 3 as `joined` gives it."""
    found = []
    for entry in joined((), added):
        at = bisect_left(held, entry.id, key=BY_ID)
        if at == len(held) or held[at].id != entry.id:
            found.append(entry)
        else:
            joined(held[at : at + 1], [entry])
    return found

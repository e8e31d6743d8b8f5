"""Entries of one job put together: a set union, the same in whatever order they come."""

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

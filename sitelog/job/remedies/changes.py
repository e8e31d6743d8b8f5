"""How many timbers another set of figures changes by over what timber is cut to, and which of them most."""

from sitelog.job.remedies.lengths import Timbers, same_place
from sitelog.job.remedies.remedy import GROUPS, Change, Changes

NAMED = 2  # timbers of a way: more are not read before one is chosen


def changes(before: Timbers, after: Timbers, over: float) -> Changes | None:
    """How many timbers change by over that [mm], one that comes new among them; and of the two groups that change most
    the timber that does most. None of a part that lists no timber.
    """
    count = of = 0
    worst: list[Change] = []
    for group in GROUPS:
        moved: list[Change] = []
        for timber in after.get(group, ()):
            was = same_place(timber, before.get(group, ()))
            of += timber.count
            if was is None or abs(timber.length - was.length) > over:
                count += timber.count
                moved += [Change(timber.name, was.length, timber.length)] if was else []
        worst += [max(moved, key=_size)] if moved else []
    return Changes(over, count, of, tuple(sorted(worst, key=_size, reverse=True)[:NAMED])) if of else None


def _size(change: Change) -> float:
    return abs(change.by)

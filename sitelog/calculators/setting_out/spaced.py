"""Rafters at a spacing between two that are fixed: where each stands, and which stand too near each other."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from msgspec import Struct

from sitelog.calculators.catalogue import MOST_ROWS
from sitelog.calculators.inputs import field
from sitelog.geometry.spacings import WAYS, bays, inside
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

NEAR = 0.5  # of the spacing: a rafter nearer than that to the next is told
SHOWN = 0.5  # mm: lengths that differ by less are shown as one
TOO_NEAR = "less than half the spacing"
WITHIN = field("length", "how far a bay may be over the spacing before it needs one more", default=0)
Way = Callable[[str], Sequence[float]]


class Ends(Struct, frozen=True):
    """What the two ends are called; `beyond` is what stands at the last where it is not one of those numbered."""

    first: str = "the first"
    last: str = "the last"
    beyond: str = ""

    def way(self, way: str) -> str:
        """A way of setting out in words."""
        return {"first": f"from {self.first}", "last": f"from {self.last}", "middle": "from the middle"}.get(way, way)

    def count(self, marks: Sequence[float]) -> int:
        """How many of the marks are numbered."""
        return len(marks) - bool(self.beyond and marks)

    def called(self, nth: int, marks: Sequence[float]) -> str:
        """The number of a mark, or what stands there."""
        if self.beyond and nth == len(marks):
            return self.beyond
        return f"{nth}"


def spaced(room: float, spacing: float, thickness: float, way: str = "first", within: float = 0.0) -> list[float]:
    """Centres [mm] between a member at 0 and one at `room`, those two left out, set out in that way.

    One that would touch the member at an end goes midway between its neighbours (common practice): left out it would
    leave more than a spacing.
    """
    marks = inside(room, spacing, way, within)
    if not marks or spacing < 2 * thickness:
        return marks
    if way == "first" and room - marks[-1] < thickness:
        marks[-1] = ([0.0, *marks][-2] + room) / 2
    if way == "last" and marks[0] < thickness:
        marks[0] = [*marks, room][1] / 2
    return marks


def check_count(called: str, room: float, spacing: float) -> None:
    """Refusal for more members over a room [mm] than can be worked."""
    count = bays(room, spacing)
    if count > MOST_ROWS:
        raise Refusal(
            f"{called}: a spacing of {as_typed(spacing)} gives {count} {called}; at most {MOST_ROWS}. Give a "
            "larger spacing"
        )


def smallest_gap(marks: Sequence[float]) -> float | None:
    """The least distance [mm] from one mark to the next; None where there are no two."""
    return min((after - before for before, after in pairwise(marks)), default=None)


def told_near(marks: Sequence[float], spacing: float, way: str, by_way: Way, ends: Ends) -> tuple[str, ...]:
    """What to know of two rafters nearer than half the spacing, and what each other way would give instead.

    `marks` [mm] run from the first end on; `by_way` gives those of another way, the fixed ones with them.
    """
    least = smallest_gap(marks)
    if least is None or least >= spacing * NEAR - SHOWN:
        return ()
    nth = next(n for n, (before, after) in enumerate(pairwise(marks), 1) if after - before == least)
    two = f"{ends.called(nth, marks)} and {ends.called(nth + 1, marks)}"
    others = ((other, by_way(other)) for other in WAYS if other != way)
    told = "; ".join(
        f"{ends.way(other)} gives {ends.count(found)}, smallest gap {_gap(found)}" for other, found in others
    )
    return (f"{two} are {as_worked(least)} apart, {TOO_NEAR}. Other ways: {told}",)


def _gap(marks: Sequence[float]) -> str:
    least = smallest_gap(marks)
    if least is None:
        return "none"
    return as_worked(least)

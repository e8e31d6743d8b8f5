"""The curve of a dormer's head, one arc or an eyebrow's three, on the line of its sheathing or inside that."""

import math
from collections.abc import Callable

from msgspec import Struct

from sitelog.calculators.catalogue import MOST_ROWS, Working, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.curves.eyebrows import Eyebrow
from sitelog.calculators.curves.segments import drop, segment
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

CHORD = field("length", "outside, end to end, level", over=0)
RISE = field("length", "from the ends up to the crown, outside", over=0)
SPLIT = field(
    "fraction",
    "for an eyebrow: how much of the half width is in the crown arc",
    default=None,
    over=0,
    under=1,
)
SHEET = field("length", "total thickness of sheathing over the line", default=0)
OF_THE_HEAD = (
    "With no split the head is one arc; with one it is an eyebrow, a crown and two wings. Marks run level from "
    "the left end of the OUTSIDE, and height is plumb from the level of its ends. A sheet moves the line in by "
    "its thickness, square to the curve."
)


class Head(Struct, frozen=True):
    """Half the outside width [mm], how far each side of the middle the line stands over its ends' level [mm], and both
    its height [mm] and its steepness (rise over run) at a distance off the middle [mm].
    """

    half: float
    reach: float
    height: Callable[[float], float]
    steep: Callable[[float], float]

    def marks(self, calculator: str, spacing: float) -> list[float]:
        """Places from the left end [mm]: the middle and every `spacing` out from it, short of the line's own ends."""
        steps = whole(self.reach / spacing)
        if 2 * steps > MOST_ROWS:
            raise Refusal(
                f"{calculator}: spacing is {as_typed(spacing)}; that is {2 * steps} points, and {MOST_ROWS} is "
                "the most. Give a larger spacing"
            )
        offs = [n * spacing for n in range(steps) if n * spacing < self.reach - 1e-9]
        return [*(self.half - off for off in reversed(offs)), *(self.half + off for off in offs[1:])]


def head(calculator: str, chord: float, rise: float, split: float | None, sheet: float) -> Head:
    """The head of that chord and rise [mm]; Refusal for a curve that leans out, or a sheet that takes all of it."""
    if sheet >= rise:
        raise Refusal(f"{calculator}: sheet is {as_typed(sheet)}; it must be under the rise, {as_typed(rise)}")
    if split is None:
        return _arc(calculator, chord, rise, sheet)
    return _eyebrow(calculator, chord, rise, split, sheet)


def _arc(calculator: str, chord: float, rise: float, sheet: float) -> Head:
    outside = segment(calculator, Working(), chord, rise, None)
    inner = outside.inside(sheet)
    return Head(chord / 2, inner.chord / 2, inner.height, lambda off: _steepness(inner.radius, abs(off)))


def _eyebrow(calculator: str, width: float, rise: float, split: float, sheet: float) -> Head:
    outside = Eyebrow.struck(width, rise, split)
    crown, wing = outside.crown - sheet, outside.wing + sheet
    if crown <= 0:
        raise Refusal(
            f"{calculator}: sheet is {as_typed(sheet)}; it must be under the crown's radius, {as_worked(outside.crown)}"
        )
    meet = outside.crown_half * crown / outside.crown  # the arcs meet on the same line to the crown's centre

    def height(off: float) -> float:
        if abs(off) <= meet:
            return rise - sheet - drop(crown, abs(off))
        return drop(wing, outside.half - abs(off)) - sheet

    def steep(off: float) -> float:
        if abs(off) <= meet:
            return _steepness(crown, abs(off))
        return _steepness(wing, outside.half - abs(off))

    # The wing stands over its ends' level from where its arc has climbed a sheet: w^2 = d^2 + (w - sheet)^2.
    dies = math.sqrt(sheet * (2 * wing - sheet))
    return Head(outside.half, outside.half - dies, height, steep)


def _steepness(radius: float, off: float) -> float:
    return off / math.sqrt(max(radius * radius - off * off, 1e-9))

"""The segment of a circle that curved work is struck from, and the stations it is set out at."""

import math

from msgspec import Struct

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Working, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.geometry.vectors import asin_deg, atan2_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal


def drop(radius: float, off: float) -> float:
    """How far [mm] a circle has fallen `off` mm to the side of its crown; good for the flattest of curves."""
    return off * off / (radius + math.sqrt(max(radius * radius - off * off, 0.0)))


class Segment(Struct, frozen=True):
    """An arc on its level chord, half a circle at most; mm."""

    chord: float
    rise: float
    radius: float

    @property
    def centre_below(self) -> float:
        """How far the centre lies below the chord [mm]."""
        return self.radius - self.rise

    @property
    def angle(self) -> float:
        """The angle at the centre [deg]."""
        return 2 * atan2_deg(self.chord / 2, self.centre_below)

    def height(self, off: float) -> float:
        """Height over the chord [mm], `off` mm to the side of the middle."""
        return max(self.rise - drop(self.radius, off), 0.0)

    def slope(self, off: float) -> float:
        """How steep it is there [deg], `off` mm to the side of the middle."""
        return asin_deg(min(abs(off) / self.radius, 1.0))

    def inside(self, by: float) -> "Segment":
        """The arc about the same centre with its radius and rise less by so much [mm], on the same level."""
        rise = self.rise - by
        return Segment(2 * math.sqrt(rise * (2 * (self.radius - by) - rise)), rise, self.radius - by)


def segment(
    calculator: str, working: Working, chord: float | None, rise: float | None, radius: float | None
) -> Segment:
    """The segment that two of chord, rise and radius [mm] fix, worked in steps; Refusal if they fix none."""
    given = (chord is not None, rise is not None, radius is not None)
    if chord is not None and rise is not None and radius is None:
        return _on_chord_and_rise(calculator, working, chord, rise)
    if chord is not None and radius is not None and rise is None:
        return _on_chord_and_radius(calculator, working, chord, radius)
    if rise is not None and radius is not None and chord is None:
        return _on_rise_and_radius(calculator, working, rise, radius)
    told = {0: "none", 1: "only one", 3: "all three"}[sum(given)]
    raise Refusal(f"{calculator}: give two of chord=, rise=, radius= (you gave {told})")


def _on_chord_and_rise(calculator: str, working: Working, chord: float, rise: float) -> Segment:
    if rise > chord / 2:
        raise Refusal(
            f"{calculator}: rise is {as_typed(rise)}; over half the chord, {as_typed(chord / 2)}, the curve is "
            "more than half a circle and wider than its own ends"
        )
    radius = working.step("radius", "((chord / 2) ** 2 + rise ** 2) / (2 * rise)", chord=chord, rise=rise)
    working.step("centre_below_chord", "radius - rise", radius=radius, rise=rise)
    return Segment(chord, rise, radius)


def _on_chord_and_radius(calculator: str, working: Working, chord: float, radius: float) -> Segment:
    if chord > 2 * radius:
        raise Refusal(
            f"{calculator}: radius is {as_typed(radius)}; a chord of {as_typed(chord)} needs at least half of "
            f"it, {as_typed(chord / 2)}"
        )
    below = working.step("centre_below_chord", "sqrt(radius ** 2 - (chord / 2) ** 2)", radius=radius, chord=chord)
    rise = working.step("rise", "radius - centre_below_chord", radius=radius, centre_below_chord=below)
    return Segment(chord, rise, radius)


def _on_rise_and_radius(calculator: str, working: Working, rise: float, radius: float) -> Segment:
    if rise > radius:
        raise Refusal(
            f"{calculator}: rise is {as_typed(rise)}; over the radius, {as_typed(radius)}, the curve is more "
            "than half a circle and wider than its own ends"
        )
    below = working.step("centre_below_chord", "radius - rise", radius=radius, rise=rise)
    chord = working.step(
        "chord", "2 * sqrt(radius ** 2 - centre_below_chord ** 2)", radius=radius, centre_below_chord=below
    )
    return Segment(chord, rise, radius)


class OutsideInputs(Inputs):
    """The outside of a dormer's head of one arc: mm."""

    radius: float | None = field("length", "outside radius; on its own it means half a circle", default=None, over=0)
    chord: float | None = field("length", "outside width at the springing", default=None, over=0)
    rise: float | None = field("length", "from the springing up to the crown, outside", default=None, over=0)

    def outside(self, calculator: str, working: Working) -> Segment:
        """Its curve [mm], half a circle where only a radius is given; Refusal where the figures fix none."""
        if self.radius is not None and self.chord is None and self.rise is None:
            working.note("rise", "radius on its own: half a circle", self.radius)
            return Segment(2 * self.radius, self.radius, self.radius)
        if self.chord is None and self.rise is None:
            raise Refusal(f"{calculator}: give two of chord=, rise= and radius=, or radius= alone for half a circle")
        return segment(calculator, working, self.chord, self.rise, self.radius)


class OneArcInputs(OutsideInputs):
    """The same, where an eyebrow's three arcs are refused by name."""

    split: float | None = field("fraction", "not used: an eyebrow is more than one arc", default=None)

    def outside(self, calculator: str, working: Working) -> Segment:
        """Its curve [mm], as of any head of one arc; Refusal for an eyebrow."""
        if self.split is not None:
            raise Refusal(f"{calculator}: split is for an eyebrow, and this is for one arc. Leave out split=")
        return super().outside(calculator, working)


def stations(calculator: str, width: float, spacing: float) -> list[float]:
    """Places along a width [mm] from its left end: the middle, every `spacing` out from it, and both ends.

    The two halves are alike, so that one template serves both hands. Refusal if there are too many.
    """
    half = width / 2
    steps = whole(half / spacing)
    if 2 * steps + 1 > MOST_ROWS:
        raise Refusal(
            f"{calculator}: spacing is {as_typed(spacing)}; that is {2 * steps + 1} points, at most {MOST_ROWS}"
        )
    out = [*(step * spacing for step in range(steps)), half]
    return [*(half - off for off in reversed(out)), *(half + off for off in out[1:])]


def equal_parts(width: float, count: int) -> list[float]:
    """Places along a width [mm] from its left end that part it into so many equal spaces, both ends among them."""
    return [width * n / count for n in range(count + 1)]

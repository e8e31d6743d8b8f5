"""Short lines that come of plates a little out: four slopes that were drawn to meet in one point meet in two.

One slope's pitch, lifted a little, brings the two together again. And which lines came or went between two surfaces.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.surface.surface import Surface
from sitelog.geometry.surface.walls import Slope
from sitelog.geometry.vectors import Plane, atan2_deg, meeting_point

SHORT = 100.0  # mm on plan: shorter, and it is offered to be taken out
INSIDE = ("ridge", "hip", "valley", "level valley", "break")
LEAST_RUN = 100.0  # mm from a plate, under which no pitch can be lifted to a point


class ShortLine(Struct, frozen=True):
    """A short line by its place, and the slope whose pitch, so much more [deg], takes it out."""

    line: int
    slope: int
    lift: float


def short_lines(found: Surface) -> list[ShortLine]:
    """Every short line between two points inside the roof, with the least lift of one pitch that takes it out.

    Where no lift does it, the least fall does.
    """
    every = []
    for place, line in enumerate(found.lines):
        if line.kind in INSIDE and line.plan_length < SHORT:
            lifts = [(lift < 0, abs(lift), slope, lift) for slope, lift in _lifts(found, _meeting(found, line))]
            if lifts:
                *_, slope, lift = min(lifts)
                every.append(ShortLine(place, slope, lift))
    return every


def _meeting(found: Surface, line: RoofLine) -> list[int]:
    """The four slopes that were drawn to meet where a line is; none at the roof's edge, or where more or fewer meet."""
    ends = found.points[line.start], found.points[line.end]
    slopes = sorted({slope for end in ends for slope in end.slopes})
    if len(slopes) == 4 and not (ends[0].walls or ends[1].walls):
        return slopes
    return []


def _lifts(found: Surface, meeting: Sequence[int]) -> Iterator[tuple[int, float]]:
    """For each of four slopes how much more pitch [deg] brings it to the point where the other three meet."""
    for slope in meeting:
        own = found.slopes[slope]
        first, second, third = (_plane(found.slopes[other]) for other in meeting if other != slope)
        at = meeting_point(first, second, third)
        if at is not None:
            run = (at[0] - own.start[0]) * own.inward[0] + (at[1] - own.start[1]) * own.inward[1]
            if run > LEAST_RUN and at[2] > own.up:
                yield slope, atan2_deg(at[2] - own.up, run) - own.pitch


def _plane(slope: Slope) -> Plane:
    return Plane((*slope.start, slope.up), slope.normal)


def come_and_gone(drawn: Surface, measured: Surface) -> tuple[list[str], list[str]]:
    """The lines of a roof as measured that weren't drawn, and those drawn that are gone, by kind and name."""
    was, now = _told(drawn), _told(measured)
    return sorted((now - was).elements()), sorted((was - now).elements())


def _told(found: Surface) -> Counter[str]:
    names: Counter[str] = Counter()
    for line in found.lines:
        between = "-".join(sorted(found.line_name(line).split("-")))
        names[f"{line.kind} {between}"] += 1
    return names


def total_of(found: Surface, kind: str) -> float:
    """The length [mm] of all lines of a kind."""
    return math.fsum(line.length for line in found.lines if line.kind == kind)

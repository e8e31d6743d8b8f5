"""How far corners are pushed or moved, and which way: on plan, from where they are to where they go."""

import math
from collections.abc import Iterator, Mapping

from sitelog.geometry.least_squares import Point
from sitelog.job.remedies.read import LEAST
from sitelog.job.remedies.remedy import Act

Places = Mapping[str, Point]


def pushed(name: str, begin: Point, end: Point, at: Places) -> Act:
    """A corner pushed, and which way by the first side: along it, or in or out over it."""
    (first, a), (second, b) = list(at.items())[:2]
    ahead = ((b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b))
    by = (end[0] - begin[0], end[1] - begin[1])
    along, off = by[0] * ahead[0] + by[1] * ahead[1], ahead[0] * by[1] - ahead[1] * by[0]
    if abs(along) >= abs(off):
        way = f"the way from {first} to {second}" if along > 0 else f"the way from {second} to {first}"
    else:
        way = f"away from {first}{second}" if off > 0 else f"in to {first}{second}"
    return Act(name, math.dist(begin, end), way)


def laid(drawn: Places, built: Places) -> Places:
    """The drawing with its first corner on the built one, and its first side along that."""
    (first, a), (second, _) = list(drawn.items())[:2]
    begin, ahead = built[first], built[second]
    turn = math.atan2(ahead[1] - begin[1], ahead[0] - begin[0])
    turn -= math.atan2(drawn[second][1] - a[1], drawn[second][0] - a[0])
    cos, sin = math.cos(turn), math.sin(turn)
    off = {name: (x - a[0], y - a[1]) for name, (x, y) in drawn.items()}
    return {name: (begin[0] + x * cos - y * sin, begin[1] + x * sin + y * cos) for name, (x, y) in off.items()}


def moved(built: Places, drawn: Places) -> Iterator[Act]:
    """Each corner that goes from its built place to its drawn one, and how far [mm]."""
    acts = (Act(name, math.dist(built[name], drawn[name])) for name in drawn)
    yield from (act for act in acts if act.by >= LEAST)

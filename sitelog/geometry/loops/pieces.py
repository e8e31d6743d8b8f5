"""The largest pieces of a loop that turn in nowhere: at each corner that turns in, one of its two walls is carried on.

Each piece lies inside the walls' own lines, so it can be a block of the roof. Whether they all together are the roof is
not said here.
"""

import math
from collections.abc import Iterator, Sequence

from sitelog.geometry.surface.clipping import SAME, TOUCH, area
from sitelog.geometry.surface.walls import Point

STRAIGHT = 1e-9  # the sine of a turn: less is none
MOST_TRIED = 600  # ways of cutting, each a plan of its own

Corner = tuple[float, float, int]  # a point [mm], and the wall on the edge that leaves it
Ring = tuple[Corner, ...]


def largest_pieces(corners: Sequence[Point]) -> list[list[int]]:
    """The walls of each piece by their places, the largest piece first; none where there are too many to try.

    `corners` [mm] go round anticlockwise; wall n leaves corner n.
    """
    found = _parted(tuple((x, y, place) for place, (x, y) in enumerate(corners)))
    found.sort(key=lambda ring: (-round(area(ring)), ring))
    largest = [ring for n, ring in enumerate(found) if not any(_is_within(ring, other) for other in found[:n])]
    return [sorted({wall for _, _, wall in ring}) for ring in largest]


def _parted(whole: Ring) -> list[Ring]:
    """Every piece that comes of it, whichever corner is dealt with first; none where there are too many to try."""
    found: list[Ring] = []
    waiting, known = [whole], {_key(whole)}
    while waiting and len(known) <= MOST_TRIED:
        ring = waiting.pop()
        turns = [place for place in range(len(ring)) if _turn(ring, place) < -STRAIGHT]
        if not turns:
            found.append(ring)
        for part in _cut_at(ring, turns):
            if _key(part) not in known:
                known.add(_key(part))
                waiting.append(part)
    if waiting:
        return []
    return found


def _cut_at(ring: Ring, turns: Sequence[int]) -> Iterator[Ring]:
    """What is left of a ring if one wall is carried on past a corner that turns in, for each corner and wall."""
    for place in turns:
        yield from filter(None, (_carried_on(ring, place), _carried_back(ring, place)))


def _key(ring: Ring) -> frozenset[tuple[int, int, int]]:
    return frozenset((round(x / SAME), round(y / SAME), wall) for x, y, wall in ring)


def _turn(ring: Ring, place: int) -> float:
    """The sine of the turn at a corner, minus where it turns in."""
    (ax, ay), (bx, by) = _way(ring, place - 1), _way(ring, place)
    return ax * by - ay * bx


def _way(ring: Ring, place: int) -> Point:
    """The direction of the edge that leaves a corner."""
    (x, y, _), (x_end, y_end, _) = ring[place], ring[(place + 1) % len(ring)]
    long = math.hypot(x_end - x, y_end - y)
    return (x_end - x) / long, (y_end - y) / long


def _carried_on(ring: Ring, place: int) -> Ring:
    """What is left of the wall that ends in a corner, carried on until it meets another."""
    hit = _first_met(ring, place, _way(ring, place - 1))
    if hit is None:
        return ()
    x, y, edge = hit
    return _tidied((ring[place - 1], (x, y, ring[edge][2]), *_between(ring, edge + 1, place - 1)))


def _carried_back(ring: Ring, place: int) -> Ring:
    """What is left of the wall that starts in a corner, carried back until it meets another."""
    dx, dy = _way(ring, place)
    hit = _first_met(ring, place, (-dx, -dy))
    if hit is None:
        return ()
    x, y, edge = hit
    return _tidied(((x, y, ring[place][2]), *_between(ring, place + 1, edge + 1)))


def _between(ring: Ring, first: int, last: int) -> Iterator[Corner]:
    """The corners from one place round to another, which is left out."""
    count = len(ring)
    for step in range((last - first) % count):
        yield ring[(first + step) % count]


def _tidied(ring: Ring) -> Ring:
    """The ring without edges of no length, and without corners in the middle of one wall."""
    kept = tuple(one for n, one in enumerate(ring) if math.dist(one[:2], ring[(n + 1) % len(ring)][:2]) > SAME)
    kept = tuple(one for n, one in enumerate(kept) if one[2] != kept[n - 1][2])
    if len(kept) > 2:
        return kept
    return ()


def _first_met(ring: Ring, place: int, way: Point) -> tuple[float, float, int] | None:
    """Where a line from a corner first meets another edge, and the place of that edge."""
    x, y, _ = ring[place]
    nearest, found = math.inf, -1
    for edge in range(len(ring)):
        reach = _reach(ring, edge, (x, y), way)
        if edge not in (place, (place - 1) % len(ring)) and SAME < reach < nearest - SAME:
            nearest, found = reach, edge
    if found < 0:
        return None
    return (x + nearest * way[0], y + nearest * way[1], found)


def _reach(ring: Ring, edge: int, start: Point, way: Point) -> float:
    """How far [mm] along a line from a point it meets an edge; minus 1 where it doesn't."""
    (ax, ay, _), (bx, by, _) = ring[edge], ring[(edge + 1) % len(ring)]
    x, y = start
    turn = way[0] * (by - ay) - way[1] * (bx - ax)
    if abs(turn) <= STRAIGHT * math.hypot(bx - ax, by - ay):
        return -1.0
    off = [way[0] * (py - y) - way[1] * (px - x) for px, py in ((ax, ay), (bx, by))]
    if min(off) > TOUCH or max(off) < -TOUCH:
        return -1.0
    return ((ax - x) * (by - ay) - (ay - y) * (bx - ax)) / turn


def _is_within(ring: Ring, other: Ring) -> bool:
    """Whether a piece lies in another that turns in nowhere."""
    for edge in range(len(other)):
        (x, y, _), (dx, dy) = other[edge], _way(other, edge)
        if any(dx * (py - y) - dy * (px - x) < -SAME for px, py, _ in ring):
            return False
    return True

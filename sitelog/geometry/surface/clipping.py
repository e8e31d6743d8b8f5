"""Convex pieces of a plan cut by straight lines, with the one tolerance that decides what is on a line.

A piece is a ring of corners, anticlockwise, each with the label of the edge that leaves it. A cut is a half plane
`a x + b y + c >= 0` with (a, b) of unit length, so that its value is a distance on plan [mm].
"""

import math
from collections.abc import Iterator, Sequence

TOUCH = 1e-6  # mm on plan: a corner this near to a line is on it
FINE = 10 * TOUCH  # mm on plan: how nearly two pieces that were cut along one line lie side by side
SAME = 1000 * TOUCH  # mm on plan: an edge no longer than this is no edge, and its two corners are one
EVEN = 5 * SAME  # mm plumb: two slopes this near at a corner meet there, for a slope rises at most 3.8 in 1
PARALLEL = 1e-12  # mm to the mm: slopes that part no faster are parallel; over 200 m of plan it is under TOUCH

Half = tuple[float, float, float]
Corner = tuple[float, float, int]
Ring = list[Corner]

CUT = -1  # the label of an edge that is on no wall of its block
FAR = -2  # the label of an edge of `everywhere`
REACH = 4e6  # mm: further than any roof


def everywhere() -> Ring:
    """A square [mm] larger than any roof, its edges labelled FAR."""
    return [(-REACH, -REACH, FAR), (REACH, -REACH, FAR), (REACH, REACH, FAR), (-REACH, REACH, FAR)]


def clipped(ring: Ring, half: Half, label: int = CUT) -> Ring:
    """What of a ring is in the half plane; the new edge has the label. Empty where nothing wider than TOUCH is left."""
    a, b, c = half
    sides = [a * x + b * y + c for x, y, _ in ring]
    if not sides or max(sides) <= TOUCH:
        return []
    if min(sides) >= -TOUCH:
        return ring
    kept: Ring = []
    for place, corner in enumerate(ring):
        onward = (place + 1) % len(ring)
        kept += _kept_of_edge(corner, ring[onward], (sides[place], sides[onward]), label)
    return kept


def _kept_of_edge(corner: Corner, onward: Corner, sides: tuple[float, float], label: int) -> Iterator[Corner]:
    """What stays of a corner and of the edge that leaves it, by how far inside the cut its two ends are."""
    side, after = sides
    if abs(side) <= TOUCH and after < -TOUCH:
        yield corner[0], corner[1], label
    elif side >= -TOUCH:
        yield corner
    if min(side, after) < -TOUCH and max(side, after) > TOUCH:
        yield _crossing(corner, onward, side / (side - after), label if after < 0 else corner[2])


def _crossing(start: Corner, end: Corner, share: float, label: int) -> Corner:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]), label


def clipped_by_all(ring: Ring, halves: Sequence[Half]) -> Ring:
    """What of a ring is in every half plane."""
    for half in halves:
        ring = clipped(ring, half)
        if not ring:
            break
    return ring


def without(ring: Ring, halves: Sequence[Half]) -> list[Ring]:
    """Convex pieces of a ring that together are all of it outside the region that lies in every half plane."""
    inside, outside = ring, []
    for a, b, c in halves:
        past = clipped(inside, (-a, -b, -c))
        if past:
            outside.append(past)
        inside = clipped(inside, (a, b, c))
        if not inside:
            return [ring]
    return outside


def half_plane(a: float, b: float, c: float) -> Half | bool:
    """The half plane in which `a x + b y + c` is not under nought, made to unit length.

    True or False where the plan is all in it or all out of it, as it is between slopes that are parallel.
    """
    size = math.hypot(a, b)
    if size < PARALLEL:
        return c > 0
    return a / size, b / size, c / size


def area(ring: Sequence[tuple[float, ...]]) -> float:
    """The area [mm2] inside a ring, plus if it is anticlockwise."""
    x0, y0 = ring[0][0], ring[0][1]
    total = 0.0
    for place in range(1, len(ring) - 1):
        here, after = ring[place], ring[place + 1]
        total += (here[0] - x0) * (after[1] - y0) - (after[0] - x0) * (here[1] - y0)
    return total / 2


def centroid(ring: Sequence[tuple[float, ...]]) -> tuple[float, float]:
    """The centre of the area of a ring that has some."""
    x0, y0 = ring[0][0], ring[0][1]
    total, moment_x, moment_y = 0.0, 0.0, 0.0
    for place in range(1, len(ring) - 1):
        ax, ay = ring[place][0] - x0, ring[place][1] - y0
        bx, by = ring[place + 1][0] - x0, ring[place + 1][1] - y0
        twice = ax * by - bx * ay
        total += twice
        moment_x += twice * (ax + bx) / 3
        moment_y += twice * (ay + by) / 3
    return x0 + moment_x / total, y0 + moment_y / total

"""A second way to look at a roof over a loop: not how high it is, but how it grows inwards as it rises.

Cut a roof level at every height. At the plates the cut is the loop; going up, each wall's edge moves in at the speed of
its own pitch, edges that are used up are gone for good, and none comes in from nowhere. That law leaves one roof over
a loop, and says nothing of blocks. A roof keeps it if, and only if: it covers the loop and nothing else, it stands on
its walls and is nowhere broken by a step, and no slope starts anywhere but along its own wall. All three can be read
off the outlines of the slopes. An extra slope that shows, a block that runs on too far and a level valley break the
third; a block that is missing breaks the first.
"""

import math
from collections.abc import Sequence

from sitelog.geometry.surface.cells import pieces
from sitelog.geometry.surface.clipping import EVEN, SAME, area
from sitelog.geometry.surface.outlines import Edge, Outline, outlines
from sitelog.geometry.surface.plan_text import UPRIGHT, WallText
from sitelog.geometry.surface.planar_map import PlanarMap, mapped
from sitelog.geometry.surface.walls import Plan, Point, Slope


def is_its_roof(plan: Plan, walls: Sequence[WallText]) -> bool:
    """Whether the roof over a plan is the one that grows inwards from a loop of walls."""
    shown = pieces(plan)
    found = mapped(shown)
    every = outlines(plan, found)
    whole = all(_is_whole(rings, found.corners, slope) for rings, slope in zip(every, plan.slopes, strict=True))
    size = sum(area(piece.ring) for piece in shown)
    return whole and _is_all_of_it(size, plan, walls) and all(_ends_on_it(rings, plan, walls, found) for rings in every)


def _is_all_of_it(size: float, plan: Plan, walls: Sequence[WallText]) -> bool:
    """Whether an area [mm2] is the loop's, but for a hair all round."""
    loop = [plan.points[wall.start] for wall in walls]
    around = sum(math.dist(start, end) for start, end in zip(loop, [*loop[1:], loop[0]], strict=True))
    return abs(size - area(loop)) <= SAME * around


def _ends_on_it(rings: Sequence[Outline], plan: Plan, walls: Sequence[WallText], found: PlanarMap) -> bool:
    """Whether a slope stops nowhere but where it joins another, or on the loop."""
    edges = [edge for ring in rings for edge in ring if edge.meets != "joint"]
    return all(_stands_on_it(edge, plan, walls, found.corners) for edge in edges)


def _stands_on_it(edge: Edge, plan: Plan, walls: Sequence[WallText], corners: Sequence[Point]) -> bool:
    """Whether an edge that joins no other slope is all on the loop: eaves, or a verge on a wall without a slope."""
    if edge.meets != "eaves" and all(wall.kind not in UPRIGHT for wall in walls if wall.name == edge.wall):
        return False
    start, end = corners[edge.start], corners[edge.end]
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    sides = [(plan.points[wall.start], plan.points[wall.end]) for wall in walls]
    return all(any(_is_on(at, *side) for side in sides) for at in (start, middle, end))


def _is_on(at: Point, start: Point, end: Point) -> bool:
    return math.dist(start, at) + math.dist(at, end) <= math.dist(start, end) + SAME


def _is_whole(rings: Sequence[Outline], corners: Sequence[Point], slope: Slope) -> bool:
    """Whether something of a slope shows, and every part of it starts at its wall."""
    return bool(rings) and all(_starts_at_its_wall(ring, corners, slope) for ring in rings)


def _starts_at_its_wall(ring: Outline, corners: Sequence[Point], slope: Slope) -> bool:
    """Whether each lowest place of a ring, with the slope over it, is eaves: elsewhere it came in from nowhere."""
    climbs = [_climb(edge, corners, slope) for edge in ring]
    first = next((place for place, climb in enumerate(climbs) if climb < -EVEN), 0)
    before, level = ring[first], list[Edge]()
    falling = True
    for place in [*range(first + 1, len(ring)), *range(first + 1)]:
        edge = ring[place]
        if abs(climbs[place]) <= EVEN:
            level.append(edge)
            continue
        rising = climbs[place] > 0
        if falling and rising and not _may_be_lowest(level, before, edge, corners, slope):
            return False
        before, level, falling = edge, [], not rising
    return True


def _climb(edge: Edge, corners: Sequence[Point], slope: Slope) -> float:
    """How far in [mm] from its wall an edge of a slope's outline goes."""
    dx, dy = _way(edge, corners)
    return dx * slope.inward[0] + dy * slope.inward[1]


def _way(edge: Edge, corners: Sequence[Point]) -> Point:
    (x, y), (x_end, y_end) = corners[edge.start], corners[edge.end]
    return x_end - x, y_end - y


def _may_be_lowest(level: Sequence[Edge], before: Edge, after: Edge, corners: Sequence[Point], slope: Slope) -> bool:
    """Whether what falls before a low place and rises after it has the slope under it, or eaves all along it."""
    if not level:
        (ax, ay), (bx, by) = _way(before, corners), _way(after, corners)
        return ax * by - ay * bx < 0
    ways = [_way(edge, corners) for edge in level]
    if sum(dx * slope.along[0] + dy * slope.along[1] for dx, dy in ways) < 0:
        return True
    return all(edge.meets == "eaves" for edge in level)

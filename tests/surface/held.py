"""What every surface keeps to, looked at point by point against the half planes of `by_half_planes`."""

import math
import random
from collections import Counter
from collections.abc import Iterator, Sequence

from sitelog.geometry.surface.surface import Surface, surface_of
from tests.surface.by_half_planes import Point, Roof

NEAR = 0.01  # mm: a point this near to an edge may count to either side
Ring = Sequence[tuple[float, ...]]


def built(roof: Roof) -> Surface:
    return surface_of(roof.text)


def edges(ring: Ring) -> Iterator[tuple[tuple[float, ...], tuple[float, ...]]]:
    return zip(ring, [*ring[1:], ring[0]], strict=True)


def is_inside(rings: Sequence[Ring], x: float, y: float) -> bool:
    """By counting the edges that a line to the right crosses."""
    inside = False
    for ring in rings:
        for (x0, y0, *_), (x1, y1, *_) in edges(ring):
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
                inside = not inside
    return inside


def distance(ring: Ring, x: float, y: float) -> float:
    """How far [mm] a point is from the nearest edge on plan."""
    least = math.inf
    for (x0, y0, *_), (x1, y1, *_) in edges(ring):
        long = (x1 - x0) ** 2 + (y1 - y0) ** 2
        share = min(max(((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / long, 0.0), 1.0) if long else 0.0
        least = min(least, math.hypot(x - x0 - share * (x1 - x0), y - y0 - share * (y1 - y0)))
    return least


def some_points(roof: Roof, count: int, seed: int) -> Iterator[Point]:
    xs, ys = zip(*roof.points.values(), strict=True)
    chance = random.Random(seed)
    for _ in range(count):
        yield chance.uniform(min(xs) - 200, max(xs) + 200), chance.uniform(min(ys) - 200, max(ys) + 200)


def hold_to_half_planes(roof: Roof, found: Surface, count: int = 60, seed: int = 1) -> None:
    """Over each of some points lies just one slope, as high as the highest block there; or nothing, as there."""
    outlines = [found.outline(place) for place in range(len(found.slopes))]
    for x, y in some_points(roof, count, seed):
        if any(distance(ring, x, y) < NEAR for rings in outlines for ring in rings):
            continue
        over = [place for place, rings in enumerate(outlines) if is_inside(rings, x, y)]
        height = roof.height(x, y)
        if height is None:
            assert not over, (x, y, roof.text)
        else:
            assert len(over) == 1, (x, y, [found.slopes[place].name for place in over], roof.text)
            assert abs(found.slopes[over[0]].height(x, y) - height) < 1e-5, (x, y, roof.text)


def hold_together(found: Surface) -> None:
    """Lines end on the planes of their slopes, edges are on walls, outlines close, and areas add up."""
    for line in found.lines:
        for end in (line.start, line.end):
            x, y, z = found.points[end].at
            on = line.between[1:] if line.kind == "step" else line.between
            assert all(abs(found.slopes[place].height(x, y) - z) < 0.01 for place in on), line
        assert line.dihedral is not None or line.wall, (found.line_name(line), line)
        assert line.length > 0
    for place, rings in enumerate(found.rings):
        plan = sum(area_of(ring) for ring in found.outline(place))
        assert math.isclose(plan, found.plan_areas[place], rel_tol=1e-6, abs_tol=200), found.slopes[place].name
        for ring in rings:
            assert all(edge.end == after.start for edge, after in zip(ring, [*ring[1:], ring[0]], strict=True))
    assert math.isclose(sum(found.plan_areas), found.plan_area, rel_tol=1e-12)


def area_of(ring: Ring) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in edges(ring)) / 2


Told = tuple[str, tuple[str, ...]]


def told(found: Surface, longer_than: float = 0.0) -> Counter[Told]:
    """How many lines there are of each kind between each slopes."""
    return Counter(
        (line.kind, tuple(sorted(found.slopes[place].name for place in line.between)))
        for line in found.lines
        if line.plan_length > longer_than
    )


def lengths(found: Surface, longer_than: float = 0.0) -> dict[Told, list[float]]:
    """The lengths of the lines of each kind between each slopes, in order."""
    every: dict[Told, list[float]] = {}
    for line in found.lines:
        if line.plan_length > longer_than:
            names = tuple(sorted(found.slopes[place].name for place in line.between))
            every.setdefault((line.kind, names), []).append(line.length)
    return {key: sorted(values) for key, values in every.items()}

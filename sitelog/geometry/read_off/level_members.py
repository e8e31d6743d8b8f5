"""Purlins and collars: what lies level at a height, along a slope or from one slope across to another."""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.geometry.read_off.rafters import Rafter
from sitelog.geometry.read_off.scanned import EDGES, End, Scan, flat_edges, turned
from sitelog.geometry.surface.surface import Surface
from sitelog.geometry.vectors import Vector, angle_between_lines, atan_deg, cos_deg, sin_deg, tan_deg

SAME_COLLAR = 1.0  # mm
EXACT = 1e-6  # of a bay: so much over the spacing is no more than it


class MemberEnd(Struct, frozen=True):
    """What a purlin meets, in words, and its bevels [deg] on edge and face, from square, as `purlin` has them."""

    meets: str
    edge_from_square: float
    face_from_square: float


class Purlin(Struct, frozen=True):
    """A purlin on the measuring line of its slope, at a height [mm], from one place along the wall to another."""

    slope: int
    height: float
    first: float
    last: float
    ends: tuple[MemberEnd, MemberEnd]
    start: Vector
    end: Vector

    @property
    def length(self) -> float:
        """From end to end on the line [mm]."""
        return self.last - self.first

    def bays(self, spacing: float) -> int:
        """How many equal bays keep within a spacing of struts [mm]."""
        return max(math.ceil(self.length / spacing - EXACT), 1)


class Collar(Struct, frozen=True):
    """A collar from a rafter's measuring line level across to that of the slope it looks at, at a height [mm]."""

    slopes: tuple[int, int]
    height: float
    at: float
    length: float
    start: Vector
    end: Vector


def purlins(found: Surface, heights: Sequence[float], only: int | None = None) -> list[Purlin]:
    """What is inside each slope, or one by its place, of the level line at each height over the datum [mm]."""
    every = []
    for slope in range(len(found.slopes)) if only is None else (only,):
        rings = turned(flat_edges(found, slope))
        if rings:
            scan = Scan(rings, [line.kind in (*EDGES, "eaves") for line in found.lines])
            for height in heights:
                every += list(_on_slope(found, slope, scan, height))
    return every


def _on_slope(found: Surface, slope: int, scan: Scan, height: float) -> Iterator[Purlin]:
    own = found.slopes[slope]
    up = (height - own.up) / sin_deg(own.pitch)
    if not scan.first <= up <= scan.last:
        return
    for part in scan.at(up):
        ends = _end(found, slope, part.low), _end(found, slope, part.high)
        start, end = own.raised(part.low.at, up), own.raised(part.high.at, up)
        yield Purlin(slope, height, part.low.at, part.high.at, ends, start, end)


def _end(found: Surface, slope: int, end: End) -> MemberEnd:
    line = found.lines[end.lines[0]]
    start, stop = found.points[line.start].at, found.points[line.end].at
    own = found.slopes[slope]
    turn = angle_between_lines((*own.along, 0.0), (stop[0] - start[0], stop[1] - start[1], 0.0))
    meets = f"{line.kind} {found.line_name(line)}"
    if turn < 1e-6:
        return MemberEnd(meets, 0.0, 0.0)
    return MemberEnd(meets, atan_deg(cos_deg(own.pitch) / tan_deg(turn)), atan_deg(sin_deg(own.pitch) / tan_deg(turn)))


def collars(found: Surface, rafters: Sequence[Rafter], heights: Sequence[float]) -> list[Collar]:
    """From each rafter that passes a height, level to the slope across; each collar once."""
    across = {height: purlins(found, [height]) for height in heights}
    every: list[Collar] = []
    for rafter in rafters:
        for height in heights:
            if rafter.start[2] < height < rafter.end[2]:
                every += _collar(found, rafter, height, across[height])
    kept: list[Collar] = []
    for collar in every:
        if not any(_is_same(collar, other) for other in kept):
            kept.append(collar)
    return kept


def _is_same(collar: Collar, other: Collar) -> bool:
    if collar.slopes == other.slopes:
        return False
    return math.dist(collar.start, other.end) < SAME_COLLAR and math.dist(collar.end, other.start) < SAME_COLLAR


def _collar(found: Surface, rafter: Rafter, height: float, across: Sequence[Purlin]) -> Iterator[Collar]:
    own = found.slopes[rafter.slope]
    share = (height - rafter.start[2]) / (rafter.end[2] - rafter.start[2])
    x, y = (low + share * (high - low) for low, high in zip(rafter.start[:2], rafter.end[:2], strict=True))
    way_x, way_y = own.inward
    best: tuple[float, int] | None = None
    for line in across:
        (ax, ay, _), (bx, by, _) = line.start, line.end
        turn = way_x * (by - ay) - way_y * (bx - ax)
        if abs(turn) < 1e-9 or line.slope == rafter.slope:
            continue
        reach = ((ax - x) * (by - ay) - (ay - y) * (bx - ax)) / turn
        along = ((ax - x) * way_y - (ay - y) * way_x) / turn
        if reach > 0 and 0 <= along <= 1 and (best is None or reach < best[0]):
            best = reach, line.slope
    if best is not None:
        end = x + best[0] * way_x, y + best[0] * way_y, height
        yield Collar((rafter.slope, best[1]), height, rafter.at, best[0], (x, y, height), end)

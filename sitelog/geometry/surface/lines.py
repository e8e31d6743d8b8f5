"""The lines of a roof: what kind each is, between which slopes and points, how long, how steep, how sharp."""

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.geometry.surface.clipping import EVEN
from sitelog.geometry.surface.outlines import Edge, Outline
from sitelog.geometry.surface.points import Place, RoofPoint
from sitelog.geometry.surface.walls import Plan, Point, Slope
from sitelog.geometry.vectors import angle_between, atan2_deg

OPPOSED = 150.0  # deg between two slopes' directions of rise, over which they meet in a ridge
ALIKE = 5.0  # deg, under which they meet in a break
ACROSS = 1e-9  # the least share of a slope's fall that crosses a line


class RoofLine(Struct, frozen=True):
    """A line of the roof, from one point to another by their places; lengths [mm], pitch and dihedral [deg].

    `between` are its slopes by place, one at the edge of the roof. A step has its upper slope first, and lies where the
    upper one's wall stands on the lower: the upper edge is a line of its own. `dihedral` is the angle between two
    slopes, 180 where they are one plane; None at an edge. `wall` is the wall that an edge or a step lies on.
    """

    kind: str
    between: tuple[int, ...]
    start: int
    end: int
    length: float
    plan_length: float
    pitch: float
    dihedral: float | None = None
    wall: str = ""

    def name(self, slopes: Sequence[Slope]) -> str:
        """The slopes it lies between, such as AB-BC; that and the wall at an edge which isn't eaves."""
        names = [slopes[place].name for place in self.between]
        if self.wall and len(names) == 1 and slopes[self.between[0]].wall != self.wall:
            names.append(self.wall)
        return "-".join(names)


class Shed(Struct, frozen=True):
    """A slope that drains over a line [mm] on to another."""

    slope: int
    onto: int
    kind: str
    length: float


class Lines(Struct, frozen=True):
    """Every line, the place of the line that each edge of an outline is, and what sheds on to what."""

    lines: list[RoofLine]
    of_edge: Mapping[tuple[int, int, int], int]  # an edge's two corners and its slope
    sheds: list[Shed]


def roof_lines(
    plan: Plan,
    corners: Sequence[Point],
    rings: Sequence[Sequence[Outline]],
    points: Sequence[RoofPoint],
    places: Mapping[Place, int],
) -> Lines:
    """The lines of every outline, each once."""
    found: list[RoofLine] = []
    of_edge: dict[tuple[int, int, int], int] = {}
    sheds: list[Shed] = []
    for slope, edge in _edges(rings):
        known = of_edge.get((edge.end, edge.start, edge.other)) if edge.meets == "joint" else None
        start, end = points[places[edge.start, slope]], points[places[edge.end, slope]]
        if known is None:
            line = _line(plan, corners, slope, edge)
            plan_length = math.dist(start.at[:2], end.at[:2])
            rise = end.at[2] - start.at[2]
            falls = rise < -EVEN  # a line is told from its lower point; a level one as its first slope's outline runs
            ends = places[edge.start, slope], places[edge.end, slope]
            low, high = reversed(ends) if falls else ends
            found.append(
                RoofLine(
                    line[0], line[1], low, high, math.hypot(plan_length, rise), plan_length,
                    atan2_deg(abs(rise), plan_length), line[2], edge.wall,
                )
            )  # fmt: skip
            known = len(found) - 1
        of_edge[edge.start, edge.end, slope] = known
        if edge.meets in ("joint", "above") and _drains_over(plan, corners, slope, edge):
            sheds.append(Shed(slope, edge.other, found[known].kind, found[known].length))
    return Lines(found, of_edge, sheds)


def _edges(rings: Sequence[Sequence[Outline]]) -> Iterator[tuple[int, Edge]]:
    for slope, own in enumerate(rings):
        for ring in own:
            for edge in ring:
                yield slope, edge


def _line(plan: Plan, corners: Sequence[Point], slope: int, edge: Edge) -> tuple[str, tuple[int, ...], float | None]:
    """An edge's kind, its slopes and the angle between them."""
    if edge.meets == "joint":
        own, other = plan.slopes[slope], plan.slopes[edge.other]
        return _kind(own, other, corners, edge), (slope, edge.other), 180 - angle_between(own.normal, other.normal)
    if edge.meets == "below":
        return "step", (edge.other, slope), None
    return edge.kind or "verge", (slope,), None


def _kind(own: Slope, other: Slope, corners: Sequence[Point], edge: Edge) -> str:
    (x, y), (x_end, y_end) = corners[edge.start], corners[edge.end]
    left_x, left_y = y - y_end, x_end - x
    hollow = (own.gx - other.gx) * left_x + (own.gy - other.gy) * left_y > 0
    apart = angle_between((*own.inward, 0.0), (*other.inward, 0.0))
    if apart < ALIKE:
        return "break"
    if apart > OPPOSED:
        return "level valley" if hollow else "ridge"
    return "valley" if hollow else "hip"


def _drains_over(plan: Plan, corners: Sequence[Point], slope: int, edge: Edge) -> bool:
    """Whether what falls on the slope crosses the edge and runs on down the other."""
    (x, y), (x_end, y_end) = corners[edge.start], corners[edge.end]
    long = math.hypot(x_end - x, y_end - y)
    out_x, out_y = (y_end - y) / long, (x - x_end) / long
    own, other = plan.slopes[slope], plan.slopes[edge.other]
    leaves = -own.inward[0] * out_x - own.inward[1] * out_y
    goes_on = -other.inward[0] * out_x - other.inward[1] * out_y
    return leaves > ACROSS and (goes_on > ACROSS or edge.meets == "above")

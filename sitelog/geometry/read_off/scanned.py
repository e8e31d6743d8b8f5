"""Straight lines across a slope laid flat: what of each is inside the outline, and which lines its two ends meet.

One rule for every timber and every course: a rafter runs up the slope at a mark, a purlin or a course along it at a
height.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property

from msgspec import Struct

from sitelog.geometry.surface.clipping import SAME
from sitelog.geometry.surface.surface import FlatRing, Surface
from sitelog.geometry.surface.walls import Point

NO_LINE = -1
TRIMMER = -2  # less the place of the opening
EDGES = ("verge", "abutment", "step")  # lines along which a rafter may run
SHORTEST = 1.0  # mm: less is no timber
BESIDE = 4 * SAME  # mm: off an edge that the line runs along, so that it is on one side of it
AT_A_CORNER = 1.0  # mm: a line this near to a corner ends in it
OUT_OF_SQUARE = 0.02  # of its length: an edge no further off straight up the slope has its timber just inside it


class FlatEdge(Struct, frozen=True):
    """An edge of a slope laid flat [mm], and the place of the line it is, NO_LINE or an opening's TRIMMER."""

    start: Point
    end: Point
    line: int


class End(Struct, frozen=True):
    """Where a line ends: how far along itself [mm], and the lines that meet there by their places, one or two."""

    at: float
    lines: tuple[int, ...]


class Part(Struct, frozen=True):
    """What of a line is inside an outline, from its lower or first end to the other."""

    low: End
    high: End

    @property
    def length(self) -> float:
        """From end to end [mm]."""
        return self.high.at - self.low.at


def flat_edges(found: Surface, slope: int) -> list[list[FlatEdge]]:
    """The rings of a slope laid flat, each edge with its line."""
    rings = []
    for ring, flat in zip(found.rings[slope], found.flat(slope), strict=True):
        lines = [found.found.of_edge[edge.start, edge.end, slope] for edge in ring]
        ends = [*flat[1:], flat[0]]
        rings.append([FlatEdge(*edge) for edge in zip(flat, ends, lines, strict=True)])
    return rings


def hole(ring: FlatRing, line: int) -> list[FlatEdge]:
    """The edges of an opening, drawn in by a hair so that a timber along its side is whole."""
    xs, ys = zip(*ring, strict=True)
    left, right, low, high = min(xs) + 2 * BESIDE, max(xs) - 2 * BESIDE, min(ys), max(ys)
    corners = [(left, low), (left, high), (right, high), (right, low)]
    return [FlatEdge(start, end, line) for start, end in zip(corners, [*corners[1:], corners[0]], strict=True)]


def turned(rings: Sequence[Sequence[FlatEdge]]) -> list[list[FlatEdge]]:
    """The same outline with its two ways changed over, so that lines along the slope are scanned."""
    return [[FlatEdge(edge.start[::-1], edge.end[::-1], edge.line) for edge in ring] for ring in rings]


class Scan:
    """A slope's outline, and what of any line up it is inside.

    `along` tells of a line's place whether a timber may run along it, as at a verge; none runs along a hip, which is
    the timber there.
    """

    def __init__(self, rings: Sequence[Sequence[FlatEdge]], along: Sequence[bool]) -> None:
        self.edges = [edge for ring in rings for edge in ring]
        self.along = along
        self._wide = [(min(xs), max(xs)) for xs in ([edge.start[0] for edge in ring] for ring in rings if ring)]
        xs = [edge.start[0] for edge in self.edges]
        self.first, self.last = (min(xs), max(xs)) if xs else (0.0, 0.0)

    def spans(self) -> list[tuple[float, float]]:
        """From where to where along the wall there is any of the slope [mm]."""
        found: list[tuple[float, float]] = []
        for first, last in sorted(self._wide):
            if found and first <= found[-1][1] + BESIDE:
                found[-1] = found[-1][0], max(found[-1][1], last)
            else:
                found.append((first, last))
        return found

    def drawn_in(self, mark: float) -> float:
        """The mark; one that an outer edge crosses, such as a verge a little out of square, moved to the inside of it.

        A timber set out there runs whole beside the edge: it isn't cut off where the edge crosses its line. So does one
        within a mm of a dormer's cheek, moved on to its line.
        """
        inner, outer = self._beside_verges
        if self.first <= mark < inner:
            return inner
        if outer < mark <= self.last:
            return outer
        return next((line for line in self._upright if abs(mark - line) <= AT_A_CORNER), mark)

    @cached_property
    def _upright(self) -> list[float]:
        """Where edges go straight up the slope that a timber may run along [mm]."""
        upright = [edge for edge in self.edges if self._may_run_along(edge)]
        return [edge.start[0] for edge in upright if abs(edge.end[0] - edge.start[0]) <= BESIDE]

    @cached_property
    def _beside_verges(self) -> tuple[float, float]:
        """How far the outer edges that run up the slope, one on from another, come in at both ends [mm]."""
        inner, outer = self.first, self.last
        upright = [(edge.start, edge.end) for edge in self.edges if self._may_run_along(edge)]
        spans = [
            sorted((start[0], end[0]))
            for start, end in upright
            if abs(end[0] - start[0]) <= OUT_OF_SQUARE * abs(end[1] - start[1])
        ]
        for low, high in sorted(spans):
            inner = high if low <= inner + BESIDE and high > inner else inner
        for low, high in sorted(spans, reverse=True):
            outer = low if high >= outer - BESIDE and low < outer else outer
        return inner, outer

    def at(self, mark: float) -> list[Part]:
        """The parts of the line up the slope at a mark [mm], from the lowest."""
        beside = [edge for edge in self.edges if max(abs(edge.start[0] - mark), abs(edge.end[0] - mark)) <= BESIDE]
        if not beside:
            return list(self._parts(mark, mark))
        barred = [edge for edge in beside if not self._may_run_along(edge)]
        parts = self._on_either_side(mark)
        return [part for part in parts if not any(_runs_along(part, edge) for edge in barred)]

    def _on_either_side(self, mark: float) -> list[Part]:
        """The parts a hair to the right of a mark and to its left; of two in one place the longer."""
        parts: list[Part] = []
        every = [part for off in (2 * BESIDE, -2 * BESIDE) for part in self._parts(mark + off, mark)]
        for part in sorted(every, key=lambda part: -part.length):
            if not any(overlap(part, other) for other in parts):
                parts.append(part)
        return sorted(parts, key=lambda part: part.low.at)

    def _may_run_along(self, edge: FlatEdge) -> bool:
        return edge.line >= 0 and self.along[edge.line]

    def _parts(self, mark: float, shown: float) -> Iterator[Part]:
        crossed = sorted(self._crossings(mark), key=lambda one: one[0])
        for (low, low_edge), (high, high_edge) in zip(crossed[::2], crossed[1::2], strict=True):
            if high - low > SHORTEST:
                yield Part(self._end(low, low_edge, shown), self._end(high, high_edge, shown))

    def _crossings(self, mark: float) -> Iterator[tuple[float, FlatEdge]]:
        for edge in self.edges:
            (x, y), (x_end, y_end) = edge.start, edge.end
            if (x <= mark < x_end) or (x_end <= mark < x):
                yield y + (mark - x) / (x_end - x) * (y_end - y), edge

    def _end(self, at: float, edge: FlatEdge, mark: float) -> End:
        """The end on an edge; on both that meet in its corner where the line ends there."""
        lines = [edge.line]
        for corner in (edge.start, edge.end):
            if abs(corner[0] - mark) <= AT_A_CORNER:
                lines += [other.line for other in self.edges if corner in (other.start, other.end)]
        return End(at, tuple(dict.fromkeys(lines)))


def overlap(part: Part, other: Part) -> bool:
    """Whether two parts lie beside each other."""
    return min(part.high.at, other.high.at) - max(part.low.at, other.low.at) > SHORTEST


def _runs_along(part: Part, edge: FlatEdge) -> bool:
    low, high = sorted((edge.start[1], edge.end[1]))
    return min(part.high.at, high) - max(part.low.at, low) > SHORTEST

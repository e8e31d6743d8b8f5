"""The plan of a deck that falls to all four edges: its ridge, its diagonals, and what is left for each firring.

All is level and in mm, angles in degrees. The deck is highest where its nearest edge is furthest, so corners part on
their halving lines and the parts of opposite edges on the ridge.
"""

import math
from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import combinations, pairwise

from msgspec import Struct

from sitelog.calculators.rafters.roof import A_POINT
from sitelog.geometry.roof_lines import RoofLines, true_slopes
from sitelog.geometry.vectors import Vector, angle_between, atan_deg, dot, level, minus, settled, size, tan_deg, unit

_DUST = 1e-6  # mm


class Bound(Struct, frozen=True):
    """A line that a part of the deck lies under: in from its edge no further than `start + slope * along`."""

    start: float
    slope: float

    def at(self, along: float) -> float:
        """How far in [mm] the line is at that place along the edge [mm]."""
        return self.start + self.slope * along

    def along_at_edge(self) -> float:
        """Where along the edge [mm] the line crosses it."""
        return -self.start / self.slope

    def crosses(self, other: "Bound") -> float | None:
        """How far along the edge the two lines cross."""
        if self.slope == other.slope:
            return None
        return (other.start - self.start) / (self.slope - other.slope)


class Piece(Struct, frozen=True, dict=True):
    """What is left of a firring square to its edge, its centre at `at` along it, under the bounds of its part."""

    at: float
    thickness: float
    bounds: tuple[Bound, ...]

    @property
    def arrises(self) -> tuple[float, float]:
        """Where its left and its right face are along the edge [mm]."""
        return self.at - self.thickness / 2, self.at + self.thickness / 2

    def reach(self, along: float) -> float:
        """In from the edge to its end, on a line along it; 0 where nothing is left."""
        return max(min(bound.at(along) for bound in self.bounds), 0.0)

    @cached_property
    def breaks(self) -> tuple[float, ...]:
        """Where its end changes direction, along the edge."""
        left, right = self.arrises
        found = (bound.crosses(other) for bound, other in combinations(self.bounds, 2))
        within = sorted(along for along in found if along is not None and left + _DUST < along < right - _DUST)
        apart = [along for n, along in enumerate(within) if not n or along - within[n - 1] > _DUST]
        return tuple(along for along in apart if self._turns(along))

    def _turns(self, along: float) -> bool:
        reach = self.reach(along)
        return reach > _DUST and sum(bound.at(along) < reach + _DUST for bound in self.bounds) > 1

    @property
    def long_point(self) -> float:
        """The most it reaches in from the edge [mm]."""
        return max(self.reach(along) for along in (*self.arrises, *self.breaks))

    @property
    def bevels(self) -> tuple[float, float]:
        """Of its end's cut next to the left and the right arris, from square."""
        left, right = self.arrises
        ends = [along for bound in self.bounds if bound.slope for along in (bound.along_at_edge(),)]
        marks = sorted({left, right, *self.breaks, *(along for along in ends if left < along < right)})
        middles = [(start + end) / 2 for start, end in pairwise(marks)]
        standing = [along for along in middles if self.reach(along) > 0]
        first, last = self._bound(standing[0]), self._bound(standing[-1])
        return atan_deg(abs(first.slope)), atan_deg(abs(last.slope))

    def _bound(self, along: float) -> Bound:
        return min(self.bounds, key=lambda bound: bound.at(along))


class Inner(Struct, frozen=True):
    """The inner end of one half of a diagonal: its arris runs `past` the ridge's end, or is short of it if minus."""

    past: float
    bevel: float


class FallPlan(Struct, frozen=True, dict=True):
    """The deck over its corners A to D, anticlockwise, and the thickness [mm] of its diagonals.

    `lines` are those of a roof at 45 degrees, where a point is as high as its nearest edge is far.
    """

    lines: RoofLines
    diagonal: float

    @property
    def has_ridge(self) -> bool:
        """Whether the diagonals meet in a ridge, and not in a point."""
        return self.lines.ridge_length >= A_POINT

    @property
    def ridge(self) -> Vector:
        """From P to Q, level [mm]."""
        return level(minus(self.lines.q, self.lines.p))

    def edge(self, side: int) -> Vector:
        """From the edge's first corner to its second [mm]."""
        return minus(self.lines.corners[(side + 1) % 4], self.lines.corners[side])

    def end_of(self, corner: int) -> Vector:
        """Where the corner's diagonal ends."""
        if self._at_p(corner):
            return self.lines.p
        return self.lines.q

    def _at_p(self, corner: int) -> bool:
        return self.lines.ends[0] in (corner, (corner - 1) % 4)

    def along(self, corner: int) -> Vector:
        """The corner's diagonal, level, from the corner to its end."""
        return level(minus(self.end_of(corner), self.lines.corners[corner]))

    def angle(self, corner: int) -> float:
        """Of the corner, inside."""
        return self.lines.hip(corner).angle

    def tan_half(self, corner: int) -> float:
        """The tangent of half the corner; exactly 1 where it is square."""
        into, out = unit(self.edge((corner - 1) % 4)), unit(self.edge(corner))
        turn = dot((-into[1], into[0], 0.0), out)
        return (1 + dot(into, out)) / turn

    def outer_back(self, corner: int) -> float:
        """How far the arrises of the diagonal's point are behind its tip in the corner."""
        return self.diagonal / 2 / self.tan_half(corner)

    def comes_to_a_point(self, side: int) -> bool:
        """Whether the part on that edge has no length of ridge."""
        return not self.has_ridge or side in self.lines.ends

    def inner(self, corner: int, side: int) -> Inner:
        """The inner end of the half of the corner's diagonal that lies on that edge's part."""
        ahead = self.along(corner)
        if self.comes_to_a_point(side):
            neighbour = side if corner != side else (side + 1) % 4
            back = minus((0.0, 0.0, 0.0), ahead)
            beside = level(minus(self.lines.corners[neighbour], self.end_of(corner)))
            half = angle_between(back, beside) / 2
            return Inner(settled(-self.diagonal / 2 / tan_deg(half)), settled(90 - half))
        onward = self.ridge if self._at_p(corner) else minus((0.0, 0.0, 0.0), self.ridge)
        angle = angle_between(ahead, onward)
        return Inner(settled(self.diagonal / 2 / tan_deg(angle)), settled(abs(90 - angle)))

    def bounds(self, side: int, thickness: float) -> tuple[Bound, ...]:
        """What the part on an edge lies under: the faces of diagonals of a thickness, and the ridge if it has one."""
        long = size(self.edge(side))
        first, last = self.tan_half(side), self.tan_half((side + 1) % 4)
        faces = (
            Bound(-thickness / 2 * math.hypot(1, first), first),
            Bound(long * last - thickness / 2 * math.hypot(1, last), -last),
        )
        if self.comes_to_a_point(side):
            return faces
        ends = [(self.lines.along(side, end), self.lines.run_to(side, end)) for end in (self.lines.p, self.lines.q)]
        (one, near), (other, far) = ends
        slope = (far - near) / (other - one)
        if abs(slope) < 1e-12:
            slope = 0.0
        return (*faces, Bound(near - slope * one, slope))

    def pieces(self, side: int, spacing: float, thickness: float) -> Iterator[Piece]:
        """The firrings of an edge at the spacing from its first corner, those of which something is left."""
        bounds, long = self.bounds(side, self.diagonal), size(self.edge(side))
        step = 1
        while step * spacing + thickness / 2 <= long + _DUST:
            piece = Piece(step * spacing, thickness, bounds)
            if piece.at >= thickness / 2 - _DUST and piece.long_point > _DUST:
                yield piece
            step += 1


def fall_plan(called: str, corners: Sequence[tuple[float, float]], diagonal: float) -> FallPlan:
    """The plan over corners A to D; Refusal, in the name of the calculator, for an outline that turns in."""
    return FallPlan(true_slopes(corners, (45.0, 45.0, 45.0, 45.0), called), diagonal)

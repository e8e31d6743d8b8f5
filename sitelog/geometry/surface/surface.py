"""The surface of a roof: slopes, lines, points, areas and volume, all read off the pieces that show."""

import math
from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Any

from msgspec import Struct

from sitelog.geometry.surface.cells import Piece, pieces
from sitelog.geometry.surface.clipping import area, centroid, clipped, half_plane
from sitelog.geometry.surface.lines import Lines, RoofLine, Shed, roof_lines
from sitelog.geometry.surface.outlines import Outline, outlines
from sitelog.geometry.surface.plan_text import read_plan
from sitelog.geometry.surface.planar_map import mapped
from sitelog.geometry.surface.planned import planned
from sitelog.geometry.surface.points import Place, RoofPoint, roof_points
from sitelog.geometry.surface.walls import Plan, Point, Slope
from sitelog.geometry.vectors import Vector, cos_deg

FlatRing = list[Point]


class Surface(Struct, frozen=True, dict=True):
    """A roof over a plan. Rings of a slope are outer ones anticlockwise and holes clockwise, the largest first."""

    plan: Plan
    pieces: tuple[Piece, ...]
    corners: Sequence[Point]
    rings: Sequence[Sequence[Outline]]
    points: Sequence[RoofPoint]
    point_of: Mapping[Place, int]
    found: Lines

    @property
    def slopes(self) -> tuple[Slope, ...]:
        """The plan's slopes; one that is hidden under other blocks has no ring."""
        return self.plan.slopes

    @property
    def lines(self) -> list[RoofLine]:
        """Every line of the roof."""
        return self.found.lines

    @property
    def sheds(self) -> list[Shed]:
        """Which slope drains over a line on to another."""
        return self.found.sheds

    def line_name(self, line: RoofLine) -> str:
        """A line's name: the slopes it lies between."""
        return line.name(self.slopes)

    def outline(self, slope: int) -> list[list[Vector]]:
        """The rings of a slope as points in space [mm]."""
        return [[self.points[self.point_of[edge.start, slope]].at for edge in ring] for ring in self.rings[slope]]

    def flat(self, slope: int) -> list[FlatRing]:
        """The rings of a slope laid flat [mm]: along the wall from its first point, up the slope."""
        return [[self.slopes[slope].flat(*point[:2]) for point in ring] for ring in self.outline(slope)]

    @cached_property
    def kept(self) -> dict[object, Any]:
        """What is worked over it more than once, by what it was worked from."""
        return {}

    @cached_property
    def plan_areas(self) -> tuple[float, ...]:
        """The area of each slope on plan [mm2]."""
        totals = [0.0] * len(self.slopes)
        for piece in self.pieces:
            totals[piece.slope] += area(piece.ring)
        return tuple(totals)

    @property
    def plan_area(self) -> float:
        """The area on plan [mm2] of the whole roof."""
        return math.fsum(self.plan_areas)

    def area(self, slope: int) -> float:
        """The true area of a slope [mm2]."""
        return self.plan_areas[slope] / cos_deg(self.slopes[slope].pitch)

    @cached_property
    def volume(self) -> float:
        """The volume [mm3] under the surface and over the datum."""
        return math.fsum(self._volume(piece) for piece in self.pieces)

    def _volume(self, piece: Piece) -> float:
        slope, ring = self.slopes[piece.slope], piece.ring
        if min(slope.height(x, y) for x, y, _ in ring) < 0:
            over = half_plane(slope.gx, slope.gy, slope.c)
            if isinstance(over, tuple):
                ring = clipped(ring, over)
        size = area(ring) if ring else 0.0
        if size > 0:
            return size * slope.height(*centroid(ring))
        return 0.0

    @cached_property
    def in_parts(self) -> tuple[str, ...]:
        """The slopes that show in more than one place, as one does that a block's missing wall lets run on."""
        outer = [
            [ring for ring in rings if area([self.corners[edge.start] for edge in ring]) > 0] for rings in self.rings
        ]
        return tuple(slope.name for slope, rings in zip(self.slopes, outer, strict=True) if len(rings) > 1)

    @cached_property
    def hidden(self) -> tuple[str, ...]:
        """The slopes of which nothing shows: other blocks are higher all over them."""
        return tuple(slope.name for slope, rings in zip(self.slopes, self.rings, strict=True) if not rings)


def surface(plan: Plan) -> Surface:
    """The surface over a plan. Refusal, by name, for a block or a wall that can't be."""
    shown = tuple(pieces(plan))
    found = mapped(shown)
    rings = [_largest_first(own, found.corners) for own in outlines(plan, found)]
    points, places = roof_points(plan, found.corners, rings)
    lines = roof_lines(plan, found.corners, rings, points, places)
    return Surface(plan, shown, found.corners, rings, points, places, lines)


def surface_of(text: str, points: Mapping[str, Point] | None = None) -> Surface:
    """The surface over a plan as it is typed, with its points where they were fitted [mm] if those are given."""
    return surface(planned(read_plan(text), points))


def _largest_first(rings: Sequence[Outline], corners: Sequence[Point]) -> list[Outline]:
    return sorted(rings, key=lambda ring: -area([corners[edge.start] for edge in ring]))

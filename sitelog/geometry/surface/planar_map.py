"""Pieces laid side by side become one map: corners that are one are made one, and edges know both their sides."""

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from itertools import pairwise

from msgspec import Struct

from sitelog.geometry.surface.cells import Piece
from sitelog.geometry.surface.clipping import CUT, FINE, SAME, area
from sitelog.geometry.surface.walls import Point

OUTSIDE = -1  # in place of a slope: nothing is built there


class Side(Struct, frozen=True):
    """What is on the left of an edge: its slope, and the wall of that piece's block it lies on, if it does."""

    slope: int
    block: int
    wall: int


class PlanarMap(Struct, frozen=True):
    """Corners on plan [mm], and what lies on the left of each edge from one corner to another.

    An edge is there both ways, or one way where nothing is built on the other side.
    """

    corners: list[Point]
    sides: dict[tuple[int, int], Side]

    def across(self, edge: tuple[int, int]) -> Side | None:
        """What is on the right of an edge, if anything."""
        return self.sides.get((edge[1], edge[0]))


def mapped(pieces: Sequence[Piece]) -> PlanarMap:
    """The map of pieces that lie side by side, whatever gaps or laps finer than FINE are between them.

    Edges no longer than SAME are then shut, so that their corners become one: that leaves what it was side by side.
    """
    corners = _Corners(FINE)
    rings = [(piece, [corners.place(x, y) for x, y, _ in piece.ring]) for piece in pieces]
    between = corners.between({_sorted(edge) for _, ring in rings for edge in _edges(ring)})
    parted = [(piece, _own_sides(piece, ring, between)) for piece, ring in rings]
    return PlanarMap(corners.points, _sides(corners.points, parted))


def _sides(
    points: Sequence[Point], parted: Sequence[tuple[Piece, Mapping[tuple[int, int], Side]]]
) -> dict[tuple[int, int], Side]:
    """What lies on the left of every edge that is longer than SAME."""
    joined = _joined(points, [edge for _, own in parted for edge in own])
    sides: dict[tuple[int, int], Side] = {}
    for _, fine in sorted(parted, key=lambda one: area(one[0].ring)):
        own = {(joined[start], joined[end]): side for (start, end), side in fine.items()}
        # An edge that is there both ways is no edge, or a sliver shut to a line.
        sides |= {edge: side for edge, side in own.items() if (edge[1], edge[0]) not in own}
    return sides


def _joined(points: Sequence[Point], edges: Sequence[tuple[int, int]]) -> list[int]:
    """For each corner the one that it becomes when every edge no longer than SAME is shut, and every finer gap."""
    joined = list(range(len(points)))

    def root(place: int) -> int:
        while joined[place] != place:
            joined[place] = joined[joined[place]]
            place = joined[place]
        return place

    near = _Corners(SAME / 10)
    owners: dict[int, int] = {}
    gaps = [(owners.setdefault(near.place(x, y), place), place) for place, (x, y) in enumerate(points)]
    for start, end in (*edges, *gaps):
        if math.dist(points[start], points[end]) <= SAME:
            first, last = sorted((root(start), root(end)))
            joined[last] = first
    return [root(place) for place in range(len(points))]


def _own_sides(
    piece: Piece, ring: Sequence[int], between: Mapping[tuple[int, int], list[int]]
) -> dict[tuple[int, int], Side]:
    """The edges of a piece, each parted at the corners that lie on it."""
    own: dict[tuple[int, int], Side] = {}
    for (start, end), (_, _, label) in zip(_edges(ring), piece.ring, strict=True):
        side = Side(piece.slope, piece.block, max(label, CUT))
        run = between.get(_sorted((start, end)), ())
        stops = [start, *(run if start < end else reversed(run)), end]
        own.update({edge: side for edge in pairwise(stops) if edge[0] != edge[1]})
    return own


def _edges(ring: Sequence[int]) -> list[tuple[int, int]]:
    return list(zip(ring, [*ring[1:], ring[0]], strict=True))


def _sorted(edge: tuple[int, int]) -> tuple[int, int]:
    if edge[0] <= edge[1]:
        return edge
    return (edge[1], edge[0])


class _Corners:
    """Corners on plan, those within a distance [mm] of each other being one."""

    def __init__(self, apart: float) -> None:
        self.apart = apart
        self.points: list[Point] = []
        self.squares: dict[tuple[int, int], list[int]] = {}

    def place(self, x: float, y: float) -> int:
        """The place of the corner at a point, a new one where none is near."""
        column, row = math.floor(x / self.apart), math.floor(y / self.apart)
        for near_column in (column - 1, column, column + 1):
            for near_row in (row - 1, row, row + 1):
                for place in self.squares.get((near_column, near_row), ()):
                    if math.dist(self.points[place], (x, y)) <= self.apart:
                        return place
        self.points.append((x, y))
        self.squares.setdefault((column, row), []).append(len(self.points) - 1)
        return len(self.points) - 1

    def between(self, edges: set[tuple[int, int]]) -> dict[tuple[int, int], list[int]]:
        """The corners that lie on each edge between its ends, in turn."""
        order = sorted(range(len(self.points)), key=lambda place: self.points[place][0])
        lefts = [self.points[place][0] for place in order]
        found: dict[tuple[int, int], list[int]] = {}
        for edge in edges:
            (x, y), (x_end, y_end) = self.points[edge[0]], self.points[edge[1]]
            dx, dy = x_end - x, y_end - y
            long = math.hypot(dx, dy)
            if not long:
                continue
            low, high = min(y, y_end) - self.apart, max(y, y_end) + self.apart
            on_it = []
            for nth in range(
                bisect_left(lefts, min(x, x_end) - self.apart), bisect_left(lefts, max(x, x_end) + self.apart)
            ):
                place = order[nth]
                px, py = self.points[place]
                if not low <= py <= high or place in edge:
                    continue
                if abs((px - x) * dy - (py - y) * dx) <= self.apart * long:
                    on_it.append(((px - x) * dx + (py - y) * dy, place))
            if on_it:
                found[edge] = [place for _, place in sorted(on_it)]
        return found

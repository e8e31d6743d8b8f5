"""The outline of each slope, walked on the map: its edges, and what each of them lies on."""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.surface.clipping import CUT, EVEN, SAME
from sitelog.geometry.surface.planar_map import OUTSIDE, PlanarMap, Side
from sitelog.geometry.surface.walls import Plan, Point

Meets = Literal["joint", "above", "below", "eaves", "verge", "abutment"]


_EDGES: dict[str, Meets] = {"abutment": "abutment", "eaves": "eaves", "verge": "verge"}


class Edge(Struct, frozen=True):
    """A straight edge of a slope's outline from one corner of the map to another, the slope on its left.

    `meets` says what is there: a slope that it joins; one that it stands over or under; or the roof's edge, by what
    stands on the wall. `other` is the place of the slope across, OUTSIDE at the edge of the roof; `wall` is the wall.
    """

    start: int
    end: int
    meets: Meets
    other: int = OUTSIDE
    wall: str = ""
    kind: str = ""  # of the wall: eaves, verge or abutment


Outline = list[Edge]


def outlines(plan: Plan, found: PlanarMap) -> list[list[Outline]]:
    """For each slope its rings of edges, outer ones anticlockwise and holes clockwise, each straight."""
    borders: list[dict[int, list[Edge]]] = [{} for _ in plan.slopes]
    for edge, side in found.sides.items():
        across = found.across(edge)
        if across is None or across.slope != side.slope:
            border = _edge(plan, found, edge, side, across)
            borders[side.slope].setdefault(edge[0], []).append(border)
    return [[_straightened(ring, found.corners) for ring in _walked(own, found.corners)] for own in borders]


def _edge(plan: Plan, found: PlanarMap, edge: tuple[int, int], side: Side, across: Side | None) -> Edge:
    wall, kind = _wall_under(plan, side)
    if not wall:
        wall, kind = _wall_along(plan, [found.corners[place] for place in edge], side)
    if across is None:
        return Edge(*edge, _EDGES.get(kind, "verge"), OUTSIDE, wall, kind)
    own, other = plan.slopes[side.slope], plan.slopes[across.slope]
    gaps = [own.height(*found.corners[place]) - other.height(*found.corners[place]) for place in edge]
    if max(map(abs, gaps)) <= EVEN:
        return Edge(*edge, "joint", across.slope)
    if sum(gaps) > 0:
        return Edge(*edge, "above", across.slope, wall, kind)
    return Edge(*edge, "below", across.slope, *_wall_under(plan, across))


def _wall_along(plan: Plan, ends: Sequence[Point], side: Side) -> tuple[str, str]:
    """As `_wall_under`, for an edge that was cut along a line as near to a wall as no matter."""
    blocks = sorted(range(len(plan.blocks)), key=lambda block: block != side.block)
    for block in blocks:
        for place, wall in enumerate(plan.blocks[block].walls):
            a, b, c = wall.inside
            if all(abs(a * x + b * y + c) <= 2 * SAME for x, y in ends):
                return _wall_under(plan, Side(side.slope, block, place))
    return "", ""


def _wall_under(plan: Plan, side: Side) -> tuple[str, str]:
    """The wall that an edge lies on, and what the slope has there: eaves on its own wall, else verge or abutment."""
    if side.wall == CUT:
        return "", ""
    wall = plan.blocks[side.block].walls[side.wall]
    if any(one.slope == side.slope and one.inside == wall.inside for one in plan.blocks[side.block].walls):
        return wall.name, "eaves"
    return wall.name, "abutment" if wall.kind == "against" else "verge"


def _walked(borders: dict[int, list[Edge]], corners: Sequence[Point]) -> Iterator[Outline]:
    """Every ring of a slope's border; where two touch in a corner each keeps to its own side."""
    while borders:
        start = next(iter(borders))
        edge = borders[start][-1]
        ring = []
        while True:
            ring.append(edge)
            leaving = borders[edge.start]
            leaving.remove(edge)
            if not leaving:
                del borders[edge.start]
            onward = borders.get(edge.end)
            if not onward or edge.end == ring[0].start:
                break
            edge = onward[0] if len(onward) == 1 else _next_round(edge, onward, corners)
        if len(ring) > 2:
            yield ring


def _next_round(edge: Edge, onward: Sequence[Edge], corners: Sequence[Point]) -> Edge:
    """The edge that comes first, turning clockwise from the one that was walked: the slope lies between the two."""
    here = corners[edge.end]

    def direction(place: int) -> float:
        return math.atan2(corners[place][1] - here[1], corners[place][0] - here[0])

    back = direction(edge.start)
    return min(onward, key=lambda one: (back - direction(one.end)) % math.tau or math.tau)


def _straightened(ring: Outline, corners: Sequence[Point]) -> Outline:
    """The ring with edges joined that run straight on along the same thing."""
    first = next((place for place in range(len(ring)) if _what(ring[place - 1]) != _what(ring[place])), 0)
    straight: Outline = []
    for _, run in groupby(ring[first:] + ring[:first], key=_what):
        edges = list(run)
        stops = [edges[0].start, *(edge.end for edge in edges)]
        turns = _turns(stops, corners)
        straight += [replace(edges[0], start=start, end=end) for start, end in pairwise(turns)]
    return straight


def _what(edge: Edge) -> tuple[str, int, str]:
    """What an edge lies on."""
    return edge.meets, edge.other, edge.wall


def _turns(stops: Sequence[int], corners: Sequence[Point]) -> list[int]:
    """The corners at which a run of edges turns, with its ends; the same from either end (Douglas and Peucker)."""
    (x, y), (x_end, y_end) = corners[stops[0]], corners[stops[-1]]
    dx, dy = x_end - x, y_end - y
    long = math.hypot(dx, dy)
    furthest, at = 0.0, 0
    for place in range(1, len(stops) - 1):
        px, py = corners[stops[place]]
        off = abs((px - x) * dy - (py - y) * dx) / long if long > SAME else math.hypot(px - x, py - y)
        if off > furthest:
            furthest, at = off, place
    if furthest <= 2 * SAME:
        return [stops[0], stops[-1]]
    return _turns(stops[: at + 1], corners)[:-1] + _turns(stops[at:], corners)

"""A roof cut through upright: where the cut goes, and what of each slope is in it."""

from collections.abc import Iterator, Mapping, Sequence
from math import atan2, degrees, hypot
from typing import Any

from sitelog.drawing.model import Point

Shown = Mapping[str, Any]
SAME_WAY = 5.0  # deg: ridges that run this nearly the same way are cut once, through the longest


def ridges_to_cut(lines: Sequence[Shown], at: Mapping[str, Point]) -> Iterator[Shown]:
    """The longest ridge of each direction."""
    ways: list[float] = []
    ridges = sorted((line for line in lines if line["kind"] == "ridge"), key=lambda line: -line["length"])
    for ridge in ridges:
        (x, y), (x_end, y_end) = at[ridge["from"]], at[ridge["to"]]
        way = degrees(atan2(y_end - y, x_end - x)) % 180
        if all(min(abs(way - other), 180 - abs(way - other)) > SAME_WAY for other in ways):
            ways.append(way)
            yield ridge


def cut_through(slopes: Sequence[Shown], start: Point, end: Point) -> list[tuple[str, Point, Point]]:
    """What of each slope is in the upright plane square to a line through its middle: its name, and two points.

    A point is how far it is along the cut from the middle, the line's right first, and its height [mm].
    """
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    long = hypot(end[0] - start[0], end[1] - start[1])
    way = (start[1] - end[1]) / long, (end[0] - start[0]) / long
    pieces = []
    for slope in slopes:
        rings = [slope["outline"], *(more["outline"] for more in slope["more"])]
        met = sorted(point for ring in rings for point in _met(ring, (x, y), way))
        pieces += [(str(slope["name"]), low, high) for low, high in zip(met[::2], met[1::2], strict=False)]
    return sorted(pieces, key=lambda piece: piece[1])


def _met(ring: Sequence[Sequence[float]], middle: Point, way: Point) -> Iterator[Point]:
    """Where a ring in space meets the cut: how far along it, and how high."""
    sides = [(px - middle[0]) * way[1] - (py - middle[1]) * way[0] for px, py, _ in ring]
    for place, (px, py, pz) in enumerate(ring):
        after = (place + 1) % len(ring)
        if (sides[place] > 0) != (sides[after] > 0):
            share = sides[place] / (sides[place] - sides[after])
            qx, qy, qz = ring[after]
            met_x, met_y = px + share * (qx - px), py + share * (qy - py)
            yield (met_x - middle[0]) * way[0] + (met_y - middle[1]) * way[1], pz + share * (qz - pz)

"""What plates out of level make of a cut roof's timbers: each foot down with its plate, each head with its hip."""

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.calculators.surface.building import rafters_as_given, roof_as_given
from sitelog.geometry.building.named import Roof
from sitelog.geometry.least_squares import Point
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.vectors import Vector, sin_deg
from sitelog.job.members import Line
from sitelog.job.remedies.remedy import Group, Shift

GROUPS: Mapping[str, Group] = {"common": "commons", "hip jack": "jacks", "valley jack": "jacks", "cripple": "jacks"}
ON = 2.0  # mm off a line, and a rafter still ends on it


class Edge(Struct, frozen=True):
    """A line on plan between two points, and how far it is let down at both [mm]."""

    start: Point
    end: Point
    low: tuple[float, float]

    def off(self, at: Vector) -> float:
        """How far a point is off it [mm]."""
        share = self._share(at)
        return math.dist(at[:2], [a + (b - a) * share for a, b in zip(self.start, self.end, strict=True)])

    def down(self, at: Vector) -> float:
        """How far it is let down there [mm], straight from end to end."""
        return self.low[0] + (self.low[1] - self.low[0]) * self._share(at)

    def _share(self, at: Vector) -> float:
        """How much of it is before that point, from 0 to 1."""
        way = self.end[0] - self.start[0], self.end[1] - self.start[1]
        along = (at[0] - self.start[0]) * way[0] + (at[1] - self.start[1]) * way[1]
        return min(max(along / (way[0] ** 2 + way[1] ** 2), 0.0), 1.0)


def let_down(lines: Sequence[Line], low: Mapping[str, float]) -> tuple[Shift, ...]:
    """How much longer each group becomes with its feet on plates that are so low [mm], by corner and middle.

    Heads on a ridge stay where they are. A foot let down by d makes a timber d x sin of its pitch longer: of a length
    that is cut, within 0.1. None in a list that isn't of a cut roof.
    """
    answers = [line.answer for line in lines if line.answer and line.answer.inputs.get("timber") == "rafters"]
    moved: dict[Group, list[float]] = {}
    for group, by in _moved(answers[0].inputs, low) if answers else ():
        moved.setdefault(group, []).append(by)
    return tuple(Shift(group, min(by), max(by)) for group, by in moved.items())


def _moved(inputs: Mapping[str, object], low: Mapping[str, float]) -> Iterator[tuple[Group, float]]:
    roof = roof_as_given(inputs)
    corners = {point.name: point.at for point in roof.found.points if point.name in roof.plates.points}
    sides = [edge for pair in roof.plates.ring for edge in _side(pair, corners, low)]
    lines: list[Edge] = []
    for name, at in corners.items():
        for line in _from(roof, at):
            lines.append(_line(roof, line, low[name]))
            yield "hips", low[name] * sin_deg(line.pitch)
    for rafter in rafters_as_given(inputs):
        down = _down([*sides, *lines], rafter.start) - _down(lines, rafter.end)
        group = GROUPS.get(rafter.kind)
        if group:
            yield group, down * sin_deg(roof.found.slopes[rafter.slope].pitch)


def _from(roof: Roof, corner: Vector) -> list[RoofLine]:
    """The hips and valleys off a corner of the plates."""
    own = [line for line in roof.found.lines if line.kind in ("hip", "valley")]
    return [line for line in own if math.dist(roof.found.points[line.start].at, corner) < ON]


def _side(pair: tuple[str, str], corners: Mapping[str, Vector], low: Mapping[str, float]) -> Iterator[Edge]:
    """Both halves of a side, from its corners to its middle."""
    (one, other), middle = (corners[name][:2] for name in pair), low["".join(pair)]
    half = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
    yield Edge(one, half, (low[pair[0]], middle))
    yield Edge(half, other, (middle, low[pair[1]]))


def _line(roof: Roof, line: RoofLine, low: float) -> Edge:
    """A hip or a valley, its foot let down and its head where it was."""
    start, end = (roof.found.points[place].at[:2] for place in (line.start, line.end))
    return Edge(start, end, (low, 0.0))


def _down(edges: Sequence[Edge], at: Vector) -> float:
    """How far a rafter's end goes down: with the hip or the plate that it is on; a ridge stays."""
    return next((edge.down(at) for edge in edges if edge.off(at) < ON), 0.0)

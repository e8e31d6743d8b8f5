"""Points on the plane of a drawing [mm]: part of the way along a line, its middle, the square onto it."""

from collections.abc import Mapping
from math import hypot

from sitelog.drawing.model import Point
from sitelog.geometry.roof_lines import CORNERS


def share(start: Point, end: Point, part: float) -> Point:
    """The point that part of the way from start to end, 0 to 1."""
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part


def middle(start: Point, end: Point) -> Point:
    """The point halfway from start to end."""
    return (start[0] + end[0]) / 2, (start[1] + end[1]) / 2


def centre(at: Mapping[str, Point]) -> Point:
    """The mean of the corners a to d."""
    return sum(at[name][0] for name in CORNERS) / 4, sum(at[name][1] for name in CORNERS) / 4


def square_foot(point: Point, start: Point, end: Point) -> Point:
    """Where the square from a point meets the line from start to end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    part = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    return start[0] + part * dx, start[1] + part * dy


def distance(start: Point, end: Point) -> float:
    """How far apart two points are [mm]."""
    return hypot(end[0] - start[0], end[1] - start[1])

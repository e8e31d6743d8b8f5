"""The curves about one centre, and where each bearer and its slot sit on them: x from the middle, y from the springing.

A turn is from plumb about the centre, plus to the right, in degrees.
"""

import math

from msgspec import Struct

from sitelog.geometry.vectors import acos_deg, asin_deg, cos_deg, sin_deg

Point = tuple[float, float]


def moved(point: Point, way: Point, by: float) -> Point:
    """The point so far that way [mm]."""
    return point[0] + by * way[0], point[1] + by * way[1]


class Curves(Struct, frozen=True):
    """Radii [mm] of bearers, former's edge, its inside edge and ceiling; the centre is so far below the springing."""

    below: float
    bearer: float
    former: float
    inside: float
    ceiling: float

    def half(self, radius: float) -> float:
        """Half the width at the springing [mm]."""
        return math.sqrt(max((radius - self.below) * (radius + self.below), 0.0))

    def turn(self, radius: float) -> float:
        """The turn of its right end at the springing [deg]."""
        return acos_deg(min(self.below / radius, 1.0))

    def at(self, radius: float, turn: float) -> Point:
        """The point of that curve."""
        return radius * sin_deg(turn), radius * cos_deg(turn) - self.below

    @property
    def girth(self) -> float:
        """Along the whole of the bearers' curve [mm]."""
        return 2 * math.radians(self.turn(self.bearer)) * self.bearer

    def turn_of(self, girth: float) -> float:
        """The turn of a place so far along the bearers' curve from its left end [mm]."""
        return math.degrees(girth / self.bearer) - self.turn(self.bearer)

    def from_centre(self, point: Point) -> float:
        """How far a point is from the centre [mm]."""
        return math.hypot(point[0], point[1] + self.below)


class Bearer(Struct, frozen=True):
    """One bearer, seen end on: its place along the girth, the middle of its top, and its lean [deg, plus right]."""

    girth: float
    top: Point
    lean: float
    thickness: float
    depth: float

    @property
    def up(self) -> Point:
        """Up its sides."""
        return sin_deg(self.lean), cos_deg(self.lean)

    @property
    def right(self) -> Point:
        """To the right along its top."""
        return cos_deg(self.lean), -sin_deg(self.lean)

    def point(self, side: int, down: float) -> Point:
        """On its left (-1) or right (1) side, so far down it [mm]."""
        return moved(moved(self.top, self.right, side * self.thickness / 2), self.up, -down)


class Slot(Struct, frozen=True):
    """The slot for one bearer: its mouth on the former's edge, its floor's corners, its depth each side."""

    mouth_left: Point
    mouth_right: Point
    floor_left: Point
    floor_right: Point
    depth_left: float
    depth_right: float


def bearer_at(curves: Curves, girth: float, stance: str, thickness: float, depth: float) -> Bearer | None:
    """The bearer there, as high as it goes with no part of its top outside its curve; None where that can't be."""
    turn, half = curves.turn_of(girth), thickness / 2
    if stance == "square":
        inner = curves.bearer**2 - half**2
        if inner <= 0:
            return None
        return Bearer(girth, curves.at(math.sqrt(inner), turn), turn, thickness, depth)
    x = curves.bearer * sin_deg(turn)
    inner = _dusted(curves.bearer**2 - (abs(x) + half) ** 2, curves.bearer)
    if inner < 0:
        return None
    return Bearer(girth, (x, math.sqrt(inner) - curves.below), 0.0, thickness, depth)


def slot_of(curves: Curves, bearer: Bearer, deep: float) -> Slot | None:
    """The slot whose floor is so far [mm] under the middle of the bearer's top; None where a side has no depth."""
    floors = [bearer.point(side, deep) for side in (-1, 1)]
    depths = [_to_edge(curves, floor, bearer.up) for floor in floors]
    left, right = depths
    if left is None or right is None or min(left, right) <= 0:
        return None
    mouths = [moved(floors[0], bearer.up, left), moved(floors[1], bearer.up, right)]
    return Slot(mouths[0], mouths[1], floors[0], floors[1], left, right)


def _to_edge(curves: Curves, floor: Point, up: Point) -> float | None:
    """From a corner of the floor up the side to the former's edge [mm]; None where the side misses it."""
    x, y = floor[0], floor[1] + curves.below
    along = x * up[0] + y * up[1]
    square = _dusted(along**2 - (x * x + y * y - curves.former**2), curves.former)
    if square < 0:
        return None
    return math.sqrt(square) - along


def _dusted(square: float, radius: float) -> float:
    """A square [mm2] without the float's dust of the radius it came from."""
    if abs(square) < 1e-9 * radius**2:
        return 0.0
    return square


def left_under(curves: Curves, slot: Slot) -> float:
    """Least of the former's ring under a slot [mm], along the radius."""
    (x1, y1), (x2, y2) = slot.floor_left, slot.floor_right
    dx, dy = x2 - x1, y2 - y1
    part = -(x1 * dx + (y1 + curves.below) * dy) / (dx * dx + dy * dy)
    nearest = min(max(part, 0.0), 1.0)
    return curves.from_centre((x1 + nearest * dx, y1 + nearest * dy)) - curves.inside


def outermost(curves: Curves, stance: str, thickness: float) -> float:
    """Girth [mm] of the first bearer where nobody says: its outer side at the end of the bearers' curve."""
    if stance == "square":
        return thickness / 2
    x = curves.half(curves.bearer) - thickness / 2
    return math.radians(curves.turn(curves.bearer) - asin_deg(max(x, 0.0) / curves.bearer)) * curves.bearer

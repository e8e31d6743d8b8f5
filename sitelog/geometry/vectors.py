"""Points, directions and planes in space, with angles in degrees: what the roof is worked from.

Vectors are plain triples of mm (or of unit length); x and y are level, z is up.
"""

import math

from msgspec import Struct

Vector = tuple[float, float, float]
UP: Vector = (0.0, 0.0, 1.0)


def sin_deg(angle: float) -> float:
    """The sine of an angle [deg]."""
    return math.sin(math.radians(angle))


def cos_deg(angle: float) -> float:
    """The cosine of an angle [deg]."""
    return math.cos(math.radians(angle))


def tan_deg(angle: float) -> float:
    """The tangent of an angle [deg]."""
    return math.tan(math.radians(angle))


def asin_deg(ratio: float) -> float:
    """The angle [deg], -90 to 90, of a sine; ValueError outside -1 to 1."""
    return math.degrees(math.asin(ratio))


def acos_deg(ratio: float) -> float:
    """The angle [deg], 0 to 180, of a cosine; ValueError outside -1 to 1."""
    return math.degrees(math.acos(ratio))


def atan_deg(ratio: float) -> float:
    """The angle [deg], -90 to 90, of a rise over a run."""
    return math.degrees(math.atan(ratio))


def atan2_deg(y: float, x: float) -> float:
    """The angle [deg], -180 to 180, of a rise y over a run x."""
    return math.degrees(math.atan2(y, x))


def settled(number: float) -> float:
    """A figure without a float's dust, so that a half is a half and is rounded as one."""
    return round(number, 9)


def plus(a: Vector, b: Vector) -> Vector:
    """The sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Vector, b: Vector) -> Vector:
    """The vector from b to a."""
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def times(factor: float, a: Vector) -> Vector:
    """A vector made longer by a factor."""
    return (factor * a[0], factor * a[1], factor * a[2])


def dot(a: Vector, b: Vector) -> float:
    """The scalar product of two vectors."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product: square to both, by the right hand."""
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def size(a: Vector) -> float:
    """The length of a vector."""
    return math.hypot(*a)


def unit(a: Vector) -> Vector:
    """The direction of a vector that is not nought."""
    return times(1 / size(a), a)


def level(a: Vector) -> Vector:
    """A vector as it shows on plan."""
    return (a[0], a[1], 0.0)


def angle_between(a: Vector, b: Vector) -> float:
    """The angle between two directions, 0 to 180 degrees; good at both ends, where an arc cosine is not."""
    return atan2_deg(size(cross(a, b)), dot(a, b))


def angle_between_lines(a: Vector, b: Vector) -> float:
    """The acute angle between two lines, whichever way each is drawn: 0 to 90 degrees."""
    return atan2_deg(size(cross(a, b)), abs(dot(a, b)))


class Plane(Struct, frozen=True):
    """A plane through a point [mm], with its unit normal."""

    point: Vector
    normal: Vector

    def height_over(self, x: float, y: float) -> float:
        """How high [mm] the plane stands over a point on plan. The plane must not be upright."""
        a, b, c = self.normal
        return self.point[2] - (a * (x - self.point[0]) + b * (y - self.point[1])) / c


def slope_over(start: Vector, end: Vector, pitch: float) -> Plane:
    """The roof slope of that pitch [deg] over a plate from start to end, rising to the left of it."""
    x, y, _ = unit(level(minus(end, start)))
    return Plane(start, (y * sin_deg(pitch), -x * sin_deg(pitch), cos_deg(pitch)))


def meeting_point(first: Plane, second: Plane, third: Plane) -> Vector | None:
    """Where three planes meet; None if they share no single point (two of the lines on plan run parallel)."""
    across = cross(second.normal, third.normal)
    volume = dot(first.normal, across)
    if abs(volume) < 1e-12:
        return None
    total = times(dot(first.normal, first.point), across)
    total = plus(total, times(dot(second.normal, second.point), cross(third.normal, first.normal)))
    total = plus(total, times(dot(third.normal, third.point), cross(first.normal, second.normal)))
    return times(1 / volume, total)

"""What a plan is once it is read: slopes as planes, each told apart by its wall, and blocks with their walls."""

from collections.abc import Mapping

from msgspec import Struct

from sitelog.geometry.surface.clipping import Half
from sitelog.geometry.vectors import Vector, cos_deg, sin_deg

Point = tuple[float, float]
NO_SLOPE = -1


class Slope(Struct, frozen=True):
    """A plane that rises inwards from a plate line at a pitch [deg]; its height [mm] is `gx x + gy y + c`.

    `start` [mm] is the wall's first point, moved in if the wall is, `along` and `inward` its directions on plan, and
    the plate line stands `up` mm over the datum.
    """

    name: str
    wall: str
    pitch: float
    up: float
    start: Point
    along: Point
    inward: Point
    gx: float
    gy: float
    c: float

    def height(self, x: float, y: float) -> float:
        """How high [mm] the plane is over the datum at a point on plan."""
        return self.gx * x + self.gy * y + self.c

    def flat(self, x: float, y: float) -> Point:
        """The point of the plane over a point on plan, laid flat: along the wall from its first point, up the slope."""
        dx, dy = x - self.start[0], y - self.start[1]
        run = dx * self.inward[0] + dy * self.inward[1]
        return dx * self.along[0] + dy * self.along[1], run / cos_deg(self.pitch)

    def raised(self, along: float, up_slope: float) -> Vector:
        """The point [mm] in space of one that is laid flat."""
        run = up_slope * cos_deg(self.pitch)
        x = self.start[0] + along * self.along[0] + run * self.inward[0]
        y = self.start[1] + along * self.along[1] + run * self.inward[1]
        return x, y, self.up + up_slope * sin_deg(self.pitch)

    @property
    def normal(self) -> Vector:
        """Square to the plane, upwards, of unit length."""
        sine, cosine = sin_deg(self.pitch), cos_deg(self.pitch)
        return -sine * self.inward[0], -sine * self.inward[1], cosine


class Wall(Struct, frozen=True):
    """One face of a block: the half plane on the inside of its line, and what stands on it.

    `kind` is slope, gable or against; `slope` is the place of its plane in the plan's slopes, NO_SLOPE without one.
    """

    name: str
    kind: str
    slope: int
    inside: Half


class Block(Struct, frozen=True):
    """A convex part of a roof: under all its planes and inside all its wall lines."""

    name: str
    walls: tuple[Wall, ...]

    @property
    def slopes(self) -> tuple[int, ...]:
        """The places of its planes in the plan's slopes, each once."""
        return tuple(dict.fromkeys(wall.slope for wall in self.walls if wall.slope != NO_SLOPE))


class Plan(Struct, frozen=True):
    """Plate points by name [mm], the slopes, and the blocks under them. `doubts` are lines for the person."""

    points: Mapping[str, Point]
    slopes: tuple[Slope, ...]
    blocks: tuple[Block, ...]
    doubts: tuple[str, ...] = ()

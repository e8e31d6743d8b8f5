"""A template as plain geometry, true size: what is cut, what is only marked, and what is written. mm, y up."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import acos, ceil, cos, degrees, radians, sin
from typing import Literal

Point = tuple[float, float]
Layer = Literal["cut", "mark"]
Anchor = Literal["start", "middle", "end"]

SAME = 1e-6  # mm: nearer than that, two points are one
NEAR = 0.02  # mm: no chord of a flattened arc is further from it
LETTER = 3.2  # mm: height of the letters of a label
WIDTH = 0.62  # of a letter, in its height: an ample guess


@dataclass(frozen=True)
class Segment:
    """A straight line."""

    start: Point
    end: Point

    def points(self) -> tuple[Point, ...]:
        """Its two ends."""
        return self.start, self.end


@dataclass(frozen=True)
class Arc:
    """Part of a circle, or of an ellipse that is a circle drawn out plumb: anticlockwise from `start` to `end` [deg].

    `across` and `up` are its half axes; they are alike for a circle. The angles are those of the circle before it was
    drawn out.
    """

    centre: Point
    across: float
    up: float
    start: float
    end: float

    @property
    def is_round(self) -> bool:
        """Whether it is part of a circle."""
        return abs(self.across - self.up) <= SAME

    def at(self, turn: float) -> Point:
        """The point at an angle [deg]."""
        x, y = self.centre
        return x + self.across * cos(radians(turn)), y + self.up * sin(radians(turn))

    def turns(self, most: float) -> list[float]:
        """Angles that part it into equal steps of at most so many degrees, both ends among them."""
        steps = max(ceil((self.end - self.start) / most - SAME), 1)
        return [self.start + (self.end - self.start) * step / steps for step in range(steps + 1)]

    def points(self) -> tuple[Point, ...]:
        """Along it, so close that a chord is NEAR."""
        widest = max(self.across, self.up, NEAR)
        most = min(2 * acos(1 - NEAR / widest), radians(45))
        return tuple(self.at(turn) for turn in self.turns(degrees(most)))


Curve = Segment | Arc


@dataclass(frozen=True)
class Line:
    """A curve that is cut or only marked; dashed where it is on the other side or belongs to another piece."""

    curve: Curve
    layer: Layer = "cut"
    dashed: bool = False


@dataclass(frozen=True)
class Label:
    """Words at a point: `anchor` is which end of them is there, `angle` [deg] how they are turned."""

    at: Point
    text: str
    anchor: Anchor = "middle"
    angle: float = 0.0
    size: float = LETTER

    def corners(self) -> tuple[Point, ...]:
        """Round the room it takes."""
        long = len(self.text) * self.size * WIDTH
        left = {"start": 0.0, "middle": -long / 2, "end": -long}[self.anchor]
        turned = cos(radians(self.angle)), sin(radians(self.angle))
        box = ((left, -0.3), (left + long, -0.3), (left + long, 1.1), (left, 1.1))
        sized = ((x, y * self.size) for x, y in box)
        return tuple(
            (self.at[0] + x * turned[0] - y * turned[1], self.at[1] + x * turned[1] + y * turned[0]) for x, y in sized
        )


@dataclass(frozen=True)
class Template:
    """One template: what it is, its lines and labels, and what is said of it beside, a line each.

    The first label is its name. `drawn` names figures under it that could be measured and are not yet.
    """

    title: str
    lines: tuple[Line, ...]
    labels: tuple[Label, ...] = ()
    says: tuple[str, ...] = ()
    drawn: tuple[str, ...] = ()

    @property
    def is_curved(self) -> bool:
        """Whether it has an arc."""
        return any(isinstance(line.curve, Arc) for line in self.lines)

    @property
    def basis(self) -> str:
        """Whether it is from what was built, or still from the drawing."""
        if self.drawn:
            return "AS DRAWN"
        return "as built"

    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of all its lines [mm]."""
        return _box([point for line in self.lines for point in line.curve.points()])

    def room(self) -> tuple[float, float, float, float]:
        """The same with its labels."""
        left, low, right, high = self.box()
        return _box([(left, low), (right, high), *(corner for label in self.labels for corner in label.corners())])

    @property
    def size(self) -> tuple[float, float]:
        """How wide and how high it is [mm]."""
        left, low, right, high = self.box()
        return right - left, high - low


def _box(points: Sequence[Point]) -> tuple[float, float, float, float]:
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)


def path(points: Sequence[Point], layer: Layer = "cut", *, closed: bool = False, dashed: bool = False) -> list[Line]:
    """Straight lines from point to point; one of no length is left out."""
    ends = [*points[1:], *(points[:1] if closed else ())]
    pairs = zip(points, ends, strict=False)
    return [Line(Segment(start, end), layer, dashed) for start, end in pairs if not _is_one(start, end)]


def _is_one(start: Point, end: Point) -> bool:
    return abs(start[0] - end[0]) <= SAME and abs(start[1] - end[1]) <= SAME


def mark(start: Point, end: Point, *, dashed: bool = False) -> Line:
    """A straight line that is not cut."""
    return Line(Segment(start, end), "mark", dashed)


def rows(at: Point, texts: Iterable[str], anchor: Anchor = "middle", size: float = LETTER) -> Iterator[Label]:
    """Words one under the other, the first at the point."""
    for number, text in enumerate(texts):
        yield Label((at[0], at[1] - number * size * 1.6), text, anchor, size=size)

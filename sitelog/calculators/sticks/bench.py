"""A timber lying on the bench: where its points are, and what a tape hooked at one end reads at each."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import Literal

from msgspec import Struct

from sitelog.calculators.catalogue import Row
from sitelog.geometry.vectors import atan_deg, cos_deg, sin_deg, tan_deg

End = Literal["head", "tail"]
POINTS = (  # of a rafter, in the order in which they are struck
    "head-top",
    "head-bottom",
    "plate-top",
    "corner",
    "heel-bottom",
    "seat-end",
    "tail-top",
    "tail-bottom",
)


class Mark(Struct, frozen=True):
    """A point on one line of a timber, mm: `along` it towards the head, `down` square from its top edge."""

    line: str
    point: str
    along: float
    down: float


JackMarks = tuple[Mark | None, Mark | None]  # of one jack on each side of a hip, on face 1 and on face 2


class CutLine(Struct, frozen=True):
    """A face or the centre of a rafter: how far in its plumb cuts are, level [mm], from the plate's edge or corner.

    `heel` is None of a rafter without a plate.
    """

    name: str
    head: float
    heel: float | None
    tail: float
    off: float = 0.0  # from the centre, level [mm]


class Rafter(Struct, frozen=True, dict=True):
    """A sloping timber cut plumb at head and tail: pitch [deg], depth [mm], and its lines.

    `height` [mm] is plumb from the seat to the top edge, where the line it is measured from meets the plate.
    """

    pitch: float
    depth: float
    height: float
    lines: tuple[CutLine, ...]

    @cached_property
    def seat_end(self) -> float:
        """Where the level seat comes out of the bottom edge [mm, level]."""
        return (self.depth / cos_deg(self.pitch) - self.height) / tan_deg(self.pitch)

    @property
    def marks(self) -> list[Mark]:
        """Every mark, point by point in the order in which they are struck."""
        found = [*self._marks()]
        return sorted(found, key=lambda mark: POINTS.index(mark.point))

    def _marks(self) -> Iterator[Mark]:
        for line in self.lines:
            yield from self._plumb(line.name, line.head, "head-top", "head-bottom")
            if line.heel is not None:
                yield from self._plumb(line.name, line.heel, "plate-top", "heel-bottom")
                yield self._mark(line.name, "corner", line.heel, 0.0)
                yield self._mark(line.name, "seat-end", self.seat_end, 0.0)
            yield from self._plumb(line.name, line.tail, "tail-top", "tail-bottom")

    def _plumb(self, line: str, level: float, top: str, bottom: str) -> Iterator[Mark]:
        """Both ends of a plumb line, on the top edge and on the bottom one."""
        on_top = level * tan_deg(self.pitch) + self.height
        yield self._mark(line, top, level, on_top)
        yield self._mark(line, bottom, level, on_top - self.depth / cos_deg(self.pitch))

    def on_top(self, line: str, point: str, level: float) -> Mark:
        """The point of its top edge so far in, level [mm]."""
        return self._mark(line, point, level, level * tan_deg(self.pitch) + self.height)

    def _mark(self, line: str, point: str, level: float, up: float) -> Mark:
        """The point so far in, level, and so far up from the seat [mm]."""
        along = level * cos_deg(self.pitch) + up * sin_deg(self.pitch)
        under = level * tan_deg(self.pitch) + self.height - up
        return Mark(line, point, along, under * cos_deg(self.pitch))

    def bevels(self, end: End) -> Iterator[dict[str, float]]:
        """Of each face beside the centre: the cut's bevel on the top edge, and the saw's tilt on the plumb line [deg].

        Both from square. A jack's one straight cut is given once, by its first face.
        """
        centre = next(line for line in self.lines if line.off == 0)
        for line in self.lines:
            if line.off:
                back = abs(getattr(line, end) - getattr(centre, end)) / abs(line.off)
                yield {"bevel": atan_deg(back / cos_deg(self.pitch)), "tilt": atan_deg(back)}


def overall(marks: Iterable[Mark]) -> tuple[float, float]:
    """The first and the last of all marks along the timber, mm."""
    places = [mark.along for mark in marks]
    return min(places), max(places)


class Tape(Struct, frozen=True):
    """A tape hooked `nick` mm outside the end that is `zero`; `tail` and `head` are the ends along the timber, mm."""

    zero: End
    nick: float
    tail: float
    head: float

    def at(self, mark: Mark) -> float:
        """What it reads at a mark [mm]."""
        return self.nick + (self.head - mark.along if self.zero == "head" else mark.along - self.tail)


def on_the_tape(marks: Sequence[Mark], tape: Tape) -> list[Row]:
    """The rows `{line, point, at, down}`, mm."""
    return [{"line": mark.line, "point": mark.point, "at": tape.at(mark), "down": mark.down} for mark in marks]

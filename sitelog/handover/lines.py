"""What a drawing is: lines and words in mm on a plane, y up, before anybody has chosen paper or a screen."""

from dataclasses import dataclass
from typing import Literal

# Built is solid, drawn is dotted, bold is a member of the stage in hand, thin measures, hidden lies behind.
Stroke = Literal["built", "drawn", "bold", "thin", "hidden"]
Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


@dataclass(frozen=True)
class Line:
    """A run of straight pieces through points in mm; `closed` joins the last to the first."""

    points: tuple[Point, ...]
    stroke: Stroke
    closed: bool = False

    @property
    def run(self) -> tuple[Point, ...]:
        return (*self.points, self.points[0]) if self.closed else self.points


@dataclass(frozen=True)
class Words:
    """Words whose block stands with the middle of its height at a point in mm; a line break makes two rows.

    `angle` [deg] turns them anticlockwise where that can be done; a terminal leaves them level.
    """

    at: Point
    text: str
    anchor: Anchor = "middle"
    angle: float = 0.0

    @property
    def rows(self) -> tuple[str, ...]:
        return tuple(self.text.split("\n"))

    @property
    def longest(self) -> int:
        return max(len(row) for row in self.rows)

    def left_of(self, length: float) -> float:
        """How far the block's left edge is from the point, for a block of that length in any unit."""
        return {"start": 0.0, "middle": -length / 2, "end": -length}[self.anchor]


@dataclass(frozen=True)
class Drawing:
    """Lines and words in mm. `says` gives the same sizes as text, for a reader who can't see them."""

    title: str
    lines: tuple[Line, ...]
    words: tuple[Words, ...]
    says: tuple[str, ...]


def caption(drawing: Drawing) -> str:
    """What a drawing shows, and how built and drawn are told apart in it."""
    dotted = any(line.stroke == "drawn" for line in drawing.lines)
    return f"{drawing.title}.{' Solid as built, dotted as drawn.' if dotted else ''}"


def extent(drawing: Drawing) -> tuple[float, float, float, float]:
    """Left, bottom, right and top [mm] of all points, those that words stand at with them."""
    points = [p for line in drawing.lines for p in line.points] + [w.at for w in drawing.words]
    return (
        min(x for x, _ in points),
        min(y for _, y in points),
        max(x for x, _ in points),
        max(y for _, y in points),
    )

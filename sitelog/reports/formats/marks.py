"""What can stand on a page of paper, and where: text, rules, boxes, drawings and photos, in mm from its top left."""

from dataclasses import dataclass, field

from sitelog.drawing.model import Drawing
from sitelog.reports.model import Section

LEADING = 1.28  # a line of text, in its size

POINT = 0.3528  # mm of a point of type


@dataclass(frozen=True)
class Text:
    """A line of text; `y` is its base line."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False

    @property
    def step(self) -> float:
        """From its base line to that of the next line of a paragraph, mm."""
        return self.size * POINT * LEADING


@dataclass(frozen=True)
class Rule:
    """A straight line of `pen` mm."""

    x: float
    y: float
    to_x: float
    to_y: float
    pen: float = 0.15


@dataclass(frozen=True)
class Box:
    """A rectangle by its top left corner: its edge, or filled with a shade of grey where `tint` is not 1 (white)."""

    x: float
    y: float
    wide: float
    high: float
    tint: float = 1.0
    pen: float = 0.15


@dataclass(frozen=True)
class Picture:
    """A drawing fitted into `wide` and `tallest` mm, by its top left corner."""

    x: float
    y: float
    wide: float
    tallest: float
    drawing: Drawing


@dataclass(frozen=True)
class Photo:
    """The photo of that file, as large as fits, by the top left corner of its place."""

    x: float
    y: float
    wide: float
    high: float
    file: str


Mark = Text | Rule | Box | Picture | Photo


@dataclass
class Page:
    """The marks of one page, and the sections that begin on it."""

    marks: list[Mark] = field(default_factory=list)
    begins: list[Section] = field(default_factory=list)

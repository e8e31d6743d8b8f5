"""How a drawing reads an answer and sets out its sizes: figures as words, dimension lines, frames and broken ends."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sitelog.calculators.catalogue import Answer, Row
from sitelog.calculators.index import find
from sitelog.drawing.model import Anchor, Beside, Drawing, Line, Point, Stroke, Words
from sitelog.quantities.quantity import Section, Units, show_angle, show_length
from sitelog.quantities.rounding import places

STRETCHES = (1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100)  # times that heights may be drawn larger
SHAPE = 3.0  # as long as high: a longer thing has its heights drawn larger


@dataclass(frozen=True)
class DrawnAnswer:
    """An answer, and how its figures are told: lengths in mm, angles in degrees."""

    worked: Answer
    units: Units

    def number(self, name: str) -> float:
        """A result, 0 where there is none."""
        value = self.worked.results.get(name)
        if not isinstance(value, (int, float)):
            return 0.0
        return float(value)

    def has(self, name: str) -> bool:
        """Whether the answer has a result of that name that is a number."""
        return isinstance(self.worked.results.get(name), (int, float))

    def given(self, name: str) -> float | None:
        """An input that is a number."""
        value = self.worked.inputs.get(name)
        if not isinstance(value, (int, float)):
            return None
        return float(value)

    def word(self, name: str) -> str:
        """An input that is a choice."""
        return str(self.worked.inputs.get(name, ""))

    def section(self, name: str = "section") -> Section:
        """An input that is a section, mm."""
        value = self.worked.inputs[name]
        assert isinstance(value, Section)
        return value

    def rows(self, name: str = "rows") -> list[Row]:
        """The rows of a result that is a table; none where it is not there."""
        value = self.worked.results.get(name)
        if not isinstance(value, list):
            return []
        return value

    def shapes(self, name: str) -> list[dict[str, Any]]:
        """The rows of a result with their points; none where it has none."""
        value = self.worked.shapes.get(name)
        if not isinstance(value, list):
            return []
        return value

    def points(self) -> dict[str, Point]:
        """Points by name as they are on plan [mm]."""
        value = self.worked.shapes.get("points")
        if not isinstance(value, dict):
            return {}
        return {name: (at[0], at[1]) for name, at in value.items()}

    def taken(self, name: str, otherwise: float = 0.0) -> float:
        """An input; `otherwise` where it was left out, or is 0."""
        return self.given(name) or otherwise

    def count(self, name: str) -> str:
        """A count, asked for or worked out."""
        value = self.given(name)
        return places(self.number(name) if value is None else value, 0)

    def mm(self, value: float) -> str:
        """A length as the tables show it."""
        return show_length(value, self.units)

    def size(self, name: str) -> str:
        """An input in every digit that was typed: an angle by its sign, another figure as a length."""
        value = self.taken(name)
        if find(self.worked.calculator).input(name).kind in ("angle", "pitch"):
            return show_angle(value, typed=True)
        return show_length(value, self.units, typed=True)

    def of(self, name: str) -> str:
        """A result as words, by its unit."""
        value = self.number(name)
        if self.worked.units.get(name) == "deg":
            return show_angle(value)
        return self.mm(value)


def figure(row: Row, name: str) -> float:
    """A figure of a row; 0 where it has none."""
    value = row.get(name)
    if not isinstance(value, (int, float)):
        return 0.0
    return float(value)


def points(rows: Iterable[Row], x: str = "x", y: str = "y") -> tuple[Point, ...]:
    """A point [mm] a row, by the names of its two columns."""
    return tuple((figure(row, x), figure(row, y)) for row in rows)


def box(left: float, low: float, right: float, high: float, stroke: Stroke = "built") -> Line:
    """An upright rectangle [mm]."""
    return Line(((left, low), (right, low), (right, high), (left, high)), stroke, closed=True)


def across(
    left: float, right: float, y: float, text: str, *, tick: float, beside: Beside = "", held: bool = False
) -> tuple[Line, Words]:
    """A level dimension line with an upright tick [mm] at each end, and its size on it, or beside it; `held` there."""
    line = Line(
        ((left, y + tick), (left, y - tick), (left, y), (right, y), (right, y + tick), (right, y - tick)), "thin"
    )
    return line, Words(((left + right) / 2, y), text, beside=beside, series=text if held else "")


def upright(x: float, low: float, high: float, text: str, *, tick: float, anchor: Anchor) -> tuple[Line, Words]:
    """A plumb dimension line with its size beside it: to its right for "start", to its left for "end"."""
    line = Line(((x - tick, low), (x + tick, low), (x, low), (x, high), (x - tick, high), (x + tick, high)), "thin")
    way = 1 if anchor == "start" else -1
    return line, Words((x + way * 2 * tick, (low + high) / 2), text, anchor)


def series(
    name: str, marks: Sequence[tuple[Point, str]], beside: Beside = "", anchors: Sequence[Anchor] = ()
) -> list[Words]:
    """Words at marks that are thinned together where there is no room for all."""
    return [
        Words(at, text, anchors[nth] if anchors else "middle", beside=beside, series=name)
        for nth, (at, text) in enumerate(marks)
    ]


def up_for(long: float, high: float) -> float:
    """How many times larger the heights of a thing [mm] are drawn, so that they can be read."""
    if high <= 0:
        return 1
    wanted = long / high / SHAPE
    return max((stretch for stretch in STRETCHES if stretch <= wanted), default=1)


def listed(name: str, pairs: Iterable[tuple[str, str]], between: str = ": ") -> str:
    """Figures at marks in one line: `heights: at 0: 0, at 150: 420`."""
    return f"{name}: {', '.join(f'at {mark}{between}{size}' for mark, size in pairs)}"


@dataclass(frozen=True)
class Sheet:
    """What a drawing gathers: pairs of a line and its words are taken apart."""

    lines: list[Line]
    words: list[Words]

    @classmethod
    def new(cls) -> "Sheet":
        """An empty sheet."""
        return cls([], [])

    def put(self, *things: Line | Words | tuple[Line, Words]) -> None:
        """Adds lines and words; a later line is drawn over an earlier."""
        for thing in things:
            if isinstance(thing, tuple):
                self.put(*thing)
            elif isinstance(thing, Line):
                self.lines.append(thing)
            else:
                self.words.append(thing)

    def drawing(self, title: str, says: Iterable[str], up: float = 1.0) -> Drawing:
        """All that was put, with the same sizes told in `says`; heights are shown `up` times as large."""
        return Drawing(title, tuple(self.lines), tuple(self.words), tuple(says), up)

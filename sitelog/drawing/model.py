"""What a drawing is: lines and words in mm on a plane, y up, before anybody has chosen paper or a screen."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Literal

from sitelog.quantities.rounding import as_typed
from sitelog.text import text_if

# Built is solid, drawn is dotted, bold is a member of the stage in hand, thin measures, hidden lies behind.
Stroke = Literal["built", "drawn", "bold", "thin", "hidden"]
SOLID: tuple[Stroke, ...] = ("built", "bold")
Anchor = Literal["start", "middle", "end"]
Beside = Literal["", "above", "below"]
Point = tuple[float, float]

BEFORE: dict[Anchor, float] = {"start": 0.0, "middle": 0.5, "end": 1.0}  # of a block's length, before its point
RAISED: dict[Beside, float] = {"": 0.0, "above": 1.0, "below": -1.0}
MOST_MARKS = 100  # of a series: more have no room on any sheet


@dataclass(frozen=True)
class Line:
    """A run of straight pieces through points in mm; `closed` joins the last to the first."""

    points: tuple[Point, ...]
    stroke: Stroke
    closed: bool = False

    @property
    def run(self) -> tuple[Point, ...]:
        """The points in turn, the first again at the end of a closed line."""
        if self.closed:
            return (*self.points, self.points[0])
        return self.points


@dataclass(frozen=True)
class Words:
    """Words whose block stands with the middle of its height at a point in mm; a line break makes two rows.

    `angle` [deg] turns them anticlockwise where that can be done; a terminal leaves them level. `beside` sets the
    whole block above or below the point. Words of one `series` stand at marks that must be told apart: they are not
    moved away from their marks, and where there is no room for all, every second is shown, or every third.
    """

    at: Point
    text: str
    anchor: Anchor = "middle"
    angle: float = 0.0
    beside: Beside = ""
    series: str = ""

    @cached_property
    def rows(self) -> tuple[str, ...]:
        """The rows of the block, from the top."""
        return tuple(self.text.split("\n"))

    @cached_property
    def longest(self) -> int:
        """The letters of the longest row."""
        return max(len(row) for row in self.rows)

    def left_of(self, length: float) -> float:
        """How far the block's left edge is from the point, for a block of that length in any unit."""
        return -length * BEFORE[self.anchor]

    @property
    def raised(self) -> float:
        """How many rows of text the block's middle stands over the point."""
        off = len(self.rows) / 2 + 0.5
        return off * RAISED[self.beside]


def rightward(wanted: bool) -> Anchor:
    """Words begin at their point where that is wanted, else they end there."""
    if wanted:
        return "start"
    return "end"


def leftward(wanted: bool) -> Anchor:
    """Words end at their point where that is wanted, else they begin there."""
    return rightward(not wanted)


def above_where(wanted: bool) -> Beside:
    """Words stand above their point where that is wanted, else below it."""
    if wanted:
        return "above"
    return "below"


def below_where(wanted: bool) -> Beside:
    """Words stand below their point where that is wanted, else above it."""
    return above_where(not wanted)


@dataclass(frozen=True)
class Drawing:
    """Lines and words in mm. `says` gives the same sizes as text, for a reader who can't see them.

    Points are true; a long low thing is shown with its heights drawn `up` times as large, and its caption says so.
    """

    title: str
    lines: tuple[Line, ...]
    words: tuple[Words, ...]
    says: tuple[str, ...]
    up: float = 1.0


def caption(drawing: Drawing) -> str:
    """What a drawing shows, and how built and drawn are told apart in it."""
    dotted = any(line.stroke == "drawn" for line in drawing.lines)
    raised = text_if(drawing.up != 1, f" Heights drawn {as_typed(drawing.up)} times as large.")
    return f"{drawing.title}.{text_if(dotted, ' Solid as built, dotted as drawn.')}{raised}"


def stretched(drawing: Drawing) -> Drawing:
    """The drawing with its heights as large as they are to be shown."""
    if drawing.up == 1:
        return drawing

    def raised(point: Point) -> Point:
        return point[0], point[1] * drawing.up

    lines = tuple(replace(line, points=tuple(map(raised, line.points))) for line in drawing.lines)
    words = tuple(replace(block, at=raised(block.at)) for block in drawing.words)
    return replace(drawing, lines=lines, words=words, up=1.0)


def thinned(words: Sequence[Words], clash: Callable[[Words, Words], bool]) -> tuple[Words, ...]:
    """The words with each series as full as it can be without two of it clashing.

    The first and the last are kept, then the middle and pairs outwards from it, or, where that leaves more, every
    second of all, every third, and so on.
    """

    def clear(group: Sequence[int], others: Sequence[int]) -> bool:
        return not any(clash(words[place], words[other]) for place in group for other in others)

    kept: set[int] = set()
    for name in dict.fromkeys(block.series for block in words):
        places = [place for place, block in enumerate(words) if block.series == name]
        kept.update(_fullest(places, clear) if name else places)
    return tuple(block for place, block in enumerate(words) if place in kept)


def _fullest(places: list[int], clear: Callable[[Sequence[int], Sequence[int]], bool]) -> list[int]:
    outwards: list[int] = []
    for pair in _from_middle(places):
        if clear(pair, outwards):
            outwards += pair
    evenly = next(
        (some for some in _strides(places) if all(clear([before], [after]) for before, after in pairwise(some))), []
    )
    return max(outwards, evenly, key=len)


def _from_middle(places: list[int]) -> list[list[int]]:
    places = _shown_at_most(places)
    last = len(places) - 1
    middle = last // 2
    pairs = [sorted({middle - off, middle + off}) for off in range(middle + 2)]
    inner = [[places[nth] for nth in pair if 0 < nth < last] for pair in pairs]
    if last:
        return [[places[0]], [places[-1]], *inner]
    return [places]


def _strides(places: list[int]) -> Iterator[list[int]]:
    """Every one of them, every second, every third; always the last."""
    places = _shown_at_most(places)
    last = len(places) - 1
    for step in range(1, last + 1):
        yield [*(places[nth] for nth in range(0, last - step + 1, step)), places[-1]]


def _shown_at_most(places: list[int]) -> list[int]:
    return [*places[: -1 : (len(places) - 1) // MOST_MARKS + 1], places[-1]]


def extent(drawing: Drawing) -> tuple[float, float, float, float]:
    """Left, bottom, right and top [mm] of all points, those that words stand at with them."""
    points = [point for line in drawing.lines for point in line.points] + [block.at for block in drawing.words]
    across, up = zip(*points, strict=True)
    return min(across), min(up), max(across), max(up)

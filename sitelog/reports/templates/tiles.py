"""How a template is parted into sheets of paper: which tiles there are, what each shows, and which are left out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import ceil, floor

from sitelog.reports.templates.bars import MOST
from sitelog.reports.templates.model import Point, Template

OVERLAP = 10.0  # mm of a tile that the next one has too
LEFT, LOW, SPARE = (
    14.0,
    24.0,
    5.0,
)  # mm beside and under a tile for the bars and the words; kept free on the other sides
DUST = 1e-9  # of a tile: what is on the very edge is on both sides of it
STEP = 5.0  # mm: a tile's sides are whole numbers of it
PAPERS = {"a4": (210.0, 297.0), "a3": (297.0, 420.0)}  # mm, upright
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Paper:
    """A sheet of paper, and the tile on it, which stays on the paper when it is made larger for the printer [mm]."""

    name: str
    wide: float
    high: float

    @property
    def tile(self) -> tuple[float, float]:
        """The tile's sides."""
        return _tile(self.wide - LEFT - SPARE), _tile(self.high - LOW - SPARE)


def _tile(room: float) -> float:
    return floor(room * (1 - MOST) / STEP) * STEP


def papers(name: str) -> tuple[Paper, Paper]:
    """That paper upright and lying. KeyError for another."""
    wide, high = PAPERS[name]
    return Paper(name, wide, high), Paper(name, high, wide)


@dataclass(frozen=True)
class Tile:
    """One sheet's part of the template, by its bottom left corner in it [mm]; rows go down, columns to the right."""

    row: int
    column: int
    left: float
    low: float

    @property
    def place(self) -> str:
        """Row and column, as they are written on it: `A1` is top left."""
        return f"{LETTERS[self.row % 26] * (self.row // 26 + 1)}{self.column + 1}"


@dataclass(frozen=True, eq=False)
class Tiles:
    """A template on sheets of one paper; what has nothing on it is left out."""

    template: Template
    paper: Paper

    @cached_property
    def counts(self) -> tuple[int, int]:
        """How many rows and columns."""
        left, low, right, high = self.template.room()
        wide, high = right - left, high - low
        across, up = self.paper.tile
        return max(ceil((high - OVERLAP) / (up - OVERLAP)), 1), max(ceil((wide - OVERLAP) / (across - OVERLAP)), 1)

    @cached_property
    def all(self) -> tuple[Tile, ...]:
        """Every tile, row by row; the template is in their middle."""
        (rows, columns), (across, up) = self.counts, self.paper.tile
        left, low, right, high = self.template.room()
        first = (left + right - (columns * (across - OVERLAP) + OVERLAP)) / 2
        top = (low + high + (rows * (up - OVERLAP) + OVERLAP)) / 2
        return tuple(
            Tile(row, column, first + column * (across - OVERLAP), top - up - row * (up - OVERLAP))
            for row in range(rows)
            for column in range(columns)
        )

    @cached_property
    def shown(self) -> tuple[Tile, ...]:
        """Those that something is on."""
        across, up = self.paper.tile
        found = {
            tile for piece in _pieces(self.template) for tile in self._round(piece) if _touches(piece, tile, across, up)
        }
        return tuple(tile for tile in self.all if tile in found)

    def _round(self, piece: tuple[Point, Point]) -> Iterator[Tile]:
        """The tiles that the upright rectangle round a piece is on."""
        (rows, columns), (across, up) = self.counts, self.paper.tile
        last = self.all[-1]
        left, low = self.all[0].left, last.low
        (x, y), (to_x, to_y) = piece
        of_columns = _places(x - left, to_x - left, across, columns)
        for from_below in _places(y - low, to_y - low, up, rows):
            for column in of_columns:
                yield self.all[(rows - 1 - from_below) * columns + column]

    @property
    def crosses(self) -> tuple[Point, ...]:
        """Of a tile, from its bottom left corner: one in each corner, in the middle of what it shares [mm]."""
        across, up = self.paper.tile
        half = OVERLAP / 2
        return (half, half), (across - half, half), (half, up - half), (across - half, up - half)


def tiles(template: Template, paper: str) -> Tiles:
    """The template on that paper, upright or lying, whichever takes fewer sheets. KeyError for another paper."""
    upright, lying = (Tiles(template, one) for one in papers(paper))
    if len(lying.shown) < len(upright.shown):
        return lying
    return upright


def _pieces(template: Template) -> Iterator[tuple[Point, Point]]:
    """Every straight piece of its lines, and the room of its labels."""
    for line in template.lines:
        points = line.curve.points()
        yield from pairwise(points)
    for label in template.labels:
        corners = label.corners()
        yield from zip(corners, (*corners[1:], corners[0]), strict=True)


def _places(start: float, end: float, side: float, count: int) -> range:
    """Which of the tiles along one way have any of a stretch, counted from the first tile's edge [mm]."""
    least, most = min(start, end), max(start, end)
    first, last = ceil((least - side) / (side - OVERLAP) - DUST), floor(most / (side - OVERLAP) + DUST)
    return range(max(first, 0), min(last, count - 1) + 1)


def _touches(piece: tuple[Point, Point], tile: Tile, across: float, up: float) -> bool:
    """Whether any of the piece is on the tile."""
    (x, y), (to_x, to_y) = piece
    spans = ((x, to_x - x, tile.left, tile.left + across), (y, to_y - y, tile.low, tile.low + up))
    return _shared(spans)


def _shared(spans: Sequence[tuple[float, float, float, float]]) -> bool:
    """Whether some of a piece is between both pairs of sides. Each way is (from, to less from, least, most)."""
    first, last = 0.0, 1.0
    for start, way, least, most in spans:
        if way == 0:
            if not least <= start <= most:
                return False
            continue
        one, other = sorted(((least - start) / way, (most - start) / way))
        first, last = max(first, one), min(last, other)
    return first <= last

"""Where words stand in the cells of a terminal: clear of each other, and of the lines as far as there is room."""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from sitelog.drawing.cells import ACROSS, UP, Cell, Ink, View
from sitelog.drawing.model import Drawing, Words, extent
from sitelog.drawing.placing import placed
from sitelog.text import clean

REACH_ACROSS, REACH_DOWN = 8, 4  # cells that words may be moved to stand clear

Row = tuple[Cell, str]  # a row of words, and the cell it starts at


def words_placed(drawing: Drawing, view: View, ink: Ink, width: int, height: int) -> Iterator[Row]:
    """Each row of words with the cell it starts at. Words that find no room at all are left to `says`."""
    lined, solid = frozenset(ink.cells), frozenset(ink.solid)
    screen = _Screen(drawing, view, width, height, lined, solid, _within(drawing, view))
    for _, place in list(placed(drawing.words, screen)):
        yield from place.rows


@dataclass(frozen=True)
class _Place:
    """Rows of words where they could stand, the cells they take, and how far off that is, across and down."""

    rows: tuple[Row, ...]
    cells: frozenset[Cell]
    drift: Cell


@dataclass(frozen=True)
class _Screen:
    """A terminal of `width` columns by `height` rows.

    `lined` are the cells with a line, `solid` those of solid lines, `inside` those between the outermost lines;
    `taken` those of the words placed so far, and beside them.
    """

    drawing: Drawing
    view: View
    width: int
    height: int
    lined: frozenset[Cell]
    solid: frozenset[Cell]
    inside: frozenset[Cell]
    taken: set[Cell] = field(default_factory=set)

    def clash(self, words: Words, other: Words) -> bool:
        return _clash(_stand(words, self.view), _stand(other, self.view))

    def tries(self, words: Words) -> Iterator[tuple[float, _Place]]:
        start = _stand(words, self.view)
        reach_across, reach_down = (1, 1) if words.series else (REACH_ACROSS, REACH_DOWN)
        drifts = [
            (along, down)
            for along in range(-reach_across, reach_across + 1)
            for down in range(-reach_down, reach_down + 1)
        ]
        for drift in sorted(drifts, key=_far):
            yield _far(drift), _moved(start, drift)

    def burden(self, words: Words, place: _Place) -> float | None:
        """On solid lines worst, on others less, close beside one least; words meant to stand outside are kept out."""
        cells = place.cells
        if cells & self.taken or not self._holds(cells):
            return None
        beside = {(column + side, row) for column, row in cells for side in (-1, 1)} - cells
        inside = 20 * len(cells & self.inside) if self._is_outer(words) else 0
        return 12 * len(cells & self.solid) + 5 * len(cells & self.lined) + 2 * len(beside & self.lined) + inside

    def tie(self, place: _Place) -> tuple[int, ...]:
        return place.drift

    def take(self, place: _Place) -> None:
        self.taken.update((column + side, row) for column, row in place.cells for side in (-1, 0, 1))

    def _holds(self, cells: frozenset[Cell]) -> bool:
        return all(0 <= column < self.width and 0 <= row < self.height for column, row in cells)

    def _is_outer(self, words: Words) -> bool:
        """Whether the words are meant to stand outside the lines."""
        left, bottom, right, top = extent(replace(self.drawing, words=()))
        return not (left <= words.at[0] <= right and bottom <= words.at[1] <= top)


def _far(drift: Cell) -> int:
    return abs(drift[0]) + 2 * abs(drift[1])


def _moved(start: list[Row], drift: Cell) -> _Place:
    rows = tuple(((column + drift[0], line + drift[1]), text) for (column, line), text in start)
    cells = frozenset((column + step, line) for (column, line), text in rows for step in range(len(text)))
    return _Place(rows, cells, drift)


def _within(drawing: Drawing, view: View) -> frozenset[Cell]:
    """The cells between the outermost lines."""
    cells = [view.cell(point) for line in drawing.lines for point in line.points]
    columns, rows = zip(*cells, strict=True)
    every_row = range(min(rows), max(rows) + 1)
    return frozenset((column, row) for column in range(min(columns), max(columns) + 1) for row in every_row)


def _stand(words: Words, view: View) -> list[Row]:
    """Each row of the words, and the cell it starts at where they were meant to stand."""
    rows = [clean(row) for row in words.rows]
    x, y = view.dot(words.at)
    top = {
        "": round(y / UP - len(rows) / 2),
        "above": int(y // UP) - len(rows),
        "below": int(y // UP) + 1,
    }[words.beside]
    return [((round(x / ACROSS + words.left_of(len(row))), top + nth), row) for nth, row in enumerate(rows)]


def _clash(rows: list[Row], others: list[Row]) -> bool:
    """True where two blocks of words would stand on each other, or without a blank between them."""
    first, last = rows[0][0][1], rows[-1][0][1]
    if last < others[0][0][1] or others[-1][0][1] < first:
        return False
    return _left(rows) <= _right(others) and _left(others) <= _right(rows)


def _left(rows: list[Row]) -> int:
    return min(column for (column, _), _ in rows)


def _right(rows: list[Row]) -> int:
    return max(column + len(text) for (column, _), text in rows)

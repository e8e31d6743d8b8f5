"""Where words stand in the cells of a terminal: clear of each other, and of the lines as far as there is room."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from sitelog.drawing.cells import ACROSS, UP, Cell, Ink, View
from sitelog.drawing.model import Drawing, Words, extent
from sitelog.drawing.placing import placed
from sitelog.text import clean

REACH_ACROSS, REACH_DOWN = 8, 4  # cells that words may be moved to stand clear


def _drifts(reach_across: int, reach_down: int) -> list[tuple[int, Cell]]:
    """The steps by which words may be moved, nearest first, each with how far it is: a row counts twice a column."""
    columns, rows = range(-reach_across, reach_across + 1), range(-reach_down, reach_down + 1)
    found = [(abs(along) + 2 * abs(down), (along, down)) for along in columns for down in rows]
    return sorted(found, key=lambda step: step[0])


ALL, CLOSE = _drifts(REACH_ACROSS, REACH_DOWN), _drifts(1, 1)

Row = tuple[Cell, str]  # a row of words, and the cell it starts at


def words_placed(drawing: Drawing, view: View, ink: Ink, width: int, height: int) -> Iterator[Row]:
    """Each row of words with the cell it starts at. Words that find no room at all are left to `says`."""
    lined, solid = frozenset(ink.cells), frozenset(ink.solid)
    outline = extent(replace(drawing, words=()))
    screen = _Screen(outline, view, width, height, lined, solid, _within(drawing, view))
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

    `outline` is what the lines take up, in mm as `extent` has it.
    `lined` are the cells with a line, `solid` those of solid lines, `inside` those between the outermost lines;
    `taken` those of the words placed so far, and beside them.
    """

    outline: tuple[float, float, float, float]
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
        for far, drift in CLOSE if words.series else ALL:
            yield far, _moved(start, drift)

    def burden(self, words: Words, place: _Place) -> float | None:
        """On solid lines worst, on others less, close beside one least; words meant to stand outside are kept out."""
        cells = place.cells
        if cells & self.taken or not self._holds(place.rows):
            return None
        beside = {(end, row) for (column, row), text in place.rows for end in (column - 1, column + len(text))}
        inside = 20 * len(cells & self.inside) if self._is_outer(words) else 0
        return 12 * len(cells & self.solid) + 5 * len(cells & self.lined) + 2 * len(beside & self.lined) + inside

    def tie(self, place: _Place) -> tuple[int, ...]:
        return place.drift

    def take(self, place: _Place) -> None:
        self.taken.update((column + side, row) for column, row in place.cells for side in (-1, 0, 1))

    def _holds(self, rows: Sequence[Row]) -> bool:
        return all(
            column >= 0 and column + len(text) <= self.width and 0 <= row < self.height for (column, row), text in rows
        )

    def _is_outer(self, words: Words) -> bool:
        """Whether the words are meant to stand outside the lines."""
        left, bottom, right, top = self.outline
        return not (left <= words.at[0] <= right and bottom <= words.at[1] <= top)


def _moved(start: list[Row], drift: Cell) -> _Place:
    rows = tuple(((column + drift[0], line + drift[1]), text) for (column, line), text in start)
    cells = frozenset({(step, line) for (column, line), text in rows for step in range(column, column + len(text))})
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

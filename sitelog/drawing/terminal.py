"""A drawing in a terminal: dots of braille, or plain letters; words stand clear of the lines and of each other."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import hypot

from sitelog.drawing.model import Drawing, Line, Point, Stroke, Words, extent, stretched, thinned
from sitelog.text import clean

# A cell is about twice as high as wide: two dots across and four up make square dots, and true proportion.
ACROSS, UP = 2, 4
BRAILLE = 0x2800
BIT = {
    (0, 0): 0x01, (0, 1): 0x02, (0, 2): 0x04, (0, 3): 0x40,
    (1, 0): 0x08, (1, 1): 0x10, (1, 2): 0x20, (1, 3): 0x80,
}  # fmt: skip
PATTERN: Mapping[Stroke, tuple[int, int]] = {  # dots on, of how many
    "built": (1, 1), "bold": (1, 1), "thin": (1, 2), "drawn": (1, 4), "hidden": (3, 6),
}  # fmt: skip
SOLID: tuple[Stroke, ...] = ("built", "bold")

Cell = tuple[int, int]  # column, row


def render(drawing: Drawing, width: int, height: int, *, ascii_only: bool = False) -> list[str]:
    """The drawing as `height` lines of at most `width` columns; built solid, drawn dotted.

    Where built and drawn are less than a cell apart the built line alone is shown: words give the difference.
    """
    if width < 1 or height < 1 or not drawing.lines:
        return [""] * max(height, 0)
    drawing = stretched(drawing)
    if ascii_only:
        drawing = replace(drawing, words=tuple(replace(w, text=_plain(w.text)) for w in drawing.words))
    view = _fitted(drawing, width, height)
    ink = _letters(drawing, view) if ascii_only else _dots(drawing, view)
    for spot, row in list(_placed(drawing, view, ink, width, height)):
        for beside in ((spot[0] - 1, spot[1]), (spot[0] + len(row), spot[1])):
            if beside not in ink.solid:
                ink.cells.pop(beside, None)  # words want a blank on either side
        for step, letter in enumerate(row):
            ink.cells[spot[0] + step, spot[1]] = letter
    rows = [[" "] * width for _ in range(height)]
    for (column, line), letter in ink.cells.items():
        if 0 <= column < width and 0 <= line < height:
            rows[line][column] = letter
    return ["".join(row).rstrip() for row in rows]


def _plain(text: str) -> str:
    return text.replace("°", " deg").encode("ascii", "replace").decode()


@dataclass(frozen=True)
class _View:
    """How mm become dots: `size` mm a dot, the dot (0, 0) at the top left of the first cell."""

    size: float
    left: float
    top: float

    def dot(self, point: Point) -> Point:
        return (point[0] - self.left) / self.size, (self.top - point[1]) / self.size

    def cell(self, point: Point) -> Cell:
        x, y = self.dot(point)
        return int(x // ACROSS), int(y // UP)


@dataclass
class _Ink:
    """What stands in each cell, and the cells where a solid line runs."""

    cells: dict[Cell, str] = field(default_factory=dict)
    solid: set[Cell] = field(default_factory=set)


def _fitted(drawing: Drawing, width: int, height: int) -> _View:
    """The largest view in which lines and words are all on the sheet, in its middle."""
    small, large = 1e-3, 1e6
    for _ in range(60):
        middle = (small * large) ** 0.5
        box = _box(drawing, middle)
        fits = box[2] - box[0] <= width * ACROSS - 2 and box[3] - box[1] <= height * UP - 2
        small, large = (small, middle) if fits else (middle, large)
    left, top, right, bottom = _box(drawing, large)
    spare_x, spare_y = width * ACROSS - (right - left), height * UP - (bottom - top)
    return _View(large, (left - spare_x / 2) * large, -(top - spare_y / 2) * large)


def _box(drawing: Drawing, size: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of everything, in dots with y down, at `size` mm a dot."""
    left, low, right, high = extent(drawing)
    xs, ys = [left / size, right / size], [-high / size, -low / size]
    for words in drawing.words:
        x, y = words.at[0] / size, -words.at[1] / size
        start = x + words.left_of(words.longest * ACROSS)
        xs += [start - ACROSS, start + (words.longest + 1) * ACROSS]  # a blank either side
        middle, half = y - words.raised * UP, (len(words.rows) + bool(words.beside)) * UP / 2
        ys += [middle - half, middle + half]
    return min(xs), min(ys), max(xs), max(ys)


# --- lines ------------------------------------------------------------------------------------------------------


def _steps(line: Line, view: _View) -> Iterator[tuple[int, int, bool]]:
    """Every dot along a line, one step of its longer way at a time; True where it runs more up than along."""
    for start, end in zip(line.run, line.run[1:], strict=False):
        (x0, y0), (x1, y1) = view.dot(start), view.dot(end)
        count = max(1, round(max(abs(x1 - x0), abs(y1 - y0))))
        for n in range(count + 1):
            yield (
                int((x0 + (x1 - x0) * n / count) // 1),
                int((y0 + (y1 - y0) * n / count) // 1),
                abs(y1 - y0) > abs(x1 - x0),
            )


def _dots(drawing: Drawing, view: _View) -> _Ink:
    solid = {dot for line in drawing.lines if line.stroke in SOLID for dot in _solid(line, view)}
    dots = set(solid)
    for line in drawing.lines:
        if line.stroke not in SOLID:
            on, of = PATTERN[line.stroke]
            hides = line.stroke == "drawn"
            dots |= {
                (x, y)
                for n, (x, y, _) in enumerate(_steps(line, view))
                if n % of < on and not (hides and _near(x, y, solid))
            }
    ink = _Ink(solid={(x // ACROSS, y // UP) for x, y in solid})
    bits: dict[Cell, int] = {}
    for x, y in dots:
        cell = (x // ACROSS, y // UP)
        bits[cell] = bits.get(cell, 0) | BIT[x % ACROSS, y % UP]
    ink.cells.update({cell: chr(BRAILLE + bit) for cell, bit in bits.items()})
    return ink


def _solid(line: Line, view: _View) -> Iterator[Cell]:
    for x, y, steep in _steps(line, view):
        yield x, y
        if line.stroke == "bold":
            yield (x + 1, y) if steep else (x, y + 1)


def _near(x: int, y: int, solid: set[Cell]) -> bool:
    """True where a solid dot is less than a cell away, so that the two lines can't be told apart."""
    return any((x + i, y + j) in solid for i in range(1 - ACROSS, ACROSS) for j in range(1 - UP, UP))


def _letters(drawing: Drawing, view: _View) -> _Ink:
    ink = _Ink()
    for stroke in ("thin", "hidden", "drawn", "built", "bold"):
        for line in drawing.lines:
            if line.stroke == stroke:
                _write(ink, line, view)
    return ink


def _write(ink: _Ink, line: Line, view: _View) -> None:
    for start, end in zip(line.run, line.run[1:], strict=False):
        (c0, r0), (c1, r1) = view.cell(start), view.cell(end)
        letter, by_row = _slope(end[0] - start[0], end[1] - start[1])
        count = abs(r1 - r0) if by_row else abs(c1 - c0)
        for n in range(count + 1):
            share = n / max(count, 1)
            cell = (round(c0 + (c1 - c0) * share), round(r0 + (r1 - r0) * share))
            if line.stroke in SOLID:
                ink.cells[cell] = "o" if line.stroke == "bold" else letter
                ink.solid.add(cell)
            elif by_row or n % 2 == 0:
                ink.cells[cell] = "." if line.stroke == "drawn" else letter
    if line.stroke in SOLID and (line.closed or len(line.points) > 2):
        ink.cells.update({view.cell(point): "+" for point in line.points})


def _slope(dx: float, dy: float) -> tuple[str, bool]:
    """The letter that lies along a direction, and whether it is written once a row (True) or once a column."""
    size = hypot(dx, dy) or 1.0
    if abs(dy) < 0.45 * size:
        return "-", False
    if abs(dx) < 0.2 * size:
        return "|", True
    return ("/" if dx * dy > 0 else "\\"), True


# --- words ------------------------------------------------------------------------------------------------------

REACH_ACROSS, REACH_DOWN = 8, 4  # cells that words may be moved to stand clear


def _placed(drawing: Drawing, view: _View, ink: _Ink, width: int, height: int) -> Iterator[tuple[Cell, str]]:
    """Each row of words with the cell it starts at. Words that find no room at all are left to `says`."""
    taken: set[Cell] = set()
    lined = frozenset(ink.cells)
    inside = _within(drawing, view)
    left, bottom, right, top = extent(replace(drawing, words=()))
    for words in thinned(drawing.words, lambda one, other: _clash(one, other, view)):
        outer = not (left <= words.at[0] <= right and bottom <= words.at[1] <= top)
        best = min(
            ((_cost(cells, drift, lined, ink.solid) + (20 * len(cells & inside) if outer else 0), drift, rows, cells)
             for drift, rows, cells in _tries(words, view)
             if not cells & taken and all(0 <= c < width and 0 <= r < height for c, r in cells)),
            key=lambda one: (one[0], one[1]),
            default=None,
        )  # fmt: skip
        if best:
            taken |= {(c + side, r) for c, r in best[3] for side in (-1, 0, 1)}
            yield from best[2]


def _within(drawing: Drawing, view: _View) -> frozenset[Cell]:
    """The cells between the outermost lines: words meant to stand outside are kept out of them."""
    cells = [view.cell(point) for line in drawing.lines for point in line.points]
    columns, rows = [c for c, _ in cells], [r for _, r in cells]
    return frozenset((c, r) for c in range(min(columns), max(columns) + 1) for r in range(min(rows), max(rows) + 1))


def _tries(words: Words, view: _View) -> Iterator[tuple[Cell, list[tuple[Cell, str]], frozenset[Cell]]]:
    """Every place near where the words were meant to stand: how far off, its rows, and the cells they take."""
    start = _stand(words, view)
    reach = (1, 1) if words.series else (REACH_ACROSS, REACH_DOWN)
    for down in range(-reach[1], reach[1] + 1):
        for along in range(-reach[0], reach[0] + 1):
            spots = [((column + along, line + down), row) for (column, line), row in start]
            yield (
                (along, down),
                spots,
                frozenset((c + i, r) for (c, r), row in spots for i in range(len(row))),
            )


def _stand(words: Words, view: _View) -> list[tuple[Cell, str]]:
    """Each row of the words, and the cell it starts at where they were meant to stand."""
    rows = [clean(row) for row in words.rows]
    x, y = view.dot(words.at)
    top = {
        "": round(y / UP - len(rows) / 2),
        "above": int(y // UP) - len(rows),
        "below": int(y // UP) + 1,
    }[words.beside]
    return [((round(x / ACROSS + words.left_of(len(row))), top + n), row) for n, row in enumerate(rows)]


def _clash(one: Words, other: Words, view: _View) -> bool:
    """True where two blocks of words would stand on each other, or without a blank between them."""
    a, b = _stand(one, view), _stand(other, view)
    if a[-1][0][1] < b[0][0][1] or b[-1][0][1] < a[0][0][1]:
        return False
    return all(
        min(column for (column, _), _ in mine) <= max(column + len(row) for (column, _), row in theirs)
        for mine, theirs in ((a, b), (b, a))
    )


def _cost(cells: frozenset[Cell], drift: Cell, lined: frozenset[Cell], solid: set[Cell]) -> float:
    """How ill words stand: on solid lines worst, on others less, close beside one, and far from their place."""
    beside = frozenset((c + side, r) for c, r in cells for side in (-1, 1)) - cells
    return (
        12 * len(cells & solid) + 5 * len(cells & lined) + 2 * len(beside & lined) + abs(drift[0]) + 2 * abs(drift[1])
    )

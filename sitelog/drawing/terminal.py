"""A drawing in a terminal: dots of braille, or plain letters; words stand clear of the lines and of each other."""

from dataclasses import replace

from sitelog.drawing.cell_words import Row, words_placed
from sitelog.drawing.cells import ACROSS, UP, Ink, View, dots, letters
from sitelog.drawing.model import Drawing, Words, extent, stretched


def render(drawing: Drawing, width: int, height: int, *, ascii_only: bool = False) -> list[str]:
    """The drawing as `height` lines of at most `width` columns; built solid, drawn dotted.

    Where built and drawn are less than a cell apart the built line alone is shown: words give the difference.
    """
    if width < 1 or height < 1 or not drawing.lines:
        return [""] * max(height, 0)
    drawing = stretched(drawing)
    if ascii_only:
        drawing = replace(drawing, words=tuple(map(_plain, drawing.words)))
    view = fitted(drawing, width, height)
    ink = letters(drawing, view) if ascii_only else dots(drawing, view)
    for row in words_placed(drawing, view, ink, width, height):
        _write(ink, row)
    return _sheet(ink, width, height)


def _plain(words: Words) -> Words:
    return replace(words, text=words.text.replace("°", " deg").encode("ascii", "replace").decode())


def _write(ink: Ink, row: Row) -> None:
    """A row of words over the lines, with a blank on either side of it where no solid line runs."""
    (column, line), text = row
    for beside in ((column - 1, line), (column + len(text), line)):
        if beside not in ink.solid:
            ink.cells.pop(beside, None)
    for step, letter in enumerate(text):
        ink.cells[column + step, line] = letter


def _sheet(ink: Ink, width: int, height: int) -> list[str]:
    rows = [[" "] * width for _ in range(height)]
    for (column, line), letter in ink.cells.items():
        if 0 <= column < width and 0 <= line < height:
            rows[line][column] = letter
    return ["".join(row).rstrip() for row in rows]


def fitted(drawing: Drawing, width: int, height: int) -> View:
    """The largest view in which lines and words are all on the sheet, in its middle."""
    small, large = 1e-3, 1e6
    for _ in range(60):
        middle = (small * large) ** 0.5
        box = _box(drawing, middle)
        fits = box[2] - box[0] <= width * ACROSS - 2 and box[3] - box[1] <= height * UP - 2
        small, large = (small, middle) if fits else (middle, large)
    left, top, right, bottom = _box(drawing, large)
    spare_x, spare_y = width * ACROSS - (right - left), height * UP - (bottom - top)
    return View(large, (left - spare_x / 2) * large, -(top - spare_y / 2) * large)


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

"""A drawing in a terminal: dots of braille, or plain letters; words stand clear of the lines and of each other."""

from collections.abc import Sequence
from dataclasses import replace

from sitelog.drawing.cell_words import Row, words_placed
from sitelog.drawing.cells import ACROSS, UP, Ink, View, dots, letters
from sitelog.drawing.model import Drawing, Words, extent, stretched

SMALLEST, LARGEST = 1e-3, 1e6  # mm a dot

Span = tuple[float, float, float]  # a place in mm, and how far what stands there reaches either way, in dots


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
    across, up = _spans(drawing)
    size = max(_least_size(across, width * ACROSS - 2), _least_size(up, height * UP - 2))
    left, right = _reach(across, size)
    low, high = _reach(up, size)
    spare_x, spare_y = width * ACROSS - (right - left), height * UP - (high - low)
    return View(size, (left - spare_x / 2) * size, (high + spare_y / 2) * size)


def _spans(drawing: Drawing) -> tuple[list[Span], list[Span]]:
    """Of the lines and of each block of words: across the sheet, and up it."""
    left, low, right, high = extent(drawing)
    across, up = [(left, 0.0, 0.0), (right, 0.0, 0.0)], [(low, 0.0, 0.0), (high, 0.0, 0.0)]
    for words in drawing.words:
        start = words.left_of(words.longest * ACROSS)
        across.append((words.at[0], start - ACROSS, start + (words.longest + 1) * ACROSS))  # a blank either side
        middle, half = words.raised * UP, (len(words.rows) + bool(words.beside)) * UP / 2
        up.append((words.at[1], middle - half, middle + half))
    return across, up


def _least_size(spans: Sequence[Span], room: float) -> float:
    """The mm a dot at which the spans just take up the room [dots]; the largest where their words alone don't fit."""
    size = SMALLEST
    for first, before, _ in spans:
        for last, _, after in spans:
            if last > first:
                spare = room - (after - before)
                size = max(size, (last - first) / spare if spare > 0 else LARGEST)
    return min(size, LARGEST)


def _reach(spans: Sequence[Span], size: float) -> tuple[float, float]:
    """From where to where the spans run [dots], at `size` mm a dot."""
    return min(at / size + before for at, before, _ in spans), max(at / size + after for at, _, after in spans)

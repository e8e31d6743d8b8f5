"""Words shared out over as few sheets as keep each clear of the others on a terminal of 80 columns."""

from collections.abc import Sequence

from sitelog.drawing.cells import ACROSS, UP
from sitelog.drawing.model import Point, Words

COLUMNS, ROWS = 64, 15  # what a picture of 80 by 20 has left for its lines
CLEAR_COLUMNS, CLEAR_ROWS = 4, 2  # between words
MOST = 10  # on a sheet


def batches(words: Sequence[Words], points: Sequence[Point]) -> list[list[Words]]:
    """The words in the order given, on the first sheet where each is clear; `points` [mm] are drawn too."""
    xs, ys = zip(*points, strict=True)
    size = max((max(xs) - min(xs)) / (COLUMNS * ACROSS), (max(ys) - min(ys)) / (ROWS * UP), 1e-9)
    sheets: list[list[Words]] = []
    for block in words:
        for sheet in sheets:
            if len(sheet) < MOST and not any(_clash(block, other, size) for other in sheet):
                sheet.append(block)
                break
        else:
            sheets.append([block])
    return sheets


def _clash(block: Words, other: Words, size: float) -> bool:
    columns = abs(block.at[0] - other.at[0]) / (ACROSS * size)
    rows = abs(block.at[1] - other.at[1]) / (UP * size)
    return columns < (block.longest + other.longest) / 2 + CLEAR_COLUMNS and rows < CLEAR_ROWS

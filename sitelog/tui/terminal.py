"""What goes to the terminal: of all that a screen paints, only the cells that show something else than before."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from rich.cells import get_character_cell_size
from textual.driver import Driver

# What a painting is made of: lines, each put somewhere, of letters, most with a style that is taken off after them;
# and where it leaves the cursor.
_PUT, _TEXT = r"\x1b\[(?P<row>\d+);(?P<column>\d+)H", r"[^\x00-\x1f\x7f-\x9f]"
_PIECE = rf"{_PUT}|\x1b\[(?P<style>[\d;]+)m(?P<styled>{_TEXT}*)\x1b\[0m|(?P<plain>{_TEXT}+)"
_START, _END, _PIECES = re.compile(_PUT), re.compile(rf"{_PUT}\Z"), re.compile(_PIECE)
_LINE = re.compile(re.sub(r"\?P<\w+>", "?:", f"(?:{_PIECE})*"))
# What changes no cell: painting begins and ends, the cursor is shown or not, the bell.
_HARMLESS = re.compile(r"(?:\x1b\[\?(?:2026|25)[hl]|\x07)*")
NEAR = 6  # cells that stay: to write them again is shorter than to put the cursor past them
REST = ""  # of a cell: the second half of a wide letter

Cell = tuple[str, str]  # a letter and its style
Cells = dict[int, Cell]  # of a row, by column from 1


class Line(NamedTuple):
    """A line of a painting: the row that it is put in, what was painted, and the cells that this fills."""

    row: int
    painted: str
    cells: Cells


class Painted:
    """The cells of a terminal, as they were last written, by row from 1."""

    def __init__(self) -> None:
        self._rows: dict[int, Cells] = {}
        self._lines: dict[int, dict[str, range]] = {}  # those that a row shows, and the columns that they fill
        self._cursor = (0, 0)

    def forget(self) -> None:
        """Nothing is known of the terminal any more: all that is painted next goes to it."""
        self._rows, self._lines, self._cursor = {}, {}, (0, 0)

    def changed(self, painting: str) -> str:
        """What makes the same of the terminal as that painting would; what is no painting stays as it is."""
        if _HARMLESS.fullmatch(painting):
            return painting
        end = _END.search(painting)
        lines = end and self._read(painting[: end.start()].split("\n"))
        if not end or lines is None:
            self.forget()
            return painting
        told = "".join(self._told(_by_row(lines)))
        for line in lines:
            self._keep(line)
        cursor = int(end["row"]), int(end["column"])
        if not told and cursor == self._cursor:
            return ""
        self._cursor = cursor
        return f"{told}{end[0]}"

    def _read(self, painted: Sequence[str]) -> list[Line] | None:
        """The lines that are not shown yet; None if it is more than a painting."""
        found: list[Line] = []
        fresh: dict[int, Cells] = {}
        for text in filter(None, painted):
            start = _START.match(text)
            if start is None:
                return None
            row = int(start["row"])
            if row not in fresh and text in self._lines.get(row, ()):
                continue
            cells, there = _cells(row, text), fresh.setdefault(row, {})
            if cells is None or _halves(there, cells):
                return None
            there.update(cells)
            found.append(Line(row, text, cells))
        return found

    def _keep(self, line: Line) -> None:
        """The line stands in its row, and those that it is written over no longer do."""
        if line.cells:
            filled = range(min(line.cells) - 1, max(line.cells) + 2)  # with what it may halve of a wide letter
            held = self._lines.get(line.row, {})
            apart = {other: at for other, at in held.items() if at.stop <= filled.start or filled.stop <= at.start}
            self._lines[line.row] = {**apart, line.painted: filled}

    def _told(self, fresh: dict[int, Cells]) -> Iterator[str]:
        style = ""
        for row, cells in sorted(fresh.items()):
            held = self._rows.setdefault(row, {})
            at = 0
            for column in self._columns(held, cells):
                letter, wanted = cells.get(column) or held[column]
                if letter == REST:
                    continue
                if at != column:
                    yield f"\x1b[{row};{column}H"
                if wanted != style:
                    yield f"\x1b[{';'.join(filter(None, ('0', wanted)))}m"
                    style = wanted
                yield letter
                at = column + _width(letter)
            _put(held, cells)
        if style:
            yield "\x1b[0m"

    @staticmethod
    def _columns(held: Cells, cells: Cells) -> Iterator[int]:
        """The columns of a row that change, and the few between two of them that do not."""
        last = 0
        for column in sorted(column for column, cell in cells.items() if held.get(column) != cell):
            between = range(last + 1, column)
            if last and len(between) <= NEAR and all(other in cells or other in held for other in between):
                yield from between
            yield column
            last = column


def _put(held: Cells, cells: Cells) -> None:
    """Take these cells in. What is left of a wide letter that lost a half is not known."""
    for column in cells:
        for half, other in ((column, column - 1), (column + 1, column + 1)):
            if held.get(half, ("x", ""))[0] == REST and other not in cells:
                held.pop(other, None)
    held.update(cells)


def _by_row(lines: Iterable[Line]) -> dict[int, Cells]:
    """The cells of each row; what is painted later stands over what is painted before."""
    fresh: dict[int, Cells] = {}
    for line in lines:
        fresh.setdefault(line.row, {}).update(line.cells)
    return fresh


def _halves(there: Cells, cells: Cells) -> bool:
    """Whether a wide letter there would lose a half to these."""
    return bool(cells) and any(there.get(at, (".", ""))[0] == REST for at in (min(cells), max(cells) + 1))


def _cells(row: int, line: str) -> Cells | None:
    """The cells that the line fills; None if it is more than letters of a row, or halves a wide one of its own."""
    pieces: list[tuple[str, ...]] = _PIECES.findall(line)
    if not _LINE.fullmatch(line) or {put for put, *_ in pieces if put} != {str(row)}:
        return None
    cells: Cells = {}
    column = 0
    for _, put, style, styled, plain in pieces:
        if put:
            column = int(put)
        filled = _filled(styled + plain, column, style)
        if filled is None or _halves(cells, filled):
            return None
        cells.update(filled)
        column += len(filled)
    return cells


def _filled(text: str, column: int, style: str) -> Cells | None:
    """The cells of the letters from that column on; None where one takes none of its own."""
    if text.isascii():
        return {at: (letter, style) for at, letter in enumerate(text, column)}
    cells: Cells = {}
    for letter in text:
        width = _width(letter)
        if not width:
            return None
        cells[column] = (letter, style)
        if width == 2:
            cells[column + 1] = (REST, style)
        column += width
    return cells


def _width(letter: str) -> int:
    return 1 if letter.isascii() else get_character_cell_size(letter)


def thrifty(driver: type[Driver], painted: Painted) -> type[Driver]:
    """That driver, writing only what changes."""

    def write(self: Any, data: str) -> None:
        if changed := painted.changed(data):
            driver.write(self, changed)

    return type(driver.__name__, (driver,), {"write": write})

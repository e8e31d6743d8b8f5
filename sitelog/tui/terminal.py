"""What goes to the terminal: of all that a screen paints, only the cells that show something else than before."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from rich.cells import get_character_cell_size
from textual.driver import Driver

from sitelog.text import text_between, text_if
from sitelog.tui.moved import Cell, Cells, moved

# What a painting is made of: lines, each put somewhere, of letters, most with a style that is taken off after them;
# and where it leaves the cursor.
_PUT, _TEXT = r"\x1b\[(?P<row>\d+);(?P<column>\d+)H", r"[^\x00-\x1f\x7f-\x9f]"
_PIECE = rf"{_PUT}|\x1b\[(?P<style>[\d;]+)m(?P<styled>{_TEXT}*)\x1b\[0m|(?P<plain>{_TEXT}+)"
_START, _END, _PIECES = re.compile(_PUT), re.compile(rf"{_PUT}\Z"), re.compile(_PIECE)
_LINE = re.compile(re.sub(r"\?P<\w+>", "?:", f"(?:{_PIECE})*"))
# What changes no cell: painting begins and ends, the cursor is shown or not, the bell.
_HARMLESS = re.compile(r"(?:\x1b\[\?(?:2026|25)[hl]|\x07)*")
NEAR = 6  # cells that stay: to write them again is shorter than to put the cursor past them
LONG = 400  # bytes: a painting that writes more is looked at for rows that the terminal can move
REST = ""  # of a cell: the second half of a wide letter
UNKNOWN = "", "?"  # a cell of no style
# A style of which a blank shows its ground alone: nothing runs under or through it, and it isn't turned round.
_COLOUR = r"[{0}][0-79]|{1}|{0}8;5;\d+|{0}8;2;\d+;\d+;\d+"
_ON_BLANK = re.compile(
    rf"(?:[1-3](?:;|$))*(?:(?:{_COLOUR.format(3, '9[0-7]')})(?:;|$))?(?P<ground>(?:{_COLOUR.format(4, '10[0-7]')})?)"
)


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
        self._moves = True

    def forget(self, *, moves: bool = True) -> None:
        """Nothing is known of the terminal any more: all that is painted next goes to it.

        It `moves` rows that scroll, unless more is painted than it has room for.
        """
        self._rows, self._lines, self._cursor, self._moves = {}, {}, (0, 0), moves

    def changed(self, painting: str) -> str:
        """What makes the same of the terminal as that painting would; what is no painting stays as it is."""
        if _HARMLESS.fullmatch(painting):
            return painting
        end = _END.search(painting)
        lines = end and self._read(painting[: end.start()].split("\n"))
        if not end or lines is None:
            self.forget(moves=self._moves)
            return painting
        told = self._told(_by_row(lines))
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

    def _told(self, fresh: dict[int, Cells]) -> str:
        """What is written of the rows: what changes of them, or what still does once the terminal has moved them."""
        shown = self._rows
        told = _written(shown, fresh)
        self._rows = shown | {row: _put(shown.get(row, {}), cells) for row, cells in fresh.items()}
        move = moved(shown, self._rows, fresh) if self._moves and len(told) > LONG else None
        if move is None:
            return told
        still = fresh | {row: self._rows[row] for row in move.rows}
        return min(told, f"{move}{_written(shown | move.of(shown), still)}", key=len)


def _written(shown: Mapping[int, Cells], fresh: Mapping[int, Cells]) -> str:
    """The rows, as far as they are not shown: style by style, as one is longer than where the next letters stand."""
    runs: dict[str, list[str]] = {"": []}
    for row, cells in sorted(fresh.items()):
        at, style = 0, ""
        for column, letter, wanted in _styled(shown.get(row, {}), cells):
            stays = at == column and (wanted == style or (letter == " " and wanted == _ground(style)))
            if not stays:
                style = wanted
                runs.setdefault(style, []).append(f"\x1b[{row};{column}H")
            runs[style].append(letter)
            at = column + _width(letter)
    told = [text_between("\x1b[0;", style, "m") + "".join(letters) for style, letters in runs.items()]
    return "".join(told) + text_if(len(told) > 1, "\x1b[0m")


def _styled(held: Cells, cells: Cells) -> list[tuple[int, str, str]]:
    """What is written of a row: columns, letters and styles; a blank's is the next letter's if it shows no other."""
    found: list[tuple[int, str, str]] = []
    after = ""
    for column in reversed(_columns(held, cells)):
        letter, style = cells.get(column) or held[column]
        if letter != REST:
            after = after if letter == " " and style == _ground(after) else style
            found.append((column, letter, after))
    return found[::-1]


def _columns(held: Cells, cells: Cells) -> list[int]:
    """The columns of a row that change, and the few between two of them that do not, where one style is in all."""
    found: list[int] = []
    last = 0
    for column in sorted([column for column, cell in cells.items() if held.get(column) != cell]):
        if last and 1 < column - last <= NEAR + 1:
            near = [cells.get(at) or held.get(at, UNKNOWN) for at in range(last, column + 1)]
            found += range(last + 1, column) if _alike(near) else ()
        found.append(column)
        last = column
    return found


def _alike(cells: Sequence[Cell]) -> bool:
    """Whether one style shows them all."""
    letters = {style for letter, style in cells if letter != " "}
    return len(letters) <= 1 and len({_ground(style) for _, style in cells}) == 1


@lru_cache(256)
def _ground(style: str) -> str:
    """What a blank shows of that style."""
    found = _ON_BLANK.fullmatch(style)
    return found["ground"] if found else style


def _put(shown: Cells, cells: Cells) -> Cells:
    """These cells over those. What is left of a wide letter that lost a half is not known."""
    held = shown | cells
    for half in [column for column, (letter, _) in shown.items() if letter == REST]:
        if (half in cells) != (half - 1 in cells):
            held.pop(half - 1 if half in cells else half, None)
    return held


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
    blank = " ", _ground(style)
    if text.isascii():
        return {at: blank if letter == " " else (letter, style) for at, letter in enumerate(text, column)}
    cells: Cells = {}
    for letter in text:
        width = _width(letter)
        if not width:
            return None
        cells[column] = blank if letter == " " else (letter, style)
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

"""What is left out of what a screen paints: the terminal shows the same, cell by cell."""

import re
from collections.abc import Sequence

import pyte
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len, get_character_cell_size

from sitelog.tui.moved import Move, moved
from sitelog.tui.terminal import LONG, Painted

WIDTH, ROWS = 24, 4
# What a blank shows of each style: its ground, unless something runs under it or it is turned round.
ON_BLANK = {
    "": "",
    "1": "",
    "4": "4",
    "7": "7",
    "38;5;16;48;5;231": "48;5;231",
    "1;38;2;0;0;4;48;5;231": "48;5;231",
    "21;31;44": "21;31;44",
    "3;91;104": "104",
    "48;5;231": "48;5;231",
    "104": "104",
}
TOKEN = re.compile(r"\x1b\[(\d+);(\d+)H|\x1b\[([\d;]*)m|(\n)|(.)")


class Terminal:
    """A terminal by the book (ECMA-48: CUP, SGR): what each cell shows; half of a wide letter is a blank."""

    def __init__(self) -> None:
        self.cells: dict[tuple[int, int], tuple[str, str]] = {}
        self.at, self.style = (1, 1), ""

    def feed(self, data: str) -> None:
        for row, column, style, end, letter in TOKEN.findall(data):
            if row:
                self.at = int(row), int(column)
            elif letter:
                self._put(letter)
            elif end:
                self.at = self.at[0] + 1, 1
            elif style in ("", "0") or style.startswith("0;"):
                self.style = style[2:]
            else:
                self.style = f"{self.style};{style}".strip(";")

    def _put(self, letter: str) -> None:
        row, column = self.at
        wide = get_character_cell_size(letter) == 2
        for place in (column, column + 1)[: 1 + wide]:
            self._halve(row, place)
        self.cells[row, column] = (letter, ON_BLANK[self.style] if letter == " " else self.style)
        if wide:
            self.cells[row, column + 1] = ("", self.style)
        self.at = row, column + 1 + wide

    def _halve(self, row: int, column: int) -> None:
        """What stands there goes, and with half a wide letter its other half."""
        if self.cells.get((row, column), ("x", ""))[0] == "":
            self.cells[row, column - 1] = (" ", self.cells[row, column][1])
        if self.cells.get((row, column + 1), ("x", ""))[0] == "":
            self.cells[row, column + 1] = (" ", self.cells[row, column][1])


texts = st.text("ab √木本 ", min_size=1, max_size=9)
pieces = st.tuples(st.integers(1, ROWS), st.integers(1, WIDTH // 2), st.sampled_from(list(ON_BLANK)), texts)
paintings = st.lists(pieces, min_size=1, max_size=5)


def painted(rows: Sequence[tuple[int, int, str, str]]) -> str:
    """As the library paints: each piece put in its place, styled, and the style taken off."""
    told = [
        f"\x1b[{row};{column}H" + (f"\x1b[{style}m{text}\x1b[0m" if style else text)
        for row, column, style, text in rows
    ]
    return "\n".join(told) + "\x1b[1;1H"


@given(st.lists(st.one_of(paintings, st.none()), max_size=8))
def test_the_terminal_shows_the_same_as_if_all_had_been_written(
    screens: list[list[tuple[int, int, str, str]] | None],
) -> None:
    whole, spared, kept = Terminal(), Terminal(), Painted()
    for rows in screens:
        if rows is None:
            kept.forget()
            continue
        data = painted(rows)
        whole.feed(data)
        spared.feed(kept.changed(data))
        assert spared.cells == whole.cells
        assert spared.at == whole.at
        assert spared.style == ""
        assert kept.changed(data) == "" or len({row for row, *_ in rows}) < len(rows)


LIST, WIDE = 14, 60
rows_of_a_list = st.lists(
    st.tuples(st.sampled_from(["", "7", "38;5;16;48;5;231"]), st.text("ab 木", min_size=1, max_size=30)),
    min_size=LIST * 2,
    max_size=LIST * 2,
)


def window(rows: Sequence[tuple[str, str]], first: int) -> str:
    """As many rows of a list as fit, from that one on, with a bar at the right that stays."""
    seen = rows[first : first + LIST]
    padded = [
        (number, 1, style, text + " " * (WIDE - 1 - cell_len(text))) for number, (style, text) in enumerate(seen, 1)
    ]
    return painted([*padded, *((number, WIDE, "104", " ") for number in range(1, LIST + 1))])


def seen(screen: pyte.Screen) -> list[list[tuple[object, ...]]]:
    """What a terminal shows, letter by letter: of a blank that is not turned round, its ground."""
    cells = [[screen.buffer[row][column] for column in range(WIDE)] for row in range(LIST)]
    return [
        [(cell.data, cell.bg, cell.reverse, cell.fg if cell.data != " " or cell.reverse else "") for cell in row]
        for row in cells
    ]


@given(rows_of_a_list, st.lists(st.integers(0, LIST), min_size=2, max_size=5))
def test_a_list_that_scrolls_shows_the_same_in_a_terminal_that_moves_its_rows(
    rows: list[tuple[str, str]], firsts: list[int]
) -> None:
    """The terminal is pyte's, which does margins and index by ECMA-48 and the VT100's manual."""
    whole, spared, kept = pyte.Screen(WIDE, LIST + 1), pyte.Screen(WIDE, LIST + 1), Painted()
    for first in firsts:
        data = window(rows, first)
        pyte.Stream(whole).feed(data.replace("\n", "\r\n"))
        pyte.Stream(spared).feed(kept.changed(data))
        assert seen(spared) == seen(whole)
        assert (spared.cursor.y, spared.cursor.x, spared.margins) == (0, 0, None)


def test_rows_that_scroll_are_moved_by_the_terminal_and_only_new_ones_written() -> None:
    rows = [("", chr(ord("A") + number) * 40) for number in range(LIST * 2)]
    kept = Painted()
    kept.changed(window(rows, 0))
    for first, move in ((2, Move(1, LIST, 2)), (1, Move(1, LIST, -1))):
        told = kept.changed(window(rows, first))
        assert told.startswith(str(move))
        assert len(told) < LONG
    kept.forget(moves=False)  # a terminal that is smaller than what is painted
    kept.changed(window(rows, 1))
    assert "\x1b[r" not in kept.changed(window(rows, 2))
    assert str(Move(3, 9, 2)) == "\x1b[3;9r\x1b[9;1H\x1bD\x1bD\x1b[r"
    assert str(Move(3, 9, -1)) == "\x1b[3;9r\x1b[3;1H\x1bM\x1b[r"


def test_no_row_is_moved_that_is_not_known_from_end_to_end() -> None:
    def shown(texts: Sequence[str]) -> dict[int, dict[int, tuple[str, str]]]:
        return {row: {at: (letter, "") for at, letter in enumerate(text, 1)} for row, text in enumerate(texts, 1)}

    before, after = ["title", "plate", "ridge", "strut", "board"], ["title", "ridge", "strut", "board", "laths"]
    assert moved(shown(before), shown(after), range(1, 6)) == Move(2, 5, 1)
    assert moved(shown(before), shown([*after[:2], "stru", *after[3:]]), range(1, 6)) is None
    assert moved(shown(before), shown(before), range(1, 6)) is None
    assert moved(shown(["plate", "ridge"]), shown(["ridge", "board"]), (1, 2)) is None  # one row alone


def test_only_what_changes_is_written() -> None:
    kept = Painted()
    kept.changed(painted([(1, 1, "7", "› main plates"), (2, 1, "", "  ridge")]))
    told = kept.changed(painted([(1, 1, "", "  main plates"), (2, 1, "7", "› ridge")]))
    assert told == "\x1b[1;1H  main plates\x1b[0;7m\x1b[2;1H› ridge\x1b[0m\x1b[1;1H"
    assert kept.changed(painted([(2, 1, "7", "› ridge")])) == ""


def test_what_is_no_painting_goes_through_and_all_is_written_after_it() -> None:
    kept, row = Painted(), painted([(1, 1, "", "plates")])
    for other in ("\x1b[?1049h", "\x1b[2J", "\x1b]0;job\x07", "e\u0301", "\x1b[1;1Hcafe\u0301\x1b[1;1H"):
        kept.changed(row)
        assert kept.changed(other) == other
        assert cell_len("plates") < len(kept.changed(row))
    for harmless in ("\x1b[?2026h", "\x1b[?25l", "\x07"):
        assert kept.changed(harmless) == harmless
        assert kept.changed(row) == ""

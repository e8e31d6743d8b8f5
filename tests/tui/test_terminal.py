"""What is left out of what a screen paints: the terminal shows the same, cell by cell."""

import re
from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len, get_character_cell_size

from sitelog.tui.terminal import Painted

WIDTH, ROWS = 24, 4
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
        self.cells[row, column] = (letter, self.style)
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
pieces = st.tuples(
    st.integers(1, ROWS), st.integers(1, WIDTH // 2), st.sampled_from(["", "1", "38;5;16;48;5;231", "7"]), texts
)
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


def test_only_what_changes_is_written() -> None:
    kept = Painted()
    kept.changed(painted([(1, 1, "7", "› main plates"), (2, 1, "", "  ridge")]))
    told = kept.changed(painted([(1, 1, "", "  main plates"), (2, 1, "7", "› ridge")]))
    assert told == "\x1b[1;1H  main plates\x1b[2;1H\x1b[0;7m› ridge\x1b[0m\x1b[1;1H"
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

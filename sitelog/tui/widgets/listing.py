"""Words laid out at whatever width there is: rows in columns, paragraphs with a hanging first word, a ruled line."""

from collections.abc import Iterable, Sequence
from itertools import accumulate, filterfalse, groupby, zip_longest
from operator import attrgetter
from textwrap import wrap

from msgspec import Struct
from msgspec.structs import replace
from rich.style import Style
from textual.content import Content
from textual.events import Click
from textual.strip import Strip
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from sitelog.text import clean, text_between
from sitelog.tui.host import host_of
from sitelog.wording.letters import PLAIN

HEIGHTS = [(0, "-short"), (24, "-full"), (36, "-tall")]  # rows of a screen, and what the stylesheet calls it
BENEATH = ((36, 16), (24, 7), (0, 5))  # from so many rows of a screen, the most lines beneath the rows
LEAST = 12  # columns that the words of a row keep, however narrow the screen
LONGEST, TURNED = 4_000, Style(reverse=True)


class Cell(Struct, frozen=True):
    """`width` in columns, 0 shares what is left; `more` follows as far as one line holds it, then how much is left."""

    text: str
    width: int = 0
    right: bool = False
    more: tuple[str, ...] = ()

    def within(self, width: int) -> str:
        """The text, with as much more as stands in one line of that width."""
        for count in range(len(self.more), 0, -1):
            left = len(self.more) - count
            line = "; ".join([self.text, *self.more[:count], *([f"{left} more"] if left else [])])
            if len(line) <= width:
                return line
        if self.more:
            return f"{self.text}; {len(self.more)} more"
        return self.text


class Row(Struct, frozen=True):
    """`lines` stand under each other, each of cells; a heading can't be stood on; `shade` is a colour of themes.py."""

    key: str
    lines: tuple[tuple[Cell, ...], ...]
    shade: str = ""
    heading: bool = False


def row(key: str, *cells: Cell, shade: str = "") -> Row:
    """A row of one line."""
    return Row(key, (cells,), shade)


def heading(words: str) -> Row:
    """A row of words that the cursor goes past."""
    return Row("", ((Cell(words),),), heading=True)


def laid(cells: Sequence[Cell], width: int) -> list[str]:
    """One line of cells as lines of text, at most `width` columns, each cell wrapped in its own column.

    Where the columns leave the words no room, those of set width stand on a line beneath.
    """
    left = width - sum(cell.width for cell in cells) - 2 * (len(cells) - 1)
    words = tuple(filterfalse(attrgetter("width"), cells))
    if left < LEAST and len(words) == 1 and len(cells) > 2:
        return [*laid(words, width), *_stacked(tuple(filter(attrgetter("width"), cells)), width)]
    room = max(LEAST, left // max(len(words), 1))
    return [line.rstrip() for line in _columns(cells, [cell.width or room for cell in cells])]


def _columns(cells: Sequence[Cell], widths: Sequence[int]) -> list[str]:
    blanks = [" " * width for width in widths]
    return [_line(texts, blanks) for texts in zip_longest(*map(_column, cells, widths))]


def _stacked(cells: Sequence[Cell], width: int) -> list[str]:
    """Cells of set width at the right of as many lines as they take."""
    taken = accumulate(cell.width + 2 for cell in cells)
    lines = groupby(zip(taken, cells, strict=True), key=lambda cell: (cell[0] - 3) // width)
    rows = ([cell for _, cell in line] for _, line in lines)
    return [part.rjust(width) for row in rows for part in _columns(row, [cell.width for cell in row])]


def _line(texts: Sequence[str | None], blanks: Sequence[str]) -> str:
    """A line of the columns; a blank where a column has come to its end."""
    return "  ".join(text or blank for text, blank in zip(texts, blanks, strict=True))


def _column(cell: Cell, width: int) -> list[str]:
    """The text of a cell, wrapped and padded to that width."""
    lines = wrap(cell.within(width), width, break_on_hyphens=False) or [""]
    return [line.rjust(width) if cell.right else line.ljust(width) for line in lines]


def hung(lead: str, words: str, width: int, *, at: int = 0) -> list[str]:
    """`lead` and its words, wrapped so that they stand in a column of their own."""
    indent = max(at, len(lead) + 1) if lead else at
    return wrap(
        words,
        max(LEAST, width),
        initial_indent=lead.ljust(indent),
        subsequent_indent=" " * indent,
        break_on_hyphens=False,
    ) or [lead]


class Touched(OptionList):
    """A list whose rows are read before they are done, by a finger as by the arrows."""

    async def _on_click(self, event: Click) -> None:
        """A touch of another row stands on it, so that it can be read; of the row under the cursor it is Enter."""
        touched = event.style.meta.get("option")
        if touched not in (None, self.highlighted) and not self.get_option_at_index(touched).disabled:
            event.prevent_default()
            self.highlighted = touched


class Pointed(OptionList):
    """A list whose row under the cursor is turned round, so that it keeps its shade and the contrast of it."""

    def render_line(self, y: int) -> Strip:
        """The row under the cursor with ground and letters changed about."""
        strip = super().render_line(y)
        if self.highlighted is None or not self._on_cursor(y):
            return strip
        return strip.apply_style(TURNED)

    def _on_cursor(self, y: int) -> bool:
        line = self.scroll_offset.y + y
        return line < len(self._lines) and self._lines[line][0] == self.highlighted


class Listing(Pointed, Touched):  # the styles of the first base are those it goes by
    """A list of rows. The row under the cursor keeps its place, by its key, when the rows change."""

    def __init__(self, *, id: str = "list") -> None:
        super().__init__(id=id, markup=False)
        self.rows: tuple[Row, ...] = ()
        self._width = 0

    def show(self, rows: Iterable[Row]) -> None:
        """Show these rows; the cursor stays on the same one."""
        self.rows = tuple(rows)
        self._fill()

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        if self.scrollable_content_region.width != self._width:
            self._fill()
        # What is told beneath may have grown over the row under the cursor.
        self.call_after_refresh(self.scroll_to_highlight)

    @property
    def key(self) -> str:
        """The key of the row under the cursor, or ""."""
        at = self.highlighted
        if at is not None and at < len(self.rows):
            return self.rows[at].key
        return ""

    @property
    def place(self) -> str:
        """Which of how many rows is under the cursor, such as "3 of 14"; "" where there is none."""
        free = [number for number, row in enumerate(self.rows) if not row.heading]
        if self.highlighted not in free:
            return ""
        return f"{free.index(self.highlighted) + 1} of {len(free)}"

    def stand_on(self, key: str) -> None:
        """Put the cursor on the row of that key, if it is there."""
        at = next((number for number, row in enumerate(self.rows) if row.key == key and not row.heading), None)
        if at is not None:
            self.highlighted = at

    def _fill(self) -> None:
        self._width = self.scrollable_content_region.width
        if not self._width:
            return
        key, before = self.key, self.highlighted or 0
        self.clear_options()
        plain = host_of(self).ascii_only
        self.add_options([_option(row, self._width - 1, plain) for row in self.rows])
        self._stand_again(key, before)

    def _stand_again(self, key: str, before: int) -> None:
        """Put the cursor on the row of that key, else on the one nearest to where it stood."""
        free = [number for number, row in enumerate(self.rows) if not row.heading]
        same = [number for number in free if key and self.rows[number].key == key]
        if free:
            self.highlighted = same[0] if same else min(free, key=lambda number: abs(number - before))


def _option(row: Row, width: int, plain: bool) -> Option:
    cells = [[_lettered(cell, plain) for cell in line] for line in row.lines]
    # Padded, so that a shade runs the whole row when the cursor turns it round.
    told = [f" {text}".ljust(width + 1) for line in cells for text in laid(line, width)]
    if row.heading:
        return Option(Content.styled("\n".join(told), "bold"), disabled=True)
    return Option(Content("\n".join(told)).stylize(f"${row.shade}") if row.shade else Content("\n".join(told)))


def _lettered(cell: Cell, plain: bool) -> Cell:
    return replace(cell, text=lettered(cell.text, plain), more=tuple(lettered(line, plain) for line in cell.more))


def lettered(text: str, plain: bool) -> str:
    """The text cleaned, and with the signs of plain letters where the terminal has no others."""
    text = clean(text, most=LONGEST)
    if plain:
        return text.translate(PLAIN)
    return text


class Paragraphs(Static):
    """Lines with a first word that stands by itself: (`lead`, words), or ("", words) for a plain one."""

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__("", id=id, classes=classes, markup=False)
        self.told: tuple[tuple[str, str], ...] = ()

    def show(self, told: Iterable[tuple[str, str]]) -> None:
        """Show these lines."""
        self.told = tuple(told)
        self._lay()

    def on_resize(self) -> None:
        """Wrap them at the new width."""
        self._lay()

    def _lay(self) -> None:
        width = self.size.width
        if not width:
            return
        plain = host_of(self).ascii_only
        at = max((len(lead) + 1 for lead, _ in self.told if lead), default=0)
        lines: list[str] = []
        for lead, words in self.told:
            lines += hung(lettered(lead, plain), lettered(words, plain), width, at=at if lead else 0)
        self.update(Content("\n".join(self.fitted(lines))))

    def fitted(self, lines: list[str]) -> list[str]:
        """The lines that are shown."""
        return lines


class DetailPane(Paragraphs):
    """What stands beneath the rows of a page. What would take their room is cut off, and the last line says so."""

    _is_cut = False

    async def on_click(self) -> None:
        """A finger on what is cut off shows the whole of it."""
        if self._is_cut:
            await self.run_action("screen.whole")

    def fitted(self, lines: list[str]) -> list[str]:
        """As many lines as leave the rows their room."""
        most = most_beneath(self.app.size.height)
        self._is_cut = len(lines) > most
        if not self._is_cut:
            return lines
        shown = lines[: most - 1]
        return [*shown, f"press z to read the other {len(lines) - len(shown)} lines"]


def most_beneath(height: int) -> int:
    """The most lines that stand beneath the rows of a screen so high."""
    return next(most for least, most in BENEATH if height >= least)


class RuledLine(Static):
    """A line across the page."""

    DEFAULT_CSS = "RuledLine { height: 1; }"
    _words = ""

    def on_mount(self) -> None:
        """Draw it."""
        self.on_resize()

    def say(self, words: str) -> None:
        """Words near its right end."""
        if words != self._words:
            self._words = words
            self.on_resize()

    def on_resize(self) -> None:
        """Draw it as wide as the page."""
        sign = "-" if host_of(self).ascii_only else "─"
        end = text_between(" ", self._words, f" {sign}")
        self.update(Content(end.rjust(self.size.width, sign)))

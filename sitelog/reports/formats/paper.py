"""Where words, tables and drawings stand on A4 before anything is drawn: pages of marks, in mm from the top left."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from sitelog.drawing.model import Drawing, caption
from sitelog.drawing.svg import size_mm
from sitelog.reports.formats.lettering import Measure, wrapped
from sitelog.reports.formats.marks import LEADING, POINT, Box, Page, Photo, Picture, Rule, Text
from sitelog.reports.model import Block, Items, Section, Shots, Table, Words
from sitelog.text import clean

WIDE, HIGH = 210.0, 297.0  # A4, mm
SIDE, TOP, FOOT = 16.0, 16.0, 16.0  # margins, mm
INSIDE = WIDE - 2 * SIDE
CELL = 1.1  # mm between a cell's words and its edge
MOST = 4_000  # letters of one text
LEAST_LINES = 3  # of a row that is parted, at the foot of a page
TINT = 0.92  # of a row of heads
SHOT_WIDE, SHOT_HIGH = 56.0, 42.0  # mm of a photo


@dataclass
class Sheet:
    """Pages filled from the top, one block under the other. `size` is that of plain text, in points."""

    measure: Measure
    size: float = 8.0
    tallest: float = 92.0  # mm of a drawing
    pages: list[Page] = field(default_factory=lambda: [Page()])
    y: float = TOP

    @property
    def page(self) -> Page:
        return self.pages[-1]

    @property
    def left(self) -> float:
        """How much of the page is left, mm."""
        return HIGH - FOOT - self.y

    def new_page(self) -> None:
        self.pages.append(Page())
        self.y = TOP

    def room_for(self, high: float) -> None:
        """A new page, where the height does not fit any more."""
        if high > self.left and self.y > TOP:
            self.new_page()

    def section(self, section: Section) -> None:
        """A heading with what stands under it; the heading never stands at the foot of a page by itself."""
        self.room_for(self._begins(section))
        self.page.begins.append(section)
        self.heading(section.title)
        for block in section.blocks:
            self.block(block)
        self.y += 3.0

    def _begins(self, section: Section) -> float:
        """How much of a page a section wants to begin on it, mm: its heading and the first of what is under it."""
        first = section.blocks[0] if section.blocks else None
        if isinstance(first, Drawing):
            return size_mm(first, INSIDE, self.tallest)[1] + 20.0
        if not isinstance(first, Shots):
            return 28.0
        return SHOT_HIGH + 30.0

    def heading(self, title: str, size: float = 11.0) -> None:
        self.words(title, bold=True, size=size)
        self.page.marks.append(Rule(SIDE, self.y, SIDE + INSIDE, self.y, 0.4))
        self.y += 1.6

    def block(self, block: Block) -> None:
        if isinstance(block, Words):
            self.words(block.text, bold=block.strong)
        elif isinstance(block, Items):
            self._items(block)
        elif isinstance(block, Drawing):
            self.drawing(block)
        elif isinstance(block, Shots):
            self._shots(block)
        else:
            self.table(block)

    def words(self, text: str, *, bold: bool = False, size: float = 0.0, indent: float = 0.0) -> None:
        """A paragraph over the whole width."""
        size = size or self.size
        step = size * POINT * LEADING
        for line in self.wrapped(text, bold=bold, size=size, wide=INSIDE - indent):
            self.room_for(step)
            self.y += step
            self.page.marks.append(Text(SIDE + indent, self.y - step * 0.22, line, size, bold))
        self.y += step * 0.3

    def _items(self, items: Items) -> None:
        for head, more in items.rows:
            self.room_for(self.size * POINT * LEADING * 2)
            self.words(f"– {head}", bold=bool(more))
            for line in more:
                self.words(line, indent=4.0)

    def drawing(self, drawing: Drawing) -> None:
        _, high = size_mm(drawing, INSIDE, self.tallest)
        self.room_for(high + 8.0)
        self.page.marks.append(Picture(SIDE, self.y, INSIDE, self.tallest, drawing))
        self.y += high
        self.words(f"{caption(drawing)} Not to scale.")

    def _shots(self, shots: Shots) -> None:
        across = int(INSIDE // (SHOT_WIDE + 2))
        for first in range(0, len(shots.rows), across):
            self.room_for(SHOT_HIGH + 12.0)
            top = self.y
            lowest = top
            for place, shot in enumerate(shots.rows[first : first + across]):
                x = SIDE + place * (SHOT_WIDE + 3)
                self.page.marks.append(Photo(x, top, SHOT_WIDE, SHOT_HIGH, shot.file))
                lowest = max(lowest, self._under(f"{shot.alt}\n{shot.says}", x, top + SHOT_HIGH))
            self.y = lowest + 2.0

    def _under(self, text: str, x: float, y: float) -> float:
        size = self.size - 1.5
        for line in self.wrapped(text, bold=False, size=size, wide=SHOT_WIDE)[:5]:
            y += size * POINT * LEADING
            self.page.marks.append(Text(x, y, line, size))
        return y

    # --- tables ---------------------------------------------------------------------------------------------------

    def table(self, table: Table) -> None:
        """Rows ruled off, the heads again on every page; a row stays whole unless it is longer than a page."""
        if table.caption:
            self.room_for(16.0)
            self.words(table.caption, bold=True)
        wides = self._columns(table)
        heads = self._row(table.heads, wides, bold=True)
        self._ruled(heads, wides, filled=True)
        for row in table.rows:
            for cells in self._pieces(self._row(row, wides), self._height(heads)):
                if self._height(cells) > self.left:
                    self.new_page()
                    self._ruled(heads, wides, filled=True)
                self._ruled(cells, wides)
        self.y += 2.0

    def _pieces(self, cells: list[list[Text]], heads: float) -> Iterator[list[list[Text]]]:
        """The row whole; one longer than a page in pieces as there is room. `heads` [mm] stand over each."""
        step = self.size * POINT * LEADING
        most = int((HIGH - FOOT - TOP - heads - CELL) / step)
        longest = max(map(len, cells), default=0)
        if longest <= most:
            yield cells
            return
        first = 0
        while first < longest:
            room = int((self.left - CELL) / step)
            lines = room if room >= LEAST_LINES else most
            yield [cell[first : first + lines] for cell in cells]
            first += lines

    def _columns(self, table: Table) -> list[float]:
        shares = table.shares or (1,) * len(table.heads)
        whole = float(sum(shares))
        return [INSIDE * share / whole for share in shares]

    def _row(self, row: Iterable[str], wides: Sequence[float], *, bold: bool = False) -> list[list[Text]]:
        size = self.size
        cells = []
        for cell, wide in zip(row, wides, strict=False):
            lines = self.wrapped(cell, bold=bold, size=size, wide=wide - 2 * CELL)
            cells.append([Text(0.0, 0.0, line, size, bold) for line in lines])
        return cells

    def _height(self, cells: Sequence[Sequence[Text]]) -> float:
        lines = max((len(cell) for cell in cells), default=1) or 1
        return lines * self.size * POINT * LEADING + CELL

    def _ruled(self, cells: Sequence[Sequence[Text]], wides: Sequence[float], *, filled: bool = False) -> None:
        high = self._height(cells)
        self.room_for(high)
        step = self.size * POINT * LEADING
        if filled:
            self.page.marks.append(Box(SIDE, self.y, sum(wides), high, TINT))
        x = SIDE
        for cell, wide in zip(cells, wides, strict=False):
            for number, line in enumerate(cell, 1):
                base = self.y + CELL / 2 + number * step - step * 0.22
                self.page.marks.append(Text(x + CELL, base, line.text, line.size, line.bold))
            x += wide
        self.y += high
        self.page.marks.append(Rule(SIDE, self.y, SIDE + sum(wides), self.y))

    # --- text -----------------------------------------------------------------------------------------------------

    def wrapped(self, text: str, *, bold: bool, size: float, wide: float) -> list[str]:
        """The lines of a text that is so wide, mm."""
        return wrapped(clean(text, lines=True, most=MOST), self.measure(bold, size), wide)

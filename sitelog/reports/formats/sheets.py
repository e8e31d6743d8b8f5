"""The pages of the brief and of the record: what stands at their heads, and what is made to fit on one page."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby

from sitelog.drawing.model import Drawing
from sitelog.reports.brief.pages import NOT_CHECKED
from sitelog.reports.brief.wrong import STOP, shortened
from sitelog.reports.formats.lettering import Measure
from sitelog.reports.formats.marks import POINT, Box, Page, Text
from sitelog.reports.formats.paper import INSIDE, SIDE, WIDE, Sheet
from sitelog.reports.model import Block, Leaf, Pack, Table, Words
from sitelog.text import clean

SIZES = (8.0, 7.5, 7.0, 6.5, 6.0)  # points, the largest that fits on the page is taken
TALLEST = {8.0: 92.0, 7.5: 86.0, 7.0: 80.0, 6.5: 72.0, 6.0: 60.0}  # mm of a drawing with each
ON_THE_BENCH = 70.0  # mm of a drawing there: a stick's three and its marks have one page
CODE = 24.0  # mm of the square code, its quiet edge with it
LONGEST = 120  # letters of a title, a place or the parts on a page that has to hold more
REST = Words("The rest is in the record.")


def foot(pack: Pack, what: str) -> str:
    """What stands at the foot of every page: the job, what it is, when it was made, and the record code."""
    return f"{pack.title} · {what} · made {pack.made} · record code {pack.head}"


# --- the brief ----------------------------------------------------------------------------------------------------


def brief_pages(pack: Pack, measure: Measure, record: Sequence[Page]) -> list[Page]:
    """A page for each leaf of the brief; more only where what stops the work has no room. `record` are the pages of the
    record, whose numbers it names.
    """
    at = next((number for number, page in enumerate(record, 1) for section in page.begins if section.id == "open"), 0)
    leaves = [_with_page(leaf, at) for leaf in pack.brief]
    return [page for place, leaf in enumerate(leaves) for page in _fitted(pack, leaf, measure, first=place == 0)]


def bench_pages(pack: Pack, leaf: Leaf, measure: Measure) -> list[Page]:
    """One leaf on one page for the bench, in the largest type in which it fits; on more only where none does."""
    for size in SIZES:
        pages = leaf_pages(pack, leaf, measure, size, ON_THE_BENCH)
        if len(pages) == 1:
            break
    return pages


def leaf_pages(
    pack: Pack, leaf: Leaf, measure: Measure, size: float = 9.0, tallest: float = TALLEST[8.0]
) -> list[Page]:
    """One leaf by itself, on as many pages as it takes; its type in points, its drawings so high at most, mm."""
    sheet = Sheet(measure, size, tallest)
    sheet.words(f"{pack.title}: {leaf.title}", bold=True, size=15.0)
    sheet.words(f"{pack.place}. " * bool(pack.place) + f"Made {pack.made}. Record code {pack.head}.")
    for block in leaf.blocks:
        sheet.block(block)
    return sheet.pages


def _with_page(leaf: Leaf, number: int) -> Leaf:
    """The leaf with the page of the record in place of the words for it."""
    if not number:
        return leaf

    def told(text: str) -> str:
        return text.replace(NOT_CHECKED, f"page {number}")

    def block(one: Block) -> Block:
        if isinstance(one, Words):
            return replace(one, text=told(one.text))
        if isinstance(one, Table):
            return replace(one, rows=tuple(tuple(map(told, row)) for row in one.rows))
        return one

    return replace(leaf, blocks=tuple(map(block, leaf.blocks)))


def _fitted(pack: Pack, leaf: Leaf, measure: Measure, *, first: bool) -> list[Page]:
    """The leaf on one page: in the largest type that fits, then without its drawing, then with rows left out.

    What stops the work is never left out: where that alone is longer than a page, it takes another.
    """
    for size in SIZES:
        pages = _laid(pack, leaf, measure, size, first=first)
        if len(pages) == 1:
            return pages
    shorter: Leaf | None = replace(leaf, blocks=tuple(block for block in leaf.blocks if not isinstance(block, Drawing)))
    while shorter and len(pages := _laid(pack, shorter, measure, SIZES[-1], first=first)) > 1:
        shorter = _less(shorter)
    return pages


def _less(leaf: Leaf) -> Leaf | None:
    """The leaf with up to four rows more of its longest table left to the record; None where none can be left."""
    tables = [block for block in leaf.blocks if isinstance(block, Table) and _spare(block)]
    if not tables:
        return None
    longest = max(tables, key=lambda table: len(table.rows))
    shorter = replace(longest, rows=longest.rows[: -min(4, _spare(longest))])
    blocks = [shorter if block is longest else block for block in leaf.blocks if block != REST]
    return replace(leaf, blocks=(*blocks, REST))


def _spare(table: Table) -> int:
    """How many rows of a table may be left to the record: all but the first, and those that stop the work."""
    stops = sum(row[0].startswith(STOP) for row in table.rows)
    return max(len(table.rows) - max(stops, 1), 0)


def _laid(pack: Pack, leaf: Leaf, measure: Measure, size: float, *, first: bool) -> list[Page]:
    sheet = Sheet(measure, size, TALLEST[size])
    if first:
        _head(sheet, pack)
    else:
        sheet.heading(f"{shortened(leaf.title, LONGEST)}: for the {pack.to}", 12.0)
    for block in leaf.blocks:
        sheet.block(block)
    return sheet.pages


def _head(sheet: Sheet, pack: Pack) -> None:
    """Title, parts, when, record code, the square code beside them, and the box that says whether it is signed."""
    top = sheet.y
    sheet.words(f"{shortened(pack.title, LONGEST)}: brief for the {pack.to}", bold=True, size=15.0)
    for line in (", ".join(pack.parts), pack.place):
        if line:
            sheet.words(shortened(line, LONGEST))
    sheet.words(f"Made {pack.made} after {pack.entries} entries. Record code {pack.head}.")
    _square(sheet, pack.code, WIDE - SIDE - CODE, top - 4.0)
    sheet.y = max(sheet.y, top + CODE - 3.5)
    _boxed(sheet, pack.standing)
    sheet.words(pack.notice, size=sheet.size - 1)


def _square(sheet: Sheet, text: str, x: float, y: float) -> None:
    import segno

    matrix = [list(row) for row in segno.make(text, error="m", micro=False).matrix]
    side = CODE / (len(matrix) + 4)
    for down, row in enumerate(matrix):
        across = 0
        for dark, group in groupby(row):
            run = len(list(group))
            if dark:
                place = (x + (across + 2) * side, y + (down + 2) * side)
                sheet.page.marks.append(Box(*place, (run + 0.02) * side, side * 1.02, 0.0))
            across += run


def _boxed(sheet: Sheet, text: str) -> None:
    """A line in bold with a heavy edge round it."""
    size = 9.5
    step = size * POINT * 1.3
    lines = sheet.wrapped(text, bold=True, size=size, wide=INSIDE - 4)
    high = len(lines) * step + 3.0
    sheet.page.marks.append(Box(SIDE, sheet.y, INSIDE, high, pen=0.7))
    for number, line in enumerate(lines, 1):
        sheet.page.marks.append(Text(SIDE + 2, sheet.y + number * step + 0.4, line, size, bold=True))
    sheet.y += high + 2.0


# --- the record ---------------------------------------------------------------------------------------------------


def record_pages(pack: Pack, measure: Measure) -> list[Page]:
    """The record: its head and contents with page numbers, then its sections."""
    body = Sheet(measure, 7.5)
    for section in (*pack.first, *pack.rest):
        body.section(section)
    begins = [(section.title, number) for number, page in enumerate(body.pages, 1) for section in page.begins]
    before = len(_contents(pack, begins, 0, measure))
    return [*_contents(pack, begins, before, measure), *body.pages]


def _contents(pack: Pack, begins: Sequence[tuple[str, int]], before: int, measure: Measure) -> list[Page]:
    """The head of the record and a line for each section; `before` pages stand before the first of them."""
    sheet = Sheet(measure, 8.0)
    sheet.words(f"{pack.title}: record", bold=True, size=15.0)
    sheet.words(f"{pack.place}. " * bool(pack.place) + f"Made {pack.made} after {pack.entries} entries.")
    _boxed(sheet, pack.standing)
    sheet.words(pack.notice, bold=True)
    sheet.heading("Contents")
    step = 8.0 * POINT * 1.32
    for title, page in begins:
        number = str(page + before)
        sheet.room_for(step)
        sheet.y += step
        sheet.page.marks.append(Text(SIDE, sheet.y, shortened(clean(title), LONGEST), 8.0))
        sheet.page.marks.append(Text(WIDE - SIDE - measure(False, 8.0)(number), sheet.y, number, 8.0))
    return sheet.pages

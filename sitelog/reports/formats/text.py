"""The brief and the record as plain text of 80 columns: for a printer, a mail, or a reader that speaks."""

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from sitelog.drawing.model import Drawing, caption
from sitelog.drawing.terminal import render
from sitelog.reports.brief.wrong import STOP, shortened
from sitelog.reports.formats.lettering import wrapped
from sitelog.reports.model import PHOTOS, Block, Items, Leaf, Pack, Section, Shots, Table, Words
from sitelog.text import clean

WIDTH = 80
DRAWING_ROWS = 26
MOST = 4_000  # letters of one text
JOB_LINES, BRIEF_LINES = 120, 60  # of the brief for the job, and of a part's leaf
LEAST_NEEDS = 30  # of the job's lines are left to what the next trade needs
LEAST = 4  # columns of a cell


def text(pack: Pack) -> str:
    """The whole record as lines of at most 80 columns; the same pack gives the same text."""
    counts = [f"{what} {count}" for what, count in pack.counts if count]
    running = "; ".join(["SIGNED" if pack.signed else "NOT SIGNED", *counts])
    lines = [
        *_wrapped(f"{pack.title}: record".upper()),
        *_wrapped(pack.place),
        *_wrapped(f"Made {pack.made} after {pack.entries} entries. Record code {pack.head}."),
        "",
        *_wrapped(pack.standing),
        "",
        *_wrapped(pack.notice),
        "",
        *_wrapped("; ".join(f"{what} {count}" for what, count in pack.counts)),
    ]
    for section in pack.first:
        lines += _section(section, "")
    for section in pack.rest:
        lines += _section(section, running)
    return "\n".join(line.rstrip() for line in (*lines, ""))


def brief_text(pack: Pack) -> str:
    """The brief, at most 120 lines of 80 columns for the job and 60 a part; the rest is in the record, no stop is."""
    lines = [
        *_wrapped(f"{pack.title}: brief for the {pack.to}".upper()),
        *_wrapped(", ".join(pack.parts)),
        *_wrapped(pack.place),
        *_wrapped(f"Made {pack.made} after {pack.entries} entries. Record code {pack.head}."),
        *_wrapped(pack.standing),
        *_wrapped(pack.notice),
    ]
    for number, leaf in enumerate(pack.brief):
        room = JOB_LINES - len(lines) - LEAST_NEEDS if number == 0 else BRIEF_LINES
        if number == 1:
            room = JOB_LINES - len(lines)
        lines += _within(leaf, room, titled=number > 0)
    return "\n".join(line.rstrip() for line in (*lines, ""))


def sheet_text(pack: Pack, name: str, leaves: Sequence[Leaf]) -> str:
    """A sheet by itself, every word of its leaves."""
    lines = [*_wrapped(f"{pack.title}: {name}".upper()), *_wrapped(pack.place)]
    lines += [*_wrapped(f"Made {pack.made} after {pack.entries} entries. Record code {pack.head}."), ""]
    for leaf in leaves:
        lines += ["=" * WIDTH, *_wrapped(leaf.title.upper()), ""] if len(leaves) > 1 else []
        for block in leaf.blocks:
            lines += [*_block(block), ""]
    return "\n".join(line.rstrip() for line in lines)


def _within(leaf: Leaf, room: int, *, titled: bool) -> list[str]:
    """The leaf in so many lines: its cells whole, else the longest tables with their cells cut, else cut at its end.

    What stops the work is never cut off.
    """
    tables = sorted((block for block in leaf.blocks if isinstance(block, Table)), key=lambda table: -len(table.rows))
    for cut in range(len(tables) + 1):
        lines = _leaf(leaf, tables[:cut], titled=titled)
        if len(lines) <= room:
            return lines
    stops = max((place for place, line in enumerate(lines, 1) if line.startswith(STOP)), default=0)
    return [*lines[: max(room - 1, stops)], "The rest is in the record."]


def _leaf(leaf: Leaf, cut: Sequence[Table], *, titled: bool) -> list[str]:
    """The lines of a leaf; in the tables to be `cut` every row is one line."""
    lines = ["", "=" * WIDTH, *_wrapped(leaf.title.upper())] if titled else ["=" * WIDTH]
    for block in leaf.blocks:
        if isinstance(block, Drawing):
            lines += _wrapped(f"{caption(block)} {'; '.join(block.says)}.")
        elif isinstance(block, Table):
            lines += ["", *(_one_line_rows(block) if block in cut else _whole_rows(block))]
        else:
            lines += _block(block)
    return lines


def _whole_rows(table: Table) -> list[str]:
    wides = _columns(table)
    rows = [[_wrapped(cell, wide=wide) for cell, wide in zip(row, wides, strict=True)] for row in table.rows]
    heads = [_wrapped(head, wide=wide) for head, wide in zip(table.heads, wides, strict=True)]
    return [line for row in (heads, *rows) for line in _side_by_side(row, wides)]


def _one_line_rows(table: Table) -> list[str]:
    """A table in which every row is one line, its cells shortened to their columns."""
    wides = _columns(table)
    lines: list[str] = []
    for row in (table.heads, *table.rows):
        cells = [[shortened(clean(cell, most=MOST), wide)] for cell, wide in zip(row, wides, strict=True)]
        lines += _side_by_side(cells, wides)
    return lines


def _section(section: Section, running: str) -> Iterator[str]:
    yield from ("", "=" * WIDTH)
    yield from _wrapped(section.title.upper())
    if running:
        yield from _wrapped(f"({running})")
    for block in section.blocks:
        yield ""
        yield from _block(block)


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Words):
        yield from _wrapped(f"** {block.text}" if block.strong else block.text)
    elif isinstance(block, Items):
        for head, more in block.rows:
            yield from _item(head, more)
    elif isinstance(block, Drawing):
        yield from _wrapped(f"{caption(block)} Not to scale.")
        yield from render(block, WIDTH - 4, DRAWING_ROWS, ascii_only=True)
        yield from (line for said in block.says for line in _wrapped(said, 2))
    elif isinstance(block, Shots):
        for shot in block.rows:
            yield from _item(shot.alt, (shot.says, f"{PHOTOS}/{shot.file}"))
    else:
        yield from _table(block)


def _item(head: str, more: Sequence[str]) -> Iterator[str]:
    yield from _wrapped(f"- {head}")
    for told in more:
        yield from _wrapped(told, 4)


def _table(table: Table) -> Iterator[str]:
    """Columns side by side under their heads; an empty line after each row where any takes several."""
    wides = _columns(table)
    cells = [[_wrapped(cell, wide=wide) for cell, wide in zip(row, wides, strict=True)] for row in table.rows]
    tall = any(len(cell) > 1 for row in cells for cell in row)
    if table.caption:
        yield from _wrapped(table.caption)
    yield from _side_by_side([_wrapped(head, wide=wide) for head, wide in zip(table.heads, wides, strict=True)], wides)
    yield " ".join("-" * wide for wide in wides)
    for row in cells:
        yield from _side_by_side(row, wides)
        if tall:
            yield ""


def _columns(table: Table) -> list[int]:
    """How many columns of the page each column of the table takes: what its longest cell wants, else its share."""
    rows = (table.heads, *table.rows)
    wanted = [max(_longest(row[place]) for row in rows) for place in range(len(table.heads))]
    room = WIDTH - len(wanted) + 1
    if sum(wanted) <= room:
        return [max(wide, 1) for wide in wanted]
    shares = table.shares or (1,) * len(wanted)
    wides = [max(LEAST, room * share // sum(shares)) for share in shares]
    spare = sum(wide - want for wide, want in zip(wides, wanted, strict=True) if wide > want)
    wides = [min(wide, max(want, 1)) for wide, want in zip(wides, wanted, strict=True)]
    for place in sorted(range(len(wides)), key=lambda place: wides[place] - wanted[place]):
        more = min(spare, wanted[place] - wides[place])
        wides[place] += more
        spare -= more
    return wides


def _longest(cell: str) -> int:
    return max(_cells(line) for line in cell.split("\n"))


def _side_by_side(cells: Sequence[Sequence[str]], wides: Sequence[int]) -> Iterator[str]:
    for line in zip_longest(*cells, fillvalue=""):
        yield " ".join(_filled(part, wide) for part, wide in zip(line, wides, strict=True))


def _filled(part: str, wide: int) -> str:
    if part.isascii():
        return part.ljust(wide)
    return part + " " * (wide - _cells(part))


def _wrapped(words: str, indent: int = 0, wide: int = WIDTH) -> list[str]:
    """The text in lines of so many columns, indented; none for no text."""
    if not words:
        return []
    told = clean(words, lines=True, most=MOST)
    return [" " * indent + line for line in wrapped(told, _cells, wide - indent)]


def _cells(words: str) -> int:
    """How many columns a text takes in a terminal: wide letters take two."""
    if words.isascii():
        return len(words)
    from rich.cells import cell_len

    return cell_len(words)

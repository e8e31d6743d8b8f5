"""The pack as plain text of 80 columns: for a printer, a mail, or a reader that speaks."""

from collections.abc import Iterable, Iterator, Sequence
from io import StringIO
from typing import TYPE_CHECKING

from sitelog.drawing.model import Drawing, caption
from sitelog.drawing.terminal import render
from sitelog.reports.model import PHOTOS, Block, Items, Pack, Section, Shots, Table, Words
from sitelog.text import clean

if TYPE_CHECKING:
    from rich.console import Console, RenderableType
    from rich.text import Text

WIDTH = 80
DRAWING_ROWS = 26
MOST = 4_000  # letters of one text
RULED = "    \n    \n -- \n    \n    \n    \n    \n    \n"  # a table with a line of hyphens under its heads


def text(pack: Pack) -> str:
    """The whole pack as lines of at most 80 columns; the same pack gives the same text."""
    from rich.console import Console

    sheet = StringIO()
    console = Console(
        file=sheet, width=WIDTH, color_system=None, force_terminal=False, markup=False, emoji=False, highlight=False,
        legacy_windows=False, _environ={},
    )  # fmt: skip
    counts = [f"{what} {count}" for what, count in pack.counts if count]
    running = "; ".join(["SIGNED" if pack.signed else "NOT SIGNED", *counts])
    _print(console, f"{pack.title}: handover to the {pack.to}".upper())
    _print(console, pack.place)
    _print(console, f"Made {pack.made} after {pack.entries} entries. Record code {pack.head}.\n")
    _print(console, f"{pack.standing}\n\n{pack.notice}\n")
    _print(console, "; ".join(f"{what} {count}" for what, count in pack.counts))
    for section in pack.first:
        _section(console, section, "")
    for section in pack.rest:
        _section(console, section, running)
    return "\n".join(line.rstrip() for line in sheet.getvalue().split("\n"))


def _section(console: "Console", section: Section, running: str) -> None:
    console.print()
    console.print("=" * WIDTH)
    _print(console, section.title.upper())
    if running:
        _print(console, f"({running})")
    for block in section.blocks:
        console.print()
        for shown in _block(block):
            console.print(shown)


def _block(block: Block) -> Iterator["RenderableType"]:
    if isinstance(block, Words):
        yield _words(f"** {block.text}" if block.strong else block.text)
    elif isinstance(block, Items):
        for head, more in block.rows:
            yield from _item(head, more)
    elif isinstance(block, Drawing):
        yield from _drawing(block)
    elif isinstance(block, Shots):
        for shot in block.rows:
            yield from _item(shot.alt, (shot.says, f"{PHOTOS}/{shot.file}"))
    else:
        yield _table(block)


def _item(head: str, lines: Iterable[str]) -> Iterator["RenderableType"]:
    from rich.padding import Padding

    yield _words(f"- {head}")
    for line in lines:
        yield Padding(_words(line), (0, 0, 0, 4))


def _drawing(drawing: Drawing) -> Iterator["RenderableType"]:
    yield _words(caption(drawing))
    for row in render(drawing, WIDTH - 4, DRAWING_ROWS, ascii_only=True):
        yield _words(row or " ", strip=False)
    for said in drawing.says:
        yield _words(f"  {said}")


def _table(table: Table) -> "RenderableType":
    from rich.box import Box
    from rich.table import Table as Grid

    tall = any(map(_is_tall, table.rows))
    grid = Grid(box=Box(RULED, ascii=True), pad_edge=False, padding=(0, 1, 0, 0), leading=1 if tall else 0, expand=tall)
    shares = table.shares or (1,) * len(table.heads)
    for head, share in zip(table.heads, shares, strict=True):
        grid.add_column(_words(head), ratio=share if tall else None, overflow="fold")
    for row in table.rows:
        grid.add_row(*map(_words, row))
    if table.caption:
        grid.title, grid.title_justify = _words(table.caption), "left"
    return grid


def _is_tall(row: Sequence[str]) -> bool:
    """Whether a row of a table wants more than a line."""
    return any("\n" in cell for cell in row) or len("".join(row)) > WIDTH - 8


def _words(words: str, *, strip: bool = True) -> "Text":
    """Text as it is: nothing in it is taken for markup."""
    from rich.text import Text

    return Text(clean(words, lines=True, most=MOST) if strip else words, overflow="fold")


def _print(console: "Console", words: str) -> None:
    if words:
        console.print(_words(words))
        if words.endswith("\n"):
            console.print()

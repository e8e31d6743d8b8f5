"""What a pack is made of: plain words, lists, tables and drawings in sections, before anybody has chosen a page."""

from dataclasses import dataclass

from sitelog.handover.lines import Drawing

Row = tuple[str, ...]


@dataclass(frozen=True)
class Words:
    """A paragraph. `strong` is for what must not be missed."""

    text: str
    strong: bool = False


@dataclass(frozen=True)
class Items:
    """A list: each item is a head, and lines that say more of it."""

    rows: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class Table:
    """Rows under heads that are repeated on each page; a cell may hold several lines. `shares` weigh the columns."""

    heads: Row
    rows: tuple[Row, ...]
    shares: tuple[int, ...] = ()
    caption: str = ""


Block = Words | Items | Table | Drawing


@dataclass(frozen=True)
class Section:
    id: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Pack:
    """A handover pack for one trade, made from a job at one head code.

    `counts` is how much of each kind stands open; `first` is the first page, what is not as it should be.
    """

    title: str
    place: str
    to: str
    made: str
    head: str
    entries: int
    standing: str  # "SIGNED ..." or "NOT SIGNED: ..."
    signed: bool
    counts: tuple[tuple[str, int], ...]
    first: tuple[Section, ...]
    rest: tuple[Section, ...]
    notice: str  # what stands before all of it
    files: tuple[tuple[str, str], ...] = ()  # beside the pages: the end of a file's name, and its text

"""What a pack is made of: plain words, lists, tables and drawings in sections, before anybody has chosen a page."""

from dataclasses import dataclass, field
from pathlib import Path

from sitelog.drawing.model import Drawing
from sitelog.job.log.record_code import Digests
from sitelog.job.photos.photo import Photo
from sitelog.job.replies.points import Marked

PHOTOS = "pack-photos"  # the folder of a pack's photos, beside its pages

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


@dataclass(frozen=True)
class Points(Table):
    """The points that are accepted or sent back: a row is its number, the question, what was found, how it stands, a
    box and a blank. A row without a number is only told. `rest` are those that paper leaves to the record.
    """

    rest: tuple[Row, ...] = ()


@dataclass(frozen=True)
class Shot:
    """A photo: `file` is its copy's name in the pack's folder PHOTOS; `alt` is what it shows, `says` whose it is."""

    file: str
    alt: str
    says: str


@dataclass(frozen=True)
class Shots:
    """Photos beside each other."""

    rows: tuple[Shot, ...]


Block = Words | Items | Table | Drawing | Shots


@dataclass(frozen=True)
class Section:
    """A titled part of the pack; `id` is its anchor in the page."""

    id: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Leaf:
    """One page of a brief, with what stands on it. `part` is the part that it is for, "" for the job."""

    title: str
    blocks: tuple[Block, ...]
    part: str = ""


@dataclass(frozen=True)
class Pack:
    """What is handed over to one trade, made from a job at one record code: the brief, and the record behind it.

    `counts` is how much of each kind is open; `first` and `rest` are the record, what is not right before all else.
    """

    title: str
    parts: tuple[str, ...]
    job: str  # the job's own id
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
    brief: tuple[Leaf, ...]
    instructions: tuple[Leaf, ...]  # a sheet for each, to be signed
    notice: str  # what stands before all of it
    files: tuple[tuple[str, str], ...] = ()  # beside the pages: the end of a file's name, and its text
    photos: tuple[Photo, ...] = ()  # to be copied beside the pages
    points: Marked = ()  # what the trade answers to, in the order of their numbers
    kept_in: Path | None = None  # the job's own folder, where they stand
    ends: Digests = field(default_factory=dict)  # of the chains that the record code is over

    @property
    def code(self) -> str:
        """What the square code holds: the job, the record code and the count of entries."""
        return f"sitelog {self.job} {self.head} {self.entries}"

"""One file of the checklists, opened within bounds, that can say at which line a fault of it stands."""

import hashlib
import re
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from sitelog.checklist.schema.lines import Path as Place
from sitelog.checklist.schema.lines import line_of, lines
from sitelog.checklist.schema.shipped import MOST_BYTES
from sitelog.text import clean

# Reading a dotted key takes the square of its parts, so that one endless line could go on for hours.
MOST_LINE = 1_000
MOST_DOTS = 100


@dataclass(frozen=True, order=True)
class Fault:
    """What is wrong at a line of a file, and what would be right."""

    file: str
    line: int
    what: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.what}"


@dataclass(frozen=True, eq=False)
class Document:
    """A TOML file as read. `digest` is the SHA-256 of its bytes."""

    path: Path
    text: str
    data: Mapping[str, Any]
    digest: str
    raw: bytes = b""  # the file's own

    @cached_property
    def found(self) -> dict[Place, int]:
        """The line at which each table and key stands."""
        return lines(self.text)

    @property
    def file(self) -> str:
        """The path as a fault shows it."""
        return shown(self.path)


@dataclass(frozen=True)
class Spot:
    """A table or a key of a document."""

    document: Document
    place: Place = ()

    def at(self, *keys: str | int) -> "Spot":
        """A key or a table inside it."""
        return Spot(self.document, (*self.place, *keys))

    def stands(self) -> "Spot":
        """Where it was written: a table that was taken over stands in the list that lends it."""
        held: Any = self.document.data
        found = self
        for depth, key in enumerate(self.place, 1):
            held = held[key] if _holds(held, key) else None
            if isinstance(held, Lent):
                found = held.spot.at(*self.place[depth:])
        return found

    @property
    def line(self) -> int:
        """The line at which it was written; of a key that is not there, that of its table."""
        spot = self.stands()
        return line_of(spot.place, spot.document.found)

    def fault(self, what: str) -> Fault:
        """A fault at this spot: what is wrong, and what would be right."""
        return Fault(self.stands().document.file, self.line, clean(what))


class Lent(dict[str, Any]):
    """A table that stands elsewhere than its place in the document tells."""

    def __init__(self, spot: Spot, table: Mapping[str, Any]) -> None:
        super().__init__(table)
        self.spot = spot


def _holds(held: Any, key: str | int) -> bool:
    if isinstance(held, list):
        return isinstance(key, int) and key < len(held)
    return isinstance(held, dict) and key in held


def shown(path: Path) -> str:
    """The path as it may be printed."""
    return clean(str(path), most=1_000)


def open_document(path: Path) -> Document | Fault:
    """The file read and parsed; or what keeps it from being read, in one line."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            return Fault(shown(path), 1, "this isn't a plain file; give a TOML file or a folder of them")
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        return Fault(shown(path), 1, f"can't be read ({reason or 'a name that no file can have'}); give a TOML file")
    return document(path, raw)


def document(path: Path, raw: bytes) -> Document | Fault:
    """The bytes of a file parsed; or what is wrong with them, in one line."""
    if len(raw) > MOST_BYTES:
        return Fault(shown(path), 1, f"this is over {MOST_BYTES >> 10} kB; a checklist is a few hundred lines")
    body = raw.removeprefix(b"\xef\xbb\xbf")
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        line = body.count(b"\n", 0, error.start) + 1
        what = f"the byte 0x{body[error.start]:02x} isn't UTF-8; save the file as UTF-8"
        return Fault(shown(path), line, what)
    for number, line_text in enumerate(text.split("\n"), 1):
        dots = line_text.count(".")
        if len(line_text) > MOST_LINE:
            return Fault(shown(path), number, f"the line has {len(line_text)} characters; {MOST_LINE} is the most")
        if dots > MOST_DOTS:
            return Fault(shown(path), number, f"the line has {dots} dots; {MOST_DOTS} is the most")
    return _parsed(path, text, raw)


def _parsed(path: Path, text: str, raw: bytes) -> Document | Fault:
    import tomllib

    try:
        return Document(path, text, tomllib.loads(text), hashlib.sha256(raw).hexdigest(), raw)
    except RecursionError:
        return Fault(shown(path), 1, "lists or tables are nested too deep; a checklist needs five levels")
    except ValueError as error:
        told = str(error)
        at = re.search(r"\(at line (\d+), column \d+\)$", told)
        line = int(at[1]) if at else text.rstrip().count("\n") + 1
        why = clean(re.sub(r" *\(at [^()]*\)$", "", told), most=120)
        return Fault(shown(path), line, f"this isn't TOML: {why}; fix this line or the one before it")

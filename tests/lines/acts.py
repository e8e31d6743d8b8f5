"""What is done to a job, whoever does it: the same acts by keys on the screens and line by line."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Answer:
    """Figures by key, the number of a choice, words, or nothing for a word given.

    `again` answers what is settled anew; `open` says that its form is there already, by way 1 of the three.
    """

    path: str
    figures: Mapping[str, str] = field(default_factory=dict)
    choice: int = 0
    words: str = ""
    tool: str = ""  # one that is in the register
    new_tool: tuple[str, str] = ("", "")  # kind and class, where it is not
    again: bool = False
    open: bool = False
    why: str = ""  # where it takes the place of an answer that stands: the number of a reason, or words


@dataclass(frozen=True)
class Deed:
    """One thing done to what one stands on, by its word in the lines; `words` in the order that it asks for them."""

    what: str  # note, snag, photo, release, not applicable, later
    path: str
    words: tuple[str, ...]


@dataclass(frozen=True)
class Way:
    """The check that was just answered is out: 1 puts it right, 2 snags it, 3 releases it, with the words asked for."""

    path: str
    number: int
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Sign:
    path: str
    name: str


@dataclass(frozen=True)
class Undo:
    pass


@dataclass(frozen=True)
class Diary:
    key: str
    words: str


@dataclass(frozen=True)
class PutRight:
    snag: str


@dataclass(frozen=True)
class Change:
    """A figure of the drawing."""

    fact: str
    text: str


@dataclass(frozen=True)
class Bad:
    """An instrument marked bad, with the reason."""

    tool: str
    reason: str


@dataclass(frozen=True)
class Pack:
    """The pack for the first trade that takes something over."""


@dataclass(frozen=True)
class Taken:
    """A point, by its path, accepted by the next trade, or sent back with words why. `name` the first time."""

    path: str
    name: str = ""
    why: str = ""


Act = Answer | Deed | Way | Sign | Undo | Diary | PutRight | Change | Bad | Pack | Taken

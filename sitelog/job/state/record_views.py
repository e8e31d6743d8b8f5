"""What stands of the job as a whole: snags, releases, deferrals, readings, instruments, the diary, points, packs."""

from collections.abc import Mapping
from typing import Any

from msgspec import Struct, field

from sitelog.job.log.entry import Entry
from sitelog.job.photos.photo import Photo


class Snag(Struct, frozen=True):
    """Something to put right, by its number on the job."""

    id: str  # "1", "2", ... in order of entry
    text: str
    path: str
    who: str
    due: str
    by: str
    at: str
    closed_by: str = ""
    closed_at: str = ""
    entry: str = ""  # id of the entry that raised it

    @property
    def open(self) -> bool:
        """Whether nobody has closed it."""
        return not self.closed_at


class Instruction(Struct, frozen=True):
    """Work that was asked beyond the drawing, by its number on the job; words as they were typed, `day` ISO."""

    id: str  # "1", "2", ... in order of entry
    text: str
    who: str  # asked
    day: str
    hours: str
    timber: str
    path: str
    by: str  # whose name stands under it
    at: str
    photos: tuple[Photo, ...] = ()
    photo: str = ""  # the name of one of which no file is kept
    undone: bool = False


COUNTED = ("cut", "up", "spoiled")


class Alike(Struct, frozen=True):
    """What pieces that are one to the saw have in common: part, name, section, cuts (as told) and hand, as text."""

    part: str
    what: str
    section: str
    cuts: str
    hand: str


class Tally(Struct, frozen=True):
    """How many pieces of one kind and length [mm] have been cut, are up, and were spoiled, all entries together."""

    alike: Alike
    length: float
    cut: int
    up: int
    spoiled: int
    by: str  # who counted last
    at: str


class Release(Struct, frozen=True):
    """A check or a stage that was let go as it is, and why."""

    path: str
    reason: str
    by: str
    at: str
    was: str  # the state it was in, and the figure


class Deferral(Struct, frozen=True):
    """A check that was put off, and why."""

    path: str
    until: str  # path of the stage at which it comes back
    reason: str
    by: str
    at: str
    open: bool


class Reading(Struct, frozen=True):
    """A caution that was read: by whom, when, and what they answered."""

    caution: str
    answer: float | str | tuple[float, ...] | None
    by: str
    at: str
    stops: bool  # the answer is one that stops the work
    day: str = ""  # local, ISO
    facts: Mapping[str, Any] = field(default_factory=dict)  # what it depends on, as it stood then
    subject: str = ""  # what the answer settles, for every caution that asks about it
    path: str = ""  # the stage that it is for; "" for all


class Instrument(Struct, frozen=True):
    """A tape, level or meter that answers name."""

    id: str
    kind: str  # tape, level, rule, moisture meter, wind meter ...
    grade: str  # I, II, III for a tape, or ""
    doubted: bool = False  # marked bad, and then by whom, when and why
    by: str = ""
    at: str = ""
    why: str = ""


def grade_of(tool: Instrument | None) -> str | None:
    """The class of a tape; None for no tool, or one without a class."""
    if not tool:
        return None
    return tool.grade


class DiaryDay(Struct, frozen=True):
    """A day on which anything was entered, and what the diary says of it."""

    day: str  # ISO date, local
    entries: tuple[Entry, ...]
    weather: str = ""
    people: str = ""
    deliveries: str = ""
    delays: str = ""
    text: tuple[str, ...] = ()
    photos: tuple[Photo, ...] = ()


class Point(Struct, frozen=True):
    """A point handed to the next trade, and what they said of it."""

    point: str
    accepted: bool
    by: str
    at: str
    note: str
    head: str = ""  # the record code of the pack that they took it over from, read off it
    mark: str = ""  # the print of the point as it was then, "" where that is not kept: see replies/points.py
    day: str = ""  # of their reply, ISO


class Made(Struct, frozen=True):
    """A pack that was made, for whom, and the record code that is printed in it."""

    to: str
    head: str
    by: str
    at: str
    numbered: bool = True  # its points have one run of numbers; in older packs each part began at 1 again


class Earlier(Struct, frozen=True):
    """What was said to a check or a stage that the job's lists have no more, as it was asked and answered."""

    path: str
    ask: str  # the path where no list is known that asked it
    answer: str
    by: str
    at: str
    note: str
    value: Mapping[str, Any]

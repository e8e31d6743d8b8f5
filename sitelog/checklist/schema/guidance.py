"""What is told of every list: cautions with the question that clears each, and finishes with what they ask."""

from typing import Literal

from msgspec import Struct

from sitelog.checklist.schema.terms import Condition
from sitelog.quantities.quantity import Kind

MONTHS = ("january", "february", "march", "april", "may", "june",
          "july", "august", "september", "october", "november", "december")  # fmt: skip


class Gauge(Struct, frozen=True):
    """One number that a caution asks for, and where it stops the work."""

    key: str = ""  # what it is called where a question takes several: mean, gust
    unit: str = ""
    stop_from: float | None = None  # a reading at or over this stops the work
    stop_under: float | None = None  # a reading under this does
    least: str = ""  # the reading before it that it is never less than


class Question(Struct, frozen=True):
    """What clears a caution: a reading, a name, a place or a choice about this job; never a bare yes."""

    ask: str
    kind: Literal["number", "name", "place", "choice"]
    unit: str = ""
    choices: tuple[str, ...] = ()
    stop_from: float | None = None  # of the one number it asks, as in a gauge
    stop_on: tuple[str, ...] = ()  # choices, or words for a name or a place, that stop the work
    stop_under: float | None = None
    readings: tuple[Gauge, ...] = ()  # the numbers, where it asks several
    settles: str = ""  # what an answer settles, for every caution that asks about the same

    @property
    def gauges(self) -> tuple[Gauge, ...]:
        """The numbers that it asks for, in the order they are given; none where it asks for words."""
        if self.readings or self.kind != "number":
            return self.readings
        return (Gauge("", self.unit, self.stop_from, self.stop_under),)


class Caution(Struct, frozen=True):
    """What can hurt somebody, what to do about it, and the question that clears it."""

    id: str
    title: str
    hurts: str
    do: str
    ask: str
    question: Question
    figures: tuple[tuple[str, str], ...] = ()  # (what it says, source id)
    repeat: Literal["daily", "once", "change"] = "daily"
    when: Condition | None = None
    months: tuple[str, ...] = ()  # in which it is asked, as `june`; in all where none is named
    stops: bool = False  # neither its stages nor the handover can be signed while nobody has read it

    @property
    def subject(self) -> str:
        """What its answer settles: its own matter, or one that several cautions ask about."""
        return self.question.settles or self.id

    def is_asked_on(self, day: str) -> bool:
        """Whether it is asked in the month of that day, or moment, in ISO."""
        return not self.months or MONTHS[int(day[5:7]) - 1] in self.months

    @property
    def at_each_stage(self) -> bool:
        """True when each stage wants an answer of its own: what it asks changes with the work, and no fact tells."""
        return self.repeat == "change" and self.when is None


class FinishFact(Struct, frozen=True):
    """What a finish sets a fact to. One from memory, or that says `agree`, judges nothing until somebody agrees it."""

    name: str
    kind: Kind
    value: float | str
    source: str
    agree: bool = False


class Ask(Struct, frozen=True):
    """What a finish asks of the part that it is on; `of` others, of every other part of the job as well."""

    topic: str
    says: str
    source: str
    of: Literal["own", "others"] = "own"
    caution: str = ""  # raised in the others too, where they choose their finish


class Finish(Struct, frozen=True):
    """A covering or a lining, with the facts that choosing it sets and what it asks of later work."""

    id: str
    label: str
    serves: tuple[str, ...]  # slopes, flats, curves, eyebrows, linings
    says: str
    cautions: tuple[str, ...]
    facts: tuple[FinishFact, ...]
    asks: tuple[Ask, ...]

"""What a figure is read with: what each instrument is called, and how far out one reading of it may be."""

from math import sqrt
from typing import Literal

from msgspec import Struct

from sitelog.calculators.setting_out.verdicts import CLASSES, READING, expanded, uncertainty
from sitelog.left_out import given_or
from sitelog.quantities.quantity import Kind

ReadWith = Literal["", "tape", "rule", "wedge", "staff", "line", "level"]
ASSUMED = "II"  # the class of tape taken where none is named
ANGLE_READING = 0.1  # degrees either way off a digital level; judgement
RULE_LENGTH = 1000.0  # mm: the longest steel rule in common use; past it a tape is read
TAPED: tuple[Kind, ...] = ("length", "offset", "lengths", "offsets")
ANGLED: tuple[Kind, ...] = ("angle", "pitch", "fall")


class Instrument(Struct, frozen=True):
    """One kind of instrument. `reading` is how far out an eye may be on it, mm; `listed` is one that a firm numbers."""

    says: str
    reading: float
    kinds: tuple[Kind, ...]
    listed: bool


# Half of the smallest division (JCGM 100:2008, 4.3.7, for a figure rounded to it): a rule's 1 mm, a wedge gauge's 0.4
# up its slope. A string, a staff and a 2 m level are read to a whole mm: common practice. What is one figure off a
# staff is one reading less another.
INSTRUMENTS: dict[ReadWith, Instrument] = {
    "tape": Instrument("tape", READING, TAPED, listed=True),
    "rule": Instrument("steel rule", 0.5, TAPED, listed=False),
    "wedge": Instrument("wedge gauge", 0.2, TAPED, listed=False),
    "staff": Instrument("laser level", READING * sqrt(2), TAPED, listed=True),
    "line": Instrument("string line and rule", READING, TAPED, listed=False),
    "level": Instrument("level", READING, (*TAPED, *ANGLED), listed=True),
}


def suits(read_with: ReadWith, kind: Kind) -> bool:
    """Whether a figure of that kind is read with it: an angle isn't read with a rule, nor a count with anything."""
    return bool(read_with) and kind in INSTRUMENTS[read_with].kinds


def suited(read_with: ReadWith, kind: Kind) -> ReadWith:
    """It, where a figure of that kind is read with it; else ""."""
    if suits(read_with, kind):
        return read_with
    return ""


def finer(read_with: ReadWith) -> str:
    """What it is called where it is no tape; else ""."""
    if by_tape(read_with, 0.0):
        return ""
    return INSTRUMENTS[read_with].says


def by_tape(read_with: ReadWith, size: float) -> bool:
    """True where a figure of that size [mm] is read off a tape: one that says nothing else, or past a rule's end."""
    return read_with in ("", "tape") or (read_with == "rule" and size > RULE_LENGTH)


def uncertainty_read(kind: str, size: float, read_with: ReadWith, grade: str | None) -> float | None:
    """U of one reading of that size [mm or degrees], in its own unit; None of what is counted or told.

    `grade` is the class of the tape that was named, "" for an instrument without one, None where none was named.
    """
    if kind in ("angle", "pitch"):
        return expanded(ANGLE_READING)
    if kind not in TAPED:
        return None
    if not by_tape(read_with, size):
        return expanded(INSTRUMENTS[read_with].reading)
    class_ = given_or(grade, ASSUMED)
    if class_ in CLASSES:
        return uncertainty(size, class_)
    return expanded(READING)

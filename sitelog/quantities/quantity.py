"""Text to millimetres, degrees and back: the one grammar for what people type, and the only door to pint."""

import math
from collections.abc import Callable, Sequence
from typing import Literal

from msgspec import Struct

from sitelog.quantities import reading, rounding
from sitelog.quantities.measure import NOTHING, Doubt, factor
from sitelog.refusal import Refusal
from sitelog.text import clean, text_if

Units = Literal["metric", "imperial"]
Kind = Literal[
    "length",  # mm, not negative
    "offset",  # mm, signed
    "angle",  # degrees
    "pitch",  # degrees, over 0 and under 90
    "fall",  # rise over run, as a plain ratio (1:60 is 0.016667)
    "section",  # thickness x depth, mm
    "count",
    "number",
    "fraction",  # 0 to 1
    "share",  # under 1 a part of something, from 1 up mm
    "choice",
    "lengths",  # a list, mm
    "offsets",  # a signed list, mm
    "ties",  # A-M:4510,... more measured lengths between named points
    "cuts",  # 47x150:4870:12,... pieces of a section, their length and how many
    "prices",  # 47x150:4800:21.60,... what a stick of a section and stock length costs
    "text",
]


class Section(Struct, frozen=True):
    """A timber section, thickness x depth in mm; `nominal` keeps the inch name such as 2x6, if so given."""

    thickness: float
    depth: float
    nominal: str = ""

    def __str__(self) -> str:
        return f"{rounding.as_typed(self.thickness)}x{rounding.as_typed(self.depth)}"


class Tie(Struct, frozen=True):
    """A measured length in mm between two named points."""

    start: str
    end: str
    length: float


class Cut(Struct, frozen=True):
    """Pieces of one section, each `length` mm long, and how many of them."""

    section: Section
    length: float
    count: int

    def __str__(self) -> str:
        return f"{self.section}:{self.length:.12g}:{self.count}"


class Price(Struct, frozen=True):
    """What one stick of a section costs at a stock length in mm, in whatever money it was quoted."""

    section: Section
    length: float
    each: float

    def __str__(self) -> str:
        return f"{self.section}:{self.length:.12g}:{self.each:.12g}"


_NAME = 60  # letters
_SUCH_AS = " such as "

Item = float | Tie | Cut | Price
Value = float | int | str | Section | tuple[Item, ...] | None

# What each kind takes, as a refusal and a form's hint say it.
ACCEPTS: dict[Kind, str] = {
    "length": "a length such as 3600, 3.6m or 7'10 1/2\"",
    "offset": "a measurement, plus or minus, such as 12, -5 or -1/4in",
    "angle": "an angle such as 35, 35.5deg or 35°30'",
    "pitch": "a pitch such as 35, 35.5deg, or rise to run as 8/12",
    "fall": "a fall such as 1:60",
    "section": "thickness x depth in mm such as 47x150, or nominal inches such as 2x6",
    "count": "a whole number such as 12",
    "number": "a plain number such as 24.5",
    "fraction": "a fraction such as 1/3, 0.33 or 33%",
    "share": "a share such as 1/4, or a length such as 47mm",
    "choice": "one of the choices",
    "lengths": "lengths with commas, such as 3600,3605,3610",
    "offsets": "offsets with commas, such as 0,2,-3,0",
    "ties": "lengths between points, such as A-M:4510,B-M:4490",
    "cuts": "pieces as section:length:count, such as 47x150:4870:12,47x225:5400:4",
    "prices": "prices as section:length:price, such as 47x150:4800:21.60,47x150:5400:25",
    "text": "a few words",
}


def accepts(kind: Kind, choices: Sequence[str] = (), *, like: str = "") -> str:
    """What a question of that kind takes, by its choices where it has some; `like` in place of what the kind shows."""
    if choices:
        return f"one of {', '.join(choices)}"
    if like:
        return f"{ACCEPTS[kind].partition(_SUCH_AS)[0]}{_SUCH_AS}{like}"
    return ACCEPTS[kind]


def example(kind: Kind) -> str:
    """One figure of that kind as it is typed, without spaces; the kind itself where any words will do."""
    _, _, shown = ACCEPTS[kind].partition(_SUCH_AS)
    return shown.split(" ")[0].rstrip(",") or kind


def read(kind: Kind, text: str, *, name: str = "", like: Callable[[], str] = str) -> Value:
    """Read what a person typed into mm, degrees, a plain ratio, a number or a count, by kind.

    Raises Refusal, in one line that gives `name`, the text and what is accepted, wherever there is doubt. What `like`
    gives is shown there in place of what the kind shows.
    """
    try:
        if not text.strip():
            raise Doubt(NOTHING)
        return _READERS[kind](text.strip())
    except Doubt as doubt:
        given = ""
        if str(doubt) != NOTHING:
            given = doubt.item or f"'{clean(text[:100], most=40)}'"
        raise Refusal(f"{before(name)}{given} {doubt}. Type {accepts(kind, like=like())}".replace("  ", " ")) from None


def before(name: str) -> str:
    """What the line about a figure starts with: its name, or the question it answers; "" where it has none."""
    name = clean(name if len(name) <= _NAME else name.partition(" (")[0], most=_NAME)
    return name and f"{name}{' ' if name.endswith('?') else ': '}"


_READERS: dict[Kind, Callable[[str], Value]] = {
    "length": reading.length_mm,
    "offset": reading.offset_mm,
    "angle": reading.angle_deg,
    "pitch": reading.pitch_deg,
    "fall": reading.fall,
    "section": lambda text: Section(*reading.section(text)),
    "count": reading.count,
    "number": reading.plain_number,
    "fraction": reading.fraction,
    "share": reading.share,
    "choice": reading.words,
    "lengths": lambda text: reading.listed(reading.length_mm, text),
    "offsets": lambda text: reading.listed(reading.offset_mm, text),
    "ties": lambda text: tuple(Tie(*tie) for tie in reading.ties(text)),
    "cuts": lambda text: tuple(
        Cut(Section(*section), mm, count) for section, mm, count in reading.by_section(reading.pieces, "count", text)
    ),
    "prices": lambda text: tuple(
        Price(Section(*section), mm, each) for section, mm, each in reading.by_section(reading.price, "price", text)
    ),
    "text": reading.words,
}

FALL = "1 in"  # the unit that a fall is told in, as 1:60
PRICE = "price"  # in whatever money it was quoted
# Decimals of what is shown with a fixed number of them; other figures are shown as short as they go.
_PLACES = {"m2": 2, "kg": 1, "l/s": 2, "m": 2, "kg/m2": 1}
_SIXTEENTH, _SIXTY_FOURTH = 16, 64  # parts of an inch: of what was worked out, and of what was typed so


def show_length(mm: float, units: Units = "metric", *, with_unit: bool = False, typed: bool = False) -> str:
    """A length in mm by the one rule of rounding, or in feet, inches and sixteenths; `read` takes back either.

    `typed` shows every digit that somebody typed, and sixty-fourths of an inch where it was typed in them.
    """
    if units == "imperial":
        return _feet_and_inches(mm, parts=_SIXTY_FOURTH if typed and _on_a_sixty_fourth(mm) else _SIXTEENTH)
    figure = rounding.as_typed(mm) if typed and rounding.was_typed(mm) else rounding.as_worked(mm)
    if with_unit:
        return f"{figure} mm"
    return figure


def show_angle(deg: float, *, ascii: bool = False, typed: bool = False) -> str:
    """Degrees to 0.1, or every digit that somebody typed."""
    figure = rounding.places(deg, 1)
    if typed and rounding.was_typed(deg):
        figure = max(figure, rounding.as_typed(deg), key=len)  # 35.0 stays 35.0
    return f"{figure}{' deg' if ascii else '°'}"


def show_fall(ratio: float) -> str:
    """A fall as 1:60; what is flatter than 1:10000 is level, and a rise carries a minus."""
    if abs(ratio) < 1e-4:
        return "level"
    run = 1 / abs(ratio)
    figure = rounding.as_typed(run) if rounding.was_typed(run) else rounding.short(run, 1)
    if ratio < 0:
        return f"-1:{figure}"
    return f"1:{figure}"


def show_section(section: Section) -> str:
    """The section in mm, and the nominal inches it stands for; `str(section)` is what `read` takes back."""
    if section.nominal:
        return f"{section} (nominal {section.nominal})"
    return str(section)


def show(unit: str, value: Value, units: Units = "metric", *, ascii: bool = False, typed: bool = False) -> str:
    """A value with its unit, "mm", "deg", "m2", "kg", "l/s", "m", "kg/m2" or another; "" for a count or word.

    Lengths follow `units`; area, weight and flow stay metric. None is shown as "-". `typed` shows every digit.
    """
    if value is None:
        return "-"
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, Section):
        return show_section(value)
    if isinstance(value, tuple):
        return ", ".join(_show_item(unit, item, units, ascii, typed) for item in value)
    return _show_number(unit, value, units, ascii, typed)


def _show_item(unit: str, item: Item, units: Units, ascii: bool, typed: bool) -> str:
    if isinstance(item, float | int):
        return _show_number(unit, item, units, ascii, typed)
    length = show_length(item.length, units, with_unit=True, typed=True)
    if isinstance(item, Tie):
        return f"{item.start}-{item.end}: {length}"
    if isinstance(item, Cut):
        return f"{item.count} of {item.section} at {length}"
    return f"{item.section} at {length}: {rounding.places(item.each, 2)}"


def _show_number(unit: str, value: float, units: Units, ascii: bool, typed: bool) -> str:
    if unit == "mm":
        return show_length(value, units, with_unit=True, typed=typed)
    if unit == "deg":
        return show_angle(value, ascii=ascii, typed=typed)
    if unit == FALL:
        return show_fall(value)
    if unit == PRICE:
        return rounding.places(value, 2)
    if unit == "m" and units == "imperial":
        return show_length(value * 1000, units)
    return f"{_figure(unit, value, typed)} {unit if ascii else unit.replace('m2', 'm²')}".rstrip()


def _figure(unit: str, value: float, typed: bool) -> str:
    """The digits of a figure that is neither a length nor an angle."""
    if typed:
        return rounding.as_typed(value)
    if unit == "m2" and 0.0001 <= abs(value) < 1:
        return rounding.four_figures(value)
    if unit in _PLACES:
        return rounding.places(value, _PLACES[unit])
    if unit or isinstance(value, int):
        return rounding.short(value, 3)
    return rounding.four_figures(value)


def _on_a_sixty_fourth(mm: float) -> bool:
    marks = mm * _SIXTY_FOURTH / float(factor("inch", "millimetre"))
    return abs(marks - rounding.to_step(marks, 1.0)) < 1e-6


def _feet_and_inches(mm: float, *, parts: int) -> str:
    if abs(mm) >= rounding.BEYOND:
        return f"{rounding.as_worked(mm)} mm"
    marks = int(rounding.to_step(abs(mm) * parts / float(factor("inch", "millimetre")), 1.0))
    feet, rest = divmod(marks, 12 * parts)
    inches, top = divmod(rest, parts)
    share = math.gcd(top, parts)
    told = [f"{feet}'"] if feet else []
    if inches or feet or not top:
        told.append(str(inches))
    if top:
        told.append(f"{top // share}/{parts // share}")
    sign = text_if(mm < 0 and marks, "-")
    return f'{sign}{" ".join(told)}"'

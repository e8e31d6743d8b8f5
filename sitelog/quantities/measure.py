"""How one figure is written: from text to an exact fraction of a millimetre or a degree, or a doubt."""

import re
import unicodedata
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

LENGTH = {"mm": "millimetre", "cm": "centimetre", "m": "metre"}
LENGTH |= dict.fromkeys(("in", "inch", "inches", '"'), "inch")
LENGTH |= dict.fromkeys(("ft", "foot", "feet", "'"), "foot")
ANGLE = dict.fromkeys(("°", "deg", "degree", "degrees"), "degree")
ANGLE |= {"'": "arcminute", '"': "arcsecond"}

NOTHING = "nothing typed"
_MOST = 60
_NUMBER = r"(?:[0-9]{1,9}(?:\.[0-9]{1,18})?|\.[0-9]{1,18})"
_SIGNED = rf"([-+]?) *({_NUMBER})"
_PARTED = r"(?:(?P<whole>[0-9]{1,9}) +)?(?P<top>[0-9]{1,2})/(?P<bottom>[0-9]{1,2})"
_PART = rf"(?P<join> *-? *)(?:(?P<plain>{_NUMBER})|{_PARTED}) *(?P<word>[a-z]+|[°'\"])"
_RATIO = rf"({_NUMBER}) *(?:[:/]| in ) *({_NUMBER})"
# What may follow what: the second is less than one of the first, and the first is whole.
_SMALLER = {
    ("metre", "millimetre"),
    ("metre", "centimetre"),
    ("foot", "inch"),
    ("degree", "arcminute"),
    ("arcminute", "arcsecond"),
}
_SEVERAL = {"millimetre": "mm", "centimetre": "cm", "metre": "metres", "foot": "feet", "inch": "inches"}
_SEVERAL |= {"degree": "degrees", "arcminute": "minutes", "arcsecond": "seconds"}
_TAPE_MARKS = (2, 4, 8, 16, 32, 64)
# Autocorrect and drawings put these for the plain ones.
_TYPED = dict.fromkeys(map(ord, "′ʹ’‘"), "'") | dict.fromkeys(map(ord, "″ʺ”“"), '"')
_TYPED |= dict.fromkeys(map(ord, "−–‑"), "-") | dict.fromkeys(map(ord, "º˚"), "°")
_TYPED |= dict.fromkeys(map(ord, "⁄∕"), "/") | dict.fromkeys(map(ord, "\u00a0\u202f\u2009"), " ")
_TYPED |= {ord("×"): "x", ord("∶"): ":"}


class Doubt(ValueError):
    """Why a figure can't be taken, in words that go on from it; `quantity.read` makes the Refusal of it.

    `item` is what can't be taken where it isn't all of the text, in quotes, with its place.
    """

    def __init__(self, why: str, item: str = "") -> None:
        super().__init__(why)
        self.item = item


def plain(text: str) -> str:
    """The same figure in lower-case ASCII, ° excepted: primes, fractions and signs of print made plain."""
    if len(text) > _MOST:
        raise Doubt(f"is too long for a figure (at most {_MOST} characters)")
    return "".join(map(_spelt, text)).translate(_TYPED).replace("''", '"').strip(" ").lower()


def number(text: str, *, signed: bool = True) -> Fraction:
    """A bare number: digits, a point, a sign if `signed`; no exponent, no thousands."""
    text = plain(text)
    found = re.fullmatch(_SIGNED, text)
    if not found:
        raise Doubt(_why_not(text, {}))
    if found[1] == "-" and not signed:
        raise Doubt("can't be negative")
    return Fraction(f"{found[1]}{found[2]}")


def length(text: str, *, signed: bool = False) -> Fraction:
    """A length in mm: bare, metric, or feet and inches."""
    return _measure(plain(text), LENGTH, "millimetre", signed)


def angle(text: str) -> Fraction:
    """An angle in degrees: bare, in degrees, or in degrees, minutes and seconds."""
    return _measure(plain(text), ANGLE, "degree", signed=True)


def ratio(text: str) -> tuple[Fraction, Fraction] | None:
    """The two sides of `a:b`, `a/b` or `a in b`, both over nought; None if the text is not of that form."""
    found = re.fullmatch(_RATIO, plain(text))
    if not found:
        return None
    first, second = Fraction(found[1]), Fraction(found[2])
    if not first or not second:
        raise Doubt("can't be a ratio to 0")
    return first, second


def _spelt(character: str) -> str:
    compatible = unicodedata.normalize("NFKC", character)
    if "⁄" in compatible and character != "⁄":
        return f" {compatible} "
    return character


def _measure(text: str, words: Mapping[str, str], into: str, signed: bool) -> Fraction:
    if re.fullmatch(_SIGNED, text):
        return number(text, signed=signed)
    sign, body = (text[0], text[1:].lstrip(" ")) if text[:1] in ("-", "+") else ("", text)
    parts = _parts(body, words)
    if not parts:
        raise Doubt(_why_not(text, words))
    if sign == "-" and not signed:
        raise Doubt("can't be negative")
    if parts[0][1].startswith("arc"):
        raise Doubt("needs degrees before its minutes or seconds")
    for (figure, unit), (less, smaller) in pairwise(parts):
        _check_follows(figure, unit, less, smaller)
    total = sum((figure * factor(unit, into) for figure, unit in parts), Fraction(0))
    if sign == "-":
        return -total
    return total


def _parts(text: str, words: Mapping[str, str]) -> list[tuple[Fraction, str]]:
    """Every figure with its unit, or nothing if any of the text is neither."""
    parts: list[tuple[Fraction, str]] = []
    part, at = re.compile(_PART), 0
    while at < len(text):
        found = part.match(text, at)
        if not found or found["word"] not in words:
            return []
        unit = words[found["word"]]
        # A dash between feet and inches is how drawings write them; anywhere else it may be a minus.
        if "-" in found["join"] and not (parts and parts[-1][1] == "foot" and unit == "inch"):
            return []
        parts.append((_figure(found, unit), unit))
        at = found.end()
    return parts


def _figure(found: re.Match[str], unit: str) -> Fraction:
    if found["plain"]:
        return Fraction(found["plain"])
    top, bottom = int(found["top"]), int(found["bottom"])
    if unit != "inch" or bottom not in _TAPE_MARKS or top >= bottom:
        raise Doubt("isn't a fraction on a tape (halves to sixty-fourths of an inch)")
    return int(found["whole"] or 0) + Fraction(top, bottom)


def _check_follows(figure: Fraction, unit: str, less: Fraction, smaller: str) -> None:
    if (unit, smaller) not in _SMALLER:
        raise Doubt(f"can't have {_SEVERAL[smaller]} after {_SEVERAL[unit]}")
    if figure.denominator != 1:
        raise Doubt(f"needs whole {_SEVERAL[unit]} before {_SEVERAL[smaller]}")
    if less >= (limit := factor(unit, smaller)):
        raise Doubt(f"needs under {limit} {_SEVERAL[smaller]} after the {_SEVERAL[unit]}")


def _why_not(text: str, words: Mapping[str, str]) -> str:
    """The likeliest slip, told in the typist's terms."""
    if not text:
        return NOTHING
    if "," in text:
        return "has a comma in it"
    if words and re.fullmatch(rf"[-+]? *{_PARTED}", text):
        return "needs in after the fraction, such as 1/4in"
    if words is LENGTH and re.search(r"[0-9] *(m|cm|ft|feet|foot|') *-? *[0-9/. ]+$", text):
        return "needs ft, in, m or mm after each figure"
    return "isn't a figure"


@cache
def _registry() -> "pint.UnitRegistry[Fraction]":
    # Loaded only where a unit is met that needs it: most figures on a site are bare millimetres.
    import pint

    return pint.UnitRegistry(Path(__file__).with_name("units.txt"), non_int_type=Fraction)


@cache
def factor(unit: str, into: str) -> Fraction:
    """How many of the one make the other, exactly, by the names in units.txt."""
    if (unit, into) == ("metre", "millimetre"):
        return Fraction(1000)
    if unit == into:
        return Fraction(1)
    return Fraction(_registry().convert(Fraction(1), unit, into))

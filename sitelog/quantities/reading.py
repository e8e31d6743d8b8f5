"""How each kind of input is written: ratios, sections, lists and ties, over the figures of `measure`.

Every function gives mm, degrees or plain numbers, and raises Doubt.
"""

import math
import re
from collections.abc import Callable
from fractions import Fraction
from typing import TypeVar

from sitelog.quantities.measure import Doubt, angle, length, number, plain, ratio
from sitelog.text import clean

MOST_TEXT = 4_000
MOST_LIST = 40_000

# Sawn inches to the regularised size: common practice, from memory (stock also runs 145, 170, 195, 220 deep).
NOMINAL_THICKNESS = {1: 22, 2: 47, 3: 75, 4: 100, 6: 150}
NOMINAL_DEPTH = {2: 50, 3: 75, 4: 100, 5: 125, 6: 150, 7: 175, 8: 200, 9: 225, 10: 250, 12: 300}

T = TypeVar("T")

_MOST_SIDE = 2_000
_SECTION = r"([0-9.]{1,9}) *(mm|in|\")? *x *([0-9.]{1,9}) *(mm|in|\")?"
_TIE = r"([A-Za-z][A-Za-z0-9]{0,7}) *- *([A-Za-z][A-Za-z0-9]{0,7}) *: *(.*)"


def length_mm(text: str) -> float:
    """A length in mm, not minus; Doubt for what can't be read so."""
    return float(length(text))


def offset_mm(text: str) -> float:
    """A length in mm, plus or minus; Doubt for what can't be read so."""
    return float(length(text, signed=True))


def angle_deg(text: str) -> float:
    """An angle in degrees; Doubt for what can't be read so."""
    return float(angle(text))


def pitch_deg(text: str) -> float:
    """Degrees, or rise to run."""
    sides = ratio(text)
    degrees = math.degrees(math.atan(sides[0] / sides[1])) if sides else angle_deg(text)
    if not 0 < degrees < 90:
        raise Doubt("isn't between 0 and 90 degrees")
    return degrees


def fall(text: str) -> float:
    """Rise over run, from 1 in so much."""
    sides = ratio(text)
    if sides is None:
        raise Doubt("isn't a ratio")
    if sides[0] != 1 or sides[1] < 1:
        raise Doubt("is steeper than 1:1")
    return float(1 / sides[1])


def section(text: str) -> tuple[float, float, str]:
    """Thickness and depth in mm, and the nominal inches if they were given so."""
    found = re.fullmatch(_SECTION, plain(text))
    if not found:
        raise Doubt("isn't thickness x depth")
    thickness, depth = number(found[1]), number(found[3])
    marks = {found[2], found[4]} - {None}
    if marks <= {"in", '"'} and (marks or (thickness < 16 and depth < 16)):
        return _nominal(thickness, depth)
    if marks - {"mm"}:
        raise Doubt("mixes mm and inches")
    if not (0 < thickness <= _MOST_SIDE and 0 < depth <= _MOST_SIDE):
        raise Doubt(f"needs sides over 0 and at most {_MOST_SIDE} mm")
    return float(thickness), float(depth), ""


def _nominal(thickness: Fraction, depth: Fraction) -> tuple[float, float, str]:
    if thickness not in NOMINAL_THICKNESS or depth not in NOMINAL_DEPTH or thickness > depth:
        raise Doubt("isn't an inch size. If you mean mm, type 12mmx15mm")
    return NOMINAL_THICKNESS[int(thickness)], NOMINAL_DEPTH[int(depth)], f"{thickness}x{depth}"


def count(text: str) -> int:
    """A whole number; Doubt for anything else."""
    if not re.fullmatch(r"[0-9]{1,9}", text):
        raise Doubt("isn't a whole number")
    return int(text)


def plain_number(text: str) -> float:
    """A number without a unit; Doubt for what can't be read so."""
    return float(number(text))


def fraction(text: str) -> float:
    """A part of 1: a fraction, a decimal or a percentage."""
    sides = ratio(text) if "/" in plain(text) else None
    if sides:
        part = sides[0] / sides[1]
    elif text.endswith("%"):
        part = number(text[:-1], signed=False) / 100
    else:
        part = number(text, signed=False)
    if part > 1:
        raise Doubt("is over 1")
    return float(part)


def share(text: str) -> float:
    """A part of something, under 1; or a length from 1 mm up."""
    written = plain(text)
    if written.endswith("%") or ("/" in written and ratio(text)):
        return fraction(text)
    if re.fullmatch(r"0*\.[0-9]+|0+\.?", written):
        return float(number(text, signed=False))
    found = length_mm(text)
    if found < 1:
        raise Doubt("is under 1 mm")
    return found


def listed(read_item: Callable[[str], float], text: str) -> tuple[float, ...]:
    """Figures with commas between, each read by `read_item`."""
    items = _items(text)
    # 2,4m is most likely 2.4 m with a decimal comma; as a list it would read 2 mm and 4 m.
    found = tuple(_within(f"figure {place}", read_item, item) for place, item in enumerate(items, 1))
    bare = [item for item in items if re.fullmatch(r"[-+]? *[0-9.]+", item)]
    if len(bare) < len(items) and any(item.strip("-+ 0.") for item in bare):
        raise Doubt("needs mm, m or in after every figure, or after none")
    return found


def ties(text: str) -> tuple[tuple[str, str, float], ...]:
    """Two points, in capitals, and the length in mm between them, each."""
    return tuple(_tie(item) for item in _items(text))


def by_section(
    read_item: Callable[[str], T], told: str, text: str
) -> tuple[tuple[tuple[float, float, str], float, T], ...]:
    """A section, a length in mm and what `read_item` reads, called `told`, each."""
    return tuple(_of_section(read_item, told, item) for item in _items(text))


def _of_section(read_item: Callable[[str], T], told: str, item: str) -> tuple[tuple[float, float, str], float, T]:
    parts = [part.strip(" ") for part in item.split(":")]
    if len(parts) != 3:
        raise Doubt(f"isn't section:length:{told}", _shown(item))
    mm = _within("length", length_mm, parts[1])
    if mm == 0:
        raise Doubt("needs a length over 0", _shown(item))
    return _within("section", section, parts[0]), mm, _within(told, read_item, parts[2])


def pieces(text: str) -> int:
    """How many pieces, at least one."""
    number_of = count(text)
    if number_of == 0:
        raise Doubt("needs to be over 0")
    return number_of


def price(text: str) -> float:
    """A sum of money, over nought, without a currency."""
    money = number(text, signed=False)
    if money == 0:
        raise Doubt("needs to be over 0")
    return float(money)


def _items(text: str) -> list[str]:
    if len(text) > MOST_LIST:
        raise Doubt(f"is too long a list (at most {MOST_LIST} characters)")
    items = [item.strip(" ") for item in text.split(",")]
    if "" in items:
        raise Doubt(f"has a blank at figure {items.index('') + 1}")
    return items


def _tie(item: str) -> tuple[str, str, float]:
    found = re.fullmatch(_TIE, item)
    if not found:
        raise Doubt("isn't point-point:length", _shown(item))
    start, end = found[1].upper(), found[2].upper()
    if start == end:
        raise Doubt(f"runs from {start} to itself: a tie needs two points", _shown(item))
    measured = _within(f"{start}-{end}", length_mm, found[3])
    if measured == 0:
        raise Doubt("needs a length over 0", _shown(item))
    return start, end, measured


def _within(place: str, read_item: Callable[[str], T], item: str) -> T:
    try:
        return read_item(item)
    except Doubt as doubt:
        raise Doubt(str(doubt), f"{_shown(item)} ({place})") from None


def _shown(item: str) -> str:
    return f"'{clean(item[:100], most=30)}'"


def words(text: str) -> str:
    """A line of text, cleaned of what can't be shown; Doubt if nothing is left or it is too long."""
    if len(text) > MOST_TEXT:
        raise Doubt(f"is too long (at most {MOST_TEXT} characters)")
    cleaned = clean(text, most=MOST_TEXT)
    if not cleaned:
        raise Doubt("doesn't have a letter or a figure in it")
    return cleaned

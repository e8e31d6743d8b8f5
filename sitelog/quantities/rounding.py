"""The one rule of rounding: how many digits of a figure people see, on every front.

What was typed is shown as typed. What was worked out is shown to 1 mm, under 20 mm to 0.5 mm, and to 0.1 degree.
Halves go up, away from zero. Units and feet and inches are put on in quantity.py; what is kept is never rounded.
"""

import math
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

FINE_UNDER = 20.0  # mm: under it a length that was worked out is shown to 0.5
BEYOND = 1e15  # a figure that only a spoilt or forged file holds
_TYPED_PLACES = 3  # decimals that somebody types; a figure that needs more was worked out or came from inches
_TYPED_PARTS = 12  # of a whole, in a fraction that somebody types: 1/3
_DUST = 9  # decimals past which a digit is the machine's, not the sum's


def to_step(value: float, step: float) -> float:
    """The nearest multiple of `step`; halves go away from zero."""
    steps = math.floor(_without_dust(abs(value) / step) + 0.5)
    if not steps:
        return 0.0
    return math.copysign(steps * step, value)


def as_worked(mm: float) -> str:
    """A length in mm that was worked out: to 1 mm, under 20 mm to 0.5."""
    if not abs(mm) < BEYOND:
        return _power(mm)
    return short(to_step(mm, _step_of(mm)), 1)


def at_most(mm: float) -> float:
    """A length in mm that mustn't be passed, to the same step: rounded down."""
    return _bound(mm, math.floor)


def at_least(mm: float) -> float:
    """A length in mm that must be reached, to the same step: rounded up."""
    return _bound(mm, math.ceil)


def as_typed(value: float) -> str:
    """A figure that somebody typed, every digit of it: `6.5`, `1/3`; with more decimals than are typed, shortened."""
    if not abs(value) < 1 or was_typed(value):
        return short(value, _TYPED_PLACES)
    share = Fraction(value).limit_denominator(_TYPED_PARTS)
    if abs(value - share) < 1e-12:
        return str(share)
    return four_figures(value)


def to_type_again(value: float) -> str:
    """A figure in the digits that it is read back from the same: what a field to be edited starts with."""
    return f"{value:.10g}"


def was_typed(value: float) -> bool:
    """Whether a figure has no more decimals than somebody types."""
    return abs(value) < BEYOND and abs(value - to_step(value, 10**-_TYPED_PLACES)) < 1e-7


def places(value: float, count: int) -> str:
    """A figure with that many decimals, zeros kept; never a minus before a zero."""
    if not abs(value) < BEYOND:
        return _power(value)
    scale = 10**count
    whole = math.floor(_without_dust(abs(value) * scale) + 0.5)
    return f"{'-' if value < 0 and whole else ''}{whole / scale:.{count}f}"


def short(value: float, count: int) -> str:
    """A figure with at most that many decimals, no zeros behind."""
    return _bare(places(value, count))


def four_figures(value: float) -> str:
    """A bare number, and one inside a working: to a tenth, and to four figures where that would say too little."""
    if abs(value) < 1e-12:
        return "0"
    if abs(value) >= 100:
        return short(value, 1)
    decimals = 3 - math.floor(math.log10(abs(value)))
    if decimals <= 12:
        return _bare(places(value, decimals))
    return _bare(f"{Decimal(f'{value:.4g}'):f}")


def _bound(mm: float, toward: Callable[[float], int]) -> float:
    step = _step_of(mm)
    return toward(_without_dust(mm / step)) * step


def _step_of(mm: float) -> float:
    """What a length is rounded to [mm]: half a millimetre for a short one."""
    return 0.5 if abs(mm) < FINE_UNDER else 1.0


def _without_dust(value: float) -> float:
    if abs(value) < 1e6:
        return round(value, _DUST)
    return value


def _power(value: float) -> str:
    """What no roof has, as a power; what is no number, as it is called."""
    return f"{value:.3g}"


def _bare(text: str) -> str:
    if "." in text:
        return text.rstrip("0").rstrip(".")
    return text

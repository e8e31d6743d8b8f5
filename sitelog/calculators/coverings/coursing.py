"""How a length of slope becomes whole courses: largest gauge, first batten, count and verdict."""

import math

from sitelog.calculators.catalogue import MOST_ROWS, Verdict, Working
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal


def whole(number: float) -> int:
    """The next whole number up, where a float's dust over a whole number is not a course or a tile more.

    The least of anything still takes a whole one.
    """
    return max(math.ceil(round(number, 9)), 1 if number > 0 else 0)


def gauges_in(lap: str) -> int:
    """Gauges in a unit less its headlap: one in single lap, two in double lap (slates, plain tiles)."""
    return 2 if lap == "double" else 1


def _gauge_of_headlap(working: Working, unit_length: float | None, headlap: float, lap: str | None) -> float:
    """Largest gauge, mm, that keeps a headlap: L - lap in single lap, (L - lap)/2 in double lap."""
    if unit_length is None or lap is None:
        raise Refusal("gauge: also give the slate or tile length, such as unit_length=500")
    if headlap >= unit_length:
        raise Refusal(f"gauge: headlap is {as_typed(headlap)}; it must be under unit_length, {as_typed(unit_length)}")
    formula = "(unit_length - headlap) / 2" if lap == "double" else "unit_length - headlap"
    return working.step("gauge_of_headlap", formula, unit_length=unit_length, headlap=headlap)


def largest_gauge(
    working: Working, unit_length: float | None, headlap: float | None, max_gauge: float | None, lap: str | None
) -> float:
    """The smaller of the gauge that the headlap leaves and the maker's largest, mm.

    Raises Refusal if neither is given, or if that gauge leaves the unit no headlap at all.
    """
    if headlap is None and max_gauge is None:
        raise Refusal("gauge: give max_gauge=, or headlap= with unit_length=")
    by_lap = math.inf if headlap is None else _gauge_of_headlap(working, unit_length, headlap, lap)
    largest = min(by_lap, given_or(max_gauge, math.inf))
    if unit_length is not None and largest * gauges_in(lap or "single") >= unit_length:
        raise Refusal(
            f"gauge: a gauge of {as_typed(largest)} leaves no headlap on a slate or tile {as_typed(unit_length)} "
            f"long in {lap or 'any'} lap"
        )
    return working.note("largest_gauge", "the smaller of the headlap's gauge and the maker's largest", largest)


def first_batten(working: Working, hang: float | None, eaves: float) -> float:
    """The first batten's distance up from the lower end of the slope, mm; 0 if the slope starts at it.

    `hang` is the length of a unit from its tail up to its batten's top edge, `eaves` the tail's overhang.
    """
    if hang is None and eaves:
        raise Refusal(
            f"gauge: eaves is {as_typed(eaves)}; also give hang=, from a slate's or tile's tail up to the top of "
            "its batten"
        )
    if hang is None:
        return working.note("first_batten", "the slope starts at the first batten (if not, give hang)", 0.0)
    if eaves >= hang:
        raise Refusal(f"gauge: eaves is {as_typed(eaves)}; it must be under hang, {as_typed(hang)}")
    return working.step("first_batten", "hang - eaves", hang=hang, eaves=eaves)


def courses_in(working: Working, shared: float, largest: float) -> int:
    """Whole courses in a shared-out length, mm, none over the largest gauge."""
    numbers = {"length_shared": shared, "largest_gauge": largest}
    spaces = working.step("spaces", "length_shared / largest_gauge", "", **numbers)
    courses = whole(spaces)
    if courses >= MOST_ROWS:
        raise Refusal(f"gauge: that is {courses} courses; at most {MOST_ROWS - 1}")
    working.note("courses", "rounded up to whole courses, so none is over the largest gauge", courses, "")
    return courses


def closed_up(
    gauge: float, shared: float, courses: int, largest: float, least: float | None
) -> tuple[Verdict | None, tuple[str, ...]]:
    """Verdict and note on a gauge that may be closed up to `least`, mm, and no further."""
    if least is None:
        return None, ()
    if gauge >= least - 1e-9:
        return "pass", ()
    longer = f"{whole(courses * least - shared)} longer for {courses} courses"
    shorter = ""
    if courses > 1:
        shorter = f", or {whole(shared - (courses - 1) * largest)} shorter for {courses - 1}"
    note = (
        f"The gauge comes to {as_worked(gauge)}, below the smallest allowed, {as_typed(least)}. Make the slope "
        f"{longer}{shorter}"
    )
    return "fail", (note,)

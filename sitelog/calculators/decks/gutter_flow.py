"""What a level gutter carries, and what a roof sends it.

The capacity of a gutter of rectangular section and its freeboard are BS EN 12056-3's, from memory; the loss in a long
run is a trade page's, read. The catchment, length x (plan width + half the rise), is read in a plumbing textbook.
"""

from itertools import pairwise

from sitelog.calculators.catalogue import Working
from sitelog.quantities.rounding import as_typed, places
from sitelog.refusal import Refusal

# Freeboard over the design water: 0.3 of the depth from 85 to 250 mm, 25 under it, 75 over it (Table 5).
_SHALLOW, _DEEP = 85.0, 250.0
_LEAST_FREEBOARD, _MOST_FREEBOARD = 25.0, 75.0
# Length over depth of water, and what is left of the capacity there.
_LONG_RUNS = ((50.0, 1.0), (100.0, 0.93), (150.0, 0.86), (200.0, 0.80))
LONGEST = 200
_MOST_RAIN = 0.2  # l/s a m2: 720 mm an hour, past any storm designed for, so mm an hour were given
_MM_AN_HOUR = 3600.0  # in 1 l/s a m2


def water_depth(working: Working, depth: float) -> float:
    """The design depth of water [mm] in a gutter that deep [mm]; Refusal if it is all freeboard."""
    if depth <= _LEAST_FREEBOARD:
        raise Refusal(
            f"gutter: depth is {as_typed(depth)}; it must be over {as_typed(_LEAST_FREEBOARD)}, the smallest freeboard"
        )
    if depth < _SHALLOW:
        board = working.note("freeboard", "under 85 deep", _LEAST_FREEBOARD)
    elif depth > _DEEP:
        board = working.note("freeboard", "over 250 deep", _MOST_FREEBOARD)
    else:
        board = working.step("freeboard", "0.3 * depth_head", depth_head=depth)
    return working.step("water_depth", "depth_head - freeboard", depth_head=depth, freeboard=board)


def capacity(working: Working, length: float, sole: float, water: float, bent: float = 1.0) -> float | None:
    """What the gutter carries [l/s], length, sole and water in mm; None for a run that no figure reaches.

    `bent` is what its nearest bend leaves of the capacity.
    """
    run = working.step("water_depths_long", "length / water_depth", "", length=length, water_depth=water)
    long = _left_in_a_long_run(run)
    if long is None:
        return None
    working.note("length_factor", "what is left after the length of the run", long, "")
    section = working.step("water_section", "sole * water_depth", "mm2", sole=sole, water_depth=water)
    deep = working.step("depth_factor", "(water_depth / sole) ** 0.25", "", water_depth=water, sole=sole)
    working.note("bend_factor", "what is left after the nearest bend", bent, "")
    numbers = {"water_section": section, "depth_factor": deep, "length_factor": long, "bend_factor": bent}
    formula = "0.9 * 3.89e-5 * water_section ** 1.25 * depth_factor * length_factor * bend_factor"
    return working.step("capacity", formula, "l/s", **numbers)


def left_by_a_bend(distance: float | None) -> float:
    """What a bend that far [mm] from the outlet leaves of the capacity; all of it at 0 or None, where there is none.

    One trade page takes 0.8 within 2 m and 0.9 within 4 m, another 0.85 for any bend: the lesser is taken.
    """
    if not distance:
        return 1.0
    return 0.8 if distance <= 2000 else 0.85


def flow(working: Working, roof_area: float | None, rainfall: float | None) -> float | None:
    """What comes off the roof [l/s], from m2 and l/s a m2; None if no roof is told. Refusal for half a question."""
    if roof_area is None and rainfall is None:
        return None
    if roof_area is None or rainfall is None:
        raise Refusal("gutter: give roof_area= and rainfall= together")
    if rainfall > _MOST_RAIN:
        told = f"{as_typed(rainfall)} mm per hour is {places(rainfall / _MM_AN_HOUR, 4)}"
        raise Refusal(f"gutter: rainfall is {as_typed(rainfall)}; give it in l/s per m2: {told}")
    return working.step("flow", "roof_area * rainfall", "l/s", roof_area=roof_area, rainfall=rainfall)


def _left_in_a_long_run(run: float) -> float | None:
    """The share of the capacity left at a length over depth, straight between the figures; None past the last."""
    if run <= _LONG_RUNS[0][0]:
        return 1.0
    for (start, high), (end, low) in pairwise(_LONG_RUNS):
        if run <= end:
            return high + (low - high) * (run - start) / (end - start)
    return None

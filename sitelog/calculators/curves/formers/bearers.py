"""Bearers as they are cut to the main slope, and the noggins between them."""

import math

from sitelog.calculators.catalogue import Output, Row
from sitelog.calculators.curves.formers.curve import Bearer
from sitelog.geometry.vectors import asin_deg, atan2_deg, atan_deg, cos_deg, sin_deg, tan_deg

BEARERS = (
    Output("n", "", "Bearer"),
    Output("girth", "mm", "Along the girth"),
    Output("at", "mm", "Mark"),
    Output("height", "mm", "Top over springing"),
    Output("lean", "deg", "Lean"),
    Output("length_top", "mm", "Middle of top"),
    Output("long_point", "mm", "Long point"),
    Output("short_point", "mm", "Short point"),
    Output("side_cut_from_square", "deg", "Cut on side"),
    Output("top_cut_from_square", "deg", "Cut on top"),
    Output("saw_tilt_side", "deg", "Tilt, sole on side"),
    Output("saw_tilt_top", "deg", "Tilt, sole on top"),
    Output("hand", "", "Long side"),
)
EVEN = 0.01  # degrees
NOGGINS = (
    Output("n", "", "Noggin"),
    Output("length_top", "mm", "Top"),
    Output("length_bottom", "mm", "Bottom"),
    Output("left_mitre_from_square", "deg", "Left, from square"),
    Output("right_mitre_from_square", "deg", "Right, from square"),
)


def bearer_row(n: int, bearer: Bearer, left_end: float, pitch: float | None, face: float) -> Row:
    """A row of BEARERS; `left_end` is how far the OUTSIDE's left end is from the middle [mm]."""
    x, y = bearer.top
    return {
        "n": n,
        "girth": bearer.girth,
        "at": x + left_end,
        "height": y,
        "lean": bearer.lean,
        **(_no_lengths() if pitch is None else _lengths(bearer, pitch, face)),
    }


def _no_lengths() -> Row:
    return {output.name: None for output in BEARERS[5:]}


def _lengths(bearer: Bearer, pitch: float, face: float) -> Row:
    """Level to the slope, with the cuts where a plane of that pitch [deg] takes the end off."""

    def back(height: float) -> float:
        return max(face + height / tan_deg(pitch), 0.0)

    arrises = [back(bearer.point(side, down)[1]) for side in (-1, 1) for down in (0.0, bearer.depth)]
    lean = abs(bearer.lean)
    return {
        "length_top": back(bearer.top[1]),
        "long_point": max(arrises),
        "short_point": min(arrises),
        "side_cut_from_square": atan_deg(cos_deg(lean) / tan_deg(pitch)),
        "top_cut_from_square": atan_deg(sin_deg(lean) / tan_deg(pitch)),
        "saw_tilt_side": asin_deg(sin_deg(lean) * cos_deg(pitch)),
        "saw_tilt_top": asin_deg(cos_deg(lean) * cos_deg(pitch)),
        "hand": _hand(bearer.lean),
    }


def _hand(lean: float) -> str | None:
    """The side that is longer, looking in from the face: the one towards the crown. None of one that is square."""
    if abs(lean) < EVEN:
        return None
    return "right" if lean < 0 else "left"


def noggin_row(n: int, left: Bearer, right: Bearer, depth: float) -> Row:
    """A row of NOGGINS: top from arris to arris of two bearers, so deep [mm]; no bottom where it comes to a point."""
    start, end = left.point(1, 0.0), right.point(-1, 0.0)
    run, rise = end[0] - start[0], end[1] - start[1]
    slope = atan2_deg(rise, run)
    # The sides lean so far from square to its top, plus to the right.
    leans = left.lean + slope, right.lean + slope
    top = math.hypot(run, rise)
    bottom = top + depth * (tan_deg(leans[0]) - tan_deg(leans[1]))
    return {
        "n": n,
        "length_top": top,
        "length_bottom": bottom if bottom > 0 else None,
        "left_mitre_from_square": abs(leans[0]),
        "right_mitre_from_square": abs(leans[1]),
    }

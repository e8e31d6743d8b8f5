"""The marks of a dormer's line on the rafters of the main slope: one on each edge of each rafter it crosses."""

import math

from sitelog.calculators.catalogue import (
    MOST_ROWS,
    Inputs,
    Outcome,
    Output,
    Result,
    Row,
    Working,
    calculator,
    field,
)
from sitelog.calculators.curves.heads import CHORD, OF_THE_HEAD, RISE, SHEET, SPLIT, Head, head
from sitelog.calculators.setting_out.centres import check_gap
from sitelog.geometry.vectors import atan2_deg, sin_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal


class SlopeMarksInputs(Inputs):
    """What `slope-marks` takes: lengths in mm, angles in degrees."""

    chord: float = CHORD
    rise: float = RISE
    split: float | None = SPLIT
    pitch: float = field("pitch", "pitch of the main slope")
    sheet: float = SHEET
    first: float = field("length", "level, from the left end to the first rafter's centre")
    spacing: float = field("length", "spacing of the rafters, centre to centre", over=0)
    thickness: float = field("length", "thickness of a rafter", default=47, over=0)


@calculator(
    "slope-marks",
    SlopeMarksInputs,
    branch="curves",
    does="Mark a dormer's line on both edges of each main rafter",
    results=(
        Output("rafters", "", "Rafters it crosses"),
        Output("highest", "mm", "Highest mark, up the slope"),
        Output("crown_up", "mm", "Crown, up the slope"),
        Output("steepest_bevel_from_square", "deg", "Steepest across a rafter, from square"),
        Output(
            "rows",
            "",
            "Marks, up the slope",
            (
                Output("n", "", "Rafter"),
                Output("at", "mm", "Centre"),
                Output("left", "mm", "Left edge"),
                Output("right", "mm", "Right edge"),
                Output("bevel_from_square", "deg", "From square"),
            ),
        ),
    ),
    basis="geometry: level lines cut by the plane of the slope",
    definition=(
        OF_THE_HEAD
        + (
            " Marks are up the slope from where that level meets it, on top of the rafters; an edge that the line "
            "misses has none. The bevel is for the straight line between a rafter's two marks. The head runs back "
            "level: don't use this for an eyebrow whose rafters climb, as under tiles."
        )
    ),
    example="chord=1800 rise=600 pitch=40 sheet=18 first=100 spacing=400",
)
def slope_marks(given: SlopeMarksInputs) -> Outcome:
    """Marks in mm up the slope, bevels in degrees. Refusal where no rafter stands under the line."""
    check_gap("slope-marks", given.thickness, given.spacing)
    curve = head("slope-marks", given.chord, given.rise, given.split, given.sheet)
    rows = _rows(curve, given)
    if not rows:
        raise Refusal(
            f"slope-marks: no rafter is under the line; first is {as_typed(given.first)} and the "
            f"chord {as_typed(given.chord)}"
        )
    working = Working()
    top = working.step("crown_up", "(rise - sheet) / sin(pitch)", rise=given.rise, sheet=given.sheet, pitch=given.pitch)
    marks = [mark for row in rows for mark in (row["left"], row["right"]) if isinstance(mark, float)]
    highest = working.note("highest", "height of the curve at that edge, up the slope", max(marks))
    bevels = [row["bevel_from_square"] for row in rows if isinstance(row["bevel_from_square"], float)]
    results: dict[str, Result] = {"rafters": len(rows), "highest": highest, "crown_up": top, "rows": rows}
    if bevels:
        results["steepest_bevel_from_square"] = max(bevels)
    return Outcome(results, working, notes=("Bend a batten through the marks before you cut: you will see an odd one",))


def _rows(curve: Head, given: SlopeMarksInputs) -> list[Row]:
    """A row for each rafter that the line crosses on one edge or both. Refusal for too many."""
    spacing, half = given.spacing, given.thickness / 2
    count = math.ceil((given.chord + half - given.first) / spacing)
    if count > MOST_ROWS:
        raise Refusal(
            f"slope-marks: spacing is {as_typed(spacing)}; that is {count} rafters, and {MOST_ROWS} is the most. "
            "Give a larger spacing"
        )
    rows: list[Row] = []
    for n in range(max(count, 0)):
        at = given.first + n * spacing
        left, right = (_mark(curve, edge, given.pitch) for edge in (at - half, at + half))
        if left is None and right is None:
            continue
        bevel = None if left is None or right is None else atan2_deg(abs(right - left), given.thickness)
        rows.append({"n": n + 1, "at": at, "left": left, "right": right, "bevel_from_square": bevel})
    return rows


def _mark(curve: Head, at: float, pitch: float) -> float | None:
    """Up the slope [mm] to the line at that place, or None where it does not stand over the slope."""
    if abs(at - curve.half) >= curve.reach - 1e-9:
        return None
    return curve.height(at - curve.half) / sin_deg(pitch)

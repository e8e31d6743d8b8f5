"""The marks of a dormer's line on the rafters of the main slope: one on each edge of each rafter it crosses."""

import math

from msgspec import Struct

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
from sitelog.calculators.curves.deck_lines import OFF, told_of_habit, told_shifts
from sitelog.calculators.curves.heads import CHORD, OF_THE_HEAD, RISE, SHEET, SPLIT, Head, head
from sitelog.calculators.curves.slope_lines import MainSlope
from sitelog.calculators.setting_out.centres import check_gap
from sitelog.geometry.vectors import atan2_deg, sin_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

BATTEN = "Bend a batten through the marks before you cut: you will see an odd one"


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
    deck: float = field("length", "total thickness of the sheet on the main slope", default=0)
    rafter: float | None = field("length", "depth of the rafters, for marks on the bottom edges", default=None, over=0)


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
        Output("rafter_zero", "mm", "Take off if taped from springing"),
        OFF,
        Output("face_cut_from_square", "deg", "Down the sides of a rafter"),
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
                Output("left_deck", "mm", "Left, on the sheet"),
                Output("right_deck", "mm", "Right, on the sheet"),
                Output("left_under", "mm", "Left, bottom edge"),
                Output("right_under", "mm", "Right, bottom edge"),
            ),
        ),
    ),
    basis="geometry: level lines cut by the plane of the slope",
    definition=(
        OF_THE_HEAD
        + (
            " The zero is where that level meets the top of the slope's sheet, or of the rafters if it has none. Marks "
            "are up the slope, on top of the rafters, from the line square through the sheet under the zero; an edge "
            "that the line misses has none. Or tape from the springing's own level on the rafter, and take the "
            "given distance off every rafter mark. The bevel is for the straight line between a rafter's two marks on "
            "top. Down a rafter's sides the line from top mark to bottom mark is level. The head runs back level: "
            "don't use this for an eyebrow whose rafters climb, as under tiles."
        )
    ),
    example="chord=1800 rise=600 pitch=40 sheet=18 first=100 spacing=400 deck=18 rafter=150",
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
    zero = _told_zero(working, given)
    numbers = {"rise": given.rise, "sheet": given.sheet, "pitch": given.pitch}
    top = working.step(
        "crown_up", "(rise - sheet) / sin(pitch) + rafter_zero", **numbers, rafter_zero=zero.get("rafter_zero", 0.0)
    )
    marks = [mark for row in rows for mark in (row["left"], row["right"]) if isinstance(mark, float)]
    highest = working.note("highest", "height of the curve at that edge, up the slope", max(marks))
    bevels = [row["bevel_from_square"] for row in rows if isinstance(row["bevel_from_square"], float)]
    results: dict[str, Result] = {"rafters": len(rows), "highest": highest, "crown_up": top, "rows": rows, **zero}
    results["face_cut_from_square"] = working.step("face_cut_from_square", "90 - pitch", "deg", pitch=given.pitch)
    if bevels:
        results["steepest_bevel_from_square"] = max(bevels)
    habit = told_of_habit(given.deck, zero.get("off_if_thickness_added", 0.0), "the rafter's mark")
    return Outcome(results, working, notes=(BATTEN, *habit))


def _told_zero(working: Working, given: SlopeMarksInputs) -> dict[str, float]:
    """How far above the zero, carried through the sheet, the springing's level is on the rafters; none without one."""
    shifts = told_shifts(working, given.deck, given.pitch)
    if not shifts:
        return {}
    zero = working.step("rafter_zero", "deck / tan(pitch)", deck=given.deck, pitch=given.pitch)
    return {"rafter_zero": zero, "off_if_thickness_added": shifts["off_if_thickness_added"]}


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
        left, right = (_marks(curve, edge, given) for edge in (at - half, at + half))
        if left.top is None and right.top is None:
            continue
        crossed = left.top is not None and right.top is not None
        across = abs((right.top or 0.0) - (left.top or 0.0))
        rows.append(
            {
                "n": n + 1,
                "at": at,
                "left": left.top,
                "right": right.top,
                "bevel_from_square": atan2_deg(across, given.thickness) if crossed else None,
                "left_deck": left.deck,
                "right_deck": right.deck,
                "left_under": left.under,
                "right_under": right.under,
            }
        )
    return rows


class _Edge(Struct, frozen=True):
    """The marks at one edge of a rafter [mm]: on top of the sheet, on the rafter's top, on its bottom; or None."""

    deck: float | None = None
    top: float | None = None
    under: float | None = None


def _marks(curve: Head, at: float, given: SlopeMarksInputs) -> _Edge:
    """Up the slope to the line at that place, on every face; nothing where the line doesn't pass over it."""
    if abs(at - curve.half) >= curve.reach - 1e-9:
        return _Edge()
    slope, height = MainSlope(given.pitch), curve.height(at - curve.half)
    return _Edge(
        slope.along(height) if given.deck else None,
        slope.along(height, given.deck) if given.deck else height / sin_deg(given.pitch),
        None if given.rafter is None else slope.along(height, given.deck + given.rafter),
    )

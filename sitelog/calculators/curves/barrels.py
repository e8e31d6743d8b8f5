"""The line in which a barrel dormer meets the main slope: an ellipse, outside and inside its sheathing."""

import math

from sitelog.calculators.catalogue import Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.curves.deck_lines import (
    CUT_COLUMNS,
    CUT_THROUGH,
    SHIFTS,
    THROUGH,
    DeckInputs,
    told_of_habit,
    told_shifts,
    with_back_cuts,
)
from sitelog.calculators.curves.segments import OutsideInputs, Segment, stations
from sitelog.calculators.curves.slope_lines import (
    COLUMNS,
    DATUM,
    FLAT,
    SPACING,
    check_reach,
    flat_crown,
    flat_side,
    on_slope,
)
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

_PARTS = 1_000  # of a line added up by Simpson's rule: good to far more than a tape


def ellipse_arc(across: float, up: float, half_angle: float) -> float:
    """Length [mm] of the part of an ellipse with those semi-axes [mm] that lies to `half_angle` [deg] of its crown.

    The angle is that of the circle it was drawn out from, each way from the crown.
    """
    step = 2 * math.radians(half_angle) / _PARTS
    turns = (step * part - math.radians(half_angle) for part in range(_PARTS + 1))
    rates = [math.hypot(across * math.cos(turn), up * math.sin(turn)) for turn in turns]
    return step / 3 * (rates[0] + rates[-1] + 4 * sum(rates[1:-1:2]) + 2 * sum(rates[2:-1:2]))


class _Barrel(OutsideInputs):
    pitch: float = field("pitch", "pitch of the main slope")
    spacing: float = SPACING
    sheet: float = field("length", "total thickness of the sheathing, inside that line", default=0)


class BarrelInputs(_Barrel, DeckInputs):
    """What `barrel` takes: lengths in mm, angles in degrees."""


@calculator(
    "barrel",
    BarrelInputs,
    branch="curves",
    does="Where a barrel dormer meets the main slope, point by point",
    results=(
        Output("semi_axis_across", "mm", "half width of the ellipse"),
        Output("semi_axis_up_slope", "mm", "half height of the ellipse, up the slope"),
        Output("centre_down_slope", "mm", "centre of the ellipse, down the slope"),
        Output("ridge_up_slope", "mm", "crown, up the slope"),
        Output("ridge_back", "mm", "crown, level run back to the slope"),
        Output("line_length", "mm", "length of the line"),
        FLAT,
        *SHIFTS,
        Output("rows", "", "outside line", CUT_COLUMNS),
        Output("inner_rows", "", "line inside the sheathing", COLUMNS),
        *THROUGH,
    ),
    basis="geometry: a level cylinder cut by the plane of the slope",
    definition=(
        (
            "The barrel is a level cylinder, square to the eaves, so it meets the main slope in part of an ellipse. "
            "The ellipse is the radius each side of the middle and radius / sin(pitch) up the slope. If the head is "
            "less than half a circle, its centre is below the springing. "
        )
        + DATUM
        + (
            " The inner line is for the face of the ribs: the sheathing is taken off square to the curve. Its marks "
            "run from the same left end."
        )
        + CUT_THROUGH
    ),
    example="radius=900 pitch=40 spacing=150 sheet=18 deck=18 inside=108 below=168",
)
def barrel(given: BarrelInputs) -> Outcome:
    """The outside line, and the line inside the sheet, on the main slope; mm.

    Raises Refusal unless radius, or two of the three, make half a circle or less, or if the sheet takes it all.
    """
    working = Working()
    outside = given.outside("barrel", working)
    for name, taken in (("sheet", given.sheet), ("inside", given.inside)):
        if taken >= outside.rise:
            raise Refusal(f"barrel: {name} is {as_typed(taken)}; it must be under the rise, {as_typed(outside.rise)}")
    turned = {"pitch": given.pitch}
    up = working.step("semi_axis_up_slope", "radius / sin(pitch)", radius=outside.radius, **turned)
    crown = working.step("ridge_up_slope", "rise / sin(pitch)", rise=outside.rise, **turned)
    check_reach("barrel", outside.rise, given.pitch)
    back = working.step("ridge_back", "rise / tan(pitch)", rise=outside.rise, **turned)
    down = working.step(
        "centre_down_slope",
        "semi_axis_up_slope - ridge_up_slope",
        semi_axis_up_slope=up,
        ridge_up_slope=crown,
    )
    length = ellipse_arc(outside.radius, up, outside.angle / 2)
    working.note("line_length", "added up in short straight lengths", length)
    shifts = told_shifts(working, given.deck, given.pitch)
    marks = stations("barrel", outside.chord, given.spacing)
    results: dict[str, Result] = {
        "semi_axis_across": outside.radius,
        "semi_axis_up_slope": up,
        "centre_down_slope": down,
        "ridge_up_slope": crown,
        "ridge_back": back,
        "line_length": length,
        "flat_crown": 2 * flat_side(outside.radius, outside.chord / 2),
        **shifts,
        **_lines(given, outside, marks),
    }
    habit = told_of_habit(given.deck, shifts.get("off_if_thickness_added", 0.0))
    return Outcome(results, working, notes=(*habit, flat_crown(outside.radius, outside.chord / 2)))


def _lines(given: BarrelInputs, outside: Segment, marks: list[float]) -> dict[str, Result]:
    """The rows of every line that was asked for."""
    half, pitch = outside.chord / 2, given.pitch

    def height(at: float) -> float:
        return outside.height(at - half)

    found: dict[str, Result] = {
        "rows": with_back_cuts(on_slope(marks, height, pitch), lambda at: outside.slope(at - half), pitch)
    }
    if given.sheet:
        found["inner_rows"] = _inside(outside, given.sheet, marks, pitch)
    if given.deck:
        found["lower_rows"] = on_slope(marks, height, pitch, given.deck)
    if given.has_ceiling:
        found["ceiling_rows"] = _inside(outside, given.inside, marks, pitch, given.below)
    return found


def _inside(outside: Segment, sheet: float, marks: list[float], pitch: float, under: float = 0.0) -> list[Row]:
    """The rows of the line `sheet` mm inside the curve, at its own two ends and the marks between them."""
    inner, half = outside.inside(sheet), outside.chord / 2
    reach = inner.chord / 2
    own = [half - reach, *(at for at in marks if abs(at - half) < reach - 1e-9), half + reach]
    return on_slope(own, lambda at: inner.height(at - half), pitch, under)

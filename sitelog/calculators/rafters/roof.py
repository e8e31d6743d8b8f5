"""A hipped roof over four plates as they stand: ridge, hips and commons, true slopes or a level ridge."""

import math

from sitelog.calculators.catalogue import Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.rafters.outlines import OutlineInputs, PitchesInputs, outline, pitches_of
from sitelog.geometry.roof_lines import SIDES, RoofLines, true_slopes
from sitelog.geometry.vectors import Vector, atan2_deg, level, minus, size
from sitelog.quantities.rounding import as_worked, places
from sitelog.text import text_if

A_POINT = 1.0  # mm; a ridge shorter than this is the point of a pyramid

POINT = tuple(Output(axis, "mm", axis.upper()) for axis in "xyz")
HIP = (
    Output("corner", "", "Corner"),
    Output("length", "mm", "Length on the line"),
    Output("pitch", "deg", "Pitch"),
    Output("run", "mm", "Level run"),
    Output("plan_angle_1", "deg", "Plan angle to the plate on its left"),
    Output("plan_angle_2", "deg", "Plan angle to the plate on its right"),
    Output("angle", "deg", "Inside angle of the corner"),
)
SLOPE = (
    Output("side", "", "Slope"),
    Output("common_shortest", "mm", "Shortest common"),
    Output("common_longest", "mm", "Longest common"),
    Output("run_at_p", "mm", "Run at P"),
    Output("run_at_q", "mm", "Run at Q"),
    Output("pitch_at_p", "deg", "Pitch at P"),
    Output("pitch_at_q", "deg", "Pitch at Q"),
)
FOOT = (
    Output("side", "", "Plate"),
    Output("p", "mm", "P, along the plate from its first corner"),
    Output("q", "mm", "Q, along the plate"),
)


class RoofInputs(OutlineInputs, PitchesInputs):
    """What `roof` takes: lengths in mm, angles in degrees."""

    keep: str = field(
        "choice", "keep the pitches true, or keep the ridge level", default="pitch", choices=("pitch", "ridge")
    )


@calculator(
    "roof",
    RoofInputs,
    branch="rafters",
    does="A hipped roof over four plates as measured: ridge, hips, commons",
    results=(
        Output("ridge_p", "mm", "End P of the ridge", POINT),
        Output("ridge_q", "mm", "End Q of the ridge", POINT),
        Output("ridge_along", "", "Slopes that meet at the ridge"),
        Output("ridge_length", "mm", "Ridge, centre to centre"),
        Output("ridge_fall", "mm", "Ridge falls, end to end"),
        Output("hips", "", "Hips", HIP),
        Output("slopes", "", "Slopes", SLOPE),
        Output("feet", "", "Plumb below the ends of the ridge", FOOT),
        Output("choice_height", "mm", "True or level: difference in height"),
        Output("choice_length", "mm", "True or level: difference in a length"),
        Output("choice_pitch", "deg", "True or level: difference in a pitch"),
    ),
    basis="geometry; plates as the least-squares fit of their six lengths",
    definition=(
        "A is at 0,0, B along x, ABCD anticlockwise from above. Heights are above the plates' top outer edges. P "
        "is the end of the ridge nearer A. Lengths are on the measuring line, to the centre of ridge and hip. "
        "keep=pitch: every slope is a true plane, and the ridge falls if the plates aren't parallel. keep=ridge: "
        "the same ridge on plan, set level at the mean height of its ends, which is common practice; the slopes "
        "then twist a little. The largest difference between the two is shown."
    ),
    example="ab=9000 bc=6000 cd=9010 da=6005 ac=10830 bd=10812 pitch=35",
)
def roof(given: RoofInputs) -> Outcome:
    """Lengths and places in mm, angles in degrees.

    Refusal where a slope has no pitch, the lengths close no outline, or a corner turns in.
    """
    pitches = pitches_of("roof", given.pitch, *given.own_pitches)
    corners, doubts = outline("roof", given.six, given.length, given.width)
    true = true_slopes(corners, pitches)
    kept = true if given.keep == "pitch" else true.level_ridge()
    working = Working()
    results = _told(working, kept, given.keep)
    apart = _apart(true)
    return Outcome(
        {**results, **apart},
        working,
        notes=(*doubts, *_notes(kept, given.keep, apart)),
        basis=text_if(given.length is not None, "geometry"),
    )


def _told(working: Working, lines: RoofLines, keep: str) -> dict[str, Result]:
    """The results of the lines kept, with the working."""
    first, second = (side.upper() for side in lines.long_sides)
    heights: list[float] = []
    for name, point, end in (("p", lines.p, lines.ends[0]), ("q", lines.q, lines.ends[1])):
        how = f"where the slopes over {first}, {second} and {SIDES[end].upper()} meet"
        if keep != "pitch":
            how = f"mean of both ends: {how}"
        heights.append(working.note(f"height_of_{name}", how, point[2]))
    fall = working.step("ridge_fall", "higher_end - lower_end", higher_end=max(heights), lower_end=min(heights))
    run = working.note("ridge_run", "P to Q, level", size(level(minus(lines.q, lines.p))))
    length = working.step("ridge_length", "hypot(ridge_run, ridge_fall)", ridge_run=run, ridge_fall=fall)
    return {
        "ridge_p": _point(lines.p),
        "ridge_q": _point(lines.q),
        "ridge_along": f"{first} {second}",
        "ridge_length": length,
        "ridge_fall": fall,
        "hips": [_hip_row(working, lines, corner) for corner in range(4)],
        "slopes": [_slope_row(working, lines, side) for side in range(4)],
        "feet": [_foot_row(lines, side) for side in range(4)],
    }


def _point(point: Vector) -> Row:
    return dict(zip("xyz", point, strict=True))


def _hip_row(working: Working, lines: RoofLines, corner: int) -> Row:
    hip = lines.hip(corner)
    length = working.step(f"hip_{hip.corner}", "hypot(run, height)", run=hip.run, height=hip.line[2])
    return {
        "corner": hip.corner,
        "length": length,
        "pitch": hip.pitch,
        "run": hip.run,
        "plan_angle_1": hip.plan_angle_1,
        "plan_angle_2": hip.plan_angle_2,
        "angle": hip.angle,
    }


def _slope_row(working: Working, lines: RoofLines, side: int) -> Row:
    row: Row = {"run_at_p": None, "run_at_q": None, "pitch_at_p": None, "pitch_at_q": None}
    commons = []
    for name, point in lines.ends_on(side).items():
        run, height = lines.run_to(side, point), point[2]
        commons.append(
            working.step(
                f"common_{SIDES[side]}_at_{name}",
                "hypot(run, height)",
                run=run,
                height=height,
            )
        )
        row[f"run_at_{name}"], row[f"pitch_at_{name}"] = run, atan2_deg(height, run)
    return {"side": SIDES[side], "common_shortest": min(commons), "common_longest": max(commons), **row}


def _foot_row(lines: RoofLines, side: int) -> Row:
    feet: Row = {"side": SIDES[side], "p": None, "q": None}
    return feet | {name: lines.along(side, point) for name, point in lines.ends_on(side).items()}


def _apart(true: RoofLines) -> dict[str, float]:
    """How far true slopes and a level ridge are apart at most: height and length [mm], pitch [deg]."""
    level = true.level_ridge()
    heights, lengths, pitches = [true.fall / 2], [true.ridge_length - level.ridge_length], [0.0]
    for place in range(4):
        lengths.append(true.hip(place).length - level.hip(place).length)
        for true_end, level_end in zip(true.ends_on(place).values(), level.ends_on(place).values(), strict=True):
            run = true.run_to(place, true_end)
            lengths.append(math.hypot(run, true_end[2]) - math.hypot(run, level_end[2]))
            pitches.append(atan2_deg(true_end[2], run) - atan2_deg(level_end[2], run))
    return {
        f"choice_{name}": max(map(abs, found))
        for name, found in (("height", heights), ("length", lengths), ("pitch", pitches))
    }


def _notes(lines: RoofLines, keep: str, apart: dict[str, float]) -> tuple[str, ...]:
    said = []
    if lines.ridge_length < A_POINT:
        said.append("the hips meet at a point, so there is no ridge")
    if apart["choice_height"] < 0.05:
        said.append("with true slopes the ridge is level anyway: both ways are the same")
    else:
        said.append(
            f"a level ridge is {as_worked(apart['choice_height'])} mm off true slopes at each end: up to "
            f"{as_worked(apart['choice_length'])} mm on a length and {places(apart['choice_pitch'], 1)} degrees "
            "on a pitch"
        )
    if keep == "pitch" and apart["choice_height"] >= 0.05:
        said.append(f"{'P' if lines.p[2] > lines.q[2] else 'Q'} is the higher end of the ridge")
    return tuple(said)

"""The valley rafter over any re-entrant corner between any two slopes: its line, cuts, hollow, and seat."""

from msgspec.structs import replace

from sitelog.calculators.catalogue import Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import SIDES, told_of_cuts
from sitelog.calculators.rafters.hip_timber import (
    HOLLOW,
    RESULTS,
    HipTimberInputs,
    in_own_words,
    line_timber,
    notched_too_deep,
)
from sitelog.quantities.rounding import as_worked

# A valley's results have the names of a hip's; these are said in its own words.
SAYS = {
    "hip_pitch": "Pitch of the valley",
    "run": "Level run of the valley",
    "length_on_line": "Length to centre of ridge",
    "backing_1": "Hollow on side 1",
    "backing_2": "Hollow on side 2",
    "dihedral": "Angle between slopes, from above",
    "drop_1": "Arris below slope 1, plumb",
    "drop_2": "Arris below slope 2, plumb",
    "height_above_plate": "Seat to top edge, square",
}
TO_RIDGES = tuple(  # its head between two ridges, each along its side's plate
    output
    for side in SIDES
    for output in (
        Output(f"ridge_bevel_{side}_from_square", "deg", f"Head: edge bevel to ridge {side}, from square"),
        Output(f"ridge_tilt_{side}", "deg", f"Head: saw tilt to ridge {side}"),
    )
)
ENGINEER = "a valley carries the jacks of both slopes: the engineer gives its section, bearings and props"


class ValleyInputs(HipTimberInputs):
    """What `valley` takes: lengths in mm, angles in degrees."""

    corner: float = field(
        "angle", "angle between the plates at the internal corner, seen from outside", default=90, over=0, under=180
    )


@calculator(
    "valley",
    ValleyInputs,
    branch="rafters",
    does="A valley rafter at any internal corner: lengths, cuts, hollow",
    results=(*in_own_words((*RESULTS, *HOLLOW), SAYS), *TO_RIDGES),
    basis="geometry; half the ridge's thickness taken off along the valley: common practice",
    definition=(
        "The valley is the line where the slopes through the plates' top outer edges meet, at a corner that "
        "turns in. Side 1 is on your left as you look at it from outside. Each plan angle is to that side's "
        "plate carried on past the corner. Edge bevels and saw tilts are from square: 1 is for the face along "
        "side 1's commons, 2 along side 2's; those to ridges are for a head between two ridges, each along its side's "
        "plate. Each drop is how far that slope is above the arris of a square "
        "valley with its centre on the line, and the seat is for that; if you hollow it, raise it by the larger "
        "drop. Under a lower ridge, give the run to that ridge's height. Its tail is hollow, to fit behind both "
        "fascias: each face goes further down than the centre. Long point to long point takes in the longer face; a "
        "tail cut square has the length on the centre. Plumb cuts are over the whole depth. "
        "Weight is for dry C24 (BS EN 338:2016, Table 1)."
    ),
    example="corner=90 pitch=35 run=3000 section=47x225 ridge=38 common_height_above_plate=122",
)
def valley(given: ValleyInputs) -> Outcome:
    """Lengths in mm, cuts in degrees, weight in kg. Refusal where none is left, or it sits clear of the plates."""
    working = Working()
    made = line_timber(working, "valley", given, dropped=False)
    return Outcome(
        {**made.results, **_to_ridges(working, given)},
        _in_its_own_words(working),
        cautions=made.cautions,
        notes=(
            _how_to_set_it(made.drops),
            ENGINEER,
            *notched_too_deep("valley", made),
            *told_of_cuts(given.line),
            *made.piece.notes,
        ),
    )


def _to_ridges(working: Working, given: ValleyInputs) -> dict[str, float]:
    """The cuts of its head to a ridge along the plate of each side [deg]."""
    found: dict[str, float] = {}
    for side in SIDES:
        plan, tilt = f"plan_angle_{side}", f"ridge_tilt_{side}"
        angle = given.line.plan_angle(side)
        found[tilt] = working.step(tilt, f"90 - {plan}" if angle <= 90 else f"{plan} - 90", "deg", **{plan: angle})
        found[f"ridge_bevel_{side}_from_square"] = working.step(
            f"ridge_bevel_{side}_from_square",
            f"atan(tan({tilt}) / cos(hip_pitch))",
            "deg",
            **{tilt: found[tilt], "hip_pitch": given.line.pitch_of_hip},
        )
    return found


def _in_its_own_words(working: Working) -> Working:
    """The working with a hip's pitch and run called the valley's."""

    def own(text: str) -> str:
        return text.replace("hip_", "valley_")

    told = Working()
    told.steps = [
        replace(
            step, name=own(step.name), formula=own(step.formula), numbers={own(k): v for k, v in step.numbers.items()}
        )
        for step in working.steps
    ]
    return told


def _how_to_set_it(drops: dict[str, float]) -> str:
    low, high = sorted(drops.values())
    proud = as_worked(high) if high - low < 0.5 else f"{as_worked(drops['drop_1'])} and {as_worked(drops['drop_2'])}"
    return (
        f"left square with its centre on the line, the slopes are {proud} mm above its arrises. To hollow it, "
        f"raise it {as_worked(max(high, 0))} mm and cut down to the line"
    )

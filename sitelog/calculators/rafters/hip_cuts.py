"""What hip, valley, jacks and purlin ask and say alike: the line over a corner, and the cuts to it."""

from sitelog.calculators.catalogue import Inputs, Output, Working, field
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

SIDES: tuple[Side, Side] = (1, 2)
SAW = 45  # deg; many portable saws tilt no further (common practice)

# Between a slope that is all but level and one all but upright there is no line left to work to.
FLATTEST, STEEPEST = 0.1, 89.9


class CornerInputs(Inputs):
    """A corner of the plates and the slopes over it, as hip, valley, jacks and purlin ask for them: degrees."""

    corner: float = field("angle", "inside angle between the plates, on plan", default=90, over=0, under=180)
    pitch: float = field(
        "pitch", "pitch of side 1, on your left as you look at the corner from outside", low=FLATTEST, high=STEEPEST
    )
    pitch2: float | None = field(
        "pitch",
        "pitch of side 2, on your right; the same as side 1 if left out",
        default=None,
        low=FLATTEST,
        high=STEEPEST,
    )

    @property
    def line(self) -> HipLine:
        """The line in which the two slopes meet."""
        return HipLine(self.corner, self.pitch, self.pitch2 or self.pitch)


# What a hip and a valley give alike.
LINE = (
    Output("plan_angle_1", "deg", "Plan angle to plate 1"),
    Output("plan_angle_2", "deg", "Plan angle to plate 2"),
    Output("hip_pitch", "deg", "Pitch of the hip"),
    Output("run", "mm", "Level run of the hip"),
    Output("rise", "mm", "Rise of the measuring line"),
    Output("length_on_line", "mm", "Length to ridge centre or table"),
    Output("ridge_deduction", "mm", "Deduct for half the ridge"),
)
CUTS = (
    Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
    Output("seat_cut_from_square", "deg", "Seat cut, from square"),
    Output("edge_bevel_1_from_square", "deg", "Edge bevel 1, from square"),
    Output("edge_bevel_2_from_square", "deg", "Edge bevel 2, from square"),
    Output("saw_tilt_1", "deg", "Saw tilt 1 (cutting on the plumb line)"),
    Output("saw_tilt_2", "deg", "Saw tilt 2 (cutting on the plumb line)"),
    Output("backing_1", "deg", "Backing on side 1"),
    Output("backing_2", "deg", "Backing on side 2"),
    Output("dihedral", "deg", "Angle between slopes, inside"),
)


def side_of(calculator: str, name: str, given: float) -> Side:
    """Side 1 or 2 as given; Refusal if it is neither."""
    for side in SIDES:
        if given == side:
            return side
    raise Refusal(f"{calculator}: {name} is {as_typed(given)}; give 1 (on your left from outside) or 2 (on your right)")


def told_line(working: Working, line: HipLine, run: float, ridge: float, ridge_side: Side) -> dict[str, float]:
    """LINE, in mm and degrees, for side 1's common run [mm], with the working.

    The ridge [mm thick] runs along the plate of `ridge_side`; half its thickness is taken off along the hip.
    """
    side_1 = working.step(
        "plan_angle_1",
        "atan2(tan(pitch_2) * sin(corner), tan(pitch_1) + tan(pitch_2) * cos(corner))",
        "deg",
        corner=line.corner,
        pitch_1=line.pitch_1,
        pitch_2=line.pitch_2,
    )
    side_2 = working.step("plan_angle_2", "corner - plan_angle_1", "deg", corner=line.corner, plan_angle_1=side_1)
    hip_run = working.step("hip_run", "run / sin(plan_angle_1)", run=run, plan_angle_1=side_1)
    rise = working.step("rise", "run * tan(pitch_1)", run=run, pitch_1=line.pitch_1)
    pitch = working.step("hip_pitch", "atan2(rise, hip_run)", "deg", rise=rise, hip_run=hip_run)
    length = working.step("length_on_line", "hypot(hip_run, rise)", hip_run=hip_run, rise=rise)
    to_ridge = f"plan_angle_{ridge_side}"
    deduction = working.step(
        "ridge_deduction",
        f"ridge / 2 / sin({to_ridge}) / cos(hip_pitch)",
        **{"ridge": ridge, to_ridge: side_1 if ridge_side == 1 else side_2, "hip_pitch": pitch},
    )
    return {
        "plan_angle_1": side_1,
        "plan_angle_2": side_2,
        "run": hip_run,
        "rise": rise,
        "hip_pitch": pitch,
        "length_on_line": length,
        "ridge_deduction": deduction,
    }


def told_cuts(working: Working, line: HipLine) -> dict[str, float]:
    """CUTS, in degrees, with the working."""
    pitch = line.pitch_of_hip
    seat = working.step("seat_cut_from_square", "90 - hip_pitch", "deg", hip_pitch=pitch)
    cuts = {"plumb_cut_from_square": pitch, "seat_cut_from_square": seat}
    for side in SIDES:
        plan, tilt, backing = f"plan_angle_{side}", f"saw_tilt_{side}", f"backing_{side}"
        angle = line.plan_angle(side)
        cuts[tilt] = working.step(tilt, plan if angle <= 90 else f"180 - {plan}", "deg", **{plan: angle})
        cuts[f"edge_bevel_{side}_from_square"] = working.step(
            f"edge_bevel_{side}_from_square",
            f"atan(tan({tilt}) / cos(hip_pitch))",
            "deg",
            **{tilt: cuts[tilt], "hip_pitch": pitch},
        )
        cuts[backing] = working.step(
            backing,
            f"atan(sin(hip_pitch) / tan({plan}))",
            "deg",
            **{plan: angle, "hip_pitch": pitch},
        )
    cuts["dihedral"] = working.step(
        "dihedral",
        "180 - backing_1 - backing_2",
        "deg",
        backing_1=cuts["backing_1"],
        backing_2=cuts["backing_2"],
    )
    return cuts


def is_past_saw(tilt: float) -> bool:
    """Whether a saw tilt [deg] is more than many saws reach, to the tenth by which it is shown and set."""
    return round(tilt, 1) > SAW


def told_of_cuts(line: HipLine) -> tuple[str, ...]:
    """What a person should know of these cuts before they set a saw."""
    said = []
    for side in SIDES:
        if line.plan_angle(side) > 90:
            said.append(
                f"the line runs away from side {side}: no rafter on that side reaches it, its backing slopes the "
                "other way, and its cut is the other hand"
            )
        if is_past_saw(line.saw_tilt(side)):
            said.append(f"saw tilt {side} is over {SAW} degrees, more than many saws can tilt: finish it by hand")
    return tuple(said)


def told_plan_angle(working: Working, line: HipLine, side: Side) -> float:
    """The line's plan angle [deg] to a side's plate, as told to whoever works on that side alone."""
    return working.step(
        "plan_angle",
        "atan2(tan(other_pitch) * sin(corner), tan(pitch) + tan(other_pitch) * cos(corner))",
        "deg",
        other_pitch=line.pitch(2 if side == 1 else 1),
        corner=line.corner,
        pitch=line.pitch(side),
    )


def told_of_side(line: HipLine, side: Side, tilt: float, what: str) -> tuple[str, ...]:
    """What to know before one side's cuts at a saw tilt [deg] are taken for the other's, or for any saw's."""
    said = []
    if abs(line.plan_angle(1) - line.plan_angle(2)) > 1e-6 or line.pitch_1 != line.pitch_2:
        said.append(f"side {2 if side == 1 else 1} isn't the same turned over: work out its {what} too")
    if is_past_saw(tilt):
        said.append(f"saw tilt is over {SAW} degrees, more than many saws can tilt: finish the cut by hand")
    return tuple(said)

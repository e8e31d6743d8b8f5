"""The cuts of a purlin against a hip: on its edge, on its face, and the tilt of the saw."""

from sitelog.calculators.catalogue import Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import CornerInputs, side_of, told_of_side, told_plan_angle
from sitelog.geometry.hip_line import HipLine, Side


class PurlinInputs(CornerInputs):
    """What `purlin` takes: angles in degrees."""

    side: int = field("count", "which side the purlin is on: 1 on the left from outside, 2 on the right", default=1)


@calculator(
    "purlin",
    PurlinInputs,
    branch="rafters",
    does="A purlin cut to a hip at any corner: edge and face bevels",
    results=(
        Output("edge_bevel_from_square", "deg", "Edge bevel, from square"),
        Output("face_bevel_from_square", "deg", "Face bevel, from square"),
        Output("saw_tilt_on_face", "deg", "Saw tilt (cutting on the face mark)"),
    ),
    basis="geometry",
    definition=(
        "The purlin is level along its plate and square to the rafters: its edge is in the slope and its face is "
        "square to it. It is cut to the hip's upright face. Both bevels are from square, one marked across the "
        "edge and one down the face. The tilt is for a saw that follows the mark on the face."
    ),
    example="pitch=35",
)
def purlin(given: PurlinInputs) -> Outcome:
    """Bevels and tilt in degrees. Refusal for a side that is neither 1 nor 2."""
    side = side_of("purlin", "side", given.side)
    line = given.line
    working = Working()
    plan = told_plan_angle(working, line, side)
    told = "plan_angle" if plan <= 90 else "(180 - plan_angle)"
    both = {"pitch": line.pitch(side), "plan_angle": plan}
    edge = working.step("edge_bevel_from_square", f"atan(cos(pitch) / tan({told}))", "deg", **both)
    face = working.step("face_bevel_from_square", f"atan(sin(pitch) / tan({told}))", "deg", **both)
    tilt = working.step("saw_tilt_on_face", f"asin(cos(pitch) * cos({told}))", "deg", **both)
    return Outcome(
        {"edge_bevel_from_square": edge, "face_bevel_from_square": face, "saw_tilt_on_face": tilt},
        working,
        cautions=("hip-engineer",),
        notes=_notes(line, side, tilt),
    )


def _notes(line: HipLine, side: Side, tilt: float) -> tuple[str, ...]:
    if line.plan_angle(side) <= 90:
        point = "the long point is the top arris of the lower face"
    else:
        point = f"the hip runs away from side {side}: the long point is the bottom arris of the upper face"
    return (point, *told_of_side(line, side, tilt, "purlin"))

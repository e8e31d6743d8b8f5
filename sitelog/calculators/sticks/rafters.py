"""Sticks of rafters: a common, a hip and a jack, as their own calculators cut them."""

from sitelog.calculators.catalogue import Working
from sitelog.calculators.rafters.birdsmouth import cut_birdsmouth
from sitelog.calculators.rafters.hip_cuts import SIDES, side_of, told_line
from sitelog.calculators.sticks.bench import CutLine, Rafter
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.calculators.timber.stick import HIP, RAFTER
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.left_out import given_or
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked, at_least
from sitelog.refusal import Refusal

ANY_PLATE = 1e6  # mm; where nobody says how wide the plate is, its width stops no birdsmouth


def common(working: Working, given: SticksInputs) -> Rafter:
    """A common: one face, since both are alike. Refusal where the ridge takes all of it."""
    run, section = given.need("run"), given.section or RAFTER
    if given.ridge / 2 >= run:
        raise Refusal(
            f"sticks: half the ridge, {as_typed(given.ridge / 2)}, must be less than the run, {as_typed(run)}"
        )
    pitch = given.need("pitch")
    height = seat_to_top(working, given, section, pitch)
    head = working.step("head_in", "run - ridge / 2", run=run, ridge=given.ridge)
    return Rafter(pitch, section.depth, height, (CutLine("face", head, 0.0, -given.overhang),))


def jack(working: Working, given: SticksInputs) -> Rafter:
    """A jack on its own side of a hip: the face away from the corner is the long one.

    Refusal where its short face has no length.
    """
    side = side_of("sticks", "side", given.side)
    line, section, at = given.met(given.line), given.section or RAFTER, given.need("at")
    pitch, half = line.pitch(side), section.thickness / 2
    height = seat_to_top(working, given, section, pitch)
    faces = {"long": half, "centre": 0.0, "short": -half}
    heads = {name: head_in(working, name, line, side, at + off, given.hip_thickness / 2) for name, off in faces.items()}
    if heads["short"] <= 0:
        least = half + given.hip_thickness / 2 / sin_deg(line.plan_angle(side))
        raise Refusal(
            f"sticks: at {as_typed(at)} from the corner nothing of the jack is left on its short side; at must be over "
            f"{as_worked(least)}"
        )
    lines = tuple(CutLine(name, heads[name], 0.0, -given.overhang, off) for name, off in faces.items())
    return Rafter(pitch, section.depth, height, lines)


def head_in(working: Working, name: str, line: HipLine, side: Side, at: float, face: float) -> float:
    """How far in from the plate, level [mm], a line square to it meets the hip's face; `at` is along the plate."""
    return working.step(
        f"{name}_in",
        "at * tan(plan_angle) - face / cos(plan_angle)",
        at=at,
        plan_angle=line.plan_angle(side),
        face=face,
    )


def hip(working: Working, given: SticksInputs) -> Rafter:
    """A hip, dropped or backed: its centre and both faces. With foot=plumb it has no plate: it is square there.

    Refusal without the commons' height, for a drop that takes all of it, for a seat that doesn't reach the plates, or a
    point that reaches the seat.
    """
    line, section = given.met(given.line), given.section or HIP
    half, pitch = section.thickness / 2, line.pitch_of_hip
    head, tail = line_ends(working, given, line)
    if given.foot == "plumb":
        return Rafter(pitch, section.depth, 0.0, plumb_footed(given, line, head, half))
    commons = given.need("common_height_above_plate")
    height = commons if given.top == "backed" else _dropped(working, line, half, commons)
    backs = {side: half / tan_deg(line.plan_angle(side)) for side in SIDES}
    clip = max(backs.values()) if given.heel == "clipped" else 0.0
    lines = [CutLine("centre", head, clip, -tail)]
    for side, way in zip(SIDES, (1, -1), strict=True):
        past = _head_past(given.head, line, side, half)
        lines.append(CutLine(f"{side}", head + past, clip or backs[side], backs[side] - tail, way * half))
    made = Rafter(pitch, section.depth, height, tuple(lines))
    _bears(made, section)
    _has_a_head(made)
    return made


def _head_past(head: str, line: HipLine, side: Side, half: float) -> float:
    """How much further in a hip's face is at its head than its centre, level [mm]."""
    if head == "pointed":
        return -half * tan_deg(line.plan_angle(side))
    return half / tan_deg(line.plan_angle(side)) if head == "hollow" else 0.0


def plumb_footed(given: SticksInputs, line: HipLine, head: float, half: float) -> tuple[CutLine, ...]:
    """A hip or a valley that stands on other timbers: its head as ever, its foot plumb and square at the line's end."""
    lines = [CutLine("centre", head, None, 0.0)]
    for side, way in zip(SIDES, (1, -1), strict=True):
        if given.kind == "hip":
            past = _head_past(given.head, line, side, half)
        else:
            past = -half / tan_deg(line.plan_angle(side)) if given.head == "pointed" else 0.0
        lines.append(CutLine(f"{side}", head + past, None, 0.0, way * half))
    return tuple(lines)


def line_ends(working: Working, given: SticksInputs, line: HipLine) -> tuple[float, float]:
    """How far in the head's plumb cut of a hip or valley is, and how far out its tail's: level on its centre [mm].

    Refusal for a ridge that leaves none of it.
    """
    ridge_side = side_of("sticks", "ridge_side", given.ridge_side)
    told = told_line(working, line, given.need("run"), given.ridge, ridge_side)
    if told["ridge_deduction"] >= told["length_on_line"]:
        raise Refusal(f"sticks: a ridge {as_typed(given.ridge)} thick leaves no {given.kind}. Check run= and ridge=")
    head = working.step(
        "head_in",
        "line_run - ridge_deduction * cos(line_pitch)",
        line_run=told["run"],
        ridge_deduction=told["ridge_deduction"],
        line_pitch=line.pitch_of_hip,
    )
    plan = line.plan_angle(1)
    return head, working.step("tail_out", "overhang / sin(plan_angle_1)", overhang=given.overhang, plan_angle_1=plan)


def _dropped(working: Working, line: HipLine, half: float, commons: float) -> float:
    """Seat to top of a dropped hip [mm, plumb]: the commons' less the larger drop."""
    steeper = min(SIDES, key=line.plan_angle)
    drop = working.step(
        "drop",
        "thickness / 2 * tan(hip_pitch) / tan(plan_angle)",
        thickness=2 * half,
        hip_pitch=line.pitch_of_hip,
        plan_angle=line.plan_angle(steeper),
    )
    height = working.step("height_above_plate", "commons - drop", commons=commons, drop=drop)
    if height <= 0:
        raise Refusal(
            f"sticks: a drop of {as_worked(drop)} is more than the commons' {as_typed(commons)} above the plate: back "
            "the hip instead, with top=backed"
        )
    return height


def _bears(made: Rafter, section: Section) -> None:
    """Refusal where the seat comes out of the timber before the furthest line of the heel."""
    furthest = max(line.heel or 0.0 for line in made.lines)
    if made.seat_end < furthest - 1e-9:
        deep = (furthest * tan_deg(made.pitch) + made.height) * cos_deg(made.pitch)
        raise Refusal(
            f"sticks: {as_typed(section.depth)} deep, it doesn't reach its seat across the whole heel. Make it at "
            f"least {as_worked(at_least(deep))} deep, or pack it up"
        )


def _has_a_head(made: Rafter) -> None:
    """Refusal where the head's cut on one face runs down past the seat: the hip lies nearly square to a plate."""
    if min(line.head for line in made.lines) <= made.seat_end:
        raise Refusal("sticks: cut to a point, its head runs past the seat on one face. Give head=square")


def seat_to_top(working: Working, given: SticksInputs, section: Section, pitch: float) -> float:
    """Seat to top edge [mm, plumb], as given, or that of the birdsmouth asked for.

    Refusal for a birdsmouth that takes the whole rafter, or a rafter that hangs clear of the plate.
    """
    height = given.common_height_above_plate
    if height is None:
        wanted = working.step("depth_wanted", "share * depth", share=given.birdsmouth, depth=section.depth)
        plate = given_or(given.plate, ANY_PLATE)
        return cut_birdsmouth(working, "sticks", section, pitch, wanted, plate, given.tied).height_above_plate
    clear = height * cos_deg(pitch) - section.depth
    if clear > 1e-9:
        raise Refusal(
            f"sticks: {as_typed(section.depth)} deep, it sits {as_worked(clear)} clear of the plate. Check "
            "common_height_above_plate= and section="
        )
    return height

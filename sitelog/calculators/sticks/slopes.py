"""Sticks of sloping timbers beside hips: a valley as it is framed, the jacks on it, and a cripple."""

from sitelog.calculators.catalogue import Working
from sitelog.calculators.rafters.hip_cuts import SIDES, side_of
from sitelog.calculators.sticks.bench import CutLine, Rafter
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.calculators.sticks.rafters import line_ends, plumb_footed
from sitelog.calculators.timber.stick import HIP, RAFTER
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

FACES = {"long": 0.5, "centre": 0.0, "short": -0.5}  # of its thickness, from the corner


def valley(working: Working, given: SticksInputs) -> Rafter:
    """A framed valley, square, its centre on the line: over an internal corner all of a hip's heel is turned round.

    Face k meets its plate and its fascia further down than the centre, by half the thickness / tan(plan_angle_k), so
    the heel is a point and the tail is hollow; clipped, the heel is square at the lower of the two. Pointed, its head
    fits between the two ridges, which run parallel to the plates: each arris is back by as much. Square otherwise.
    With foot=plumb it has no plate, and its foot is square.
    Refusal for a hollow head, or a seat that comes out of the timber.
    """
    if given.head == "hollow":
        raise Refusal("sticks: a valley's head isn't hollow. Give head=pointed, or head=square")
    line, section = given.met(given.line), given.section or HIP
    half, pitch = section.thickness / 2, line.pitch_of_hip
    head, tail = line_ends(working, given, line)
    if given.foot == "plumb":
        return Rafter(pitch, section.depth, 0.0, plumb_footed(given, line, head, half))
    height = given.need("common_height_above_plate")
    backs = {side: half / tan_deg(line.plan_angle(side)) for side in SIDES}
    clip = max(backs.values()) if given.heel == "clipped" else 0.0
    lines = [CutLine("centre", head, -clip, -tail)]
    for side, way in zip(SIDES, (1, -1), strict=True):
        back = backs[side]
        point = back if given.head == "pointed" else 0.0
        lines.append(CutLine(f"{side}", head - point, -(clip or back), -back - tail, way * half))
    made = Rafter(pitch, section.depth, height, tuple(lines))
    if made.seat_end < 0 or height <= max(backs.values()) * tan_deg(pitch):
        raise Refusal(
            f"sticks: {as_typed(section.depth)} deep, the valley doesn't sit on its plates. Check section= and "
            "common_height_above_plate="
        )
    return made


def valley_jack(working: Working, given: SticksInputs) -> Rafter:
    """From the valley's face up to the ridge, both ends plumb; the face towards the corner is the long one.

    Refusal where nothing of it is left on its short side.
    """
    side = side_of("sticks", "side", given.side)
    line, section, at = given.met(given.line), given.section or RAFTER, given.need("at")
    run = given.need("run")
    head = working.step("head_in", "run - ridge / 2", run=run, ridge=given.ridge)
    plan, half_valley = line.plan_angle(side), given.hip_thickness / 2
    lines = []
    for name, part in FACES.items():
        off = part * section.thickness
        foot = working.step(
            f"{name}_foot_in",
            "at * tan(plan_angle) + face / cos(plan_angle)",
            at=at - off,
            plan_angle=plan,
            face=half_valley,
        )
        lines.append(CutLine(name, head, None, foot, -off))
    return _left(Rafter(line.pitch(side), section.depth, 0.0, tuple(lines)), at)


def cripple(working: Working, given: SticksInputs) -> Rafter:
    """From a valley up to a hip of the same slope, both ends plumb and cut to their faces; it has no plate.

    `at` is along the plate from the hip's corner, `between` from there to the valley's corner; the valley is over a
    corner of the same angle with the same other pitch. The face away from the hip's corner is called long, as a
    jack's. Refusal where nothing of it is left, or where it stands on the plate.
    """
    side = side_of("sticks", "side", given.side)
    line, section, at = given.met(given.line), given.section or RAFTER, given.need("at")
    between, plan = given.need("between"), line.plan_angle(side)
    if at - section.thickness / 2 <= between:
        raise Refusal(
            f"sticks: at {as_typed(at)} it is a jack, on the plate: a cripple is past the valley's corner, so at must "
            f"be over {as_typed(between + section.thickness / 2)}"
        )
    lines = []
    for name, part in FACES.items():
        place = at + part * section.thickness
        ends = {
            end: working.step(
                f"{name}_{end}_in",
                f"at * tan(plan_angle) {sign} face / cos(plan_angle)",
                at=along,
                plan_angle=plan,
                face=given.hip_thickness / 2,
            )
            for end, sign, along in (("head", "-", place), ("foot", "+", place - between))
        }
        lines.append(CutLine(name, ends["head"], None, ends["foot"], part * section.thickness))
    return _left(Rafter(line.pitch(side), section.depth, 0.0, tuple(lines)), at)


def _left(made: Rafter, at: float) -> Rafter:
    """The timber; Refusal where one of its lines has no length."""
    shortest = min(line.head - line.tail for line in made.lines)
    if shortest <= 0:
        raise Refusal(f"sticks: at {as_typed(at)} from the corner nothing of it is left on its short side. Check at=")
    return made

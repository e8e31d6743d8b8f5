"""A laid valley: boards flat on the main rafters, and the feet of the wing's jacks on them."""

from sitelog.calculators.catalogue import Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import SAW, CornerInputs, is_past_saw
from sitelog.calculators.timber.stick import RAFTER
from sitelog.geometry.hip_line import HipLine, Side
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_worked, places
from sitelog.refusal import Refusal

BOARD = Section(25, 200)
SIDES: tuple[tuple[Side, str], ...] = ((1, "main roof"), (2, "wing"))  # of the line
ENGINEER = (
    "the main rafters under the boards run on whole, and carry the wing: the engineer gives them, the boards and the "
    "fixings"
)


class LaidValleyInputs(CornerInputs):
    """What `laid-valley` takes: lengths in mm, angles in degrees."""

    corner: float = field(
        "angle", "angle between the plates at the internal corner, seen from outside", default=90, over=0, under=180
    )
    pitch: float = field("pitch", "pitch of the main roof, which the boards lie on", low=0.1, high=89.9)
    pitch2: float | None = field(
        "pitch", "pitch of the wing; the same as the main if left out", default=None, low=0.1, high=89.9
    )
    run: float = field("length", "run of the wing's common, plate's edge to centre of ridge", over=0)
    board: Section = field("section", "boards, thickness x width", default=BOARD)
    section: Section = field("section", "the wing's rafters, thickness x depth", default=RAFTER)
    overhang: float = field("length", "level, square to the wing's plate, out to the end of the boards", default=0)


@calculator(
    "laid-valley",
    LaidValleyInputs,
    branch="rafters",
    does="A valley laid on boards: the boards, and the jacks' feet on them",
    results=(
        Output("plan_angle", "deg", "Plan angle to the main plate"),
        Output("slope_angle", "deg", "On the main slope, from level"),
        Output("length_on_line", "mm", "Plates' corner to the wing's ridge"),
        Output("tail_length", "mm", "Tail along the line"),
        Output("head_bevel_from_square", "deg", "Board's head, from square"),
        Output("foot_bevel_from_square", "deg", "Board's foot, from square"),
        Output("outer_edge", "mm", "Board's edge on the line"),
        Output("inner_edge", "mm", "Its other edge"),
        Output("overall_length", "mm", "Long point to long point"),
        Output("toe_back", "mm", "Jacks' toes, in from the line"),
        Output("board_least", "mm", "Width that bears a whole foot"),
        Output("jack_off", "mm", "Off each jack's length to the line"),
        Output("foot_cut_from_square", "deg", "Jack's foot on its side, from square"),
        Output("foot_edge_from_square", "deg", "Jack's foot on its edge, from square"),
        Output("foot_saw_tilt", "deg", "Saw tilt on the side's line"),
        Output("foot_length", "mm", "Foot, on the jack's side"),
    ),
    basis="geometry; boards with an edge on the valley's line: common practice",
    definition=(
        "The line is where the tops of both slopes meet, carried square through the board. One edge of the board is on "
        "it, the other inside the wing. The head is cut to the line of the wing's ridge, where the boards meet; the "
        "foot is level. The jacks' tops meet the top of the board on a second line, toe_back in from the first: snap "
        "it, and set the toes to it. A jack is as long as one on a valley with hip_thickness=0, less jack_off. Its "
        "foot is marked on its side; the saw follows that mark at its tilt."
    ),
    example="pitch=40 pitch2=35 run=2000 board=25x200 section=47x100 overhang=300",
)
def laid_valley(given: LaidValleyInputs) -> Outcome:
    """Lengths in mm, cuts in degrees. Refusal where the line runs away from a slope, or the board has no inner edge."""
    working = Working()
    line = HipLine(given.corner, given.pitch, given.pitch2 or given.pitch)
    for side, says in SIDES:
        if line.plan_angle(side) > 90 - 1e-9:
            angle = places(line.plan_angle(side), 1)
            raise Refusal(
                f"laid-valley: at {angle} degrees on plan the valley runs away from the {says}. Check corner=, pitch= "
                "and pitch2="
            )
    found = _line(working, given, line)
    board = _board(working, given, found)
    feet = _feet(working, given, line)
    return Outcome({**found, **board, **feet}, working, cautions=("hip-engineer",), notes=_notes(given, feet))


def _line(working: Working, given: LaidValleyInputs, line: HipLine) -> dict[str, float]:
    """The valley on plan, on the main slope [deg], and how long it is [mm]."""
    main, wing = line.pitch_1, line.pitch_2
    plan = working.step(
        "plan_angle",
        "atan2(tan(wing) * sin(corner), tan(main) + tan(wing) * cos(corner))",
        "deg",
        main=main,
        wing=wing,
        corner=given.corner,
    )
    to_wing = working.step("angle_to_wing", "corner - plan_angle", "deg", corner=given.corner, plan_angle=plan)
    on_plan = working.step("valley_run", "run / sin(angle_to_wing)", run=given.run, angle_to_wing=to_wing)
    rise = working.step("rise", "run * tan(wing)", run=given.run, wing=wing)
    length = working.step("length_on_line", "hypot(valley_run, rise)", valley_run=on_plan, rise=rise)
    tail = working.step(
        "tail_length",
        "length_on_line * overhang / run",
        length_on_line=length,
        overhang=given.overhang,
        run=given.run,
    )
    slope = working.step("slope_angle", "atan(tan(plan_angle) / cos(main))", "deg", plan_angle=plan, main=main)
    return {"plan_angle": plan, "slope_angle": slope, "length_on_line": length, "tail_length": tail}


def _board(working: Working, given: LaidValleyInputs, line: dict[str, float]) -> dict[str, float]:
    """The board's ends [deg, from square; minus where the inner edge is the longer] and its edges [mm]."""
    ridge = working.step(
        "ridge_angle",
        "atan2(sin(corner) / cos(main), cos(corner))",
        "deg",
        corner=given.corner,
        main=given.pitch,
    )
    slope = line["slope_angle"]
    head = working.step("head_bevel", "90 - (ridge_angle - slope_angle)", "deg", ridge_angle=ridge, slope_angle=slope)
    foot = working.step("foot_bevel", "90 - slope_angle", "deg", slope_angle=slope)
    outer = working.step(
        "outer_edge",
        "length_on_line + tail_length",
        length_on_line=line["length_on_line"],
        tail_length=line["tail_length"],
    )
    inner = working.step(
        "inner_edge",
        "outer_edge - width * (tan(head_bevel) + tan(foot_bevel))",
        outer_edge=outer,
        width=given.board.depth,
        head_bevel=head,
        foot_bevel=foot,
    )
    if inner <= 0:
        raise Refusal(
            f"laid-valley: a board {as_worked(given.board.depth)} wide leaves nothing on its inner edge. Check board= "
            "and run="
        )
    past = max(-given.board.depth * tan_deg(head), 0.0)
    whole = working.step("overall_length", "outer_edge + inner_past_it", outer_edge=outer, inner_past_it=past)
    return {
        "head_bevel_from_square": head,
        "foot_bevel_from_square": foot,
        "outer_edge": outer,
        "inner_edge": inner,
        "overall_length": whole,
    }


def _feet(working: Working, given: LaidValleyInputs, line: HipLine) -> dict[str, float]:
    """The jacks' feet on the board: lengths [mm], cuts [deg]."""
    between = working.step(
        "between_slopes",
        "180 - dihedral",
        "deg",
        dihedral=180 - line.backing(1) - line.backing(2),
    )
    thick, depth = given.board.thickness, given.section.depth
    toe = working.step("toe_back", "thickness / tan(between_slopes)", thickness=thick, between_slopes=between)
    least = working.step(
        "board_least",
        "toe_back + depth / sin(between_slopes)",
        toe_back=toe,
        depth=depth,
        between_slopes=between,
    )
    edge = working.step(
        "foot_edge",
        "atan(tan(angle_to_wing) / cos(wing))",
        "deg",
        angle_to_wing=line.plan_angle(2),
        wing=line.pitch_2,
    )
    off = working.step(
        "jack_off",
        "thickness / sin(between_slopes) / cos(foot_edge)",
        thickness=thick,
        between_slopes=between,
        foot_edge=edge,
    )
    both = {"main": line.pitch_1, "corner": given.corner}
    cut = working.step("foot_cut", "90 - wing - atan(tan(main) * cos(corner))", "deg", wing=line.pitch_2, **both)
    tilt = working.step("foot_saw_tilt", "asin(sin(main) * sin(corner))", "deg", **both)
    long = working.step("foot_length", "depth / cos(foot_cut)", depth=depth, foot_cut=cut)
    return {
        "toe_back": toe,
        "board_least": least,
        "jack_off": off,
        "foot_cut_from_square": cut,
        "foot_edge_from_square": edge,
        "foot_saw_tilt": tilt,
        "foot_length": long,
    }


def _notes(given: LaidValleyInputs, feet: dict[str, float]) -> tuple[str, ...]:
    """What to know before boards are bought and jacks are cut."""
    told = [ENGINEER]
    if feet["board_least"] > given.board.depth + 1e-9:
        told.append(
            f"a board {as_worked(given.board.depth)} wide doesn't bear the whole of a foot: it must be at least "
            f"{as_worked(feet['board_least'])}, or pack under the heels"
        )
    if is_past_saw(feet["foot_saw_tilt"]):
        told.append(f"saw tilt is over {SAW} degrees, more than many saws can tilt: finish the cut by hand")
    return tuple(told)

"""The calculator `sticks`: running sizes of one timber, from one end, for whoever marks it on the bench."""

from collections.abc import Callable, Sequence

from sitelog.calculators.catalogue import Outcome, Output, Result, Working, calculator
from sitelog.calculators.rafters.birdsmouth import DEEPEST
from sitelog.calculators.rafters.hip_cuts import SIDES
from sitelog.calculators.sticks import any_rafter, firrings, laid, level, rafters, slopes
from sitelog.calculators.sticks.bench import End, Mark, Rafter, Tape, on_the_tape, overall
from sitelog.calculators.sticks.inputs import SticksInputs
from sitelog.calculators.sticks.on_the_hip import ON_THE_HIP, jack_marks, on_the_hip
from sitelog.calculators.sticks.straight import MAKERS as STRAIGHT
from sitelog.calculators.sticks.straight import Straight
from sitelog.quantities.rounding import as_worked

SLOPING: dict[str, Callable[[Working, SticksInputs], Rafter]] = {
    "common": rafters.common,
    "hip": rafters.hip,
    "jack on hip": rafters.jack,
    "jack on valley": slopes.valley_jack,
    "valley": slopes.valley,
    "cripple": slopes.cripple,
    "rafter on plate": any_rafter.on_a_plate,
    "rafter on plumb": any_rafter.on_a_plate,
}
WHOLE: dict[str, Callable[[Working, SticksInputs], Straight]] = {
    **STRAIGHT,
    "firring": firrings.firring,
    "purlin": level.purlin,
    "strut": level.braced,
    "collar": level.braced,
    "valley-board": laid.valley_board,
    "jack on laid": laid.laid_jack,
    "rafter on board": any_rafter.on_a_board,
}
ENDS: tuple[End, ...] = ("head", "tail")
PATTERN = "The first of a batch is the pattern: try it before you cut the rest"
ROWS = Output(
    "rows",
    "",
    "Marks, in the order you mark them",
    (
        Output("line", "", "Line"),
        Output("point", "", "Point"),
        Output("at", "mm", "Running"),
        Output("down", "mm", "Down from the top edge"),
    ),
)


def _of_end(end: str) -> tuple[Output, ...]:
    """The bevels and tilts of one end's cheeks."""
    called = end.capitalize()
    return tuple(
        output
        for cheek in (1, 2)
        for output in (
            Output(f"{end}_bevel_{cheek}_from_square", "deg", f"{called}: edge bevel {cheek}, from square"),
            Output(f"{end}_tilt_{cheek}", "deg", f"{called}: saw tilt {cheek} on the plumb line"),
        )
    )


TOPS = (
    Output("backing_1", "deg", "Backing, or a valley's hollow, side 1"),
    Output("backing_2", "deg", "Backing, or a valley's hollow, side 2"),
    Output("drop_1", "mm", "Arris off its slope, side 1, plumb"),
    Output("drop_2", "mm", "Arris off its slope, side 2, plumb"),
)


@calculator(
    "sticks",
    SticksInputs,
    branch="rafters",
    does="Running sizes of one timber on the bench, from where the tape hooks",
    results=(
        Output("overall_length", "mm", "Long point to long point"),
        Output("overall_on_centre", "mm", "On its centre, cut to cut"),
        Output("plumb_cut_from_square", "deg", "Plumb or face cut, from square"),
        Output("plumb_in_100", "", "That cut, back in 100 across"),
        Output("seat_cut_from_square", "deg", "Seat or foot cut, from square"),
        *(output for end in ENDS for output in _of_end(end)),
        *TOPS,
        ROWS,
        ON_THE_HIP,
    ),
    basis="geometry; the order of the marks: common practice",
    definition=(
        "The timber is on the bench with its top edge towards you, its crown up the roof. Marks run along its edge "
        "from point 0: with zero=head the furthest point of the head's cut, with zero=tail the furthest of the tail's. "
        "Every point is squared over to the edge; down is square from the top edge. Hook the tape on a nick or a pin: "
        "nick is how far outside it hooks, and is added to every mark. A common is marked on a face; a hip on its "
        "centre and on its faces 1 and 2; a jack on its long face (away from the corner), its centre and its short "
        "face. With no overhang the tail is plumb through the plate's edge. A hip is dropped by the larger drop, or "
        "backed with no drop. Its heel is cut to both plates (v), or clipped square; its tail is a point. Side 2's "
        "overhang isn't worked out here: a jack's is square to its own plate. A valley is square, its centre on the "
        "line: its heel is a point and its tail hollow. A jack on a valley and a cripple are plumb at both ends; with "
        "on=laid its foot is cut to the board. A valley-board is flat, its edge on the line on top. Any other "
        "rafter is marked by its length, long point to long point, and the bevels of both its ends; a purlin without a "
        "pitch, a strut and a collar likewise, by the cuts of both. A timber "
        "without a plate is marked by its length and cuts."
    ),
    example="kind=hip pitch=35 run=3000 section=47x225 ridge=38 common_height_above_plate=122.077 overhang=300",
)
def sticks(given: SticksInputs) -> Outcome:
    """Marks in mm, cuts in degrees. Refusal by name for a figure its kind lacks, or that leaves no timber.

    Source: geometry; by its definition alone.
    """
    working = Working()
    made = _made(working, given)
    last, first = overall(made.marks)
    tape = Tape(given.end, given.nick, last, first)
    whole = working.step("overall_length", "first - last", first=first, last=last)
    cut = made.angles["plumb_cut_from_square"]
    results: dict[str, Result] = {
        "overall_length": whole,
        **_on_centre(working, made.marks),
        **made.angles,
        "plumb_in_100": working.step("plumb_in_100", "100 * tan(cut)", "", cut=cut),
        "rows": on_the_tape(made.marks, tape),
    }
    if made.jacks:
        results["jacks"] = on_the_hip(made.jacks, tape)
    return Outcome(results, working, cautions=made.cautions, notes=(PATTERN, *made.notes))


def _on_centre(working: Working, marks: Sequence[Mark]) -> dict[str, float]:
    """The length [mm] on the centre, where a timber is marked there: a hollow tail leaves it short of the whole."""
    on_it = [mark for mark in marks if mark.line == "centre"]
    if not on_it:
        return {}
    last, first = overall(on_it)
    return {"overall_on_centre": working.step("overall_on_centre", "first - last", first=first, last=last)}


def _made(working: Working, given: SticksInputs) -> Straight:
    """The timber's marks and angles, by its kind."""
    kind = {"jack": f"jack on {given.on}", "rafter": f"rafter on {given.foot}"}.get(given.kind, given.kind)
    if kind in WHOLE:
        return WHOLE[kind](working, given)
    made = SLOPING[kind](working, given)
    working.step("plumb_cut_along", "depth * tan(pitch)", depth=made.depth, pitch=made.pitch)
    angles = {"plumb_cut_from_square": made.pitch, **_bevels(made)}
    carries: tuple[str, ...] = ()
    if given.kind in ("hip", "valley"):
        carries, angles = ("hip-engineer",), {**angles, **_top(working, given, made)}
    if made.lines[0].heel is None:
        return Straight(made.marks, angles, carries)
    jacks = jack_marks(given, made) if given.kind == "hip" else ()
    deep = _seat(working, made)
    over = deep > made.depth * DEEPEST + 1e-9
    cautions = (*carries, "notch-engineer") if over else carries
    angles["seat_cut_from_square"] = 90 - made.pitch
    return Straight(made.marks, angles, cautions, (_too_deep(deep),) if over else (), jacks)


def _top(working: Working, given: SticksInputs, made: Rafter) -> dict[str, float]:
    """Its backing or hollow on each side [deg], and each slope's drop from its arris [mm, plumb], as `hip` has them."""
    line, found = given.line, {}
    for side, face in zip(SIDES, made.lines[1:], strict=True):
        plan, off = line.plan_angle(side), abs(face.off)
        both = {"hip_pitch": made.pitch, "plan_angle": plan}
        found[f"backing_{side}"] = working.step(
            f"backing_{side}", "atan(sin(hip_pitch) / tan(plan_angle))", "deg", **both
        )
        found[f"drop_{side}"] = working.step(
            f"drop_{side}", "half * tan(hip_pitch) / tan(plan_angle)", half=off, **both
        )
    return found


def _seat(working: Working, made: Rafter) -> float:
    """How deep its birdsmouth is [mm], square to the edge, with its seat in the working."""
    numbers = {"depth": made.depth, "height_above_plate": made.height, "pitch": made.pitch}
    working.step("seat", "(depth / cos(pitch) - height_above_plate) / tan(pitch)", **numbers)
    return working.step("birdsmouth_depth", "depth - height_above_plate * cos(pitch)", **numbers)


def _too_deep(deep: float) -> str:
    return f"The birdsmouth, {as_worked(deep)} deep, takes more than a third: ask the engineer before you cut"


def _bevels(made: Rafter) -> dict[str, float]:
    """The bevels and tilts of both ends [deg], cheek by cheek; a jack's head has one straight cut."""
    one_cut = any(line.name == "long" for line in made.lines)
    found: dict[str, float] = {}
    for end in ENDS:
        cheeks = [*made.bevels(end)][: 1 if one_cut else 2]
        for cheek, angles in enumerate(cheeks if any(angles["tilt"] for angles in cheeks) else [], 1):
            found[f"{end}_bevel_{cheek}_from_square"] = angles["bevel"]
            found[f"{end}_tilt_{cheek}"] = angles["tilt"]
    return found

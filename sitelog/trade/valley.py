"""The valley rafter over any re-entrant corner between any two slopes: its line, cuts, hollow, and seat."""

from dataclasses import replace

from sitelog.quantity import Section
from sitelog.refusal import Refusal
from sitelog.trade.birdsmouth import DEEPEST
from sitelog.trade.catalogue import Input, Outcome, Output, Working, calculator
from sitelog.trade.geometry import cos_deg, sin_deg, size
from sitelog.trade.hip_cuts import (
    CORNER,
    CUTS,
    LINE,
    PITCH,
    PITCH_2,
    SIDES,
    side_of,
    told_cuts,
    told_line,
    told_of_cuts,
)
from sitelog.trade.hip_line import HipLine
from sitelog.trade.stick import HIP, OUTPUTS, Stick, overall_length, sound, stick

# A valley's results have the names of a hip's; these are said in its own words.
SAYS = {
    "hip_pitch": "Pitch of the valley",
    "run": "Level run of the valley",
    "backing_1": "Hollow on side 1",
    "backing_2": "Hollow on side 2",
    "dihedral": "Slope to slope, from above",
}
SEAT = (
    Output("height_above_plate", "mm", "Seat to top edge, square"),
    Output("birdsmouth_depth", "mm", "Birdsmouth, square to edge"),
    Output("seat_length", "mm", "Seat of the birdsmouth"),
)
ENGINEER = "a valley carries the jacks of both slopes: its section, bearings and props are the engineer's"


@calculator(
    "valley",
    branch="rafters",
    does="A valley rafter over any re-entrant corner: lengths, cuts, hollow",
    inputs=(
        replace(CORNER, says="re-entrant angle between the plates, seen from outside"),
        PITCH,
        PITCH_2,
        Input("run", "length", "of side 1's common, plate's edge to centre of ridge", over=0),
        Input("section", "section", "thickness x depth of the valley", default=HIP),
        Input("ridge", "length", "thickness of the ridge", default=0),
        Input("ridge_side", "count", "the side whose plate the ridge runs along, 1 or 2", default=1),
        Input("overhang", "length", "level, square to plate 1, to the tail's plumb cut", default=0),
        Input("common_height_above_plate", "length", "of the commons, for the seat", optional=True, over=0),
    ),
    results=(
        *(replace(one, says=SAYS.get(one.name, one.says)) for one in (*LINE, *CUTS)),
        Output("drop_1", "mm", "Arris under slope 1, plumb"),
        Output("drop_2", "mm", "Arris under slope 2, plumb"),
        *SEAT,
        Output("tail_length", "mm", "Tail along the line"),
        *OUTPUTS,
    ),
    basis="geometry; half the ridge's thickness taken off along the valley: common practice",
    definition=(
        "The valley is the line in which the slopes through the plates' top outer edges meet, over a corner that"
        " turns in; side 1 is on your left as you look at it from outside, and a plan angle is to that side's plate"
        " carried on past the corner. Edge bevel and saw tilt k are for a cut along the upright plane of side k's"
        " commons, from square. Drop k is how far the slope stands over the arris of a square valley whose centre is"
        " on the line, and the seat is for that; a hollowed one is raised by the larger. Under a lower ridge the run"
        " is to its height. The overall length is on the centre line, with plumb cuts over the whole depth; its mass"
        " is for dry C24 (BS EN 338:2016, Table 1)."
    ),
    example="corner=90 pitch=35 run=3000 section=47x225 ridge=38 common_height_above_plate=122",
)
def valley(
    *,
    corner: float,
    pitch: float,
    pitch2: float | None,
    run: float,
    section: Section,
    ridge: float,
    ridge_side: float,
    overhang: float,
    common_height_above_plate: float | None,
) -> Outcome:
    sound("valley", section)
    line = HipLine(corner, pitch, pitch2 or pitch)
    w = Working()
    lengths = told_line(w, line, run, ridge, side_of("valley", "ridge_side", ridge_side))
    if lengths["ridge_deduction"] >= lengths["length_on_line"]:
        raise Refusal(f"valley: a ridge {ridge:g} thick takes the whole valley; check run and ridge")
    cuts = told_cuts(w, line)
    drops = _drops(w, line, section.thickness)
    seat = _seat(w, line, section, common_height_above_plate)
    tail, piece = _stick(w, line, section, lengths["length_on_line"] - lengths["ridge_deduction"], overhang)
    deep = seat.get("birdsmouth_depth", 0.0) > section.depth * DEEPEST + 1e-9
    notch = ("the seat takes over a third of the valley's depth: ask the engineer before you cut",) if deep else ()
    return Outcome(
        {**lengths, **cuts, **drops, **seat, "tail_length": tail, **piece.results},
        _in_its_own_words(w),
        cautions=("hip-engineer", *(("notch-engineer",) if deep else ()), *piece.cautions),
        notes=(_how_to_set_it(drops), ENGINEER, *notch, *told_of_cuts(line), *piece.notes),
    )


def _in_its_own_words(w: Working) -> Working:
    """The working with a hip's pitch and run called the valley's."""

    def own(text: str) -> str:
        return text.replace("hip_", "valley_")

    told = Working()
    told.steps = [
        replace(one, name=own(one.name), formula=own(one.formula), numbers={own(k): v for k, v in one.numbers.items()})
        for one in w.steps
    ]
    return told


def _drops(w: Working, line: HipLine, thickness: float) -> dict[str, float]:
    """How far [mm, plumb] each slope stands over its arris; minus where the slope runs down from the valley.

    The arris of a hip as thick stands as far over its slope: the same line, with the slopes on the other sides.
    """
    return {
        f"drop_{side}": w.step(
            f"drop_{side}",
            f"thickness / 2 * tan(hip_pitch) / tan(plan_angle_{side})",
            line.drop(side, thickness),
            **{
                "thickness": thickness,
                "hip_pitch": line.pitch_of_hip,
                f"plan_angle_{side}": line.plan_angle(side),
            },
        )
        for side in SIDES
    }


def _how_to_set_it(drops: dict[str, float]) -> str:
    low, high = sorted(drops.values())
    proud = str(round(high)) if high - low < 0.5 else f"{round(drops['drop_1'])} and {round(drops['drop_2'])}"
    return (
        f"left square with its centre on the line, the slopes stand {proud} mm over its arrises;"
        f" to hollow it, raise it {round(max(high, 0))} mm and cut down to the line"
    )


def _seat(w: Working, line: HipLine, section: Section, commons: float | None) -> dict[str, float]:
    """SEAT [mm] of a square valley under commons of that height above the plate, if it is given."""
    if commons is None:
        return {}
    pitch = line.pitch_of_hip
    depth = w.step(
        "birdsmouth_depth",
        "depth - common_height_above_plate * cos(hip_pitch)",
        section.depth - commons * cos_deg(pitch),
        depth=section.depth,
        common_height_above_plate=commons,
        hip_pitch=pitch,
    )
    if depth < 0:
        raise Refusal(
            f"valley: {section.depth:g} deep it hangs {-depth:.0f} clear of the plate; it must be"
            f" {section.depth - depth:.0f} deep or packed up"
        )
    seat = w.step(
        "seat_length",
        "birdsmouth_depth / sin(hip_pitch)",
        depth / sin_deg(pitch),
        birdsmouth_depth=depth,
        hip_pitch=pitch,
    )
    return {"height_above_plate": commons, "birdsmouth_depth": depth, "seat_length": seat}


def _stick(w: Working, line: HipLine, section: Section, to_ridge: float, overhang: float) -> tuple[float, Stick]:
    """The tail [mm], out to where the two fascias meet, and the stick to buy."""
    tail = w.step(
        "tail_length",
        "overhang / sin(plan_angle_1) / cos(hip_pitch)",
        size(line.head(overhang)),
        overhang=overhang,
        plan_angle_1=line.plan_angle(1),
        hip_pitch=line.pitch_of_hip,
    )
    return tail, stick(w, section, overall_length(w, section, line.pitch_of_hip, to_ridge, tail))

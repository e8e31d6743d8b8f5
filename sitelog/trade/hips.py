"""The hip rafter over any corner between any two slopes: its line, cuts, backing or drop, and seat."""

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
from sitelog.trade.stick import HIP, OUTPUTS, overall_length, sound, stick

SEAT = (
    Output("height_above_plate", "mm", "Seat to top edge, dropped"),
    Output("birdsmouth_depth", "mm", "Birdsmouth, square to edge"),
    Output("seat_length", "mm", "Seat of the birdsmouth"),
)


@calculator(
    "hip",
    branch="rafters",
    does="A hip rafter over any corner: lengths, cuts, backing or drop",
    inputs=(
        CORNER,
        PITCH,
        PITCH_2,
        Input("run", "length", "of side 1's common, plate's edge to centre of ridge", over=0),
        Input("section", "section", "thickness x depth of the hip", default=HIP),
        Input("ridge", "length", "thickness of the ridge", default=0),
        Input("ridge_side", "count", "the side whose plate the ridge runs along, 1 or 2", default=1),
        Input("overhang", "length", "level, square to plate 1, to the tail's plumb cut", default=0),
        Input("common_height_above_plate", "length", "of the commons, for the seat", optional=True, over=0),
    ),
    results=(
        *LINE,
        *CUTS,
        Output("drop_1", "mm", "Drop for side 1, plumb"),
        Output("drop_2", "mm", "Drop for side 2, plumb"),
        *SEAT,
        Output("tail_length", "mm", "Tail along the line"),
        *OUTPUTS,
    ),
    basis="geometry; half the ridge's thickness taken off along the hip: common practice",
    definition=(
        "The hip is the line in which the slopes through the plates' top outer edges meet; side 1 is on your"
        " left as you look at the corner from outside. Edge bevel and saw tilt k are for a cut along the"
        " upright plane of side k's commons, from square. Back the hip, or leave it square and drop it by the"
        " larger drop; the seat is for a dropped hip, under commons of one height above both plates. The"
        " overall length is on the centre line, with plumb cuts over the whole depth; its mass is for dry C24"
        " (BS EN 338:2016, Table 1)."
    ),
    example="corner=90 pitch=35 run=3000 section=47x225 ridge=38 common_height_above_plate=122",
)
def hip(
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
    sound("hip", section)
    line = HipLine(corner, pitch, pitch2 or pitch)
    w = Working()
    lengths = told_line(w, line, run, ridge, side_of("hip", "ridge_side", ridge_side))
    if lengths["ridge_deduction"] >= lengths["length_on_line"]:
        raise Refusal(f"hip: a ridge {ridge:g} thick takes the whole hip; check run and ridge")
    cuts = told_cuts(w, line)
    drops = _drops(w, line, section.thickness)
    seat = _seat(w, line, section, common_height_above_plate, max(drops))
    tail = w.step(
        "tail_length",
        "overhang / sin(plan_angle_1) / cos(hip_pitch)",
        size(line.head(overhang)),
        overhang=overhang,
        plan_angle_1=line.plan_angle(1),
        hip_pitch=line.pitch_of_hip,
    )
    to_ridge = w.step(
        "length_to_ridge",
        "length_on_line - ridge_deduction",
        lengths["length_on_line"] - lengths["ridge_deduction"],
        length_on_line=lengths["length_on_line"],
        ridge_deduction=lengths["ridge_deduction"],
    )
    piece = stick(w, section, overall_length(w, section, line.pitch_of_hip, to_ridge, tail))
    deep = seat.get("birdsmouth_depth", 0.0) > section.depth * DEEPEST + 1e-9
    return Outcome(
        {
            **lengths,
            **cuts,
            "drop_1": drops[0],
            "drop_2": drops[1],
            **seat,
            "tail_length": tail,
            **piece.results,
        },
        w,
        cautions=("hip-engineer", *(("notch-engineer",) if deep else ()), *piece.cautions),
        notes=(*_drop_note(drops), *_notch_note(deep), *told_of_cuts(line), *piece.notes),
    )


def _drops(w: Working, line: HipLine, thickness: float) -> tuple[float, float]:
    one, two = (
        w.step(
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
    )
    return one, two


def _drop_note(drops: tuple[float, float]) -> tuple[str, ...]:
    if abs(drops[0] - drops[1]) < 0.5:
        return ()
    return (f"if it is not backed, drop it {max(drops):.0f} mm, the larger, so that neither arris stands proud",)


def _notch_note(deep: bool) -> tuple[str, ...]:
    if not deep:
        return ()
    return ("the seat takes over a third of the hip's depth: ask the engineer before you cut",)


def _seat(w: Working, line: HipLine, section: Section, commons: float | None, drop: float) -> dict[str, float]:
    """SEAT [mm] of a hip dropped by `drop` under commons of that height above the plate, if it is given."""
    if commons is None:
        return {}
    pitch = line.pitch_of_hip
    height = w.step(
        "height_above_plate",
        "common_height_above_plate - drop",
        commons - drop,
        common_height_above_plate=commons,
        drop=drop,
    )
    depth = w.step(
        "birdsmouth_depth",
        "depth - height_above_plate * cos(hip_pitch)",
        section.depth - height * cos_deg(pitch),
        depth=section.depth,
        height_above_plate=height,
        hip_pitch=pitch,
    )
    if height <= 0:
        raise Refusal(f"hip: a drop of {drop:.0f} goes through commons {commons:g} above the plate; back the hip")
    if depth < 0:
        raise Refusal(
            f"hip: {section.depth:g} deep it hangs {-depth:.0f} clear of the plate; it must be"
            f" {section.depth - depth:.0f} deep or packed up"
        )
    seat = w.step(
        "seat_length",
        "birdsmouth_depth / sin(hip_pitch)",
        depth / sin_deg(pitch),
        birdsmouth_depth=depth,
        hip_pitch=pitch,
    )
    return {"height_above_plate": height, "birdsmouth_depth": depth, "seat_length": seat}

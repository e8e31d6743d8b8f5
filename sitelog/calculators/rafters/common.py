"""The common rafter, from the plate to the ridge."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Working, calculator, field
from sitelog.calculators.rafters.birdsmouth import DEEPEST, NOTCH_SOURCE, PLATE, TIED, cut_birdsmouth
from sitelog.calculators.timber.stick import OUTPUTS, RAFTER, overall_length, stick
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal


class CommonInputs(Inputs):
    """What `common` takes: lengths in mm, angles in degrees."""

    run: float = field("length", "level, plate's outer edge to the centre of the ridge, or to the table", over=0)
    pitch: float | None = field("pitch", "pitch of the rafter; or give the rise", default=None)
    rise: float | None = field("length", "rise of the measuring line, instead of the pitch", default=None, over=0)
    section: Section = field("section", "thickness x depth", default=RAFTER)
    ridge: float = field("length", "thickness of the ridge", default=0)
    plate: float = PLATE
    overhang: float = field("length", "level, from the plate's face out to the plumb cut of the tail", default=0)
    birdsmouth: float = field("fraction", "its depth, as a fraction of the rafter's", default=DEEPEST)
    tied: str | None = TIED


@calculator(
    "common",
    CommonInputs,
    branch="rafters",
    does="A common rafter: lengths, cuts, birdsmouth and what to order",
    results=(
        Output("rise", "mm", "Rise of the measuring line"),
        Output("length_on_line", "mm", "Length to ridge centre or table"),
        Output("ridge_deduction", "mm", "Deduct for half the ridge"),
        Output("length_to_ridge", "mm", "Length to face of ridge or table"),
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
        Output("seat_cut_from_square", "deg", "Seat cut, from square"),
        Output("plumb_cut_length", "mm", "Plumb cut: shallowest ridge"),
        Output("birdsmouth_depth", "mm", "Birdsmouth, square to edge"),
        Output("seat_length", "mm", "Seat of the birdsmouth"),
        Output("heel_plumb", "mm", "Plumb face of the birdsmouth"),
        Output("height_above_plate", "mm", "Seat to top edge, plumb"),
        Output("tail_length", "mm", "Tail along the line"),
        *OUTPUTS,
    ),
    basis=f"geometry; {NOTCH_SOURCE}",
    definition=(
        "The measuring line is parallel to the rafter, through the top outer edge of the plate, which is the "
        "corner of the birdsmouth. The run is level, from that edge to the centre of the ridge, or to the edge "
        "of the table if a flat cuts the roof off. Every length is along the line. Half the ridge's thickness is "
        "taken off, level; head and tail are cut plumb. Overall length is the timber before the birdsmouth is "
        "cut, from the bottom edge of the tail to the top edge of the head. Weight is for dry C24 (BS EN "
        "338:2016, Table 1). The seat of the birdsmouth is never longer than the plate is wide; a third of the "
        "depth is only for tied eaves."
    ),
    example="run=3000 pitch=35 section=47x150 ridge=38 tied=yes",
)
def common(given: CommonInputs) -> Outcome:
    """Lengths in mm, cuts in degrees, weight in kg.

    Refusal unless just one of pitch and rise is given, or for a ridge or a birdsmouth that leaves no rafter.
    """
    if given.ridge / 2 >= given.run:
        raise Refusal(
            f"common: half the ridge, {as_typed(given.ridge / 2)}, must be less than the run, {as_typed(given.run)}"
        )
    if given.birdsmouth >= 1:
        raise Refusal(
            f"common: a birdsmouth of {as_typed(given.birdsmouth)} x the depth is too deep; give a fraction of the "
            "depth such as 1/3"
        )
    working = Working()
    slope, height = _slope(working, given.run, given.pitch, given.rise)
    line = working.step("length_on_line", "run / cos(pitch)", run=given.run, pitch=slope)
    off = working.step("ridge_deduction", "ridge / 2 / cos(pitch)", ridge=given.ridge, pitch=slope)
    to_ridge = working.step(
        "length_to_ridge",
        "length_on_line - ridge_deduction",
        length_on_line=line,
        ridge_deduction=off,
    )
    seat_cut = working.step("seat_cut_from_square", "90 - pitch", "deg", pitch=slope)
    plumb = working.step(
        "plumb_cut_length",
        "depth / cos(pitch)",
        depth=given.section.depth,
        pitch=slope,
    )
    wanted = working.step(
        "depth_wanted",
        "share * depth",
        share=given.birdsmouth,
        depth=given.section.depth,
    )
    notch = cut_birdsmouth(working, "common", given.section, slope, wanted, given.plate, given.tied)
    tail = working.step("tail_length", "overhang / cos(pitch)", overhang=given.overhang, pitch=slope)
    piece = stick(working, given.section, overall_length(working, given.section, slope, to_ridge, tail))
    return Outcome(
        {
            "rise": height,
            "length_on_line": line,
            "ridge_deduction": off,
            "length_to_ridge": to_ridge,
            "plumb_cut_from_square": slope,
            "seat_cut_from_square": seat_cut,
            "plumb_cut_length": plumb,
            "birdsmouth_depth": notch.depth,
            "seat_length": notch.seat,
            "heel_plumb": notch.heel,
            "height_above_plate": notch.height_above_plate,
            "tail_length": tail,
            **piece.results,
        },
        working,
        verdict=notch.verdict,
        cautions=(*notch.cautions, *piece.cautions),
        notes=(*notch.notes, *piece.notes),
    )


def _slope(working: Working, run: float, pitch: float | None, rise: float | None) -> tuple[float, float]:
    """Pitch [deg] and rise [mm], from the one that was given."""
    if pitch is not None and rise is None:
        return pitch, working.step("rise", "run * tan(pitch)", run=run, pitch=pitch)
    if rise is not None and pitch is None:
        return working.step("pitch", "atan2(rise, run)", "deg", rise=rise, run=run), rise
    raise Refusal("common: give pitch= or rise=, not both" if pitch is not None else "common: add pitch=35, or rise=")

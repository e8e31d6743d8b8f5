"""The hip rafter over any corner between any two slopes: its line, cuts, backing or drop, and seat."""

from sitelog.calculators.catalogue import Input, Outcome, Working, calculator
from sitelog.calculators.rafters.hip_cuts import told_cuts, told_of_cuts
from sitelog.calculators.rafters.hip_timber import (
    INPUTS,
    RESULTS,
    notched_too_deep,
    past_the_plates,
    told_drops,
    told_lengths,
    told_seat,
    told_stick,
)
from sitelog.geometry.hip_line import HipLine
from sitelog.quantities.quantity import Section
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

POINTED = ("edge_bevel", "saw_tilt")  # the cuts of the pointed head against a ridge
AT_A_TABLE = (
    "at a table its head is hollowed, or square on a clipped corner: take those cuts from flat-top, not from here",
)


@calculator(
    "hip",
    branch="rafters",
    does="A hip rafter at any corner: lengths, cuts, backing or drop",
    inputs=(
        *INPUTS,
        Input("plate", "length", "width of the wall plates, for the seat", optional=True, over=0),
        Input(
            "head",
            "choice",
            "does its head meet a ridge, or the corner of a table?",
            default="ridge",
            choices=("ridge", "table"),
        ),
    ),
    results=RESULTS,
    basis="geometry; half the ridge's thickness taken off along the hip: common practice",
    definition=(
        "The hip is the line where the slopes through the plates' top outer edges meet. Side 1 is on your left "
        "as you look at the corner from outside. Edge bevels and saw tilts are from square: 1 is for the face "
        "along side 1's commons, 2 along side 2's. Back the hip, or leave it square and drop it by the larger "
        "drop. The seat is for a dropped hip, with commons the same height above both plates; give the plate "
        "width and it is checked against the plates. Overall length is on the centre line, with plumb cuts over "
        "the whole depth. Weight is for dry C24 (BS EN 338:2016, Table 1). At a table, take the cuts of the head "
        "from flat-top."
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
    plate: float | None,
    head: str,
) -> Outcome:
    line = HipLine(corner, pitch, pitch2 or pitch)
    w = Working()
    lengths = told_lengths(w, "hip", line, run, ridge, ridge_side)
    cuts = told_cuts(w, line)
    if head == "table":  # its corner points at the hip: the pointed head of a ridge is not for it
        cuts = {name: angle for name, angle in cuts.items() if not name.startswith(POINTED)}
        w.steps = [step for step in w.steps if not step.name.startswith(POINTED)]
    drops = told_drops(w, line, section.thickness)
    seat = _seat(w, line, section, common_height_above_plate, max(drops.values()))
    tail, piece = told_stick(w, line, section, lengths, overhang)
    notch, deep = notched_too_deep("hip", section, seat)
    return Outcome(
        {**lengths, **cuts, **drops, **seat, "tail_length": tail, **piece.results},
        w,
        cautions=("hip-engineer", *notch, *piece.cautions),
        notes=(
            *_drop_note(drops),
            *deep,
            *past_the_plates(line, section, seat, plate),
            *(AT_A_TABLE if head == "table" else told_of_cuts(line)),
            *piece.notes,
        ),
    )


def _drop_note(drops: dict[str, float]) -> tuple[str, ...]:
    least, most = sorted(drops.values())
    if most - least < 0.5:
        return ()
    return (f"if you don't back it, drop it {as_worked(most)} mm, the larger drop, so neither edge is proud",)


def _seat(w: Working, line: HipLine, section: Section, commons: float | None, drop: float) -> dict[str, float]:
    """The seat [mm] of a hip dropped by `drop` under commons of that height above the plate, if it is given."""
    if commons is None:
        return {}
    height = w.step(
        "height_above_plate",
        "common_height_above_plate - drop",
        common_height_above_plate=commons,
        drop=drop,
    )
    if height <= 0:
        raise Refusal(
            f"hip: a drop of {as_worked(drop)} is more than the commons' {as_typed(commons)} above the plate: "
            "back the hip instead"
        )
    return told_seat(w, "hip", line, section, height)

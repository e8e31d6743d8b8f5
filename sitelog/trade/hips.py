"""The hip rafter over any corner between any two slopes: its line, cuts, backing or drop, and seat."""

from sitelog.quantity import Section
from sitelog.refusal import Refusal
from sitelog.rounding import as_typed, as_worked
from sitelog.trade.catalogue import Input, Outcome, Working, calculator
from sitelog.trade.hip_cuts import told_cuts, told_of_cuts
from sitelog.trade.hip_line import HipLine
from sitelog.trade.hip_timber import (
    INPUTS,
    RESULTS,
    notched_too_deep,
    past_the_plates,
    told_drops,
    told_lengths,
    told_seat,
    told_stick,
)

POINTED = ("edge_bevel", "saw_tilt")  # the cuts of the pointed head against a ridge
AT_A_TABLE = (
    "its head at a table is hollow, or square on the corner clipped: take its cuts from flat-top, never a ridge's",
)


@calculator(
    "hip",
    branch="rafters",
    does="A hip rafter over any corner: lengths, cuts, backing or drop",
    inputs=(
        *INPUTS,
        Input("plate", "length", "width of the wall plates, for the seat", optional=True, over=0),
        Input("head", "choice", "against a ridge, or at a table's corner", default="ridge", choices=("ridge", "table")),
    ),
    results=RESULTS,
    basis="geometry; half the ridge's thickness taken off along the hip: common practice",
    definition=(
        "The hip is the line in which the slopes through the plates' top outer edges meet; side 1 is on your"
        " left as you look at the corner from outside. Edge bevel and saw tilt k are for a cut along the"
        " upright plane of side k's commons, from square. Back the hip, or leave it square and drop it by the"
        " larger drop; the seat is for a dropped hip, under commons of one height above both plates, and is"
        " held against the plates where their width is given. The overall length is on the centre line, with"
        " plumb cuts over the whole depth; its mass is for dry C24 (BS EN 338:2016, Table 1). At a table the"
        " head's cuts are those of flat-top."
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
    return (f"if it is not backed, drop it {as_worked(most)} mm, the larger, so that neither arris stands proud",)


def _seat(w: Working, line: HipLine, section: Section, commons: float | None, drop: float) -> dict[str, float]:
    """The seat [mm] of a hip dropped by `drop` under commons of that height above the plate, if it is given."""
    if commons is None:
        return {}
    height = w.step(
        "height_above_plate",
        "common_height_above_plate - drop",
        commons - drop,
        common_height_above_plate=commons,
        drop=drop,
    )
    if height <= 0:
        raise Refusal(
            f"hip: a drop of {as_worked(drop)} goes through commons {as_typed(commons)} above the plate; back the hip"
        )
    return told_seat(w, "hip", line, section, height)

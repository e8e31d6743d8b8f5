"""The hip rafter over any corner between any two slopes: its line, cuts, backing or drop, and seat."""

from sitelog.calculators.catalogue import Outcome, Working, calculator, field
from sitelog.calculators.rafters.hip_cuts import told_of_cuts
from sitelog.calculators.rafters.hip_timber import (
    RESULTS,
    HipTimberInputs,
    line_timber,
    notched_too_deep,
    past_the_plates,
)
from sitelog.quantities.rounding import as_worked

POINTED = ("edge_bevel", "saw_tilt")  # the cuts of the pointed head against a ridge
AT_A_TABLE = (
    "at a table its head is hollowed, or square on a clipped corner: take those cuts from flat-top, not from here",
)


class HipInputs(HipTimberInputs):
    """What `hip` takes: lengths in mm, angles in degrees."""

    plate: float | None = field("length", "width of the wall plates, for the seat", default=None, over=0)
    head: str = field(
        "choice", "does its head meet a ridge, or the corner of a table?", default="ridge", choices=("ridge", "table")
    )
    heel: str | None = field(
        "choice", "is it cut to both plates, or square? v if left out", default=None, choices=("v", "clipped")
    )


@calculator(
    "hip",
    HipInputs,
    branch="rafters",
    does="A hip rafter at any corner: lengths, cuts, backing or drop",
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
def hip(given: HipInputs) -> Outcome:
    """Lengths in mm, cuts in degrees, weight in kg. Refusal where it leaves no hip, or none that reaches the plates."""
    working = Working()
    made = line_timber(working, "hip", given, dropped=True, clipped=given.heel == "clipped")
    results = made.results
    if given.head == "table":  # its corner points at the hip: the pointed head of a ridge is not for it
        results = {name: angle for name, angle in results.items() if not name.startswith(POINTED)}
        working.steps = [step for step in working.steps if not step.name.startswith(POINTED)]
    return Outcome(
        results,
        working,
        cautions=made.cautions,
        notes=(
            *_drop_note(made.drops),
            *notched_too_deep("hip", made),
            *past_the_plates(given.line, given.section, made.seat, given.plate),
            *(AT_A_TABLE if given.head == "table" else told_of_cuts(given.line)),
            *made.piece.notes,
        ),
    )


def _drop_note(drops: dict[str, float]) -> tuple[str, ...]:
    least, most = sorted(drops.values())
    if most - least < 0.5:
        return ()
    return (f"if you don't back it, drop it {as_worked(most)} mm, the larger drop, so neither edge is proud",)

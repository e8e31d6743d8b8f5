"""Where members at a spacing stand along a plate, so that none is missing and no two stand in one place."""

import math

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.setting_out.spaced import WITHIN, Ends, check_count, smallest_gap, spaced, told_near
from sitelog.geometry.spacings import WAYS
from sitelog.geometry.vectors import cos_deg
from sitelog.left_out import given_or
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

SPACING = field("length", "widest centre to centre, along the plate", over=0)
THICKNESS = field("length", "thickness of one member", default=47, over=0)


def check_gap(calculator: str, thickness: float, spacing: float) -> None:
    """Refusal, in the calculator's name, for rafters so thick [mm] that they fill their spacing [mm]."""
    if thickness >= spacing:
        raise Refusal(
            f"{calculator}: rafters {as_typed(thickness)} thick at a spacing of {as_typed(spacing)} leave no gap "
            "between them"
        )


def between(
    called: str, length: float, spacing: float, thickness: float, way: str = "first", within: float = 0.0
) -> list[float]:
    """Centres [mm] over a length with one at both its ends; one midway where the ends are one place.

    Refusal, in the name of the calculator, for more than can be worked.
    """
    if length < thickness:
        return [length / 2]
    check_count(called, length, spacing)
    return [0.0, *spaced(length, spacing, thickness, way, within), length]


def _told_count(working: Working, marks: list[float]) -> dict[str, float | int]:
    working.note("count", "one at each end, and between them so no bay is over the spacing", len(marks), "")
    bay = marks[-1] - marks[-2] if len(marks) > 1 else 0.0
    return {"count": len(marks), "last_bay": working.note("last_bay", "what is left at the end", bay)}


class CentresInputs(Inputs):
    """What `centres` takes: lengths in mm."""

    length: float = field("length", "length of the plate, wall or deck, end to end", over=0)
    spacing: float = SPACING
    first: float = field("length", "from the start to the first centre", default=0)
    last: float = field("length", "from the last centre to the end", default=0)
    thickness: float = THICKNESS


@calculator(
    "centres",
    CentresInputs,
    branch="setting-out",
    does="Set out members at a spacing: how many, and the mark of each",
    results=(
        Output("rows", "", "Marks", (Output("n", "", "Member"), Output("at", "mm", "Mark, from the start"))),
        Output("count", "", "How many"),
        Output("last_bay", "mm", "Last bay"),
    ),
    basis="geometry; the last but one moved to midway if it would touch: common practice",
    definition=(
        "There is one at the first centre and one at the last. Between them they are at the spacing from the "
        "first, and the last bay is what is left. If that is less than a member's thickness, the last but one "
        "goes midway between its neighbours, so no bay is over the spacing and no two touch."
    ),
    example="length=3600 spacing=400 first=23.5 last=23.5",
)
def centres(given: CentresInputs) -> Outcome:
    """Marks in mm from the start. Refusal where first and last are more than the length, or for too many."""
    if given.first + given.last > given.length:
        raise Refusal(
            f"centres: first and last, {as_typed(given.first)} and {as_typed(given.last)}, are more than the length,"
            f" {as_typed(given.length)}"
        )
    working = Working()
    room = working.step(
        "first_to_last", "length - first - last", length=given.length, first=given.first, last=given.last
    )
    marks = between("centres", room, given.spacing, given.thickness)
    rows: list[Row] = [{"n": n, "at": given.first + mark} for n, mark in enumerate(marks, start=1)]
    return Outcome({"rows": rows, **_told_count(working, marks)}, working)


class CommonsInputs(Inputs):
    """What `commons` takes: lengths in mm, angles in degrees."""

    first: float = field("length", "along the plate, from its corner to the first common's centre")
    last: float = field("length", "the same to the last common's centre; the same as the first if there is only one")
    run: float = field("length", "run of the first, plate's outer edge to the centre of the ridge", over=0)
    run_last: float | None = field("length", "run of the last; the same as the first if left out", default=None, over=0)
    pitch: float = field("pitch", "pitch of the slope, up a common")
    spacing: float = SPACING
    ridge: float = field("length", "thickness of the timber their heads butt against", default=0)
    thickness: float = THICKNESS
    set_out: str = field(
        "choice", "from the first, from the last, from the middle, or evened?", default="first", choices=WAYS
    )
    within: float = WITHIN


@calculator(
    "commons",
    CommonsInputs,
    branch="rafters",
    does="Full common rafters of a slope, from end to end of the ridge: marks and lengths",
    results=(
        Output(
            "rows",
            "",
            "Commons",
            (
                Output("n", "", "Common"),
                Output("at", "mm", "Mark, from the corner"),
                Output("run", "mm", "Run"),
                Output("length_to_ridge", "mm", "Length to face of ridge or table"),
            ),
        ),
        Output("count", "", "How many"),
        Output("last_bay", "mm", "Last bay"),
        Output("smallest_gap", "mm", "Smallest gap"),
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
    ),
    basis="geometry; a pair at each end of the ridge, the rest at the spacing: common practice",
    definition=(
        "Commons are square to their plate, one at each end of the ridge and the rest at the spacing: from the first, "
        "from the last, from the middle with both end bays equal, or evened with all bays equal. Jacks fill the slope "
        "from there to the corners. If the plates aren't parallel, the run changes evenly from one end to the other. "
        "Lengths are on the measuring line, at the common's centre, with half the ridge's thickness taken off. The one "
        "common of a hipped end butts against the last pair, so give a common's thickness as its ridge."
    ),
    example="first=3000 last=6000 run=3000 pitch=35 spacing=400 ridge=38",
)
def commons(given: CommonsInputs) -> Outcome:
    """Marks and lengths in mm, the cut in degrees. Refusal for a ridge that leaves no rafter, or for too many."""
    length, end = abs(given.last - given.first), given_or(given.run_last, given.run)
    working = Working()
    room = working.note("first_to_last", "along the plate, from one mark to the other", length)

    def by_way(way: str) -> list[float]:
        return between("commons", room, given.spacing, given.thickness, way, given.within)

    marks = by_way(given.set_out)
    near = told_near(marks, given.spacing, given.set_out, by_way, Ends())
    widens = (end - given.run) / length if len(marks) > 1 else 0.0
    off = working.step(
        "ridge_deduction",
        "ridge / 2 * hypot(1, widens)",
        ridge=given.ridge,
        widens=widens,
    )
    runs = [given.run + widens * mark if len(marks) > 1 else (given.run + end) / 2 for mark in marks]
    if min(runs) <= off:
        raise Refusal(f"commons: half the ridge, {as_typed(off)}, must be less than the run, {as_typed(min(runs))}")
    working.step(
        "length_of_the_first",
        "(run - ridge_deduction) / cos(pitch)",
        run=runs[0],
        ridge_deduction=off,
        pitch=given.pitch,
    )
    way = 1 if given.last >= given.first else -1
    rows: list[Row] = [
        {"n": n, "at": given.first + way * mark, "run": run, "length_to_ridge": (run - off) / cos_deg(given.pitch)}
        for n, (mark, run) in enumerate(zip(marks, runs, strict=True), start=1)
    ]
    told = {**_told_count(working, marks), "smallest_gap": smallest_gap(marks), "plumb_cut_from_square": given.pitch}
    return Outcome({"rows": rows, **told}, working, notes=near)


class LapsInputs(Inputs):
    """What `laps` takes: lengths in mm."""

    length: float = field("length", "length of the whole member, end to end", over=0)
    lap: float = field("length", "lap of one length over the next", default=0)
    longest: float = field("length", "the longest you have, or can handle", default=4800, over=0)
    pieces: int = field("count", "lengths, at least", default=1, low=1, high=MOST_ROWS)


@calculator(
    "laps",
    LapsInputs,
    branch="timber",
    does="A long member from lapped lengths: how many, and how long",
    results=(
        Output("count", "", "Lengths"),
        Output("length_each", "mm", "Each length"),
        Output("joints", "", "Joints"),
    ),
    basis="geometry; lengths of plate of 3 m, or over three rafters: NHBC Standards 2020, 7.2.6",
    definition=(
        "The fewest lengths, or as many as pieces= says, all the same, none over the longest, each lapped over the "
        "next. A wall plate is lapped by its own width (common practice). Agree a joint in a loaded member with the "
        "engineer."
    ),
    example="length=9000 lap=100",
)
def laps(given: LapsInputs) -> Outcome:
    """Lengths in mm. Refusal for a lap that is no shorter than the longest length, or for too many."""
    if given.lap >= given.longest:
        raise Refusal(
            f"laps: the lap, {as_typed(given.lap)}, must be less than the longest length, {as_typed(given.longest)}"
        )
    working = Working()
    count = max(math.ceil((given.length - given.lap) / (given.longest - given.lap) - 1e-9), given.pieces)
    if count > MOST_ROWS:
        raise Refusal(
            f"laps: lengths of {as_typed(given.longest)} make {count} pieces; at most {MOST_ROWS}. Give a longer length"
        )
    working.note("count", "the fewest that reach, each lapped over the next", count, "")
    each = working.step(
        "length_each",
        "(length + (count - 1) * lap) / count",
        length=given.length,
        count=count,
        lap=given.lap,
    )
    short = each < 3000 and count > 1
    return Outcome(
        {"count": count, "length_each": each, "joints": count - 1},
        working,
        cautions=("joint-engineer",) if count > 1 else (),
        notes=("each is under 3 m: each length of a plate must then cross at least three rafters",) if short else (),
    )

"""Where members at a spacing stand along a plate, so that none is missing and no two stand in one place."""

import math

from sitelog.calculators.catalogue import MOST_ROWS, Input, Outcome, Output, Row, Working, calculator
from sitelog.geometry.vectors import cos_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

SPACING = Input("spacing", "length", "most centre to centre, along the plate", over=0)
THICKNESS = Input("thickness", "length", "thickness of one member", default=47, over=0)


def set_out(called: str, first: float, spacing: float, end: float, thickness: float) -> list[float]:
    """Centres [mm] from `first` on at the spacing, short of `end`, where one stands already.

    Where the last would touch the one at `end` it is set midway between its neighbours instead (common practice):
    left out it would leave more than a spacing. The first stays where it was set. Refusal, in the name of the
    calculator, for more than can be worked.
    """
    count = math.ceil((end - first) / spacing - 1e-9)
    if count > MOST_ROWS:
        raise Refusal(
            f"{called}: a spacing of {as_typed(spacing)} gives {count} {called}; at most {MOST_ROWS}. Give a "
            "larger spacing"
        )
    marks = [first + spacing * place for place in range(count)]
    if len(marks) > 1 and spacing >= 2 * thickness and end - marks[-1] < thickness:
        marks[-1] = (marks[-2] + end) / 2
    return marks


def between(called: str, length: float, spacing: float, thickness: float) -> list[float]:
    """Centres [mm] over a length with one at both its ends; one midway where the ends are one place."""
    if length < thickness:
        return [length / 2]
    return [*set_out(called, 0.0, spacing, length, thickness), length]


def _told_count(w: Working, marks: list[float]) -> dict[str, float | int]:
    w.note("count", "one at each end, and between them so no bay is over the spacing", len(marks), "")
    bay = marks[-1] - marks[-2] if len(marks) > 1 else 0.0
    return {"count": len(marks), "last_bay": w.note("last_bay", "what is left at the end", bay)}


@calculator(
    "centres",
    branch="setting-out",
    does="Set out members at a spacing: how many, and the mark of each",
    inputs=(
        Input("length", "length", "length of the plate, wall or deck, end to end", over=0),
        SPACING,
        Input("first", "length", "from the start to the first centre", default=0),
        Input("last", "length", "from the last centre to the end", default=0),
        THICKNESS,
    ),
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
def centres(*, length: float, spacing: float, first: float, last: float, thickness: float) -> Outcome:
    if first + last > length:
        raise Refusal(
            f"centres: first and last, {as_typed(first)} and {as_typed(last)}, are more than the length,"
            f" {as_typed(length)}"
        )
    w = Working()
    room = w.step("first_to_last", "length - first - last", length=length, first=first, last=last)
    marks = between("centres", room, spacing, thickness)
    rows: list[Row] = [{"n": n, "at": first + mark} for n, mark in enumerate(marks, start=1)]
    return Outcome({"rows": rows, **_told_count(w, marks)}, w)


@calculator(
    "commons",
    branch="rafters",
    does="Full common rafters of a slope, from end to end of the ridge: marks and lengths",
    inputs=(
        Input("first", "length", "along the plate, from its corner to the first common's centre"),
        Input("last", "length", "the same to the last common's centre; the first, where there is but one"),
        Input("run", "length", "run of the first, plate's outer edge to the centre of the ridge", over=0),
        Input("run_last", "length", "run of the last; the same as the first if left out", optional=True, over=0),
        Input("pitch", "pitch", "pitch of the slope, up a common"),
        SPACING,
        Input("ridge", "length", "thickness of the timber their heads butt against", default=0),
        THICKNESS,
    ),
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
        Output("plumb_cut_from_square", "deg", "Plumb cut, from square"),
    ),
    basis="geometry; a pair at each end of the ridge, the rest at the spacing: common practice",
    definition=(
        "Commons are square to their plate, one at each end of the ridge and the rest at the spacing from the "
        "first. Jacks fill the slope from there to the corners. If the plates aren't parallel, the run changes "
        "evenly from one end to the other. Lengths are on the measuring line, at the common's centre, with half "
        "the ridge's thickness taken off. The one common of a hipped end butts against the last pair, so give a "
        "common's thickness as its ridge."
    ),
    example="first=3000 last=6000 run=3000 pitch=35 spacing=400 ridge=38",
)
def commons(
    *,
    first: float,
    last: float,
    run: float,
    run_last: float | None,
    pitch: float,
    spacing: float,
    ridge: float,
    thickness: float,
) -> Outcome:
    length, end = abs(last - first), run if run_last is None else run_last
    w = Working()
    room = w.note("first_to_last", "along the plate, from one mark to the other", length)
    marks = between("commons", room, spacing, thickness)
    widens = (end - run) / length if len(marks) > 1 else 0.0
    off = w.step(
        "ridge_deduction",
        "ridge / 2 * hypot(1, widens)",
        ridge=ridge,
        widens=widens,
    )
    runs = [run + widens * mark if len(marks) > 1 else (run + end) / 2 for mark in marks]
    if min(runs) <= off:
        raise Refusal(f"commons: half the ridge, {as_typed(off)}, must be less than the run, {as_typed(min(runs))}")
    w.step(
        "length_of_the_first",
        "(run - ridge_deduction) / cos(pitch)",
        run=runs[0],
        ridge_deduction=off,
        pitch=pitch,
    )
    way = 1 if last >= first else -1
    rows: list[Row] = [
        {"n": n, "at": first + way * mark, "run": one, "length_to_ridge": (one - off) / cos_deg(pitch)}
        for n, (mark, one) in enumerate(zip(marks, runs, strict=True), start=1)
    ]
    return Outcome({"rows": rows, **_told_count(w, marks), "plumb_cut_from_square": pitch}, w)


@calculator(
    "laps",
    branch="timber",
    does="A long member from lapped lengths: how many, and how long",
    inputs=(
        Input("length", "length", "length of the whole member, end to end", over=0),
        Input("lap", "length", "lap of one length over the next", default=0),
        Input("longest", "length", "the longest you have, or can handle", default=4800, over=0),
    ),
    results=(
        Output("count", "", "Lengths"),
        Output("length_each", "mm", "Each length"),
        Output("joints", "", "Joints"),
    ),
    basis="geometry; lengths of plate of 3 m, or over three rafters: NHBC Standards 2020, 7.2.6",
    definition=(
        "The fewest lengths, all the same, none over the longest, each lapped over the next. A wall plate is "
        "lapped by its own width (common practice). Agree a joint in a loaded member with the engineer."
    ),
    example="length=9000 lap=100",
)
def laps(*, length: float, lap: float, longest: float) -> Outcome:
    if lap >= longest:
        raise Refusal(f"laps: the lap, {as_typed(lap)}, must be less than the longest length, {as_typed(longest)}")
    w = Working()
    count = max(math.ceil((length - lap) / (longest - lap) - 1e-9), 1)
    if count > MOST_ROWS:
        raise Refusal(
            f"laps: lengths of {as_typed(longest)} make {count} pieces; at most {MOST_ROWS}. Give a longer length"
        )
    w.note("count", "the fewest that reach, each lapped over the next", count, "")
    each = w.step(
        "length_each",
        "(length + (count - 1) * lap) / count",
        length=length,
        count=count,
        lap=lap,
    )
    short = each < 3000 and count > 1
    return Outcome(
        {"count": count, "length_each": each, "joints": count - 1},
        w,
        cautions=("joint-engineer",) if count > 1 else (),
        notes=("each is under 3 m: each length of a plate must then cross at least three rafters",) if short else (),
    )

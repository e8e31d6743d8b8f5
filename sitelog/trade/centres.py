"""Where members at a spacing stand along a plate, so that none is missing and no two stand in one place."""

import math

from sitelog.refusal import Refusal
from sitelog.rounding import as_typed
from sitelog.trade.catalogue import MOST_ROWS, Input, Outcome, Output, Row, Working, calculator
from sitelog.trade.geometry import cos_deg

SPACING = Input("spacing", "length", "centre to centre along the plate, at most", over=0)
THICKNESS = Input("thickness", "length", "of one member; nearer than this two would touch", default=47, over=0)


def set_out(called: str, first: float, spacing: float, end: float, thickness: float) -> list[float]:
    """Centres [mm] from `first` on at the spacing, short of `end`, where one stands already.

    Where the last would touch the one at `end` it is set midway between its neighbours instead (common practice):
    left out it would leave more than a spacing. The first stays where it was set. Refusal, in the name of the
    calculator, for more than can be worked.
    """
    count = math.ceil((end - first) / spacing - 1e-9)
    if count > MOST_ROWS:
        raise Refusal(
            f"{called}: a spacing of {as_typed(spacing)} gives {count} {called}; at most {MOST_ROWS} are worked"
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
    w.note("count", "one at each end, and between them so that no bay is over the spacing", len(marks), "")
    bay = marks[-1] - marks[-2] if len(marks) > 1 else 0.0
    return {"count": len(marks), "last_bay": w.note("last_bay", "what is left at the end of the set-out", bay)}


@calculator(
    "centres",
    branch="setting-out",
    does="Members at a spacing along a length: how many, and the mark of each",
    inputs=(
        Input("length", "length", "of the plate, wall or deck, end to end", over=0),
        SPACING,
        Input("first", "length", "from the start to the first centre", default=0),
        Input("last", "length", "from the last centre to the end", default=0),
        THICKNESS,
    ),
    results=(
        Output("rows", "", "Marks", (Output("n", "", "Member"), Output("at", "mm", "Mark at, from the start"))),
        Output("count", "", "How many"),
        Output("last_bay", "mm", "Last bay"),
    ),
    basis="geometry; the last one set midway where it would touch: common practice",
    definition=(
        "One stands at the first centre and one at the last; between them they stand at the spacing from the first,"
        " and the last bay takes what is left. Where that is less than a member's thickness, the one before the last"
        " is set midway between its neighbours, so that no bay is over the spacing and no two touch."
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
    room = w.step(
        "first_to_last", "length - first - last", length - first - last, length=length, first=first, last=last
    )
    marks = between("centres", room, spacing, thickness)
    rows: list[Row] = [{"n": n, "at": first + mark} for n, mark in enumerate(marks, start=1)]
    return Outcome({"rows": rows, **_told_count(w, marks)}, w)


@calculator(
    "commons",
    branch="rafters",
    does="The full commons of a slope between its ridge's ends: marks and lengths",
    inputs=(
        Input("first", "length", "along the plate, from its corner to the first common's centre"),
        Input("last", "length", "the same to the last common's centre; the first, where there is but one"),
        Input("run", "length", "of the first, plate's outer edge to the centre of the ridge", over=0),
        Input("run_last", "length", "of the last; as the first if left out", optional=True, over=0),
        Input("pitch", "pitch", "of the slope, up a common"),
        SPACING,
        Input("ridge", "length", "thickness of what their heads butt", default=0),
        THICKNESS,
    ),
    results=(
        Output(
            "rows",
            "",
            "Commons",
            (
                Output("n", "", "Common"),
                Output("at", "mm", "Mark at, from the corner"),
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
        "Commons stand square to their plate, one at each end of the ridge and the rest at the spacing from the first"
        " of them; the jacks fill the slope from there to the corners. Where plates are not parallel the run grows"
        " evenly from one end to the other. Lengths are on the measuring line and on the common's centre, half the"
        " thickness that their heads butt taken off. The one common of a hipped end butts the last pair, so its ridge"
        " is a common's thickness."
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
    room = w.note("first_to_last", "along the plate, from the one mark to the other", length)
    marks = between("commons", room, spacing, thickness)
    widens = (end - run) / length if len(marks) > 1 else 0.0
    off = w.step(
        "ridge_deduction",
        "ridge / 2 * hypot(1, widens)",
        ridge / 2 * math.hypot(1, widens),
        ridge=ridge,
        widens=widens,
    )
    runs = [run + widens * mark if len(marks) > 1 else (run + end) / 2 for mark in marks]
    if min(runs) <= off:
        raise Refusal(f"commons: half the ridge, {as_typed(off)}, is not less than the run, {as_typed(min(runs))}")
    w.step(
        "length_of_the_first",
        "(run - ridge_deduction) / cos(pitch)",
        (runs[0] - off) / cos_deg(pitch),
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
    does="A long member out of lapped lengths: how many, and how long each",
    inputs=(
        Input("length", "length", "of the whole member, end to end", over=0),
        Input("lap", "length", "of one length over the next", default=0),
        Input("longest", "length", "the longest that is to hand or can be handled", default=4800, over=0),
    ),
    results=(
        Output("count", "", "Lengths"),
        Output("length_each", "mm", "Each length"),
        Output("joints", "", "Joints"),
    ),
    basis="geometry; lengths of plate of 3 m, or over three rafters: NHBC Standards 2020, 7.2.6",
    definition=(
        "The fewest lengths, all alike, none over the longest, each lapped over the next. A wall plate is lapped by its"
        " own width (common practice). A joint in a member that carries load is the engineer's to agree."
    ),
    example="length=9000 lap=100",
)
def laps(*, length: float, lap: float, longest: float) -> Outcome:
    if lap >= longest:
        raise Refusal(f"laps: a lap of {as_typed(lap)} leaves nothing of lengths of {as_typed(longest)}")
    w = Working()
    count = max(math.ceil((length - lap) / (longest - lap) - 1e-9), 1)
    if count > MOST_ROWS:
        raise Refusal(f"laps: lengths of {as_typed(longest)} make {count} pieces; at most {MOST_ROWS} are worked")
    w.note("count", "the fewest lengths that reach, each lapped over the next", count, "")
    each = w.step(
        "length_each",
        "(length + (count - 1) * lap) / count",
        (length + (count - 1) * lap) / count,
        length=length,
        count=count,
        lap=lap,
    )
    short = each < 3000 and count > 1
    return Outcome(
        {"count": count, "length_each": each, "joints": count - 1},
        w,
        cautions=("joint-engineer",) if count > 1 else (),
        notes=("under 3 m each: a plate's lengths then have to cross three rafters",) if short else (),
    )

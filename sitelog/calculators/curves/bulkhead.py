"""The bulkhead round a level ceiling: trimmers stepped down round the curve, and what hangs from them."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sitelog.calculators.catalogue import MOST_ROWS, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.curves.ceilings import CARRIES, HEIGHT, ZERO, Ceiling, CeilingInputs
from sitelog.geometry.vectors import asin_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

MOST_STEPS = 4


class BulkheadInputs(CeilingInputs):
    """What `bulkhead` takes: lengths in mm, angles in degrees."""

    steps: int = field("count", "steps of equal height, the crown's trimmer first", default=2, low=1, high=MOST_STEPS)
    heights: Sequence[float] | None = field(
        "lengths", "springing to the underside of each, from the crown down; instead of steps", default=None
    )
    spacing: float = field("length", "spacing of the hangers, out from the middle", default=300, over=0)


@calculator(
    "bulkhead",
    BulkheadInputs,
    branch="curves",
    does="A bulkhead round a curved ceiling: stepped trimmers and hangers",
    results=(
        HEIGHT,
        Output(
            "trimmers",
            "",
            "Trimmers",
            (
                Output("step", "", "Step"),
                Output("place", "", "Place"),
                Output("height", "mm", "Underside over springing"),
                Output("under_along", "mm", "Front, up the slope"),
                Output("under_back", "mm", "Front, level back"),
                Output("from_at", "mm", "From"),
                Output("to_at", "mm", "To"),
                Output("length", "mm", "Clear length"),
                Output("most_drop", "mm", "Longest drop"),
                Output("rafter_between", "mm", "Rafter clear to next step up"),
            ),
        ),
        Output(
            "hangers",
            "",
            "Hangers",
            (
                Output("n", "", "Hanger"),
                Output("at", "mm", "Mark"),
                Output("step", "", "Step"),
                Output("length", "mm", "Length, plumb"),
                Output("foot_cut_from_square", "deg", "Foot cut, from square"),
            ),
        ),
        Output("head_cut_from_square", "deg", "Heads of hangers, from square"),
    ),
    basis="geometry: levels cut by the planes of the rafters' edges and by the ceiling's curve",
    definition=(
        (
            "The ceiling is the outside curve less sheet, former and lining, square to it. Step 1 is over the crown, "
            "as far each way as the ceiling is over the height of step 2. The others are left and right of it, each "
            "from where the ceiling is at its own height to where it is at the next one's; the last ends at the "
            "springing. So nothing hangs inside the curve. Trimmers are square to the slope, front faces through where "
            "their own height meets the rafters' undersides. "
        )
        + ZERO
        + (
            "From, to and hangers' marks run level from the left end of the OUTSIDE. Lengths of trimmers are clear: "
            "add the bearing. Hangers are plumb under the front bottom arris of their trimmer, down to the ceiling's "
            "curve. A hanger between two steps belongs to the upper."
        )
    ),
    example="radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18 spacing=250",
)
def bulkhead(given: BulkheadInputs) -> Outcome:
    """Lengths in mm, cuts in degrees. Refusal for heights out of order, or two steps whose trimmers overlap.

    Source: geometry; by its definition alone.
    """
    working = Working()
    ceiling = given.ceiling("bulkhead", working)
    heights = _heights(working, given, ceiling.curve.rise)
    return Outcome(
        {
            "soffit_height": ceiling.curve.rise,
            "trimmers": _trimmers(working, given, ceiling, heights),
            "hangers": _hangers(given, ceiling, heights),
            "head_cut_from_square": given.pitch,
        },
        working,
        notes=("Trimmer lengths are clear: add the bearing at each end", CARRIES),
    )


def _heights(working: Working, given: BulkheadInputs, crown: float) -> list[float]:
    """Springing to the underside of each step [mm], from the crown down, under a ceiling so high [mm]."""
    if given.heights is None:
        return [
            working.step(
                f"height_{step}",
                "soffit_height * (steps - step + 1) / steps",
                soffit_height=crown,
                steps=given.steps,
                step=step,
            )
            for step in range(1, given.steps + 1)
        ]
    _check_heights(given.heights, crown)
    return list(given.heights)


def _check_heights(heights: Sequence[float], crown: float) -> None:
    """Refusal unless they step down from over the ceiling's crown [mm] to over the springing."""
    if not 1 <= len(heights) <= MOST_STEPS:
        raise Refusal(f"bulkhead: heights has {len(heights)} figures; give 1 to {MOST_STEPS}")
    if heights[0] < crown:
        raise Refusal(
            f"bulkhead: the first of heights is {as_typed(heights[0])}; it must be at least the ceiling's "
            f"crown, {as_worked(crown)}"
        )
    if heights[-1] <= 0:
        raise Refusal("bulkhead: the last of heights is 0; it must be over the springing. Leave it out")
    for upper, lower in pairwise(heights):
        if lower >= upper:
            raise Refusal(
                f"bulkhead: heights go from {as_typed(upper)} to {as_typed(lower)}; each must be lower than the "
                "one before"
            )
    if len(heights) > 1 and heights[1] >= crown:
        raise Refusal(
            f"bulkhead: the second of heights is {as_typed(heights[1])}; it must be under the ceiling's "
            f"crown, {as_worked(crown)}, or nothing is left of step 1"
        )


def _trimmers(working: Working, given: BulkheadInputs, ceiling: Ceiling, heights: list[float]) -> list[Row]:
    """The trimmer over the crown, then each step's left and right one. Refusal where two steps overlap."""
    rows: list[Row] = []
    middle = ceiling.outside.chord / 2
    above, inner = None, 0.0
    for step, (height, lower) in enumerate(pairwise([*heights, 0.0]), 1):
        front = working.step(
            f"up_the_slope_{step}",
            "height / sin(pitch) + (deck + rafter) / tan(pitch)",
            height=height,
            pitch=given.pitch,
            deck=given.deck,
            rafter=given.rafter,
        )
        outer = working.step(
            f"half_width_{step}",
            "sqrt((soffit_height - lower) * (2 * soffit_radius - soffit_height + lower))",
            soffit_height=ceiling.curve.rise,
            soffit_radius=ceiling.curve.radius,
            lower=lower,
        )
        places = {"centre": (middle - outer, middle + outer)}
        if step > 1:
            places = {"left": (middle - outer, middle - inner), "right": (middle + inner, middle + outer)}
        for place, (start, end) in places.items():
            rows.append(
                {
                    "step": step,
                    "place": place,
                    "height": height,
                    "under_along": front,
                    "under_back": ceiling.slope.back(front, ceiling.under),
                    "from_at": start,
                    "to_at": end,
                    "length": end - start,
                    "most_drop": height - lower,
                    "rafter_between": None if above is None else _between(given, step, front, above),
                }
            )
        above, inner = front, outer
    return rows


def _between(given: BulkheadInputs, step: int, front: float, above: float) -> float:
    """Rafter left [mm] from the back of a step to the front of the one above; Refusal if they overlap."""
    clear = above - front - given.layers * given.trimmer
    if clear < 0:
        raise Refusal(
            f"bulkhead: the trimmers of steps {step - 1} and {step} overlap by {as_worked(-clear)}. Give fewer "
            "steps=, or heights= further apart"
        )
    return clear


def _hangers(given: BulkheadInputs, ceiling: Ceiling, heights: list[float]) -> list[Row]:
    """A hanger at the middle and every spacing out from it, short of the ceiling's ends. Refusal for too many."""
    reach, middle = ceiling.curve.chord / 2, ceiling.outside.chord / 2
    steps = whole(reach / given.spacing)
    if 2 * steps > MOST_ROWS:
        raise Refusal(
            f"bulkhead: spacing is {as_typed(given.spacing)}; that is {2 * steps} hangers, and {MOST_ROWS} is the "
            "most. Give a larger spacing"
        )
    out = [n * given.spacing for n in range(steps) if n * given.spacing < reach - 1e-9]
    offs = [*(-off for off in reversed(out)), *out[1:]]
    return [
        {
            "n": n,
            "at": middle + off,
            "step": step,
            "length": length,
            "foot_cut_from_square": asin_deg(min(abs(off) / ceiling.curve.radius, 1.0)),
        }
        for n, (off, (step, length)) in enumerate(zip(offs, _hung(ceiling, heights, offs), strict=True), 1)
    ]


def _hung(ceiling: Ceiling, heights: list[float], offs: Sequence[float]) -> Iterator[tuple[int, float]]:
    """The step that each hanger is under, and its length [mm], so far off the middle [mm]."""
    for off in offs:
        foot = ceiling.curve.height(off)
        step = next(step for step, lower in enumerate([*heights[1:], 0.0], 1) if foot >= lower - 1e-9)
        yield step, max(heights[step - 1] - foot, 0.0)

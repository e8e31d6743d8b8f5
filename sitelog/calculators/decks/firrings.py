"""How thick firrings are that give a deck its fall, along its joists or across them."""

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.decks.flat_rule import FALL, flat, kind_of_fall, warned
from sitelog.calculators.setting_out.centres import between
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

_CROSS_LEAST = 38.0  # mm; trade practice, from memory
THIN = field("length", "thickness at the low end")


class FirringsInputs(Inputs):
    """What `firrings` takes: lengths in mm."""

    span: float = field("length", "level, from the high end down to the low end", over=0)
    fall: float = FALL
    kind: str = kind_of_fall("design")
    thin: float = THIN
    spacing: float = field("length", "spacing of the joists, or of firrings across them", default=400, over=0)
    laid: str = field(
        "choice", "firrings along the joists or across them", default="along", choices=("along", "across")
    )
    length: float | None = field("length", "length of the deck, level, across the fall", default=None, over=0)
    joist: float = field("length", "thickness of the joists, if laid along them", default=47, over=0)
    clear: float = field("length", "gap from each end of the deck to the face of the nearest joist", default=0)


@calculator(
    "firrings",
    FirringsInputs,
    branch="decks",
    does="Firrings for a deck with one fall, along or across the joists",
    results=(
        Output("thick_end", "mm", "thickness at the high end"),
        Output("thin_end", "mm", "thickness at the low end"),
        Output("count", "", "how many firrings"),
        Output(
            "rows",
            "",
            "firrings from the low end",
            (
                Output("n", "", "firring"),
                Output("at", "mm", "mark, from the low end"),
                Output("thickness", "mm", "thickness"),
            ),
        ),
    ),
    basis="geometry",
    definition=(
        "The joists are level and the fall is cut into the firrings. Along the joists, each firring tapers from "
        "thick to thin over the span and there is one on every joist: the first and last flush with the ends of "
        "the deck, or clear of them, the rest at the spacing. Across the joists, each firring is one thickness "
        "and as long as the deck. Marks are level from the low end, and the last is at the high end. The design "
        "fall is the one you cut. The finished fall is the one you measure when the roof is loaded and done."
    ),
    example="span=3600 fall=1:40 thin=38 spacing=400 laid=across",
)
def firrings(given: FirringsInputs) -> Outcome:
    """Thicknesses in mm. Raises Refusal for a fall that is none of a flat roof, or too many firrings."""
    slope = flat("firrings", given.fall)
    working = Working()
    rise = working.step("rise", "span * fall", span=given.span, fall=slope)
    thick = working.step("thick_end", "thin + rise", thin=given.thin, rise=rise)
    results: dict[str, Result] = {"thick_end": thick, "thin_end": given.thin}
    if given.laid == "across":
        rows = _across(given.span, slope, given.thin, given.spacing)
        working.step("step_each", "spacing * fall", spacing=given.spacing, fall=slope)
        return Outcome(
            results
            | {"count": working.note("count", "one at each mark and one at the high end", len(rows), ""), "rows": rows},
            working,
            notes=(*warned(slope, given.kind), *_thin_across(given.thin)),
        )
    if given.length is not None:
        marks = joist_marks(given.length, given.spacing, given.joist, given.clear)
        working.step(
            "first_to_last",
            "length - joist - 2 * clear",
            length=given.length,
            joist=given.joist,
            clear=given.clear,
        )
        results["count"] = working.note("count", "one on each joist: at both ends, and at the spacing", len(marks), "")
    return Outcome(results, working, notes=(*warned(slope, given.kind), *_ripped(thick, given.thin)))


def joist_marks(length: float, spacing: float, joist: float, clear: float) -> list[float]:
    """Centres [mm] of the joists from one end of a deck, the first and the last flush with its ends or so far clear."""
    room, first = length - joist - 2 * clear, clear + joist / 2
    if room < 0:
        raise Refusal(
            f"firrings: length is {as_typed(length)}; a joist {as_typed(joist)} thick doesn't fit between its ends"
        )
    return [first + mark for mark in between("firrings", room, spacing, joist)]


def _across(span: float, fall: float, thin: float, spacing: float) -> list[Row]:
    spaces = whole(span / spacing)
    if spaces >= MOST_ROWS:
        raise Refusal(
            f"firrings: spacing is {as_typed(spacing)}; that is {spaces + 1} firrings, and {MOST_ROWS} is the most. "
            "Give a larger spacing"
        )
    marks = [min(n * spacing, span) for n in range(spaces + 1)]
    return [{"n": n, "at": at, "thickness": thin + at * fall} for n, at in enumerate(marks, 1)]


def _thin_across(thin: float) -> tuple[str, ...]:
    if thin >= _CROSS_LEAST:
        return ()
    return (
        f"Across the joists, at least {as_typed(_CROSS_LEAST)} is usual, to carry and nail (trade practice, from "
        "memory)",
    )


def _ripped(thick: float, thin: float) -> tuple[str, ...]:
    return (
        f"Two come from one timber ripped on the slant: {as_worked(thick + thin)} mm deep, plus the saw cut",
        "Have them cut before treatment: don't rip treated timber (NHBC Standards 2024, 3.3.5)",
    )

"""A level dormer's line through the sheet of the main slope: on top of it, beneath it, and at the ceiling."""

from collections.abc import Callable

from sitelog.calculators.catalogue import Inputs, Output, Row, Working, field
from sitelog.calculators.curves.slope_lines import COLUMNS
from sitelog.geometry.vectors import asin_deg, cos_deg
from sitelog.quantities.rounding import as_typed, as_worked

NEAR = 1.0  # mm: closer than that, adding the thickness itself does no harm
OFF = Output("off_if_thickness_added", "mm", "if the thickness is added: high, - low")
SHIFTS = (
    Output("deck_shift", "mm", "line beneath, further up"),
    Output("deck_shift_level", "mm", "line beneath, level back"),
    OFF,
)
CUT_COLUMNS = (*COLUMNS, Output("back_cut_from_square", "deg", "saw leans, from square"))
THROUGH = (
    Output("lower_rows", "", "line beneath the main slope's sheet", COLUMNS),
    Output("ceiling_rows", "", "line at the ceiling", COLUMNS),
)
CUT_THROUGH = (
    " The line is on top of the main slope's sheet. The cut through the sheet is level: it runs from there up the "
    "slope to the line beneath, the same distance further up at every mark. The saw leans from square to the sheet by "
    "the figure at each mark: 90 less the pitch at the crown, less at the sides. The ceiling's line is the curve so "
    "far inside, square to it, where it meets what is so far below the top of the sheet; up the slope is then from "
    "the line square through the roof under the zero."
)


class DeckInputs(Inputs):
    """What the line goes through: mm."""

    deck: float = field("length", "total thickness of the sheet on the main slope", default=0)
    inside: float = field("length", "outside to ceiling, square to the curve: sheet, ribs, lining", default=0)
    below: float = field(
        "length", "top of the main slope's sheet to what the ceiling meets, square to the slope", default=0
    )

    @property
    def has_ceiling(self) -> bool:
        """Whether a ceiling was asked for."""
        return self.inside > 0 or self.below > 0


def told_shifts(working: Working, deck: float, pitch: float) -> dict[str, float]:
    """SHIFTS [mm] of a sheet so thick [mm] on a slope of that pitch [deg]; none without a sheet."""
    if not deck:
        return {}
    sizes = {"deck": deck, "pitch": pitch}
    shift = working.step("deck_shift", "deck / tan(pitch)", **sizes)
    level = working.step("deck_shift_level", "deck / sin(pitch)", **sizes)
    off = working.step("off_if_thickness_added", "deck - deck_shift", deck=deck, deck_shift=shift)
    return {"deck_shift": shift, "deck_shift_level": level, "off_if_thickness_added": off}


def told_of_habit(deck: float, off: float, what: str = "the line beneath") -> tuple[str, ...]:
    """What happens where the thickness itself [mm] is added to a mark; nothing where that is near enough."""
    if not deck or abs(off) <= NEAR:
        return ()
    side = "high" if off > 0 else "low"
    return (
        f"Add {as_worked(deck - off)} for {what}, not the {as_typed(deck)} thickness: that comes "
        f"{as_worked(abs(off))} too {side}, and is right at 45 degrees only",
    )


def with_back_cuts(rows: list[Row], slope: Callable[[float], float], pitch: float | None) -> list[Row]:
    """The rows of a line on top of a sheet, with the saw's lean at each; `slope` is the curve's at a mark [deg]."""
    return [{**row, "back_cut_from_square": _back_cut(slope(_at(row)), pitch)} for row in rows]


def _back_cut(slope: float, pitch: float | None) -> float | None:
    if pitch is None:
        return None
    return asin_deg(cos_deg(pitch) * cos_deg(slope))


def _at(row: Row) -> float:
    at = row["at"]
    assert isinstance(at, float)
    return at

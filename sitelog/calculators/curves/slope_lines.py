"""Where the level lines of a curved dormer head strike the main slope."""

from collections.abc import Callable

from msgspec import Struct

from sitelog.calculators.catalogue import LIMITS, Output, Row, field
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

SPACING = field("length", "spacing of the points, out from the middle", default=100, over=0)
COLUMNS = (
    Output("at", "mm", "mark, from the left end"),
    Output("height", "mm", "height"),
    Output("along_slope", "mm", "up the slope"),
    Output("back", "mm", "level, back to the slope"),
)
FLAT = Output("flat_crown", "mm", "crown flatter than 11 degrees")
DATUM = (
    "Marks run level across the dormer from its left end, and height is plumb from the level of its ends. Up the "
    "slope and back are measured from where that level meets the main slope."
)
_FLAT_TO = 11.0  # deg; lead goes by the rules of a flat up to it (a trade page on joints across the fall, read)


def on_slope(
    marks: list[float], height: Callable[[float], float], pitch: float | None, under: float = 0.0
) -> list[Row]:
    """A row for each mark [mm]: the height of the line there, and where it meets a slope of that pitch [deg].

    `under` [mm, square to the slope] is how far under its top the face is that the line meets.
    """
    if pitch is None:
        return [{"at": at, "height": height(at), "along_slope": None, "back": None} for at in marks]
    further, deeper = (under / tan_deg(pitch), under / sin_deg(pitch)) if under else (0.0, 0.0)
    rows: list[Row] = []
    for at in marks:
        high = height(at)
        up, back = high / sin_deg(pitch) + further, high / tan_deg(pitch) + deeper
        rows.append({"at": at, "height": high, "along_slope": up, "back": back})
    return rows


class MainSlope(Struct, frozen=True):
    """The slope of that pitch [deg] that a level dormer runs into, seen from the side.

    Its zero is where the springing's level meets the top of its sheet. A place is `along` the slope from there [mm],
    carried square through the slope to a face `under` the top of the sheet [mm].
    """

    pitch: float

    def along(self, height: float, under: float = 0.0) -> float:
        """Up the slope [mm] to where the level so high over the springing [mm] meets the face."""
        return height / sin_deg(self.pitch) + under / tan_deg(self.pitch)

    def back(self, along: float, under: float = 0.0) -> float:
        """Level in from the zero [mm] to that place of the face."""
        return along * cos_deg(self.pitch) + under * sin_deg(self.pitch)


def check_reach(calculator: str, rise: float, pitch: float) -> None:
    """Refusal, in the calculator's name, if a crown so high [mm] hardly ever meets a slope of that pitch [deg]."""
    back = rise / tan_deg(pitch)
    if back > LIMITS["length"][1]:
        raise Refusal(
            f"{calculator}: pitch is {as_typed(pitch)}; the crown would run {as_worked(back / 1000)} m back "
            "before it met so flat a slope"
        )


def flat_side(radius: float, half: float) -> float:
    """How far [mm] each side of its middle a crown is flatter than 11 degrees, for its radius and half width [mm]."""
    return min(radius * sin_deg(_FLAT_TO), half)


def flat_crown(radius: float, half: float) -> str:
    """The note that the crown is a flat to a leadworker, for a crown's radius and half width [mm]."""
    side = flat_side(radius, half)
    return (
        f"Within {as_worked(side)} mm of the middle of the crown it is flatter than 11 degrees: in metal, detail "
        "that as a flat (geometry on a trade page's limit)"
    )

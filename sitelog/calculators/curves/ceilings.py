"""The open ceiling under a dormer's curve, run level into the main roof: what its calculators share."""

from msgspec import Struct

from sitelog.calculators.catalogue import Output, Working, field
from sitelog.calculators.curves.segments import OneArcInputs, Segment
from sitelog.calculators.curves.slope_lines import MainSlope, check_reach
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

CARRIES = "The engineer's drawing says what carries it: trimmers, the rafters beside them and every fixing"
ZERO = (
    "Marks up the slope are on the rafter's own edge, from the line square through the roof under the zero. The zero "
    "is where the springing's level meets the top of the main slope's sheet, or the rafters' tops if it has none. "
)
HEIGHT = Output("soffit_height", "mm", "Springing to ceiling's crown")


class CeilingInputs(OneArcInputs):
    """What is over the ceiling, and the roof it runs into: lengths in mm, angles in degrees."""

    sheet: float = field("length", "total thickness of the layers over bearers or ribs", default=0)
    former: float = field("length", "depth of the former or bearer, square to the curve", default=0)
    lining: float = field("length", "total thickness of the lining under it", default=0)
    pitch: float = field("pitch", "pitch of the main slope")
    rafter: float = field("length", "depth of the main rafters", over=0)
    deck: float = field("length", "total thickness of the sheet on the main slope", default=0)
    trimmer: float = field("length", "thickness of one trimmer", default=47, over=0)
    layers: int = field("count", "trimmers side by side", default=2, low=1, high=4)

    def ceiling(self, calculator: str, working: Working) -> "Ceiling":
        """The ceiling under the curve; Refusal where the layers leave none, or it hardly meets so flat a slope."""
        outside = self.outside(calculator, working)
        taken = self.sheet + self.former + self.lining
        if taken >= outside.rise:
            raise Refusal(
                f"{calculator}: sheet, former and lining are {as_typed(taken)} together; they must be under the "
                f"rise, {as_typed(outside.rise)}, to leave a ceiling"
            )
        check_reach(calculator, outside.rise, self.pitch)
        layers = {"sheet": self.sheet, "former": self.former, "lining": self.lining}
        working.step("soffit_height", "rise - sheet - former - lining", rise=outside.rise, **layers)
        return Ceiling(outside, outside.inside(taken), MainSlope(self.pitch), self.deck, self.deck + self.rafter)


class Ceiling(Struct, frozen=True):
    """Outside and ceiling as curves, the slope, and how far [mm] tops and undersides of its rafters are under it."""

    outside: Segment
    curve: Segment
    slope: MainSlope
    top: float
    under: float

    def place(self, top_along: float, under_along: float) -> dict[str, float]:
        """A line on a rafter's side as it is marked: up the slope on both edges, and level in from the zero [mm]."""
        return {
            "top_along": top_along,
            "top_back": self.slope.back(top_along, self.top),
            "under_along": under_along,
            "under_back": self.slope.back(under_along, self.under),
        }

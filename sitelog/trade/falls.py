"""How a deck is firred that falls to all four of its edges at one fall."""

import math

from msgspec import Struct

from sitelog.quantity import show_fall
from sitelog.refusal import Refusal
from sitelog.trade.catalogue import MOST_ROWS, Input, Outcome, Output, Row, Working, calculator
from sitelog.trade.coursing import whole
from sitelog.trade.firrings import THIN
from sitelog.trade.flat_rule import FALL, flat, kind_of_fall, warned
from sitelog.trade.geometry import atan_deg
from sitelog.trade.hip_line import HipLine

_CORNER = 90.0
_DIAGONAL_CUT = 45.0  # deg; equal falls over a square corner part on the halving line of its plan


class _Deck(Struct, frozen=True):
    """A deck of `length` x `width` mm: its fall, the thickness at its edges, and of its joists and firrings [mm]."""

    length: float
    width: float
    fall: float
    thin: float
    joist: float

    @property
    def half(self) -> float:
        """Edge to ridge on plan [mm], square to the edge."""
        return min(self.length, self.width) / 2

    def height(self, run: float) -> float:
        return self.thin + run * self.fall

    def firring(self, n: int, side: str, at: float) -> Row | None:
        """The firring square in from its edge, `at` mm along it; None where the diagonal takes its place."""
        edge = self.length if side == "ab" else self.width
        run = min(at, edge - at, self.half)
        meets_ridge = run == self.half and edge > 2 * self.half
        # The diagonal's half thickness, seen along the firring; then out to the firring's own long edge.
        to_face = 0.0 if meets_ridge else self.joist / math.sqrt(2)
        to_edge = 0.0 if meets_ridge or at == edge / 2 else self.joist / 2
        if run - to_face - to_edge <= 0:
            return None
        return {
            "n": n,
            "side": side,
            "at": at,
            "length": run,
            "cut_length": run - to_face + to_edge,
            "thin_end": self.thin,
            "thick_end": self.height(run),
            "bevel_from_square": 0.0 if meets_ridge else _DIAGONAL_CUT,
        }


@calculator(
    "hipped-falls",
    branch="decks",
    does="Firrings of a deck that falls to all four edges",
    inputs=(
        Input("length", "length", "of the deck, level", over=0),
        Input("width", "length", "of the deck, level", over=0),
        FALL,
        kind_of_fall("design"),
        THIN,
        Input("spacing", "length", "of the firrings along each edge", default=400, low=100),
        Input("joist", "length", "thickness of joists and firrings", default=47, over=0, high=150),
    ),
    results=(
        Output("centre_height", "mm", "thickness at the centre"),
        Output("ridge_length", "mm", "level ridge in the middle"),
        Output("diagonal", "mm", "diagonal firring, on plan"),
        Output("diagonal_length", "mm", "diagonal firring, on its top"),
        Output("diagonal_thin_end", "mm", "its thickness at the corner"),
        Output("diagonal_thick_end", "mm", "its thickness at the centre"),
        Output("diagonal_backing", "deg", "its top bevelled, each side"),
        Output("diagonal_drop", "mm", "or lowered, if left square"),
        Output(
            "rows",
            "",
            "firrings square to the edges",
            (
                Output("n", "", "firring"),
                Output("side", "", "edge"),
                Output("at", "mm", "mark at, from its corner"),
                Output("length", "mm", "to the centre line"),
                Output("cut_length", "mm", "to long point"),
                Output("thin_end", "mm", "thin end"),
                Output("thick_end", "mm", "thick end"),
                Output("bevel_from_square", "deg", "bevel, from square"),
            ),
        ),
    ),
    basis="geometry: four planes at one fall from a level edge",
    definition=(
        "Corners A, B, C, D go round the deck, AB along its length; CD is as AB set out from C, and DA as BC from D."
        " Every firring is thin at its edge, so that all four edges are level, and rises at the fall to the centre"
        " line of the diagonal or the ridge: cut its taper over that length, then its end on the bevel to fit the"
        " diagonal's face, long point away from the corner. One in the middle of a short edge is cut to a point; those"
        " within the diagonal's own thickness are left out. All lengths are level but that of the diagonal's top."
    ),
    example="length=6000 width=3600 fall=1:60 thin=20 spacing=600",
)
def hipped_falls(
    *, length: float, width: float, fall: float, kind: str, thin: float, spacing: float, joist: float
) -> Outcome:
    """Lengths and thicknesses in mm, bevels in degrees. Raises Refusal for a fall that is none of a flat roof."""
    deck = _Deck(length, width, flat("hipped-falls", fall), thin, joist)
    w = Working()
    half, fall = deck.half, deck.fall
    w.note("half_width", "edge to ridge, half the shorter side", half)
    rise = w.step("rise", "half_width * fall", half * fall, half_width=half, fall=fall)
    centre = w.step("centre_height", "thin + rise", thin + rise, thin=thin, rise=rise)
    plan = w.step("diagonal", "half_width * sqrt(2)", half * math.sqrt(2), half_width=half)
    top = w.step("diagonal_length", "hypot(diagonal, rise)", math.hypot(plan, rise), diagonal=plan, rise=rise)
    pitch = w.step("pitch", "atan(fall)", atan_deg(fall), "deg", fall=fall)
    line = HipLine(_CORNER, pitch, pitch)
    backing = w.note("diagonal_backing", "the two planes against its square top", line.backing(1), "deg")
    lowered = w.note("diagonal_drop", "what that bevel takes at its edge, plumb", line.drop(1, joist))
    return Outcome(
        {
            "centre_height": centre,
            "ridge_length": abs(length - width),
            "diagonal": plan,
            "diagonal_length": top,
            "diagonal_thin_end": thin,
            "diagonal_thick_end": centre,
            "diagonal_backing": backing,
            "diagonal_drop": lowered,
            "rows": _rows(deck, spacing),
        },
        w,
        notes=(
            *warned(fall, kind),
            "Diagonals first; take the rest off them with a straightedge, and check every edge for one level",
            f"Along a diagonal the fall is {show_fall(fall / math.sqrt(2))}",
        ),
    )


def _rows(deck: _Deck, spacing: float) -> list[Row]:
    if deck.length / spacing + deck.width / spacing > MOST_ROWS:
        raise Refusal(f"hipped-falls: spacing is {spacing:g}; that is over {MOST_ROWS} firrings for this deck")
    rows: list[Row] = []
    for side, edge in (("ab", deck.length), ("bc", deck.width)):
        for step in range(1, whole(edge / spacing)):
            row = deck.firring(len(rows) + 1, side, step * spacing)
            rows += [row] if row else []
    return rows

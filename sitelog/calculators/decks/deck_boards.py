"""How far apart the boards of a flat deck are kept, and how they are fixed, under resin and under other linings."""

from sitelog.calculators.catalogue import Inputs, Outcome, Output, Row, Working, calculator, field
from sitelog.calculators.sources import SOURCES
from sitelog.quantities.rounding import as_typed

_PANEL = "WPIF Panel Guide 2.5 to 2.6, relayed by a board maker"
_LABC = "LABC Warranty, timber decks"
_MANUAL = "GRP installer's manual, p. 9"
_SQUARE = 3.0  # mm between square edges; the panel guide
_LEAST_FIXING = 50.0  # mm; the same
_INTO_JOIST = 40.0  # mm under resin; the manual

# At walls at least [mm], widest centres at edges and ends, and between.
_OTHER = (10.0, 150.0, 300.0)  # the panel guide; LABC
_RESIN = (25.0, 200.0, 200.0)  # the manual


class DeckBoardsInputs(Inputs):
    """What `deck-boards` takes: lengths in mm."""

    length: float = field("length", "of the deck, one side", over=0, high=100_000)
    width: float = field("length", "of the deck, the other side", over=0, high=100_000)
    thickness: float = field("length", "of the boards", default=18, over=0, high=50)
    under: str = field("choice", "resin for GRP laid in place", default="other", choices=("other", "resin"))


@calculator(
    "deck-boards",
    DeckBoardsInputs,
    branch="decks",
    does="Gaps and fixings of the boards of a flat deck",
    results=(
        Output("wall_gap", "mm", "smallest gap at walls and upstands"),
        Output("square_gap", "mm", "smallest gap between square edges"),
        Output("edge_centres", "mm", "widest centres, edges and ends"),
        Output("field_centres", "mm", "widest centres, away from edges"),
        Output("fixing_length", "mm", "shortest fixing"),
        SOURCES,
    ),
    basis="panel guide, a warranty body and a GRP manual; each figure names its source",
    definition=(
        "The gap at walls is 2 mm per metre of the longer side, at least 10, or 25 under resin. A"
        " fixing is 2.5 times the board's thickness long, at least 50; under resin it also goes 40 into the joist. The"
        " centres are the widest allowed. Follow the resin maker's figures before any here."
    ),
    example="length=6000 width=3600 under=resin",
)
def deck_boards(given: DeckBoardsInputs) -> Outcome:
    """Gaps, centres and a length in mm."""
    resin = given.under == "resin"
    wall, edge, field = _RESIN if resin else _OTHER
    working = Working()
    longer = working.note("longer_side", "the longer of the two", max(given.length, given.width))
    # 2 mm of gap at walls to a metre of deck, and fixings 2.5 boards long: the panel guide.
    grown = working.step("swelling", "2 * longer_side / 1000", longer_side=longer)
    gap = working.note("wall_gap", f"the more of that and {as_typed(wall)}", max(grown, wall))
    boards = working.step("boards_long", "2.5 * thickness", thickness=given.thickness)
    lengths = [boards, _LEAST_FIXING]
    if resin:
        numbers = {"thickness": given.thickness, "into_joist": _INTO_JOIST}
        lengths.append(working.step("through", "thickness + into_joist", **numbers))
    long = working.note("fixing_length", f"the longest of {', '.join(map(as_typed, lengths))}", max(lengths))
    rest = _MANUAL if resin else _LABC
    sources: list[Row] = [
        {"figure": name, "source": source, "standing": "read"}
        for name, source in (
            ("wall_gap", _MANUAL if resin and gap == wall else _PANEL),
            ("square_gap", _PANEL),
            ("edge_centres", rest),
            ("field_centres", rest),
            ("fixing_length", _MANUAL if resin and long > max(lengths[:2]) else _PANEL),
        )
    ]
    return Outcome(
        {
            "wall_gap": gap,
            "square_gap": _SQUARE,
            "edge_centres": edge,
            "field_centres": field,
            "fixing_length": long,
            "sources": sources,
        },
        working,
        notes=(f"{_LABC} asks 150 at edges and ends of any deck: ask which is followed",) if resin else (),
    )

"""How a deck is firred that falls to all four of its edges at one fall."""

from sitelog.calculators.catalogue import MOST_ROWS, Inputs, Outcome, Output, Result, Row, Working, calculator, field
from sitelog.calculators.decks.fall_plan import FallPlan, Piece, fall_plan
from sitelog.calculators.decks.fall_rows import (
    DIAGONALS,
    NESTS,
    PIECES,
    diagonal_row,
    firring_row,
    nest_row,
    tapered,
    told_nests,
)
from sitelog.calculators.decks.firrings import THIN
from sitelog.calculators.decks.flat_rule import FALL, flat, kind_of_fall, warned
from sitelog.calculators.rafters.outlines import outline
from sitelog.calculators.timber.nests import Nest, nested
from sitelog.geometry.roof_lines import SIDES
from sitelog.geometry.vectors import size
from sitelog.quantities.quantity import Section, show_fall, show_length
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import text_if


class HippedFallsInputs(Inputs):
    """What `hipped-falls` takes: lengths in mm."""

    length: float | None = field(
        "length", "length of AB, level, if the deck is square; in place of the six lengths", default=None, over=0
    )
    width: float | None = field("length", "length of BC, level, if the deck is square", default=None, over=0)
    ab: float | None = field("length", "edge AB, level", default=None, over=0)
    bc: float | None = field("length", "edge BC, level", default=None, over=0)
    cd: float | None = field("length", "edge CD, level", default=None, over=0)
    da: float | None = field("length", "edge DA, level", default=None, over=0)
    ac: float | None = field("length", "diagonal AC, level", default=None, over=0)
    bd: float | None = field("length", "diagonal BD, level", default=None, over=0)
    fall: float = FALL
    kind: str = kind_of_fall("design")
    thin: float = THIN
    spacing: float = field("length", "spacing of the firrings along each edge", default=400, low=100)
    joist: float = field("length", "thickness of joists and firrings", default=47, over=0, high=150)
    diagonal_thickness: float | None = field(
        "length", "thickness of the diagonals; the same as joist if left out", default=None, over=0
    )
    stick: Section | None = field("section", "section of the timber they are ripped from", default=None)
    kerf: float = field("length", "width of the saw's cut", default=4)


@calculator(
    "hipped-falls",
    HippedFallsInputs,
    branch="decks",
    does="Firrings of a deck that falls to all four edges",
    results=(
        Output("centre_height", "mm", "thickness at its highest"),
        Output("ridge_length", "mm", "ridge in the middle (no timber on it)"),
        Output("ridge_p_x", "mm", "ridge end P, X"),
        Output("ridge_p_y", "mm", "ridge end P, Y"),
        Output("ridge_p_height", "mm", "thickness at P"),
        Output("ridge_q_x", "mm", "ridge end Q, X"),
        Output("ridge_q_y", "mm", "ridge end Q, Y"),
        Output("ridge_q_height", "mm", "thickness at Q"),
        Output("diagonal", "mm", "diagonal firring at A, on plan"),
        Output("diagonal_length", "mm", "diagonal firring at A, along its top"),
        Output("diagonal_thin_end", "mm", "thickness of it at the corner"),
        Output("diagonal_thick_end", "mm", "thickness of it at the ridge"),
        Output("diagonal_backing", "deg", "bevel on its top, each side"),
        Output("diagonal_drop", "mm", "or lower it, if left square"),
        Output("diagonals", "", "diagonal firrings", DIAGONALS),
        Output("count", "", "firrings square to the edges"),
        Output("rows", "", "firrings square to the edges", PIECES),
        Output("nest_pairs", "", "pairs cut head to foot from one length"),
        Output("nest_singles", "", "firrings cut alone from a length"),
        Output("nests", "", "pairs, by number", NESTS),
    ),
    basis="geometry: four planes at one fall from a level edge; corners as the least-squares fit of six lengths",
    definition=(
        "A is at 0,0, B along x, ABCD anticlockwise. All edges are level and the same thickness. The deck rises "
        "from its nearest edge by the fall. Fix the diagonals first, centred on the line that halves the corner. "
        "They meet at the ridge: P is where A's ends, Q where C's does. At the corner each is pointed with two "
        "bevels, or left square and set back. At the inner end, the half along an edge with the ridge is cut on "
        "the line of the ridge, the other half is mitred with its neighbour; its arris runs past P or Q, or "
        "stops short if minus. The rest are square to their edges, and are cut to the faces of the diagonals or "
        "butt on the ridge. Left and right are as seen from outside, and marks run from the edge's first corner. "
        "Rip each taper to its long point, then cut its end. All lengths are level, except along a diagonal's "
        "top. Two cut head to foot from one length have one saw cut between them. Put the lengths into stock to "
        "see what to buy."
    ),
    example="length=6000 width=3600 fall=1:60 thin=20 spacing=600 stick=47x75",
)
def hipped_falls(given: HippedFallsInputs) -> Outcome:
    """Lengths and thicknesses in mm, bevels in degrees. Raises Refusal for a fall that is none of a flat roof."""
    fall = flat("hipped-falls", given.fall)
    corners, doubts = outline(
        "hipped-falls", (given.ab, given.bc, given.cd, given.da, given.ac, given.bd), given.length, given.width
    )
    plan = fall_plan("hipped-falls", corners, given.diagonal_thickness or given.joist)
    _within_rows(plan, given.spacing)
    working = Working()
    ridge = _ridge(working, plan, fall, given.thin)
    diagonals = [diagonal_row(working, plan, corner, fall, given.thin) for corner in range(4)]
    found = [(SIDES[side], piece) for side in range(4) for piece in plan.pieces(side, given.spacing, given.joist)]
    rows = [firring_row(n, plan, side, piece, fall, given.thin) for n, (side, piece) in enumerate(found, 1)]
    nests = nested([tapered(row) for row in rows], given.stick.depth, fall, given.kerf) if given.stick else []
    first = diagonals[0]
    return Outcome(
        {
            **ridge,
            "diagonal": first["plan_length"],
            "diagonal_length": first["length"],
            "diagonal_thin_end": given.thin,
            "diagonal_thick_end": first["thick_end"],
            "diagonal_backing": first["backing"],
            "diagonal_drop": first["drop"],
            "diagonals": diagonals,
            "count": len(rows),
            "rows": told_nests(rows, nests),
            **_nests(working, rows, given.stick, nests),
        },
        working,
        notes=(
            *doubts,
            *warned(fall, given.kind),
            *_notes(plan, found, fall),
            *_of_stick(given.stick, given.joist, rows),
        ),
        basis=text_if(given.length is not None, "geometry: four planes at one fall from a level edge"),
    )


def _within_rows(plan: FallPlan, spacing: float) -> None:
    if sum(size(plan.edge(side)) for side in range(4)) / spacing > MOST_ROWS:
        raise Refusal(
            f"hipped-falls: spacing is {as_typed(spacing)}; that is over {MOST_ROWS} firrings for this deck. Give a "
            "larger spacing"
        )


def _ridge(working: Working, plan: FallPlan, fall: float, thin: float) -> dict[str, Result]:
    told: dict[str, Result] = {}
    heights = []
    for name, end in (("p", plan.lines.p), ("q", plan.lines.q)):
        inward = working.note(f"edge_to_{name}", "square from it to its nearest edges", end[2])
        height = working.step(
            f"ridge_{name}_height",
            f"thin + edge_to_{name} * fall",
            **{"thin": thin, f"edge_to_{name}": inward, "fall": fall},
        )
        told |= {f"ridge_{name}_x": end[0], f"ridge_{name}_y": end[1], f"ridge_{name}_height": height}
        heights.append(height)
    highest = working.note("centre_height", "the higher of the two", max(heights))
    along, across, _ = plan.ridge
    long = working.step("ridge_length", "hypot(along, across)", along=along, across=across)
    return {"centre_height": highest, "ridge_length": long, **told}


def _nests(working: Working, rows: list[Row], stick: Section | None, found: list[Nest]) -> dict[str, Result]:
    if stick is None:
        return {}
    working.note("nest_pairs", "the most that can be cut head to foot from one length", len(found), "")
    singles = working.step(
        "nest_singles",
        "firrings - 2 * nest_pairs",
        "",
        firrings=len(rows),
        nest_pairs=len(found),
    )
    return {"nest_pairs": len(found), "nest_singles": int(singles), "nests": [nest_row(one) for one in found]}


def _notes(plan: FallPlan, found: list[tuple[str, Piece]], fall: float) -> tuple[str, ...]:
    said = ["Diagonals first. Line the rest up with them by straightedge, and check that every edge is level"]
    slopes = dict.fromkeys(show_fall(fall * plan.end_of(corner)[2] / size(plan.along(corner))) for corner in range(4))
    said.append(f"Along a diagonal the fall is {' or '.join(slopes)}")
    if plan.has_ridge and plan.lines.ridge_length < 2 * plan.diagonal:
        said.append("The ridge is hardly longer than the diagonals are thick: offer up their inner ends before you cut")
    twice = [f"{side.upper()} at {show_length(piece.at)}" for side, piece in found if len(piece.breaks) > 1]
    if twice:
        said.append(f"The end has two breaks, and only one is given here: scribe it in place ({', '.join(twice)})")
    return tuple(said)


def _of_stick(stick: Section | None, joist: float, rows: list[Row]) -> tuple[str, ...]:
    """What to know of the yard's timber before it is ripped."""
    if stick is None:
        return ()
    said = []
    if abs(stick.thickness - joist) > 1e-9:
        said.append(
            f"The timber is {as_typed(stick.thickness)} thick and the firrings {as_typed(joist)}: rip it or "
            "order it to that"
        )
    over = [str(row["n"]) for row in rows if tapered(row).thick > stick.depth]
    if over:
        said.append(
            f"These firrings are deeper than the timber, {as_typed(stick.depth)}, so get a deeper one: "
            f"{', '.join(over)}"
        )
    return tuple(said)

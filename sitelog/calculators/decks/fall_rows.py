"""What is told of each timber of a deck that falls to all its edges: diagonals, firrings, and pairs of them."""

from sitelog.calculators.catalogue import Output, Row, Working
from sitelog.calculators.decks.fall_plan import FallPlan, Piece
from sitelog.calculators.timber.nests import Nest, Tapered
from sitelog.geometry.hip_line import HipLine
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.geometry.vectors import atan_deg

EVEN = 0.5  # mm

DIAGONALS = (
    Output("corner", "", "from corner"),
    Output("plan_length", "mm", "on plan"),
    Output("length", "mm", "along its top"),
    Output("thin_end", "mm", "thin end"),
    Output("thick_end", "mm", "thick end"),
    Output("length_overall", "mm", "over all, along its top"),
    Output("thick_long", "mm", "thick, long point"),
    Output("outer_bevel_from_square", "deg", "outer bevels, from square"),
    Output("outer_back", "mm", "outer arrises set back"),
    Output("inner_past_1", "mm", "inner arris past P or Q, edge before"),
    Output("inner_bevel_1_from_square", "deg", "bevel there, from square"),
    Output("inner_past_2", "mm", "inner arris past P or Q, edge after"),
    Output("inner_bevel_2_from_square", "deg", "bevel there, from square"),
    Output("backing", "deg", "bevel on top, each side"),
    Output("drop", "mm", "or lower it"),
)
PIECES = (
    Output("n", "", "firring"),
    Output("side", "", "edge"),
    Output("at", "mm", "mark, from its corner"),
    Output("length_left", "mm", "left arris"),
    Output("length_centre", "mm", "centre"),
    Output("length_right", "mm", "right arris"),
    Output("long_point", "mm", "long point"),
    Output("bevel_left_from_square", "deg", "bevel left, from square"),
    Output("bevel_right_from_square", "deg", "bevel right, from square"),
    Output("break_across", "mm", "point or break, across the end"),
    Output("break_along", "mm", "and in from the edge"),
    Output("thin_end", "mm", "thin end"),
    Output("thick_left", "mm", "thick, left arris"),
    Output("thick_centre", "mm", "thick, centre"),
    Output("thick_right", "mm", "thick, right arris"),
    Output("thick_long", "mm", "thick, long point"),
    Output("length", "mm", "to the centre line"),
    Output("cut_length", "mm", "to long point"),
    Output("thick_end", "mm", "thick end"),
    Output("bevel_from_square", "deg", "bevel, from square"),
    Output("break_left_from_square", "deg", "bevel left of the break"),
    Output("break_right_from_square", "deg", "bevel right of the break"),
    Output("hand", "", "long arris"),
    Output("nested_with", "", "head to foot with firring"),
)
NESTS = (
    Output("long", "", "longer firring"),
    Output("short", "", "shorter firring"),
    Output("depth", "mm", "depth they need"),
)


def diagonal_row(working: Working, plan: FallPlan, corner: int, fall: float, thin: float) -> Row:
    """A row of DIAGONALS: the diagonal from a corner under that fall [a ratio], so thin [mm] at the corner."""
    name, end = CORNERS[corner], plan.end_of(corner)
    along, across, _ = plan.along(corner)
    level = working.step(f"diagonal_{name}", "hypot(along, across)", along=along, across=across)
    rise = end[2] * fall
    top = working.step(f"diagonal_length_{name}", "hypot(diagonal, rise)", diagonal=level, rise=rise)
    pitch = atan_deg(fall)
    line = HipLine(plan.angle(corner), pitch, pitch)
    before, after = plan.inner(corner, (corner - 1) % 4), plan.inner(corner, corner)
    past = max(before.past, after.past, 0.0)
    return {
        "corner": name,
        "plan_length": level,
        "length": top,
        "thin_end": thin,
        "thick_end": thin + rise,
        "length_overall": top * (1 + past / level),
        "thick_long": thin + rise * (1 + past / level),
        "outer_bevel_from_square": 90 - plan.angle(corner) / 2,
        "outer_back": plan.outer_back(corner),
        "inner_past_1": before.past,
        "inner_bevel_1_from_square": before.bevel,
        "inner_past_2": after.past,
        "inner_bevel_2_from_square": after.bevel,
        "backing": working.note(f"backing_{name}", "the two slopes against its square top", line.backing(1), "deg"),
        "drop": working.note(
            f"drop_{name}", "plumb, what that bevel takes off at its edge", line.drop(1, plan.diagonal)
        ),
    }


def firring_row(n: int, plan: FallPlan, side: str, piece: Piece, fall: float, thin: float) -> Row:
    """A row of PIECES: the n-th firring square to an edge under that fall [a ratio], so thin [mm] at it."""
    left, right = piece.arrises
    lengths = {"left": piece.reach(left), "centre": piece.reach(piece.at), "right": piece.reach(right)}
    long_point = piece.long_point
    bevels = piece.bevels
    turn = max(piece.breaks, key=piece.reach, default=None)
    centre = Piece(piece.at, piece.thickness, plan.bounds(SIDES.index(side), 0.0))
    thick = thin + long_point * fall
    return {
        "n": n,
        "side": side,
        "at": piece.at,
        **{f"length_{where}": length for where, length in lengths.items()},
        "long_point": long_point,
        "bevel_left_from_square": bevels[0],
        "bevel_right_from_square": bevels[1],
        "break_across": None if turn is None else turn - piece.at,
        "break_along": None if turn is None else piece.reach(turn),
        "thin_end": thin,
        **{f"thick_{where}": thin + length * fall for where, length in lengths.items()},
        "thick_long": thick,
        "length": centre.reach(piece.at),
        "cut_length": long_point,
        "thick_end": thick,
        "bevel_from_square": max(bevels),
        "break_left_from_square": None if turn is None else bevels[0],
        "break_right_from_square": None if turn is None else bevels[1],
        "hand": None if turn is not None else _hand(lengths["left"], lengths["right"]),
        "nested_with": None,
    }


def _hand(left: float, right: float) -> str | None:
    """The arris that one straight cut leaves longer, as you look in from the edge; None of one cut square."""
    if abs(left - right) < EVEN:
        return None
    return "left" if left > right else "right"


def tapered(row: Row) -> Tapered:
    """The firring of a row of PIECES, as it is ripped from a stick."""
    n, length, thin, thick = (row[name] for name in ("n", "long_point", "thin_end", "thick_long"))
    return Tapered(int(n or 0), float(length or 0), float(thin or 0), float(thick or 0))


def told_nests(rows: list[Row], nests: list[Nest]) -> list[Row]:
    """The rows of PIECES, each with the number of the firring that it is ripped with."""
    other = {one.long.n: one.short.n for one in nests} | {one.short.n: one.long.n for one in nests}
    return [row | {"nested_with": other.get(int(str(row["n"])))} for row in rows]


def nest_row(nest: Nest) -> Row:
    """A row of NESTS: two firrings by number, and the depth [mm] they need."""
    return {"long": nest.long.n, "short": nest.short.n, "depth": nest.depth}

"""A deck that falls to all four edges: its diagonals, ridge and firrings on plan, and its rise to the middle."""

from collections.abc import Iterator
from math import dist

from sitelog.calculators.catalogue import Row
from sitelog.calculators.rafters.roof import A_POINT
from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, series, up_for
from sitelog.drawing.points import share
from sitelog.drawing.subjects.plans import Corners, corners, length, plates
from sitelog.geometry.roof_lines import SIDES
from sitelog.quantities.quantity import show_angle, show_fall


def hipped_falls(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The deck on plan, then a section to its highest point."""
    yield _plan(answer)
    yield _section(answer)


def _plan(answer: DrawnAnswer) -> Drawing:
    """A at 0,0, AB along x; every firring from its edge in to the diagonal's face or the ridge."""
    at = corners(answer, "hipped-falls")
    p, q = ((answer.number(f"ridge_{end}_x"), answer.number(f"ridge_{end}_y")) for end in "pq")
    sheet = Sheet.new()
    plates(sheet, at, {})
    ends = {str(row["corner"]): _end_of(at[str(row["corner"])], (p, q), row) for row in answer.rows("diagonals")}
    for name, end in ends.items():
        sheet.put(Line((at[name], end), "bold"))
    if dist(p, q) >= A_POINT:
        sheet.put(Line((p, q), "bold"))
    for row in answer.rows():
        if figure(row, "length_centre") > 0:
            sheet.put(Line(_line_of(row, at, "length_centre"), "thin"))
    sheet.put(*_marks(answer, at))
    edges = f"CD {answer.mm(length(at, 'cd'))}, all edges {answer.of('diagonal_thin_end')} thick"
    sheet.put(Words(share(at["d"], at["c"], 0.5), edges, beside="above"))
    left = 0.02 * max(at["b"][0], at["c"][0])
    x, y = share(at["a"], at["d"], 0.5)
    sheet.put(Words((x - left, y), f"DA\n{answer.mm(length(at, 'da'))}", "end"))
    ridge = f"ridge {answer.of('ridge_length')}, " if dist(p, q) >= A_POINT else ""
    sheet.put(Words(share(p, q, 0.5), f"{ridge}{answer.of('centre_height')} thick", beside="above"))
    for row in answer.rows("diagonals"):
        name = str(row["corner"])
        if name in ("a", "c"):
            size = answer.mm(figure(row, "plan_length"))
            sheet.put(Words(share(at[name], ends[name], 0.5), f"diagonal {name.upper()}\n{size}"))
    return sheet.drawing("Falls to four edges: plan, thickness at the high ends", tuple(_says(answer, at)))


def _end_of(corner: Point, ridge: tuple[Point, Point], row: Row) -> Point:
    """The end of the ridge that is a diagonal's length from its corner."""
    return min(ridge, key=lambda end: abs(dist(corner, end) - figure(row, "plan_length")))


def _line_of(row: Row, at: Corners, name: str) -> tuple[Point, Point]:
    """A firring's middle line, square in from its edge by a length of its row."""
    side = str(row["side"])
    start, end = at[side[0]], at[side[1]]
    long = dist(start, end)
    x, y = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    along, inward = figure(row, "at"), figure(row, name)
    foot = start[0] + along * x, start[1] + along * y
    return foot, (foot[0] - inward * y, foot[1] + inward * x)


def _fall(answer: DrawnAnswer) -> str:
    return f"fall {show_fall(answer.given('fall') or 0.0)}"


def _marks(answer: DrawnAnswer, at: Corners) -> list[Words]:
    """Where the firrings of AB and BC stand, outside their edges, and their thick ends with them."""
    rows = {side: [row for row in answer.rows() if row["side"] == side] for side in ("ab", "bc")}
    marks = [(_line_of(row, at, "length_centre")[0], answer.mm(figure(row, "at"))) for row in rows["ab"]]
    thick = []
    for row in rows["ab"]:
        foot, head = _line_of(row, at, "length_centre")
        thick.append((share(foot, head, 0.7), answer.mm(figure(row, "thick_long"))))
    clear = 0.02 * max(at["b"][0], at["c"][0])
    told = []
    for row in rows["bc"]:
        x, y = _line_of(row, at, "length_centre")[0]
        told.append(((x + clear, y), f"{answer.mm(figure(row, 'at'))}: {answer.mm(figure(row, 'thick_long'))}"))
    return [
        *series("ab", marks, "below"),
        *series("ab thick", thick),
        *series("bc", told, anchors=["start"] * len(told)),
    ]


def _says(answer: DrawnAnswer, at: Corners) -> Iterator[str]:
    yield f"edges {', '.join(f'{side.upper()} {answer.mm(length(at, side))}' for side in SIDES)}"
    yield _fall(answer)
    edge, centre = answer.of("diagonal_thin_end"), answer.of("centre_height")
    yield f"edges {edge}, centre {centre}, ridge {answer.of('ridge_length')} long"
    for row in answer.rows("diagonals"):
        mm = {name: answer.mm(figure(row, name)) for name in row if name != "corner"}
        yield (
            f"diagonal {str(row['corner']).upper()} {mm['plan_length']} on plan, {mm['length']} on top, from"
            f" {mm['thin_end']} to {mm['thick_end']}; at the corner a point of"
            f" {show_angle(figure(row, 'outer_bevel_from_square'))} each side, {mm['outer_back']} back; inside"
            f" {mm['inner_past_1']} past at {show_angle(figure(row, 'inner_bevel_1_from_square'))} on the edge before,"
            f" {mm['inner_past_2']} at {show_angle(figure(row, 'inner_bevel_2_from_square'))} on the edge after;"
            f" backing {show_angle(figure(row, 'backing'))} or lowered {mm['drop']}"
        )
    for row in answer.rows():
        mm = {name: answer.mm(figure(row, name)) for name in row if name != "side"}
        bevels = dict.fromkeys(show_angle(figure(row, f"bevel_{hand}_from_square")) for hand in ("left", "right"))
        turn = ""
        if row["break_across"] is not None:
            turn = f", turning {mm['break_across']} across and {mm['break_along']} in"
        yield (
            f"on {str(row['side']).upper()}, at {mm['at']}: left {mm['length_left']}, right {mm['length_right']},"
            f" long point {mm['long_point']}, from {mm['thin_end']} to {mm['thick_long']},"
            f" bevel {' and '.join(bevels)}{turn}"
        )


def _section(answer: DrawnAnswer) -> Drawing:
    """Through the highest point of the deck, square to its two nearest edges."""
    thin, high = answer.number("diagonal_thin_end"), answer.number("centre_height")
    wide = 2 * (high - thin) / (answer.taken("fall", 1.0))
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (wide, 0.0), (wide, thin), (wide / 2, high), (0.0, thin)), "bold", closed=True))
    sheet.put(Line(((wide / 2, 0.0), (wide / 2, high)), "thin"))
    sheet.put(Words((-wide * 0.02, thin / 2), answer.of("diagonal_thin_end"), "end"))
    sheet.put(Words((wide * 1.02, thin / 2), answer.of("diagonal_thin_end"), "start"))
    sheet.put(Words((wide / 2, high), answer.of("centre_height"), beside="above"))
    sheet.put(
        Words((wide / 4, 0.0), answer.mm(wide / 2), beside="below"),
        Words((wide * 0.75, 0.0), answer.mm(wide / 2), beside="below"),
    )
    sheet.put(Words((wide / 4, high * 0.85), _fall(answer)))
    says = (
        f"from {answer.of('diagonal_thin_end')} at the edge to {answer.of('centre_height')} in {answer.mm(wide / 2)}",
        _fall(answer),
    )
    return sheet.drawing("Falls to four edges: section across the deck", says, up_for(wide, high))

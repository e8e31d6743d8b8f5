"""A deck that falls to all four edges: its diagonals, ridge and firrings on plan, and its rise to the middle."""

from collections.abc import Iterator

from sitelog.handover.drawings.pen import Sheet, Told, box, figure, series, up_for
from sitelog.handover.lines import Drawing, Line, Point, Words
from sitelog.quantity import show_angle, show_fall
from sitelog.trade.catalogue import Row

MOST = 40  # firrings of one edge that are drawn


def hipped_falls(t: Told) -> Iterator[Drawing]:
    yield _plan(t)
    yield _section(t)


def _plan(t: Told) -> Drawing:
    """A at 0,0, AB along x; every firring from its edge in to the diagonal or the ridge."""
    long, wide = t.given("length") or 0.0, t.given("width") or 0.0
    half = min(long, wide) / 2
    start, end = (half, half), (long - half, wide - half)
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, long, wide))
    near, far = (start, end) if long >= wide else (start, (half, wide - half))
    end = (long - half, half) if long >= wide else far
    for corner, top in (
        ((0.0, 0.0), near),
        ((long, 0.0), end if long >= wide else near),
        ((long, wide), end),
        ((0.0, wide), near if long >= wide else end),
    ):
        sheet.put(Line((corner, top), "bold"))
    if near != end:
        sheet.put(Line((near, end), "bold"))
    for row in t.rows():
        for line in _both(row, long, wide):
            sheet.put(Line(line, "thin"))
    for name, corner in (("A", (0.0, 0.0)), ("B", (long, 0.0)), ("C", (long, wide)), ("D", (0.0, wide))):
        right = corner[0] > 0
        sheet.put(Words((corner[0] + (0.02 if right else -0.02) * long, corner[1]), name, "start" if right else "end"))
    sheet.put(*_sizes(t, "ab", long, wide), *_sizes(t, "bc", long, wide))
    sheet.put(
        Words((long / 2, wide), f"length {t.mm(long)}, all edges {t.of('diagonal_thin_end')} thick", beside="above")
    )
    sheet.put(Words((-0.02 * long, wide / 2), f"width\n{t.mm(wide)}", "end"))
    centre = ((near[0] + end[0]) / 2, (near[1] + end[1]) / 2)
    ridge = f"ridge {t.of('ridge_length')}, " if t.number("ridge_length") else ""
    sheet.put(Words(centre, f"{ridge}{t.of('centre_height')} thick", beside="above"))
    corner = (long, wide)
    sheet.put(Words(((corner[0] + end[0]) / 2, (corner[1] + end[1]) / 2), f"diagonal\n{t.of('diagonal')}"))
    return sheet.drawing("Falls to four edges: plan, thickness at the high ends", tuple(_says(t)))


def _fall(t: Told) -> str:
    return f"fall {show_fall(t.given('fall') or 0.0)}"


def _both(row: Row, long: float, wide: float) -> Iterator[tuple[Point, Point]]:
    """A firring of AB and the same of CD set out from C, or one of BC and the same of DA set out from D."""
    at, reach = figure(row, "at"), figure(row, "length")
    if row["side"] == "ab":
        yield (at, 0.0), (at, reach)
        yield (long - at, wide), (long - at, wide - reach)
    else:
        yield (long, at), (long - reach, at)
        yield (0.0, wide - at), (reach, wide - at)


def _sizes(t: Told, side: str, long: float, wide: float) -> list[Words]:
    """Where each firring of a side stands, outside the edge, and its thick end, inside it."""
    rows = [row for row in t.rows() if row["side"] == side]
    if side == "ab":
        marks = [((figure(row, "at"), 0.0), t.mm(figure(row, "at"))) for row in rows]
        thick = [((figure(row, "at"), figure(row, "length") * 0.7), t.mm(figure(row, "thick_end"))) for row in rows]
        return [*series("ab", marks, "below"), *series("ab thick", thick)]
    told = [f"{t.mm(figure(row, 'at'))}: {t.mm(figure(row, 'thick_end'))}" for row in rows]
    places = [((long * 1.02, figure(row, "at")), words) for row, words in zip(rows, told, strict=True)]
    return series("bc", places, anchors=["start"] * len(rows))


def _says(t: Told) -> Iterator[str]:
    yield f"deck {t.mm(t.given('length') or 0.0)} x {t.mm(t.given('width') or 0.0)}"
    yield _fall(t)
    yield f"edges {t.of('diagonal_thin_end')}, centre {t.of('centre_height')}, ridge {t.of('ridge_length')} long"
    yield (
        f"diagonals {t.of('diagonal')} on plan, {t.of('diagonal_length')} on top, from {t.of('diagonal_thin_end')} to"
        f" {t.of('diagonal_thick_end')}, backing {t.of('diagonal_backing')} or lowered {t.of('diagonal_drop')}"
    )
    for row in t.rows():
        side = "AB, and CD from C" if row["side"] == "ab" else "BC, and DA from D"
        yield (
            f"on {side}, at {t.mm(figure(row, 'at'))}: {t.mm(figure(row, 'cut_length'))} to the long point, from"
            f" {t.mm(figure(row, 'thin_end'))} to {t.mm(figure(row, 'thick_end'))}, bevel"
            f" {show_angle(figure(row, 'bevel_from_square'))}"
        )


def _section(t: Told) -> Drawing:
    """Through the middle of the deck, across its shorter way."""
    wide = min(t.given("length") or 0.0, t.given("width") or 0.0)
    thin, high = t.number("diagonal_thin_end"), t.number("centre_height")
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (wide, 0.0), (wide, thin), (wide / 2, high), (0.0, thin)), "bold", closed=True))
    sheet.put(Line(((wide / 2, 0.0), (wide / 2, high)), "thin"))
    sheet.put(Words((-wide * 0.02, thin / 2), t.of("diagonal_thin_end"), "end"))
    sheet.put(Words((wide * 1.02, thin / 2), t.of("diagonal_thin_end"), "start"))
    sheet.put(Words((wide / 2, high), t.of("centre_height"), beside="above"))
    sheet.put(
        Words((wide / 4, 0.0), t.mm(wide / 2), beside="below"),
        Words((wide * 0.75, 0.0), t.mm(wide / 2), beside="below"),
    )
    sheet.put(Words((wide / 4, high * 0.85), _fall(t)))
    says = (f"from {t.of('diagonal_thin_end')} at the edge to {t.of('centre_height')} in {t.mm(wide / 2)}", _fall(t))
    return sheet.drawing("Falls to four edges: section across the deck", says, up_for(wide, high))

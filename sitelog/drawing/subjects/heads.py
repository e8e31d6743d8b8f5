"""A dormer's head against what it meets: the curve as read station by station, and its line on each rafter."""

from collections.abc import Iterator
from math import cos, pi

from sitelog.calculators.catalogue import Row
from sitelog.calculators.curves.heads import Head, head
from sitelog.drawing.model import Anchor, Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, box, figure, listed, series
from sitelog.geometry.vectors import sin_deg, tan_deg

PARTS = 64  # straight parts that the curve is drawn with


def ordinates(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The left end of the OUTSIDE at 0,0; the curve as worked, and what was read at each station."""
    head, rows = _head(answer), answer.rows()
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (2 * head.half, 0.0)), "built"), _curve(answer, head))
    for row in rows:
        at, read = figure(row, "at"), figure(row, "read")
        sheet.put(
            Line(((at, 0.0), (at, read)), "thin"),
            Line(((at - head.half * 0.015, read), (at + head.half * 0.015, read)), "built"),
        )
    reads = [((figure(row, "at"), figure(row, "read")), answer.mm(figure(row, "read"))) for row in rows]
    sheet.put(*series("read", reads, "above", _outwards(rows, head)))
    offs = [((figure(row, "at"), figure(row, "read") * 0.5), _signed(answer, figure(row, "off"))) for row in rows]
    sheet.put(*series("off", offs))
    sheet.put(*series("marks", [((figure(row, "at"), 0.0), answer.mm(figure(row, "at"))) for row in rows], "below"))
    sheet.put(Words((-head.half * 0.05, 0.0), "at", "end", beside="below"))
    worst = f"worst {_signed(answer, answer.number('worst'))} at {answer.of('station')}"
    sheet.put(Words((head.half, 0.0), worst, beside="above"))
    says = (worst, listed("stations", [(answer.mm(figure(row, "at")), _station(answer, row)) for row in rows]))
    yield sheet.drawing("Head as measured: against the curve it should have, and how far off", says)


def _station(answer: DrawnAnswer, row: Row) -> str:
    worked, read = answer.mm(figure(row, "worked")), answer.mm(figure(row, "read"))
    return f"should be {worked}, read {read}, {_signed(answer, figure(row, 'off'))}"


def slope_marks(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Square down on the main slope: the left end of the OUTSIDE and the zero at 0,0, lengths up the slope."""
    through = answer.number("rafter_zero")
    yield _face(answer, "Line on the rafters: marks on both edges, up the slope", ("left", "right"), through)
    if answer.given("deck"):
        title = "Line on the sheet over the rafters' edges, up the slope"
        yield _face(answer, title, ("left_deck", "right_deck"), 0.0)
    rafter = answer.given("rafter")
    if rafter:
        through += rafter / tan_deg(answer.taken("pitch", 90.0))
        title = "Line on the rafters' bottom edges, up the slope, seen from above"
        yield _face(answer, title, ("left_under", "right_under"), through)


def _face(answer: DrawnAnswer, title: str, edges: tuple[str, str], further: float) -> Drawing:
    """The marks of both edges on one face of the slope, where the line is so much further up [mm] than on its top."""
    head, rows, thick = _head(answer), answer.rows(), answer.taken("thickness")
    top = (answer.number("crown_up") - answer.number("rafter_zero") + further) * 1.1
    line = _curve(answer, head)
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (2 * head.half, 0.0)), "thin"))
    sheet.put(Line(tuple((x, y + further) for x, y in line.points), "bold"))
    for row in rows:
        at = figure(row, "at")
        sheet.put(box(at - thick / 2, 0.0, at + thick / 2, top, "built"))
    for name, way in zip(edges, (-1, 1), strict=True):
        sheet.put(*_edge_marks(answer, name, way))
    sheet.put(*series("marks", [((figure(row, "at"), 0.0), answer.mm(figure(row, "at"))) for row in rows], "below"))
    sheet.put(Words((-head.half * 0.05, 0.0), "at", "end", beside="below"))
    return sheet.drawing(title, (f"crown {answer.of('crown_up')} up the slope on the rafters", _told(answer, edges)))


def _edge_marks(answer: DrawnAnswer, name: str, way: int) -> list[Words]:
    """The marks on the rafters' left (-1) or right (1) edges."""
    off = way * (answer.taken("thickness")) / 2
    some = [row for row in answer.rows() if row.get(name) is not None]
    marks = [((figure(row, "at") + off, figure(row, name)), answer.mm(figure(row, name))) for row in some]
    anchor: Anchor = "end" if way < 0 else "start"
    return series(name, marks, "", [anchor] * len(marks))


def _told(answer: DrawnAnswer, edges: tuple[str, str]) -> str:
    """Every mark in one line."""
    left, right = edges
    pairs = [
        (
            answer.mm(figure(row, "at")),
            f"left edge {_edge(answer, row, left)}, right edge {_edge(answer, row, right)}",
        )
        for row in answer.rows()
    ]
    return listed("rafter centres, and marks up the slope", pairs)


def _head(answer: DrawnAnswer) -> Head:
    chord, rise = answer.taken("chord"), answer.taken("rise")
    return head(answer.worked.calculator, chord, rise, answer.given("split"), answer.taken("sheet"))


def _curve(answer: DrawnAnswer, head: Head) -> Line:
    """The line, plumb or up the slope, closer where it is steep."""
    slope = sin_deg(answer.taken("pitch", 90.0))
    offs = [-head.reach * cos(pi * n / PARTS) for n in range(PARTS + 1)]
    return Line(tuple((head.half + off, head.height(off) / slope) for off in offs), "bold")


def _outwards(rows: list[Row], head: Head) -> list[Anchor]:
    return [
        "middle" if abs(figure(row, "at") - head.half) < 1e-6 else "end" if figure(row, "at") < head.half else "start"
        for row in rows
    ]


def _signed(answer: DrawnAnswer, off: float) -> str:
    return f"{'+' if off >= 0 else '-'}{answer.mm(abs(off))}"


def _edge(answer: DrawnAnswer, row: Row, name: str) -> str:
    if row.get(name) is None:
        return "not crossed"
    return answer.mm(figure(row, name))

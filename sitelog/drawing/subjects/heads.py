"""A dormer's head against what it meets: the curve as read station by station, and its line on each rafter."""

from collections.abc import Iterator
from math import cos, pi

from sitelog.calculators.catalogue import Row
from sitelog.calculators.curves.heads import Head, head
from sitelog.drawing.model import Anchor, Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, box, figure, listed, series
from sitelog.geometry.vectors import sin_deg

PARTS = 64  # straight parts that the curve is drawn with


def ordinates(t: DrawnAnswer) -> Iterator[Drawing]:
    """The left end of the OUTSIDE at 0,0; the curve as worked, and what was read at each station."""
    one, rows = _head(t), t.rows()
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (2 * one.half, 0.0)), "built"), _curve(t, one))
    for row in rows:
        at, read = figure(row, "at"), figure(row, "read")
        sheet.put(
            Line(((at, 0.0), (at, read)), "thin"),
            Line(((at - one.half * 0.015, read), (at + one.half * 0.015, read)), "built"),
        )
    reads = [((figure(r, "at"), figure(r, "read")), t.mm(figure(r, "read"))) for r in rows]
    sheet.put(*series("read", reads, "above", _outwards(rows, one)))
    offs = [((figure(r, "at"), figure(r, "read") * 0.5), _signed(t, figure(r, "off"))) for r in rows]
    sheet.put(*series("off", offs))
    sheet.put(*series("marks", [((figure(r, "at"), 0.0), t.mm(figure(r, "at"))) for r in rows], "below"))
    sheet.put(Words((-one.half * 0.05, 0.0), "at", "end", beside="below"))
    sheet.put(Words((one.half, 0.0), f"worst {_signed(t, t.number('worst'))} at {t.of('station')}", beside="above"))
    pairs = [
        (
            t.mm(figure(r, "at")),
            f"should be {t.mm(figure(r, 'worked'))}, read {t.mm(figure(r, 'read'))}, {_signed(t, figure(r, 'off'))}",
        )
        for r in rows
    ]
    says = (f"worst {_signed(t, t.number('worst'))} at {t.of('station')}", listed("stations", pairs))
    yield sheet.drawing("Head as measured: against the curve it should have, and how far off", says)


def slope_marks(t: DrawnAnswer) -> Iterator[Drawing]:
    """Square down on the main slope: the left end of the OUTSIDE at 0,0, lengths up the slope."""
    one, rows, thick = _head(t), t.rows(), t.given("thickness") or 0.0
    top = t.number("highest") * 1.1
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (2 * one.half, 0.0)), "thin"), _curve(t, one))
    for row in rows:
        at = figure(row, "at")
        sheet.put(box(at - thick / 2, 0.0, at + thick / 2, top, "built"))
    for name, way, anchor in (("left", -1, "end"), ("right", 1, "start")):
        some = [row for row in rows if row.get(name) is not None]
        places = [(figure(row, "at") + way * thick / 2, figure(row, name)) for row in some]
        told = [(place, t.mm(place[1])) for place in places]
        anchors: list[Anchor] = ["end" if anchor == "end" else "start"] * len(told)
        sheet.put(*series(name, told, "", anchors))
    sheet.put(*series("marks", [((figure(r, "at"), 0.0), t.mm(figure(r, "at"))) for r in rows], "below"))
    sheet.put(Words((-one.half * 0.05, 0.0), "at", "end", beside="below"))
    pairs = [
        (t.mm(figure(r, "at")), f"left edge {_edge(t, r, 'left')}, right edge {_edge(t, r, 'right')}") for r in rows
    ]
    says = (f"crown {t.of('crown_up')} up the slope", listed("rafter centres, and marks up the slope", pairs))
    yield sheet.drawing("Line on the rafters: marks on both edges, up the slope", says)


def _head(t: DrawnAnswer) -> Head:
    chord, rise = t.given("chord") or 0.0, t.given("rise") or 0.0
    return head(t.answer.calculator, chord, rise, t.given("split"), t.given("sheet") or 0.0)


def _curve(t: DrawnAnswer, one: Head) -> Line:
    """The line, plumb or up the slope, closer where it is steep."""
    slope = sin_deg(t.given("pitch") or 90.0)
    offs = [-one.reach * cos(pi * n / PARTS) for n in range(PARTS + 1)]
    return Line(tuple((one.half + off, one.height(off) / slope) for off in offs), "bold")


def _outwards(rows: list[Row], one: Head) -> list[Anchor]:
    return [
        "middle" if abs(figure(r, "at") - one.half) < 1e-6 else "end" if figure(r, "at") < one.half else "start"
        for r in rows
    ]


def _signed(t: DrawnAnswer, off: float) -> str:
    return f"{'+' if off >= 0 else '-'}{t.mm(abs(off))}"


def _edge(t: DrawnAnswer, row: Row, name: str) -> str:
    return "not crossed" if row.get(name) is None else t.mm(figure(row, name))

"""Firrings that give a deck one fall: where they lie on plan, and how thick they are along the fall."""

from collections.abc import Iterator

from sitelog.calculators.decks.firrings import joist_marks
from sitelog.drawing.model import Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, figure, listed, series, up_for
from sitelog.quantities.quantity import show_fall

MOST = 60  # lines of a plan: more are a grey patch, so only every second or third is drawn


def firrings(t: DrawnAnswer) -> Iterator[Drawing]:
    across_them = t.word("laid") == "across"
    yield _steps(t) if across_them else _taper(t)
    if across_them or t.given("length"):
        yield _plan_across(t) if across_them else _plan_along(t)


def _fall(t: DrawnAnswer) -> str:
    return f"fall {show_fall(t.given('fall') or 0.0)}"


def _taper(t: DrawnAnswer) -> Drawing:
    """One firring from the side: the low end at 0, its underside level."""
    span, thin, thick = t.given("span") or 0.0, t.number("thin_end"), t.number("thick_end")
    up = up_for(span, thick)
    tick = span * 0.01
    sheet = Sheet.new()
    corners = ((0.0, 0.0), (span, 0.0), (span, thick), (0.0, thin))
    sheet.put(Line(corners if thin else corners[:3], "bold", closed=True))
    sheet.put(Words((-tick, thin / 2), f"thin end\n{t.of('thin_end')}", "end"))
    sheet.put(Words((span + tick, thick / 2), f"thick end\n{t.of('thick_end')}", "start"))
    sheet.put(across(0.0, span, -thick * 0.3, f"span {t.size('span')}", tick=thick * 0.08, beside="below"))
    sheet.put(Words((span / 2, (thin + thick) / 2), _fall(t), beside="above"))
    says = (f"thin end {t.of('thin_end')}, thick end {t.of('thick_end')}, span {t.size('span')}, {_fall(t)}",)
    return sheet.drawing("Firring: from the side, low end on the left", says, up)


def _steps(t: DrawnAnswer) -> Drawing:
    """Firrings across the joists seen end on, each of one thickness at its mark from the low end."""
    span, rows = t.given("span") or 0.0, t.rows()
    thin, thick = t.number("thin_end"), t.number("thick_end")
    up = up_for(span, thick)
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (span, 0.0)), "built"), Line(((0.0, thin), (span, thick)), "hidden"))
    marks = [(figure(row, "at"), figure(row, "thickness")) for row in rows]
    sheet.put(*(Line(((at, 0.0), (at, size)), "bold") for at, size in marks if size > 0))
    sheet.put(*series("sizes", [((at, size), t.mm(size)) for at, size in marks], "above"))
    sheet.put(*series("marks", [((at, 0.0), t.mm(at)) for at, _ in marks], "below"))
    sheet.put(Words((-span * 0.03, 0.0), "at", "end", beside="below"))
    sheet.put(Words((-span * 0.03, thin), "thick", "end", beside="above"))
    said = f"{len(rows)} firrings, {_fall(t)}"
    sheet.put(Words((span * 0.3, thick), said))
    says = (said, listed("from the low end along, thick", [(t.mm(at), t.mm(size)) for at, size in marks], " "))
    return sheet.drawing("Firrings across the joists: end on, low end left", says, up)


def _plan_along(t: DrawnAnswer) -> Drawing:
    """Low edge below; the firrings run up the sheet, x along the deck."""
    span, length, count = t.given("span") or 0.0, t.given("length") or 0.0, int(t.number("count"))
    places = joist_marks(*(t.given(name) or 0.0 for name in ("length", "spacing", "joist", "clear")))
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, length, span))
    sheet.put(*(Line(((x, 0.0), (x, span)), "thin") for x in places[:: len(places) // MOST + 1]))
    sheet.put(Words((length / 2, 0.0), f"low edge: thin end {t.of('thin_end')}", beside="below"))
    sheet.put(Words((length / 2, span), f"high edge: thick end {t.of('thick_end')}", beside="above"))
    sheet.put(Words((length * 1.02, span / 2), f"span\n{t.size('span')}", "start"))
    sheet.put(Words((length / 2, span * 0.35), f"{count} at {t.size('spacing')}\nlength {t.size('length')}"))
    sheet.put(*series("marks", [((x, span * 0.1), t.mm(x)) for x in places[1:-1]]))
    sheet.put(Words((-length * 0.02, span * 0.1), "at", "end"))
    says = (
        f"{count} firrings at {t.size('spacing')} over {t.size('length')}, each {t.size('span')} long",
        f"centres from the left end: {', '.join(map(t.mm, places))}",
        f"thin end {t.of('thin_end')} at the low edge, thick end {t.of('thick_end')} at the high edge",
    )
    return sheet.drawing("Firrings along the joists: plan", says)


def _plan_across(t: DrawnAnswer) -> Drawing:
    """Low edge below; the firrings lie level across the sheet, y up the fall."""
    span, rows = t.given("span") or 0.0, t.rows()
    length = t.given("length") or span
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, length, span))
    sheet.put(*(Line(((0.0, figure(row, "at")), (length, figure(row, "at"))), "thin") for row in rows))
    marks = [(figure(row, "at"), f"{row['n']}: {t.mm(figure(row, 'thickness'))}") for row in rows]
    sheet.put(*series("sizes", [((length * 1.02, at), size) for at, size in marks], anchors=["start"] * len(marks)))
    sheet.put(*series("marks", [((-length * 0.02, at), t.mm(at)) for at, _ in marks], anchors=["end"] * len(marks)))
    sheet.put(Words((-length * 0.02, span), "at", "end", beside="above"))
    sheet.put(Words((length * 1.02, span), "thick", "start", beside="above"))
    sheet.put(
        Words((length / 2, 0.0), "low edge", beside="below"), Words((length / 2, span), "high edge", beside="above")
    )
    if t.given("length"):
        sheet.put(Words((length / 2, span * 0.45), f"length {t.size('length')}"))
    says = (
        f"length {t.size('length')}" if t.given("length") else "the length is not given",
        listed("from the low end along, firring and thickness", [(t.mm(at), size) for at, size in marks], " "),
    )
    return sheet.drawing("Firrings across the joists: plan", says)

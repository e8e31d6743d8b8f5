"""Firrings that give a deck one fall: where they lie on plan, and how thick they are along the fall."""

from collections.abc import Iterator

from sitelog.calculators.decks.firrings import joist_marks
from sitelog.drawing.model import Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, figure, listed, series, up_for
from sitelog.quantities.quantity import show_fall

MOST = 60  # lines of a plan: more are a grey patch, so only every second or third is drawn


def firrings(answer: DrawnAnswer) -> Iterator[Drawing]:
    """A firring from the side, or those across the joists end on; then their plan, where the deck has a length."""
    across_them = answer.word("laid") == "across"
    yield _steps(answer) if across_them else _taper(answer)
    if across_them or answer.given("length"):
        yield _plan_across(answer) if across_them else _plan_along(answer)


def _fall(answer: DrawnAnswer) -> str:
    return f"fall {show_fall(answer.given('fall') or 0.0)}"


def _taper(answer: DrawnAnswer) -> Drawing:
    """One firring from the side: the low end at 0, its underside level."""
    span, thin, thick = answer.taken("span"), answer.number("thin_end"), answer.number("thick_end")
    up = up_for(span, thick)
    tick = span * 0.01
    sheet = Sheet.new()
    corners = ((0.0, 0.0), (span, 0.0), (span, thick), (0.0, thin))
    sheet.put(Line(corners if thin else corners[:3], "bold", closed=True))
    sheet.put(Words((-tick, thin / 2), f"thin end\n{answer.of('thin_end')}", "end"))
    sheet.put(Words((span + tick, thick / 2), f"thick end\n{answer.of('thick_end')}", "start"))
    sheet.put(across(0.0, span, -thick * 0.3, f"span {answer.size('span')}", tick=thick * 0.08, beside="below"))
    sheet.put(Words((span / 2, (thin + thick) / 2), _fall(answer), beside="above"))
    says = (
        f"thin end {answer.of('thin_end')}, thick end {answer.of('thick_end')},"
        f" span {answer.size('span')}, {_fall(answer)}",
    )
    return sheet.drawing("Firring: from the side, low end on the left", says, up)


def _steps(answer: DrawnAnswer) -> Drawing:
    """Firrings across the joists seen end on, each of one thickness at its mark from the low end."""
    span, rows = answer.taken("span"), answer.rows()
    thin, thick = answer.number("thin_end"), answer.number("thick_end")
    up = up_for(span, thick)
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (span, 0.0)), "built"), Line(((0.0, thin), (span, thick)), "hidden"))
    marks = [(figure(row, "at"), figure(row, "thickness")) for row in rows]
    sheet.put(*(Line(((at, 0.0), (at, size)), "bold") for at, size in marks if size > 0))
    sheet.put(*series("sizes", [((at, size), answer.mm(size)) for at, size in marks], "above"))
    sheet.put(*series("marks", [((at, 0.0), answer.mm(at)) for at, _ in marks], "below"))
    sheet.put(Words((-span * 0.03, 0.0), "at", "end", beside="below"))
    sheet.put(Words((-span * 0.03, thin), "thick", "end", beside="above"))
    said = f"{len(rows)} firrings, {_fall(answer)}"
    sheet.put(Words((span * 0.3, thick), said))
    says = (
        said,
        listed("from the low end along, thick", [(answer.mm(at), answer.mm(size)) for at, size in marks], " "),
    )
    return sheet.drawing("Firrings across the joists: end on, low end left", says, up)


def _plan_along(answer: DrawnAnswer) -> Drawing:
    """Low edge below; the firrings run up the sheet, x along the deck."""
    span, length, count = answer.taken("span"), answer.taken("length"), int(answer.number("count"))
    places = joist_marks(*(answer.given(name) or 0.0 for name in ("length", "spacing", "joist", "clear")))
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, length, span))
    sheet.put(*(Line(((x, 0.0), (x, span)), "thin") for x in places[:: len(places) // MOST + 1]))
    sheet.put(Words((length / 2, 0.0), f"low edge: thin end {answer.of('thin_end')}", beside="below"))
    sheet.put(Words((length / 2, span), f"high edge: thick end {answer.of('thick_end')}", beside="above"))
    sheet.put(Words((length * 1.02, span / 2), f"span\n{answer.size('span')}", "start"))
    sheet.put(Words((length / 2, span * 0.35), f"{count} at {answer.size('spacing')}\nlength {answer.size('length')}"))
    sheet.put(*series("marks", [((x, span * 0.1), answer.mm(x)) for x in places[1:-1]]))
    sheet.put(Words((-length * 0.02, span * 0.1), "at", "end"))
    says = (
        f"{count} firrings at {answer.size('spacing')} over {answer.size('length')}, each {answer.size('span')} long",
        f"centres from the left end: {', '.join(map(answer.mm, places))}",
        f"thin end {answer.of('thin_end')} at the low edge, thick end {answer.of('thick_end')} at the high edge",
    )
    return sheet.drawing("Firrings along the joists: plan", says)


def _plan_across(answer: DrawnAnswer) -> Drawing:
    """Low edge below; the firrings lie level across the sheet, y up the fall."""
    span, rows = answer.taken("span"), answer.rows()
    length = answer.given("length") or span
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, length, span))
    sheet.put(*(Line(((0.0, figure(row, "at")), (length, figure(row, "at"))), "thin") for row in rows))
    marks = [(figure(row, "at"), f"{row['n']}: {answer.mm(figure(row, 'thickness'))}") for row in rows]
    sheet.put(*series("sizes", [((length * 1.02, at), size) for at, size in marks], anchors=["start"] * len(marks)))
    sheet.put(
        *series("marks", [((-length * 0.02, at), answer.mm(at)) for at, _ in marks], anchors=["end"] * len(marks))
    )
    sheet.put(Words((-length * 0.02, span), "at", "end", beside="above"))
    sheet.put(Words((length * 1.02, span), "thick", "start", beside="above"))
    sheet.put(
        Words((length / 2, 0.0), "low edge", beside="below"), Words((length / 2, span), "high edge", beside="above")
    )
    if answer.given("length"):
        sheet.put(Words((length / 2, span * 0.45), f"length {answer.size('length')}"))
    says = (
        f"length {answer.size('length')}" if answer.given("length") else "the length is not given",
        listed("from the low end along, firring and thickness", [(answer.mm(at), size) for at, size in marks], " "),
    )
    return sheet.drawing("Firrings across the joists: plan", says)

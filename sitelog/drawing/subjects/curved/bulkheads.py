"""A bulkhead round a level ceiling: seen from the dormer, and the side of a rafter with every trimmer's faces."""

from collections.abc import Iterator
from math import cos, pi

from sitelog.calculators.catalogue import Row, Working
from sitelog.calculators.curves.bulkhead import BulkheadInputs
from sitelog.calculators.curves.segments import Segment
from sitelog.drawing.model import Anchor, Drawing, Line, Point, Words, rightward
from sitelog.drawing.pen import DrawnAnswer, Sheet, box, figure, listed, series
from sitelog.drawing.subjects.curved.soffits import rafter_side
from sitelog.geometry.vectors import cos_deg
from sitelog.quantities.quantity import show_angle

PARTS = 64  # straight parts that a curve is drawn with


def bulkhead(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The elevation, the left end of the OUTSIDE at 0,0; then a rafter laid level."""
    yield _elevation(answer)
    steps = [row for row in answer.rows("trimmers") if row["place"] != "right"]
    thick = (answer.taken("trimmer")) * (answer.taken("layers", 1.0))
    marks, said = [], []
    for row in reversed(steps):
        front = figure(row, "under_along")
        marks += [(front, front), (front + thick, front + thick)]
        said += [f"step {row['step']}, front", f"step {row['step']}, back"]
    yield rafter_side(answer, "Bulkhead: side of a rafter, fronts and backs of the trimmers", marks, said)


def _elevation(answer: DrawnAnswer) -> Drawing:
    """x level from the left end of the OUTSIDE, y up from the springing; trimmers as deep as they show."""
    ceiling = BulkheadInputs.filled("bulkhead", answer.worked.inputs).ceiling("bulkhead", Working())
    outside, curve, middle = ceiling.outside, ceiling.curve, ceiling.outside.chord / 2
    deep = (answer.taken("rafter")) * cos_deg(answer.taken("pitch"))
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (2 * middle, 0.0)), "thin"))
    sheet.put(Line(_run(outside, middle), "hidden"), Line(_run(curve, middle), "bold"))
    says = []
    for row in answer.rows("trimmers"):
        start, end, height = figure(row, "from_at"), figure(row, "to_at"), figure(row, "height")
        sheet.put(box(start, height, end, height + deep))
        told = f"step {row['step']}: {answer.mm(height)} up, {answer.mm(figure(row, 'length'))} clear"
        if row["place"] == "centre":
            sheet.put(Words((middle, height + deep), told, beside="above"))
        elif row["place"] == "left":
            sheet.put(Words((start, height + deep), told, "end"))
        says.append(_trimmer(answer, row))
    hangers = answer.rows("hangers")
    _hangers(sheet, answer, hangers)
    heads = f"heads of hangers {answer.of('head_cut_from_square')} from square"
    sheet.put(Words((middle, 0.0), f"{heads},\nlengths at their feet", beside="above"))
    pairs = [(answer.mm(figure(row, "at")), _hanger(answer, row)) for row in hangers]
    says += [heads, listed("hangers from the left end of the outside", pairs)]
    return sheet.drawing("Bulkhead: seen from the dormer, outside dashed", says)


def _run(curve: Segment, middle: float) -> tuple[Point, ...]:
    """The curve about its middle [mm], its points closer where it is steep."""
    offs = [-curve.chord / 2 * cos(pi * n / PARTS) for n in range(PARTS + 1)]
    return tuple((middle + off, curve.height(off)) for off in offs)


def _hangers(sheet: Sheet, answer: DrawnAnswer, hangers: list[Row]) -> None:
    """Each hanger from its trimmer down to the ceiling's curve, its length under its foot and its mark below."""
    heights = {row["step"]: figure(row, "height") for row in answer.rows("trimmers")}
    feet = []
    for row in hangers:
        at, top = figure(row, "at"), heights[row["step"]]
        foot = top - figure(row, "length")
        sheet.put(Line(((at, top), (at, foot)), "built"))
        feet.append(((at, foot), answer.mm(figure(row, "length"))))
    sheet.put(*series("lengths", feet, "below", [_inwards(nth, len(feet)) for nth in range(len(feet))]))
    sheet.put(*series("marks", [((at, 0.0), answer.mm(at)) for (at, _), _ in feet], "below"))
    left = figure(hangers[0], "at") - answer.number("soffit_height") * 0.05
    sheet.put(Words((left, 0.0), "at", "end", beside="below"))


def _inwards(nth: int, count: int) -> Anchor:
    """Which way words lead from their mark, so that they keep clear of a curve that is highest in its middle."""
    if nth == count // 2:
        return "middle"
    return rightward(nth < count // 2)


def _trimmer(answer: DrawnAnswer, row: Row) -> str:
    sizes = {name: answer.mm(figure(row, name)) for name in ("height", "length", "from_at", "to_at", "most_drop")}
    told = (
        f"step {row['step']} {row['place']}: underside {sizes['height']} over the springing, {sizes['length']} clear"
        f" from {sizes['from_at']} to {sizes['to_at']}, longest drop {sizes['most_drop']},"
        f" front {answer.mm(figure(row, 'under_along'))} up the slope"
    )
    if row["rafter_between"] is None:
        return told
    return f"{told}, {answer.mm(figure(row, 'rafter_between'))} of rafter to the step above"


def _hanger(answer: DrawnAnswer, row: Row) -> str:
    cut = show_angle(figure(row, "foot_cut_from_square"))
    return f"{answer.mm(figure(row, 'length'))} long, foot {cut}, step {row['step']}"

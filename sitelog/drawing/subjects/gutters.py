"""A box gutter cut along its length: the sole stepped down by its drips, and its depths under level upstands."""

from collections.abc import Iterator
from itertools import pairwise

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, series, up_for
from sitelog.quantities.quantity import show_fall


def gutter(t: DrawnAnswer) -> Iterator[Drawing]:
    """The outlet at 0,0 on the left; levels over its sole."""
    levels, length = t.rows("levels"), t.given("length") or 0.0
    rise, head, water = t.number("rise"), t.number("depth_head"), t.number("water_depth")
    top = rise + head
    sheet = Sheet.new()
    sole: list[Point] = []
    for row in levels:
        at, foot, step = (figure(row, name) for name in ("at", "foot", "top"))
        sole += [(at, foot), (at, step)] if step > foot else [(at, foot)]
    sheet.put(Line(tuple(sole), "bold"), Line(((0.0, top), (length, top)), "built"))
    sheet.put(Line(((0.0, 0.0), (0.0, top)), "built"), Line(((length, rise), (length, top)), "built"))
    for low, high in pairwise(levels):
        start, end = (figure(low, "at"), figure(low, "top")), (figure(high, "at"), figure(high, "foot"))
        sheet.put(Line(((start[0], start[1] + water), (end[0], end[1] + water)), "hidden"))
    marks = [((figure(row, "at"), 0.0), t.mm(figure(row, "at"))) for row in levels]
    sheet.put(*series("marks", marks, "below"))
    sheet.put(Words((-length * 0.02, 0.0), "at", "end", beside="below"))
    drips = [row for row in levels if figure(row, "top") > figure(row, "foot")]
    sheet.put(
        *series("foot", [((figure(r, "at"), figure(r, "foot")), t.mm(figure(r, "foot"))) for r in drips], "below")
    )
    sheet.put(*series("top", [((figure(r, "at"), figure(r, "top")), t.mm(figure(r, "top"))) for r in drips], "above"))
    sheet.put(Words((length, rise), f"head {t.of('rise')}", "end", beside="below"))
    sheet.put(Words((-length * 0.02, top / 2), f"outlet\n{t.of('depth_outlet')} deep", "end"))
    sheet.put(Words((length * 1.02, rise + head / 2), f"{t.of('depth_head')}\ndeep", "start"))
    bay = figure(levels[-2], "at")
    sheet.put(Words(((bay + length) / 2, rise + water), f"water {t.of('water_depth')}", beside="above"))
    count, fall = int(t.number("bays")), show_fall(t.given("fall") or 0.0)
    said = f"{count} bays of {t.of('bay_length')}" if count > 1 else f"1 bay of {t.of('bay_length')}"
    drip = f", drips {t.of('drip')}" if count > 1 else ""
    sheet.put(Words((length / 2, top), f"{said}{drip}, fall {fall}", beside="above"))
    says = [
        f"{said}{drip}, fall {fall}, sole {t.size('sole')} wide",
        f"depth at the outlet {t.of('depth_outlet')}, at the head {t.of('depth_head')}, water {t.of('water_depth')}",
        *(
            f"{t.mm(figure(row, 'at'))} from the outlet: sole {t.mm(figure(row, 'foot'))}"
            + (f", above the drip {t.mm(figure(row, 'top'))}" if figure(row, "top") > figure(row, "foot") else "")
            for row in levels
        ),
    ]
    yield sheet.drawing(
        "Gutter: along its length, outlet left, water dashed",
        tuple(says),
        up_for(length, top),
    )

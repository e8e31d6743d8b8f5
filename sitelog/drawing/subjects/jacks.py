"""The jacks of one side, laid out on their slope as they are set out: marks along the plate, lengths to long point."""

from collections.abc import Iterator
from math import cos, radians

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Anchor, Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, listed, series


def jacks(t: DrawnAnswer) -> Iterator[Drawing]:
    """x along the plate from the corner at 0, to the left for side 1 as it is seen from outside; y up the slope.

    On a hip the jacks stand on the plate, on a valley they hang from the ridge.
    """
    rows, half = t.rows(), (t.given("thickness") or 0.0) / 2
    way = -1.0 if t.given("side") == 1 else 1.0
    on = t.word("on")
    ridge = (t.given("run") or 0.0) / cos(radians(t.number("plumb_cut_from_square")))
    sheet = Sheet.new()
    for row in rows:
        sheet.put(Line(_jack(row, half, way, ridge if on == "valley" else None), "built", closed=True))
    _ends(sheet, t, way, ridge)
    outward: Anchor = "start" if (way < 0) == (on == "hip") else "end"
    told = [t.mm(figure(row, "length_long_point")) for row in rows]
    if on == "hip":
        tops = [
            ((way * figure(r, "at"), figure(r, "length_long_point")), size) for r, size in zip(rows, told, strict=True)
        ]
        sheet.put(*series("long", tops, "above", [outward] * len(rows)))
    else:
        feet = [
            ((way * figure(r, "at"), ridge - figure(r, "length_long_point")), size)
            for r, size in zip(rows, told, strict=True)
        ]
        sheet.put(*series("long", feet, "below", ["end" if way < 0 else "start"] * len(rows)))
    marks = [((way * figure(row, "at"), 0.0 if on == "hip" else ridge), t.mm(figure(row, "at"))) for row in rows]
    sheet.put(*series("marks", marks, "below" if on == "hip" else "above"))
    edge: Anchor = "start" if way < 0 else "end"
    sheet.put(Words((0.0, 0.0 if on == "hip" else ridge), "at", edge, beside="below" if on == "hip" else "above"))
    cuts = [
        f"each to the next {t.of('difference')}",
        f"edge bevel {t.of('edge_bevel_from_square')} from square",
        f"saw tilt {t.of('saw_tilt')}, plumb cut {t.of('plumb_cut_from_square')}",
    ]
    far = figure(rows[-1], "at")
    corner = (0.08, 0.9) if on == "hip" else (0.75, 0.1)
    sheet.put(
        Words(
            (way * far * corner[0], (ridge if on == "valley" else _top(rows)) * corner[1]),
            "\n".join(cuts),
            edge if on == "hip" else "middle",
        )
    )
    says = (
        f"{len(rows)} jacks, side {t.count('side')} of the {on}, as many again of the other hand",
        listed(
            "marks from the corner, lengths to the long point",
            [(t.mm(figure(row, "at")), size) for row, size in zip(rows, told, strict=True)],
            " ",
        ),
        listed(
            "lengths on the centre and to the short point",
            [
                (
                    t.mm(figure(row, "at")),
                    f"{t.mm(figure(row, 'length_centre'))} and {t.mm(figure(row, 'length_short_point'))}",
                )
                for row in rows
            ],
            " ",
        ),
        *cuts,
    )
    title = f"Jacks to the {on}, side {t.count('side')}: on the slope, lengths to long point"
    yield sheet.drawing(title, says)


def _jack(row: Row, half: float, way: float, ridge: float | None) -> tuple[Point, ...]:
    """Round a jack: on a hip its long point is on the face away from the corner, on a valley on the other."""
    at, long, short = figure(row, "at"), figure(row, "length_long_point"), figure(row, "length_short_point")
    near, far = way * (at - half), way * (at + half)
    if ridge is None:
        return (near, 0.0), (far, 0.0), (far, long), (near, short)
    return (near, ridge), (far, ridge), (far, ridge - short), (near, ridge - long)


def _top(rows: list[Row]) -> float:
    return max(figure(row, "length_long_point") for row in rows)


def _ends(sheet: Sheet, t: DrawnAnswer, way: float, ridge: float) -> None:
    """The plate or the ridge that they stand against, and the near face of the hip or valley."""
    rows, half, rate = t.rows(), (t.given("thickness") or 0.0) / 2, t.number("difference") / (t.given("spacing") or 1.0)
    first, last = rows[0], figure(rows[-1], "at") + 2 * half
    hip = t.word("on") == "hip"
    level = 0.0 if hip else ridge
    sheet.put(Line(((0.0, level), (way * last, level)), "built"))
    at, size = figure(first, "at"), figure(first, "length_centre")
    if hip:
        foot = at - size / rate
        sheet.put(Line(((way * foot, 0.0), (way * last, rate * (last - foot))), "bold"))
    else:
        start = max(at - (ridge - size) / rate, 0.0) if rate else 0.0
        sheet.put(
            Line(
                ((way * start, ridge - size - rate * (at - start)), (way * last, ridge - size + rate * (last - at))),
                "bold",
            )
        )

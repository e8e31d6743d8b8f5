"""A dormer's line through the sheet of the main slope, on top and beneath, and its line at the ceiling."""

from collections.abc import Callable, Iterator, Sequence
from math import cos, pi

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Anchor, Drawing, Line, Point, Stroke, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, listed, series
from sitelog.geometry.vectors import sin_deg
from sitelog.quantities.quantity import show_angle

PARTS = 64  # straight parts that a curve is drawn with between its stations
Height = Callable[[float], float]  # mm over the springing, so many mm from the left end


def deck_cuts(answer: DrawnAnswer, called: str, outside: Height, ceiling: Height) -> Iterator[Drawing]:
    """Square down on the main slope, the zero at 0,0, x across and y up it: the cut in its sheet, then the ceiling."""
    if answer.rows("lower_rows"):
        yield _cut(answer, called, outside)
    if answer.rows("ceiling_rows"):
        yield _ceiling(answer, called, ceiling)


def _cut(answer: DrawnAnswer, called: str, height: Height) -> Drawing:
    top, lower = answer.rows("rows"), answer.rows("lower_rows")
    shift = answer.number("deck_shift")
    sheet = Sheet.new()
    width = figure(top[-1], "at")
    slope = sin_deg(answer.taken("pitch", 90.0))
    _line(sheet, answer, lower, lambda at: height(at) / slope + shift, "hidden")
    sheet.put(Line(_points(top, lambda at: height(at) / slope), "bold"))
    leans = [show_angle(figure(row, "back_cut_from_square")) for row in top]
    inner = [((figure(row, "at"), figure(row, "along_slope")), lean) for row, lean in zip(top, leans, strict=True)]
    sheet.put(*series("leans", inner[1:-1], "below", _anchors(len(inner) - 2, ("start", "end"))))
    beneath = f"line beneath {answer.of('deck_shift')} further up"
    sheet.put(Words((width / 2, height(width / 2) / slope * 0.4), f"sizes: {beneath}\nangles: saw from square"))
    pairs = [
        (answer.mm(figure(row, "at")), f"{answer.mm(figure(under, 'along_slope'))}, saw {lean}")
        for row, under, lean in zip(top, lower, leans, strict=True)
    ]
    says = (
        f"sheet {answer.size('deck')} thick: {beneath}, {answer.of('deck_shift_level')} level back",
        listed("from the left end along, up the slope to the line beneath, and the saw from square", pairs, " "),
    )
    return sheet.drawing(f"{called}: cut through the main slope's sheet, line beneath dashed", says)


def _ceiling(answer: DrawnAnswer, called: str, height: Height) -> Drawing:
    rows = answer.rows("ceiling_rows")
    slope = sin_deg(answer.taken("pitch", 90.0))
    ends = figure(rows[0], "along_slope") - figure(rows[0], "height") / slope
    sheet = Sheet.new()
    _line(sheet, answer, rows, lambda at: height(at) / slope + ends, "bold")
    inside, below = answer.size("inside"), answer.size("below")
    told = f"{inside} inside the outside\n{below} under the main slope's sheet"
    middle = (figure(rows[0], "at") + figure(rows[-1], "at")) / 2
    sheet.put(Words((middle, (height(middle) / slope + ends) * 0.4), told))
    pairs = [(answer.mm(figure(row, "at")), answer.mm(figure(row, "along_slope"))) for row in rows]
    says = (
        f"ceiling {inside} inside the outside, {below} under the main slope's sheet",
        listed("from the left end along, and up the slope", pairs, " "),
    )
    return sheet.drawing(f"{called}: line at the ceiling, up the slope from under the zero", says)


def _line(sheet: Sheet, answer: DrawnAnswer, rows: Sequence[Row], up: Height, stroke: Stroke) -> None:
    """A line on the slope, each ordinate, its size over it and its mark below; `up` is up the slope at a mark [mm]."""
    places = [(figure(row, "at"), figure(row, "along_slope")) for row in rows]
    left, right = places[0][0], places[-1][0]
    sheet.put(Line(((left, 0.0), (right, 0.0)), "thin"))
    sheet.put(Line(_points(rows, up), stroke))
    sheet.put(*(Line(((at, 0.0), (at, size)), "thin") for at, size in places))
    sizes = [((at, size), answer.mm(size)) for at, size in places]
    sheet.put(*series("sizes", sizes, "above", _anchors(len(sizes), ("end", "start"))))
    sheet.put(*series("marks", [((at, 0.0), answer.mm(at)) for at, _ in places], "below"))
    sheet.put(Words((left - (right - left) * 0.03, 0.0), "at", "end", beside="below"))


def _points(rows: Sequence[Row], up: Height) -> tuple[Point, ...]:
    """Through the stations, with points between them that are closer where a curve is steep."""
    stations = [figure(row, "at") for row in rows]
    half = (stations[-1] - stations[0]) / 2
    between = [stations[0] + half * (1 - cos(pi * n / PARTS)) for n in range(1, PARTS)]
    own = [at for at in between if min(abs(at - station) for station in stations) > 1e-6]
    return tuple((at, up(at)) for at in sorted((*stations, *own)))


def _anchors(count: int, ways: tuple[Anchor, Anchor]) -> list[Anchor]:
    """Which way words lead from their marks left and right of the middle."""
    half = count // 2
    middle: list[Anchor] = ["middle"] if count % 2 else []
    return [*[ways[0]] * half, *middle, *[ways[1]] * half]

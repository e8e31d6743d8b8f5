"""Curved heads: the curve over its springing with every ordinate, and the line it makes on the main slope."""

from collections.abc import Callable, Iterator, Sequence
from math import cos, pi

from sitelog.calculators.catalogue import Row
from sitelog.calculators.curves.eyebrows import Eyebrow
from sitelog.calculators.curves.segments import Segment
from sitelog.drawing.model import Anchor, Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, listed, series
from sitelog.geometry.vectors import sin_deg

PARTS = 64  # straight parts that a curve is drawn with between its stations
Height = Callable[[float], float]  # mm over the springing, so many mm from the left end


def arc(t: DrawnAnswer) -> Iterator[Drawing]:
    said = (
        f"radius {t.of('radius')}",
        f"centre {t.of('centre_below_chord')} below the chord",
        f"{t.of('arc_length')} along the arc",
    )
    one = Segment(t.number("chord"), t.number("rise"), t.number("radius"))
    yield _elevation(t, "Arc: heights over its chord", lambda at: one.height(at - one.chord / 2), said)


def barrel(t: DrawnAnswer) -> Iterator[Drawing]:
    radius = t.number("semi_axis_across")
    pitch = t.given("pitch") or 0.0
    rise = t.number("ridge_up_slope") * sin_deg(pitch)
    one = Segment(figure(t.rows()[-1], "at"), rise, radius)
    said = (
        f"ellipse {t.of('semi_axis_across')} across,",
        f"{t.of('semi_axis_up_slope')} up the slope,",
        f"centre {t.of('centre_down_slope')} down",
        f"{t.of('line_length')} along the line",
    )
    sheet = t.given("sheet") or 0.0
    inner = one.inside(sheet) if sheet else None

    def inside(at: float) -> float:
        return inner.height(at - one.chord / 2) if inner else 0.0

    yield _elevation(
        t,
        "Barrel: outside curve over its springing",
        lambda at: one.height(at - one.chord / 2),
        (f"radius {t.mm(radius)}", f"rise {t.mm(rise)}", f"crown {t.of('ridge_back')} level back"),
    )
    yield _on_slope(t, "Barrel: its line on the main slope", lambda at: one.height(at - one.chord / 2), inside, said)


def eyebrow(t: DrawnAnswer) -> Iterator[Drawing]:
    half = (t.given("width") or 0.0) / 2
    crown_half = half - t.number("tangent_at")
    one = Eyebrow(half, t.given("rise") or 0.0, crown_half, t.number("crown_radius"), t.number("wing_radius"))
    said = (
        f"radius of crown {t.of('crown_radius')}",
        f"radius of wings {t.of('wing_radius')}",
        f"meet at {t.of('tangent_at')}, {t.of('tangent_height')} up, {t.of('tangent_angle')}",
    )
    yield _elevation(t, "Eyebrow: heights over its ends", one.height, said)
    if t.given("pitch") is not None:
        back = (f"crown {t.of('ridge_back')} level back",)
        yield _on_slope(t, "Eyebrow: its line on the main slope", one.height, None, back)


def _elevation(t: DrawnAnswer, title: str, height: Height, said: tuple[str, ...]) -> Drawing:
    """Square on to the curve: the springing at 0, heights plumb."""
    rows = t.rows()
    sheet = Sheet.new()
    _curve(sheet, t, rows, "height", height)
    width = figure(rows[-1], "at")
    sheet.put(Words((width / 2, height(width / 2) * 0.45), "\n".join(said)))
    return sheet.drawing(title, (_span(t, width), *said, *_told(t, rows, "height", "up")))


def _on_slope(t: DrawnAnswer, title: str, height: Height, inside: Height | None, said: tuple[str, ...]) -> Drawing:
    """Square down on the main slope: the springing at 0, lengths up the slope."""
    rows, inner, slope = t.rows(), t.rows("inner_rows"), sin_deg(t.given("pitch") or 90.0)
    sheet = Sheet.new()
    _curve(sheet, t, rows, "along_slope", lambda at: height(at) / slope)
    width = figure(rows[-1], "at")
    says = [_span(t, width), *said, *_told(t, rows, "along_slope", "up the slope")]
    if inner and inside is not None:
        ends = figure(inner[0], "at"), figure(inner[-1], "at")
        sheet.put(Line(tuple((at, inside(at) / slope) for at in _marks(inner, *ends)), "hidden"))
        marks = [((figure(r, "at"), figure(r, "along_slope")), t.mm(figure(r, "along_slope"))) for r in inner[1:-1]]
        sheet.put(*series("inner", marks, "below", _anchors(len(marks), inward=True)))
        says += _told(t, inner, "along_slope", "up the slope, inside the sheet")
        says.append(f"sheet {t.size('sheet')}")
    sheet.put(
        Words(
            (width / 2, height(width / 2) / slope * 0.4),
            "\n".join((*said, *(("dashed: inside the sheet",) if inner else ()))),
        )
    )
    return sheet.drawing(title, tuple(says))


def _curve(sheet: Sheet, t: DrawnAnswer, rows: list[Row], name: str, size: Height) -> None:
    """The line through its stations, each ordinate, its size over it and its mark under it."""
    width = figure(rows[-1], "at")
    stations = [(figure(row, "at"), figure(row, name)) for row in rows]
    sheet.put(Line(((0.0, 0.0), (width, 0.0)), "built"))
    sheet.put(Line(tuple((at, size(at)) for at in _marks(rows, 0.0, width)), "bold"))
    sheet.put(*(Line(((at, 0.0), (at, up)), "thin") for at, up in stations if up > 0))
    inner = stations[1:-1]
    sheet.put(*series("sizes", [((at, up), t.mm(up)) for at, up in inner], "above", _anchors(len(inner))))
    sheet.put(*series("marks", [((at, 0.0), t.mm(at)) for at, _ in stations], "below"))
    sheet.put(Words((width * -0.03, 0.0), "at", "end", beside="below"))


def _marks(rows: Sequence[Row], left: float, right: float) -> list[float]:
    """The stations, and marks between them that lie closer where a curve is steep."""
    half = (right - left) / 2
    between = [left + half * (1 - cos(pi * n / PARTS)) for n in range(1, PARTS)]
    stations = [figure(row, "at") for row in rows]
    return sorted({*stations, *(at for at in between if min(abs(at - one) for one in stations) > 1e-6)})


def _anchors(count: int, *, inward: bool = False) -> list[Anchor]:
    """Which way words lead from their marks, so that they stand clear of a curve that is highest in its middle."""
    left: Anchor = "start" if inward else "end"
    right: Anchor = "end" if inward else "start"
    return ["middle" if 2 * n + 1 == count else left if 2 * n + 1 < count else right for n in range(count)]


def _span(t: DrawnAnswer, width: float) -> str:
    return f"width {t.mm(width)}, left end to right end"


def _told(t: DrawnAnswer, rows: list[Row], name: str, says: str) -> Iterator[str]:
    pairs = [(t.mm(figure(row, "at")), t.mm(figure(row, name))) for row in rows]
    yield listed(f"from the left end along, and {says}", pairs, " ")

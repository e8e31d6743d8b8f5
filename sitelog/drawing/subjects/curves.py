"""Curved heads: the curve over its springing with every ordinate, and the line it makes on the main slope."""

from collections.abc import Callable, Iterator, Sequence
from math import cos, pi

from sitelog.calculators.catalogue import Row
from sitelog.calculators.curves.eyebrows import Eyebrow
from sitelog.calculators.curves.segments import Segment
from sitelog.drawing.model import Anchor, Drawing, Line, Words, leftward, rightward
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, listed, series
from sitelog.drawing.subjects.curved.deck_cuts import deck_cuts
from sitelog.geometry.vectors import sin_deg

PARTS = 64  # straight parts that a curve is drawn with between its stations
Height = Callable[[float], float]  # mm over the springing, so many mm from the left end


def arc(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Heights over the chord: the left springing at 0,0, x along the chord."""
    said = (
        f"radius {answer.of('radius')}",
        f"centre {answer.of('centre_below_chord')} below the chord",
        f"{answer.of('arc_length')} along the arc",
    )
    segment = Segment(answer.number("chord"), answer.number("rise"), answer.number("radius"))
    yield _elevation(answer, "Arc: heights over its chord", _over_springing(segment), said)


def _over_springing(segment: Segment, middle: float | None = None) -> Height:
    """Its heights from the left end, with its middle so far along [mm]; in the middle of its own chord if not said."""
    along = segment.chord / 2 if middle is None else middle
    return lambda at: segment.height(at - along)


def barrel(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The outside curve over its springing, then the line it makes on the main slope, seen square down on it."""
    radius = answer.number("semi_axis_across")
    pitch = answer.taken("pitch")
    rise = answer.number("ridge_up_slope") * sin_deg(pitch)
    segment = Segment(figure(answer.rows()[-1], "at"), rise, radius)
    height = _over_springing(segment)
    said = (
        f"ellipse {answer.of('semi_axis_across')} across,",
        f"{answer.of('semi_axis_up_slope')} up the slope,",
        f"centre {answer.of('centre_down_slope')} down",
        f"{answer.of('line_length')} along the line",
    )
    sheet = answer.taken("sheet")
    inner = segment.inside(sheet) if sheet else None

    def inside(at: float) -> float:
        if not inner:
            return 0.0
        return inner.height(at - segment.chord / 2)

    yield _elevation(
        answer,
        "Barrel: outside curve over its springing",
        height,
        (f"radius {answer.mm(radius)}", f"rise {answer.mm(rise)}", f"crown {answer.of('ridge_back')} level back"),
    )
    yield _on_slope(answer, "Barrel: its line on the main slope", height, inside, said)
    ceiling = segment.inside(answer.taken("inside"))
    yield from deck_cuts(answer, "Barrel", height, _over_springing(ceiling, segment.chord / 2))


def eyebrow(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Heights over the ends; with a pitch, the line on the main slope as well."""
    half = (answer.taken("width")) / 2
    crown_half = half - answer.number("tangent_at")
    curve = Eyebrow(half, answer.taken("rise"), crown_half, answer.number("crown_radius"), answer.number("wing_radius"))
    said = (
        f"radius of crown {answer.of('crown_radius')}",
        f"radius of wings {answer.of('wing_radius')}",
        f"meet at {answer.of('tangent_at')}, {answer.of('tangent_height')} up, {answer.of('tangent_angle')}",
    )
    yield _elevation(answer, "Eyebrow: heights over its ends", curve.height, said)
    if answer.given("pitch") is not None:
        back = (f"crown {answer.of('ridge_back')} level back",)
        yield _on_slope(answer, "Eyebrow: its line on the main slope", curve.height, None, back)
        by = answer.taken("inside")
        yield from deck_cuts(answer, "Eyebrow", curve.height, lambda at: curve.inside(by).height(at) - by)


def _elevation(answer: DrawnAnswer, title: str, height: Height, said: tuple[str, ...]) -> Drawing:
    """Square on to the curve: the springing at 0, heights plumb."""
    rows = answer.rows()
    sheet = Sheet.new()
    _curve(sheet, answer, rows, "height", height)
    width = figure(rows[-1], "at")
    sheet.put(Words((width / 2, height(width / 2) * 0.45), "\n".join(said)))
    return sheet.drawing(title, (_span(answer, width), *said, *_told(answer, rows, "height", "up")))


def _on_slope(answer: DrawnAnswer, title: str, height: Height, inside: Height | None, said: tuple[str, ...]) -> Drawing:
    """Square down on the main slope: the springing at 0, lengths up the slope."""
    rows, inner, slope = answer.rows(), answer.rows("inner_rows"), sin_deg(answer.taken("pitch", 90.0))
    sheet = Sheet.new()
    _curve(sheet, answer, rows, "along_slope", lambda at: height(at) / slope)
    width = figure(rows[-1], "at")
    says = [_span(answer, width), *said, *_told(answer, rows, "along_slope", "up the slope")]
    if inner and inside is not None:
        ends = figure(inner[0], "at"), figure(inner[-1], "at")
        sheet.put(Line(tuple((at, inside(at) / slope) for at in _marks(inner, *ends)), "hidden"))
        marks = [
            ((figure(row, "at"), figure(row, "along_slope")), answer.mm(figure(row, "along_slope")))
            for row in inner[1:-1]
        ]
        sheet.put(*series("inner", marks, "below", _anchors(len(marks), inward=True)))
        says += _told(answer, inner, "along_slope", "up the slope, inside the sheet")
        says.append(f"sheet {answer.size('sheet')}")
    beside = (*said, "dashed: inside the sheet") if inner else said
    sheet.put(Words((width / 2, height(width / 2) / slope * 0.4), "\n".join(beside)))
    return sheet.drawing(title, tuple(says))


def _curve(sheet: Sheet, answer: DrawnAnswer, rows: list[Row], name: str, size: Height) -> None:
    """The line through its stations, each ordinate, its size over it and its mark under it."""
    width = figure(rows[-1], "at")
    stations = [(figure(row, "at"), figure(row, name)) for row in rows]
    sheet.put(Line(((0.0, 0.0), (width, 0.0)), "built"))
    sheet.put(Line(tuple((at, size(at)) for at in _marks(rows, 0.0, width)), "bold"))
    sheet.put(*(Line(((at, 0.0), (at, up)), "thin") for at, up in stations if up > 0))
    inner = stations[1:-1]
    sheet.put(*series("sizes", [((at, up), answer.mm(up)) for at, up in inner], "above", _anchors(len(inner))))
    sheet.put(*series("marks", [((at, 0.0), answer.mm(at)) for at, _ in stations], "below"))
    sheet.put(Words((width * -0.03, 0.0), "at", "end", beside="below"))


def _marks(rows: Sequence[Row], left: float, right: float) -> list[float]:
    """The stations, and marks between them that lie closer where a curve is steep."""
    half = (right - left) / 2
    between = [left + half * (1 - cos(pi * n / PARTS)) for n in range(1, PARTS)]
    stations = [figure(row, "at") for row in rows]
    return sorted({*stations, *(at for at in between if min(abs(at - station) for station in stations) > 1e-6)})


def _anchors(count: int, *, inward: bool = False) -> list[Anchor]:
    """Which way words lead from their marks, so that they stand clear of a curve that is highest in its middle."""
    left: Anchor = rightward(inward)
    right: Anchor = leftward(inward)
    half = count // 2
    middle: list[Anchor] = ["middle"] if count % 2 else []
    return [*[left] * half, *middle, *[right] * half]


def _span(answer: DrawnAnswer, width: float) -> str:
    return f"width {answer.mm(width)}, left end to right end"


def _told(answer: DrawnAnswer, rows: list[Row], name: str, says: str) -> Iterator[str]:
    pairs = [(answer.mm(figure(row, "at")), answer.mm(figure(row, name))) for row in rows]
    yield listed(f"from the left end along, and {says}", pairs, " ")

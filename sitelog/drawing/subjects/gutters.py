"""A box gutter cut along its length: the sole stepped down by its drips, and its depths under level upstands."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, figure, series, up_for
from sitelog.quantities.quantity import show_fall


def gutter(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The outlet at 0,0 on the left; levels over its sole."""
    length = answer.taken("length")
    top = answer.number("rise") + answer.number("depth_head")
    sheet = Sheet.new()
    _lines(sheet, answer, length, top)
    sheet.put(*_levels(answer, length))
    _depths(sheet, answer, length, top)
    bays = _bays(answer)
    sheet.put(Words((length / 2, top), bays, beside="above"))
    says = (f"{bays}, sole {answer.size('sole')} wide", *_says(answer))
    yield sheet.drawing("Gutter: along its length, outlet left, water dashed", says, up_for(length, top))


def _lines(sheet: Sheet, answer: DrawnAnswer, length: float, top: float) -> None:
    """The sole bold, the upstands and both ends, the water over each bay dashed."""
    levels, rise, water = answer.rows("levels"), answer.number("rise"), answer.number("water_depth")
    sheet.put(Line(_sole(levels), "bold"), Line(((0.0, top), (length, top)), "built"))
    sheet.put(Line(((0.0, 0.0), (0.0, top)), "built"), Line(((length, rise), (length, top)), "built"))
    for low, high in pairwise(levels):
        start = figure(low, "at"), figure(low, "top") + water
        end = figure(high, "at"), figure(high, "foot") + water
        sheet.put(Line((start, end), "hidden"))


def _sole(levels: Sequence[Row]) -> tuple[Point, ...]:
    found: list[Point] = []
    for row in levels:
        found.append((figure(row, "at"), figure(row, "foot")))
        if _is_drip(row):
            found.append((figure(row, "at"), figure(row, "top")))
    return tuple(found)


def _is_drip(row: Row) -> bool:
    return figure(row, "top") > figure(row, "foot")


def _levels(answer: DrawnAnswer, length: float) -> Iterator[Words]:
    """Where bays meet, and the foot and top of each drip."""
    levels = answer.rows("levels")
    marks = [((figure(row, "at"), 0.0), answer.mm(figure(row, "at"))) for row in levels]
    yield from series("marks", marks, "below")
    yield Words((-length * 0.02, 0.0), "at", "end", beside="below")
    drips = list(filter(_is_drip, levels))
    feet = [((figure(row, "at"), figure(row, "foot")), answer.mm(figure(row, "foot"))) for row in drips]
    yield from series("foot", feet, "below")
    tops = [((figure(row, "at"), figure(row, "top")), answer.mm(figure(row, "top"))) for row in drips]
    yield from series("top", tops, "above")


def _depths(sheet: Sheet, answer: DrawnAnswer, length: float, top: float) -> None:
    rise = answer.number("rise")
    sheet.put(Words((length, rise), f"head {answer.of('rise')}", "end", beside="below"))
    sheet.put(Words((-length * 0.02, top / 2), f"outlet\n{answer.of('depth_outlet')} deep", "end"))
    head = rise + answer.number("depth_head") / 2
    sheet.put(Words((length * 1.02, head), f"{answer.of('depth_head')}\ndeep", "start"))
    bay = figure(answer.rows("levels")[-2], "at")
    surface = (bay + length) / 2, rise + answer.number("water_depth")
    sheet.put(Words(surface, f"water {answer.of('water_depth')}", beside="above"))


def _bays(answer: DrawnAnswer) -> str:
    count, fall = int(answer.number("bays")), show_fall(answer.taken("fall"))
    if count <= 1:
        return f"1 bay of {answer.of('bay_length')}, fall {fall}"
    return f"{count} bays of {answer.of('bay_length')}, drips {answer.of('drip')}, fall {fall}"


def _says(answer: DrawnAnswer) -> Iterator[str]:
    outlet, head = answer.of("depth_outlet"), answer.of("depth_head")
    yield f"depth at the outlet {outlet}, at the head {head}, water {answer.of('water_depth')}"
    for row in answer.rows("levels"):
        drip = ""
        if _is_drip(row):
            drip = f", above the drip {answer.mm(figure(row, 'top'))}"
        yield f"{answer.mm(figure(row, 'at'))} from the outlet: sole {answer.mm(figure(row, 'foot'))}{drip}"

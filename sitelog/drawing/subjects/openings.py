"""An opening in a slope, square down on it: trimmers, trimming rafters, and what is left of the rafters it cuts."""

from collections.abc import Iterator

from sitelog.drawing.model import Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, figure, upright

TICK = 0.015  # of the opening's length: half a tick of a dimension line
SHOWN = 0.3  # of the opening's length: how much of the slope is shown where nobody says where plate and ridge are


def opening(answer: DrawnAnswer) -> Iterator[Drawing]:
    """x across from the left trimming rafter's face, y up the slope from the opening's foot."""
    wide, high = answer.taken("level_width"), answer.number("slope_length")
    trimmer, doubled = answer.taken("trimmer"), int(answer.taken("doubled", 1))
    thick = trimmer * doubled
    foot, head = _length(answer, "foot"), _length(answer, "head")
    low, top = -thick - (foot or SHOWN * high), high + thick + (head or SHOWN * high)
    sheet = Sheet.new()
    _rafters(sheet, answer, low, top, thick)
    _trimmers(sheet, answer, trimmer, doubled)
    sheet.put(box(0.0, 0.0, wide, high, "bold"))
    rafter = answer.taken("thickness")
    left, right = -rafter, max(wide, answer.number("between_rafters")) + rafter
    _sizes(sheet, answer, left, right, thick)
    tick = high * TICK
    if foot is not None:
        sheet.put(Words((right + 6 * tick, (low - thick) / 2), f"foot {answer.mm(foot)}", "start"))
    if head is not None:
        sheet.put(Words((right + 6 * tick, (top + high + thick) / 2), f"head {answer.mm(head)}", "start"))
    told = f"trimmers\n{doubled} of {answer.size('level_width')}"
    sheet.put(Words((left - 6 * tick, -thick / 2), told, "end"))
    if answer.number("rafters_cut"):
        sheet.put(Words((left - 6 * tick, (low - thick) / 2), f"{answer.count('rafters_cut')} cut", "end"))
    if foot is not None:
        _plate_and_ridge(sheet, -2 * thick, right + thick, low, top, wide / 2)
    yield sheet.drawing("Opening: square down on the slope", _says(answer))


def _trimmers(sheet: Sheet, answer: DrawnAnswer, trimmer: float, doubled: int) -> None:
    """At the foot and the head of the opening, `doubled` of them side by side."""
    wide, high = answer.taken("level_width"), answer.number("slope_length")
    for nth in range(doubled):
        sheet.put(box(0.0, -trimmer * (nth + 1), wide, -trimmer * nth))
        sheet.put(box(0.0, high + trimmer * nth, wide, high + trimmer * (nth + 1)))


def _sizes(sheet: Sheet, answer: DrawnAnswer, left: float, right: float, thick: float) -> None:
    """The clear opening, and what it cuts out; `left` and `right` are the outer faces of the rafters beside it."""
    wide, high = answer.taken("level_width"), answer.number("slope_length")
    tick = high * TICK
    clear = f"clear\n{answer.size('level_width')}"
    sheet.put(across(0.0, wide, high * 0.5, clear, tick=tick, beside="above", held=True))
    slope = f"up the slope\n{answer.of('slope_length')}"
    sheet.put(upright(left - 4 * tick, 0.0, high, slope, tick=tick, anchor="end"))
    cut_out = f"cut out\n{answer.of('cut_out')}"
    sheet.put(upright(right + 4 * tick, -thick, high + thick, cut_out, tick=tick, anchor="start"))


def _plate_and_ridge(sheet: Sheet, left: float, right: float, low: float, top: float, middle: float) -> None:
    """What the rafters run between: the plate at their foot, the ridge at their head."""
    sheet.put(Line(((left, low), (right, low)), "built"), Words((middle, low), "plate", beside="below"))
    sheet.put(Line(((left, top), (right, top)), "built"), Words((middle, top), "ridge", beside="above"))


def _rafters(sheet: Sheet, answer: DrawnAnswer, low: float, top: float, thick: float) -> None:
    """Those that stay whole, at both sides, and those that are cut, set out from the face of the left one."""
    size, spacing = answer.taken("thickness"), answer.taken("spacing")
    cut, wide, high = (
        int(answer.number("rafters_cut")),
        answer.taken("level_width"),
        answer.number("slope_length"),
    )
    between = answer.number("between_rafters")
    sheet.put(box(-size, low, 0.0, top), box(between, low, between + size, top))
    if between - wide > size:
        sheet.put(box(wide, low, wide + size, top))  # a trimming rafter set to the opening
    for number in range(1, cut + 1):
        left = number * spacing - size
        sheet.put(box(left, low, left + size, -thick), box(left, high + thick, left + size, top))
        sheet.put(Line(((left + size / 2, -thick), (left + size / 2, high + thick)), "hidden"))


def _length(answer: DrawnAnswer, where: str) -> float | None:
    """What is left of a cut rafter [mm] at foot or head, if plate and ridge are known."""
    row = next((row for row in answer.rows("trimmed_rafters") if row["where"] == where), None)
    if row and row.get("length") is not None:
        return figure(row, "length")
    return None


def _says(answer: DrawnAnswer) -> Iterator[str]:
    yield f"clear {answer.size('level_width')} wide, {answer.of('slope_length')} up the slope"
    yield f"{answer.of('cut_out')} cut out of each of {answer.count('rafters_cut')} rafters"
    yield f"{answer.of('between_rafters')} clear between the rafters that stay whole"
    if answer.has("rafters_added"):
        yield f"{answer.count('rafters_added')} rafters added, both sides together"
    for row in answer.rows("trimmers"):
        yield f"trimmers at the {row['where']}: {row['count']} of {answer.mm(figure(row, 'length'))}"
    for row in answer.rows("trimmed_rafters"):
        if row.get("length") is not None:
            length = answer.mm(figure(row, "length"))
            yield f"trimmed rafters at the {row['where']}: {row['count']} of {length} on the line"

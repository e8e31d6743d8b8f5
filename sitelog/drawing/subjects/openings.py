"""An opening in a slope, square down on it: trimmers, trimming rafters, and what is left of the rafters it cuts."""

from collections.abc import Iterator

from sitelog.drawing.model import Drawing, Line, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, figure, upright

SHOWN = 0.3  # of the opening's length: how much of the slope is shown where nobody says where plate and ridge are


def opening(t: DrawnAnswer) -> Iterator[Drawing]:
    """x across from the left trimming rafter's face, y up the slope from the opening's foot."""
    wide, high = t.given("level_width") or 0.0, t.number("slope_length")
    one, doubled = t.given("trimmer") or 0.0, int(t.given("doubled") or 1)
    thick = one * doubled
    foot, head = _length(t, "foot"), _length(t, "head")
    low, top = -thick - (foot or SHOWN * high), high + thick + (head or SHOWN * high)
    sheet = Sheet.new()
    _rafters(sheet, t, low, top, thick)
    for n in range(doubled):
        sheet.put(box(0.0, -one * (n + 1), wide, -one * n), box(0.0, high + one * n, wide, high + one * (n + 1)))
    sheet.put(box(0.0, 0.0, wide, high, "bold"))
    tick = high * 0.015
    left, right = -(t.given("thickness") or 0.0), max(wide, t.number("between_rafters")) + (t.given("thickness") or 0.0)
    sheet.put(across(0.0, wide, high * 0.5, f"clear\n{t.size('level_width')}", tick=tick, beside="above", held=True))
    sheet.put(upright(left - 4 * tick, 0.0, high, f"up the slope\n{t.of('slope_length')}", tick=tick, anchor="end"))
    sheet.put(upright(right + 4 * tick, -thick, high + thick, f"cut out\n{t.of('cut_out')}", tick=tick, anchor="start"))
    for name, size, y in (("foot", foot, (low - thick) / 2), ("head", head, (top + high + thick) / 2)):
        if size is not None:
            sheet.put(Words((right + 6 * tick, y), f"{name} {t.mm(size)}", "start"))
    sheet.put(Words((left - 6 * tick, -thick / 2), f"trimmers\n{doubled} of {t.size('level_width')}", "end"))
    if t.number("rafters_cut"):
        sheet.put(Words((left - 6 * tick, (low - thick) / 2), f"{t.count('rafters_cut')} cut", "end"))
    if foot is not None:
        sheet.put(
            Line(((-2 * thick, low), (right + thick, low)), "built"), Words((wide / 2, low), "plate", beside="below")
        )
        sheet.put(
            Line(((-2 * thick, top), (right + thick, top)), "built"), Words((wide / 2, top), "ridge", beside="above")
        )
    yield sheet.drawing("Opening: square down on the slope", _says(t))


def _rafters(sheet: Sheet, t: DrawnAnswer, low: float, top: float, thick: float) -> None:
    """Those that stay whole, at both sides, and those that are cut, set out from the face of the left one."""
    size, spacing = t.given("thickness") or 0.0, t.given("spacing") or 0.0
    cut, wide, high = int(t.number("rafters_cut")), t.given("level_width") or 0.0, t.number("slope_length")
    between = t.number("between_rafters")
    sheet.put(box(-size, low, 0.0, top), box(between, low, between + size, top))
    if between - wide > size:
        sheet.put(box(wide, low, wide + size, top))  # a trimming rafter set to the opening
    for n in range(1, cut + 1):
        left = n * spacing - size
        sheet.put(box(left, low, left + size, -thick), box(left, high + thick, left + size, top))
        sheet.put(Line(((left + size / 2, -thick), (left + size / 2, high + thick)), "hidden"))


def _length(t: DrawnAnswer, where: str) -> float | None:
    """What is left of a cut rafter [mm] at foot or head, if plate and ridge are known."""
    row = next((row for row in t.rows("trimmed_rafters") if row["where"] == where), None)
    return figure(row, "length") if row and row.get("length") is not None else None


def _says(t: DrawnAnswer) -> Iterator[str]:
    yield f"clear {t.size('level_width')} wide, {t.of('slope_length')} up the slope"
    yield f"{t.of('cut_out')} cut out of each of {t.count('rafters_cut')} rafters"
    yield f"{t.of('between_rafters')} clear between the rafters that stay whole"
    if t.has("rafters_added"):
        yield f"{t.count('rafters_added')} rafters added, both sides together"
    for row in t.rows("trimmers"):
        yield f"trimmers at the {row['where']}: {row['count']} of {t.mm(figure(row, 'length'))}"
    for row in t.rows("trimmed_rafters"):
        if row.get("length") is not None:
            yield f"trimmed rafters at the {row['where']}: {row['count']} of {t.mm(figure(row, 'length'))} on the line"

"""What is cut at a table: rafters laid down on the floor, the studs under it, and the hips' heads at its corners."""

from collections.abc import Iterator, Sequence
from math import cos, radians, sin

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Words, above_where
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, figure, upright
from sitelog.quantities.quantity import show_angle, show_section

ALIKE = 0.5  # mm: what is as near as that to another in every size is drawn once
BACK = 1.5  # thicknesses of hip shown behind a head
ON = 1.5  # of the way to the last mark: how far a table's edge is shown
WALL = 0.25  # of the table's height: how wide what stands under it is drawn

RAFTER = {
    "rafter_length": "on the line",
    "plumb_cut_in": "plumb cut in from the plate",
    "height_above_plate": "seat to top edge, plumb",
    "seat_length": "seat",
    "plumb_cut_length": "plumb cut",
    "top_at_cut": "its top over the floor",
    "foot_at_cut": "its foot over the floor",
    "foot_below_table": "foot under the table",
    "trimmer_back_in": "back of the trimmers in from the plate",
}
STOREY = {"table_height": "table", "ceiling_height": "ceiling", "stud_top": "top of studs", "stud_length": "studs"}
CLIP = {
    "mark_1": "mark on side 1 from the corner",
    "mark_2": "mark on side 2 from the corner",
    "clip_back": "corner back to the cut, level",
    "clip_width": "width of the cut",
    "past_along": "hip longer by, along it",
    "hip_length": "hip on the line, to the cut",
}
PAST = ("past_along",)
LEFT = "side 1 is the table's edge on the left from outside"


def cuts(answer: DrawnAnswer) -> Iterator[Drawing]:
    """Rafters, studs, and the hips' heads, hollowed or clipped; what is of one size in every figure is drawn once."""
    for rafters in _alike([[row] for row in answer.rows("elevation")], tuple(RAFTER)):
        yield _rafter(answer, [row for (row,) in rafters])
    yield _storey(answer)
    heads = answer.rows("heads")
    for hollow in _alike([heads[first : first + 2] for first in range(0, len(heads), 2)], PAST):
        yield _hollow(answer, hollow)
    for clips in _alike([[row] for row in answer.rows("clips")], tuple(CLIP)):
        yield _clipped(answer, [row for (row,) in clips])


def _alike(things: Sequence[list[Row]], names: Sequence[str]) -> Iterator[list[list[Row]]]:
    """Things of one or two rows, those together that are of one size by all those names."""
    left = list(things)
    while left:
        first = left[0]
        same = [piece for piece in left if _near(first, piece, names)]
        left = [piece for piece in left if piece not in same]
        yield same


def _near(one: list[Row], other: list[Row], names: Sequence[str]) -> bool:
    return all(
        abs(figure(row, name) - figure(match, name)) < ALIKE
        for row, match in zip(one, other, strict=True)
        for name in names
    )


def _named(rows: Sequence[Row], key: str) -> str:
    return ", ".join(str(row[key]).upper() for row in rows)


def _says(answer: DrawnAnswer, row: Row, names: dict[str, str]) -> Iterator[str]:
    yield from (f"{says} {answer.mm(figure(row, name))}" for name, says in names.items())


# ---- rafter and storey ---------------------------------------------------------------------------------------------


def _rafter(answer: DrawnAnswer, rows: list[Row]) -> Drawing:
    """From the side: the plate's top outer edge at 0,0, the table's underside at its rise; up to the last trimmer."""
    row = rows[0]
    size = {name: figure(row, name) for name in RAFTER}
    told = {name: answer.mm(size[name]) for name in RAFTER}
    inn, rise, back = size["plumb_cut_in"], answer.number("rise"), size["trimmer_back_in"]
    slope, top = rise / inn, size["height_above_plate"]
    foot, seat, plumb = -size["foot_below_table"], size["seat_length"], size["plumb_cut_length"]
    tail, tick = -plumb, max(inn, rise) * 0.012
    sheet = Sheet.new()
    outline: tuple[Point, ...] = (
        (tail, top + tail * slope),
        (inn, rise + top),
        (inn, rise + foot),
        (seat, 0.0),
        (0.0, 0.0),
        (0.0, foot),
        (tail, foot + tail * slope),
    )
    sheet.put(Line(outline, "bold"), Line(((0.0, 0.0), (inn, rise)), "hidden"))
    count = round(answer.taken("trimmers", 0))
    for nth in range(count):
        thick = (back - inn) / count
        sheet.put(box(inn + nth * thick, rise + foot, inn + (nth + 1) * thick, rise + top))
    sheet.put(Line(((back, rise), (back + plumb, rise)), "hidden"))
    sheet.put(
        Words((inn / 2 - 2 * tick, rise / 2 + top + 2 * tick), f"{told['rafter_length']} on the line", "end"),
        Words((seat + 3 * tick, -tick), f"seat {told['seat_length']}, {told['height_above_plate']} over it", "start"),
    )
    low = foot + tail * slope - 3 * tick
    sheet.put(across(0.0, inn, low, f"in {told['plumb_cut_in']}", tick=tick))
    sheet.put(across(0.0, back, low - 8 * tick, f"trimmers' back {told['trimmer_back_in']}", tick=tick, beside="below"))
    beside = (
        f"top {told['top_at_cut']}",
        f"plumb cut {told['plumb_cut_length']}",
        f"foot {told['foot_at_cut']}",
        f"{told['foot_below_table']} under the table",
    )
    sheet.put(Words((back + 2 * tick, rise + top + 2 * tick), "\n".join(beside[:2]), "start", beside="above"))
    sheet.put(Words((back + 2 * tick, rise + foot - 2 * tick), "\n".join(beside[2:]), "start", beside="below"))
    return sheet.drawing(
        f"Table-top: rafter laid down, slope {_named(rows, 'side')}; its line dashed",
        (f"section {show_section(answer.section())}", *_says(answer, row, RAFTER)),
    )


def _storey(answer: DrawnAnswer) -> Drawing:
    """Plumb under the table: the finished floor at height 0; sole, stud and head plates of one wall."""
    table, top, stud = answer.number("table_height"), answer.number("stud_top"), answer.number("stud_length")
    wide = abs(table) * WALL
    tick = wide * 0.06
    plates = round(answer.taken("head_plates", 0))
    sheet = Sheet.new()
    sheet.put(Line(((-wide, 0.0), (2 * wide, 0.0)), "thin"), Line(((-wide, table), (2 * wide, table)), "bold"))
    if answer.number("ceiling_height") < table:
        sheet.put(Line(((0.0, answer.number("ceiling_height")), (2 * wide, answer.number("ceiling_height"))), "hidden"))
    for nth in range(plates):
        thick = (table - top) / plates
        sheet.put(box(-wide / 2, top + nth * thick, 0.0, top + (nth + 1) * thick))
    if stud > 0:
        sheet.put(box(-wide / 2, top - stud - (answer.taken("sole")), 0.0, top - stud))
        sheet.put(box(-wide * 0.4, top - stud, -wide * 0.1, top, "bold"))
        sheet.put(upright(-wide * 0.7, top - stud, top, f"studs {answer.of('stud_length')}", tick=tick, anchor="end"))
    heights = ("table_height", "ceiling_height", "stud_top")
    told = "\n".join(f"{STOREY[name]} {answer.of(name)}" for name in heights)
    sheet.put(upright(wide, 0.0, table, told, tick=tick, anchor="start"))
    sheet.put(Words((wide, 0.0), "finished floor", beside="below"))
    says = [f"{words} {answer.of(name)}" for name, words in STOREY.items()]
    return sheet.drawing("Table-top: studs under it, heights over the finished floor", says)


# ---- heads of hips -------------------------------------------------------------------------------------------------


def _thick(answer: DrawnAnswer) -> float:
    return answer.taken("hip_thickness")


def _hollow(answer: DrawnAnswer, pairs: list[list[Row]]) -> Drawing:
    """Square down on the top edge: the hip's line ends at 0,0 over the table's corner; side 1 is above."""
    cheeks, half = pairs[0], _thick(answer) / 2
    past = [figure(row, "past_along") for row in cheeks]
    back, on = -BACK * 2 * half, ON
    sheet = Sheet.new()
    sheet.put(Line(((back, half), (past[0], half), (0.0, 0.0), (past[1], -half), (back, -half)), "bold"))
    sheet.put(Line(((back, 0.0), (0.0, 0.0)), "hidden"), Line(((back, -half), (back, half)), "thin"))
    says = [LEFT, f"hip {answer.mm(2 * half)} thick"]
    for cheek, (row, way) in enumerate(zip(cheeks, (1, -1), strict=True), 1):
        sheet.put(Line(((past[cheek - 1], way * half), (past[cheek - 1] * on, way * half * on)), "thin"))
        sheet.put(Line(((0.0, 0.0), (0.0, way * half * on)), "thin"))  # square across: the bevel is from it
        told = (
            f"side {cheek}: {answer.mm(past[cheek - 1])} past the centre",
            f"bevel {show_angle(figure(row, 'bevel_from_square'))} from square,"
            f" tilt {show_angle(figure(row, 'saw_tilt'))}",
        )
        says += told
        words = "\n".join(told)
        sheet.put(Words((0.0, way * half * on), words, beside=above_where(way > 0)))
    sheet.put(Words((back - half * 0.3, 0.0), f"hip {answer.mm(2 * half)}\nthick", "end"))
    corners = _named([pair[0] for pair in pairs], "corner")
    return sheet.drawing(f"Table-top: hollow head over corner {corners}, square down on the hip's top edge", says)


def _clipped(answer: DrawnAnswer, rows: list[Row]) -> Drawing:
    """On plan: the table's corner at 0,0, the hip from the left along x, square at the cut; side 1 is above."""
    row, half = rows[0], _thick(answer) / 2
    back = figure(row, "clip_back")
    marks = [figure(row, f"mark_{cheek}") for cheek in (1, 2)]
    heads = [head for head in answer.rows("heads") if head["corner"] == row["corner"]]
    angles = [radians(figure(head, "plan_angle")) for head in heads]
    ends = [
        (mark * cos(angle), way * mark * sin(angle)) for mark, angle, way in zip(marks, angles, (1, -1), strict=True)
    ]
    tick = half * 0.15
    start = -BACK * 2 * half
    sheet = Sheet.new()
    sheet.put(Line(((start, half), (back, half), (back, -half), (start, -half)), "bold", closed=True))
    sheet.put(Line((ends[0], ends[1]), "bold"))
    says = [LEFT, f"hip {answer.mm(2 * half)} thick", *_says(answer, row, CLIP)]
    for cheek, ((x, y), way) in enumerate(zip(ends, (1, -1), strict=True), 1):
        sheet.put(Line(((0.0, 0.0), (x, y)), "hidden"), Line(((x, y), (x * ON, y * ON)), "built"))
        words = f"side {cheek}: mark {answer.mm(marks[cheek - 1])}\nfrom the corner"
        sheet.put(Words((x, y * ON), words, beside=above_where(way > 0)))
    far = max(abs(y) for _, y in ends) * ON
    sheet.put(across(0.0, back, -far, "", tick=tick)[0])
    sheet.put(Words((-2 * tick, -far), f"back {answer.mm(back)}", "end"))
    width = f"cut {answer.mm(figure(row, 'clip_width'))}\nwide"
    sheet.put(Words((max(x for x, _ in ends) * ON + tick, 0.0), width, "start"))
    longer = f"{answer.mm(figure(row, 'past_along'))} longer\n{answer.mm(figure(row, 'hip_length'))} to the cut"
    sheet.put(Words((start - tick, 0.0), f"hip {answer.mm(2 * half)} thick\n{longer}", "end"))
    return sheet.drawing(f"Table-top: corner {_named(rows, 'corner')} clipped square to the hip, on plan", says)

"""A roof cut off by a flat: the table within its plates on plan, each slope in section up to it, and what is cut."""

from collections.abc import Iterator
from math import hypot

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Words, above_where, leftward, rightward
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, points, upright
from sitelog.drawing.points import centre, middle, share, square_foot
from sitelog.drawing.subjects.plans import CLEAR, Corners, corners, length, plates
from sitelog.drawing.subjects.table_cuts import cuts
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.geometry.vectors import atan2_deg
from sitelog.quantities.quantity import show_angle

ALIKE = 0.5  # mm: slopes as far in as that of each other are one section


def flat_top(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The plan of the table within its plates, a section of each slope, and what is cut for it."""
    yield _plan(answer)
    yield from _sections(answer)
    yield from cuts(answer)


def _plan(answer: DrawnAnswer) -> Drawing:
    at = corners(answer, "flat-top")
    top = dict(zip(CORNERS, points(answer.rows("top")), strict=True))
    sheet = Sheet.new()
    plates(sheet, at, {side: answer.mm(length(at, side)) for side in SIDES})
    sheet.put(Line(tuple(top[name] for name in CORNERS), "bold", closed=True))
    clear = CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))
    for row in answer.rows("sides"):
        _edge(sheet, answer, row, at, top)
        _offset(sheet, answer, row, at, top)
    for row in answer.rows("top"):
        name = str(row["corner"])
        sheet.put(Line((at[name], top[name]), "built"))
        x, y = share(at[name], top[name], 0.5)
        left = x < centre(at)[0]
        size = f"hip {answer.mm(figure(row, 'hip_length'))}"
        sheet.put(Words((x + (clear if left else -clear), y), size, rightward(left)))
    for name in ("ac", "bd"):
        sheet.put(Line((top[name[0]], top[name[1]]), "thin"))
        size = f"{name.upper()} {answer.of(f'diagonal_{name}')}"
        sheet.put(Words(share(top[name[0]], top[name[1]], 0.3), size, series=name))
    return sheet.drawing("Table-top: plan, the table within the plates", tuple(_says(answer, at)))


def _is_level(side: str) -> bool:
    """Whether a side lies across the sheet."""
    return side in ("ab", "cd")


def _edge(sheet: Sheet, answer: DrawnAnswer, row: Row, at: Corners, top: Corners) -> None:
    """How long the table's edge over a side is, on the edge."""
    side, size = str(row["side"]), answer.mm(figure(row, "length"))
    inner = middle(top[side[0]], top[side[1]])
    if _is_level(side):
        sheet.put(Words(inner, size, beside=above_where(side == "ab")))
    else:
        sheet.put(Words(share(inner, centre(top), 0.1), size, leftward(side == "bc")))


def _offset(sheet: Sheet, answer: DrawnAnswer, row: Row, at: Corners, top: Corners) -> None:
    """How far in from its plate the table's edge is, on the square between them."""
    side = str(row["side"])
    inner = middle(top[side[0]], top[side[1]])
    outer = square_foot(inner, at[side[0]], at[side[1]])
    sheet.put(Line((outer, inner), "thin"))
    x, y = middle(outer, inner)
    told = f"in {answer.mm(figure(row, 'offset_in'))}"
    if _is_level(side):
        clear = CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))
        sheet.put(Words((x + clear / 2, y), told, "start"))
    else:
        sheet.put(Words((x, y), told))


def _says(answer: DrawnAnswer, at: dict[str, Point]) -> Iterator[str]:
    yield from (f"plate {side.upper()} {answer.mm(length(at, side))}" for side in SIDES)
    yield f"underside of the table {answer.of('rise')} over the plates"
    for row in answer.rows("sides"):
        yield (
            f"table over {str(row['side']).upper()} {answer.mm(figure(row, 'length'))} long,"
            f" in {answer.mm(figure(row, 'offset_in'))} from its plate"
        )
    yield f"diagonals of the table AC {answer.of('diagonal_ac')}, BD {answer.of('diagonal_bd')}"
    for row in answer.rows("top"):
        yield (
            f"hip {str(row['corner']).upper()} {answer.mm(figure(row, 'hip_length'))} on the line, pitch"
            f" {show_angle(figure(row, 'hip_pitch'))}, level run {answer.mm(figure(row, 'hip_run'))}"
        )


def _sections(answer: DrawnAnswer) -> Iterator[Drawing]:
    """One for each run that slopes have, the sides named that it serves."""
    left = list(answer.rows("sides"))
    while left:
        run = figure(left[0], "offset_in")
        alike = [row for row in left if abs(figure(row, "offset_in") - run) < ALIKE]
        left = [row for row in left if row not in alike]
        yield _section(answer, run, [str(row["side"]) for row in alike])


def _section(answer: DrawnAnswer, run: float, sides: list[str]) -> Drawing:
    """Plumb, square to a plate: its top outer edge at 0,0, up the slope to the table; the hip at its own run behind."""
    rise = answer.number("rise")
    hip = _hip(answer, sides[0])
    hip_run, hip_length = figure(hip, "hip_run"), figure(hip, "hip_length")
    pitch, slope = atan2_deg(rise, run), hypot(run, rise)
    on = run * 0.45
    plate, tick = max(run, rise) * 0.05, max(run, rise) * 0.015
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (plate, 0.0), (plate, -plate), (0.0, -plate)), "built", closed=True))
    sheet.put(Line(((0.0, 0.0), (run, rise)), "bold"), Line(((run, rise), (run + on, rise)), "bold"))
    sheet.put(Line(((run - hip_run, 0.0), (run, rise)), "hidden"))
    sheet.put(Words((run + on / 2, rise), "table", beside="above"))
    sheet.put(upright(run, 0.0, rise, f"rise {answer.mm(rise)}", tick=tick, anchor="start"))
    sheet.put(across(0.0, run, -plate * 2, f"in {answer.mm(run)}", tick=tick, beside="below"))
    sheet.put(Words((run * 0.55, rise * 0.35), f"slope {answer.mm(slope)}\npitch {show_angle(pitch)}"))
    behind = f"hip {answer.mm(hip_length)}\npitch {show_angle(figure(hip, 'hip_pitch'))}\nrun {answer.mm(hip_run)}"
    sheet.put(Words(((run - hip_run) * 0.5, rise * 0.8), behind))
    named = ", ".join(side.upper() for side in sides)
    says = (
        f"run in {answer.mm(run)}, rise {answer.mm(rise)}, pitch {show_angle(pitch)}, up the slope {answer.mm(slope)}",
        f"hip {str(hip['corner']).upper()} {answer.mm(hip_length)} on the line,"
        f" pitch {show_angle(figure(hip, 'hip_pitch'))}, level run {answer.mm(hip_run)}",
    )
    return sheet.drawing(f"Table-top: section through slope {named}, the hip dashed", says)


def _hip(answer: DrawnAnswer, side: str) -> Row:
    return next(row for row in answer.rows("top") if row["corner"] == side[0])

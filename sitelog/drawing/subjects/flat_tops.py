"""A roof cut off by a flat: the table within its plates on plan, each slope in section up to it, and what is cut."""

from collections.abc import Iterator
from math import hypot

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, middle, points, upright
from sitelog.drawing.subjects.plans import CLEAR, centre, corners, length, plates, share
from sitelog.drawing.subjects.table_cuts import cuts
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.geometry.vectors import atan2_deg
from sitelog.quantities.quantity import show_angle

ALIKE = 0.5  # mm: slopes as far in as that of each other are one section


def flat_top(t: DrawnAnswer) -> Iterator[Drawing]:
    yield _plan(t)
    yield from _sections(t)
    yield from cuts(t)


def _plan(t: DrawnAnswer) -> Drawing:
    at = corners(t, "flat-top")
    top = dict(zip(CORNERS, points(t.rows("top")), strict=True))
    sheet = Sheet.new()
    plates(sheet, at, {side: t.mm(length(at, side)) for side in SIDES})
    sheet.put(Line(tuple(top[name] for name in CORNERS), "bold", closed=True))
    clear = CLEAR * max(hypot(*at["c"]), hypot(*at["b"]))
    for row in t.rows("sides"):
        side = str(row["side"])
        inner = middle(top[side[0]], top[side[1]])
        outer = _foot(inner, at[side[0]], at[side[1]])
        level = side in ("ab", "cd")
        size = t.mm(figure(row, "length"))
        if level:
            sheet.put(Words(inner, size, beside="above" if side == "ab" else "below"))
        else:
            sheet.put(Words(share(inner, centre(top), 0.1), size, "end" if side == "bc" else "start"))
        sheet.put(Line((outer, inner), "thin"))
        x, y = middle(outer, inner)
        sheet.put(
            Words(
                (x + (clear / 2 if level else 0), y),
                f"in {t.mm(figure(row, 'offset_in'))}",
                "start" if level else "middle",
            )
        )
    for row in t.rows("top"):
        name = str(row["corner"])
        sheet.put(Line((at[name], top[name]), "built"))
        x, y = share(at[name], top[name], 0.5)
        left = x < centre(at)[0]
        size = f"hip {t.mm(figure(row, 'hip_length'))}"
        sheet.put(Words((x + (clear if left else -clear), y), size, "start" if left else "end"))
    for name in ("ac", "bd"):
        sheet.put(Line((top[name[0]], top[name[1]]), "thin"))
        size = f"{name.upper()} {t.of(f'diagonal_{name}')}"
        sheet.put(Words(share(top[name[0]], top[name[1]], 0.3), size, series=name))
    return sheet.drawing("Table-top: plan, the table within the plates", tuple(_says(t, at)))


def _foot(point: Point, start: Point, end: Point) -> Point:
    """Where the square from a point meets the line from start to end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    part = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    return start[0] + part * dx, start[1] + part * dy


def _says(t: DrawnAnswer, at: dict[str, Point]) -> Iterator[str]:
    yield from (f"plate {side.upper()} {t.mm(length(at, side))}" for side in SIDES)
    yield f"underside of the table {t.of('rise')} over the plates"
    for row in t.rows("sides"):
        yield (
            f"table over {str(row['side']).upper()} {t.mm(figure(row, 'length'))} long,"
            f" in {t.mm(figure(row, 'offset_in'))} from its plate"
        )
    yield f"diagonals of the table AC {t.of('diagonal_ac')}, BD {t.of('diagonal_bd')}"
    for row in t.rows("top"):
        yield (
            f"hip {str(row['corner']).upper()} {t.mm(figure(row, 'hip_length'))} on the line, pitch"
            f" {show_angle(figure(row, 'hip_pitch'))}, level run {t.mm(figure(row, 'hip_run'))}"
        )


def _sections(t: DrawnAnswer) -> Iterator[Drawing]:
    """One for each run that slopes have, the sides named that it serves."""
    left = list(t.rows("sides"))
    while left:
        run = figure(left[0], "offset_in")
        alike = [row for row in left if abs(figure(row, "offset_in") - run) < ALIKE]
        left = [row for row in left if row not in alike]
        yield _section(t, run, [str(row["side"]) for row in alike])


def _section(t: DrawnAnswer, run: float, sides: list[str]) -> Drawing:
    """Plumb, square to a plate: its top outer edge at 0,0, up the slope to the table; the hip at its own run behind."""
    rise = t.number("rise")
    hip = _hip(t, sides[0])
    hip_run, hip_length = figure(hip, "hip_run"), figure(hip, "hip_length")
    pitch, slope = atan2_deg(rise, run), hypot(run, rise)
    on = run * 0.45
    plate, tick = max(run, rise) * 0.05, max(run, rise) * 0.015
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (plate, 0.0), (plate, -plate), (0.0, -plate)), "built", closed=True))
    sheet.put(Line(((0.0, 0.0), (run, rise)), "bold"), Line(((run, rise), (run + on, rise)), "bold"))
    sheet.put(Line(((run - hip_run, 0.0), (run, rise)), "hidden"))
    sheet.put(Words((run + on / 2, rise), "table", beside="above"))
    sheet.put(upright(run, 0.0, rise, f"rise {t.mm(rise)}", tick=tick, anchor="start"))
    sheet.put(across(0.0, run, -plate * 2, f"in {t.mm(run)}", tick=tick, beside="below"))
    sheet.put(Words((run * 0.55, rise * 0.35), f"slope {t.mm(slope)}\npitch {show_angle(pitch)}"))
    behind = f"hip {t.mm(hip_length)}\npitch {show_angle(figure(hip, 'hip_pitch'))}\nrun {t.mm(hip_run)}"
    sheet.put(Words(((run - hip_run) * 0.5, rise * 0.8), behind))
    named = ", ".join(side.upper() for side in sides)
    says = (
        f"run in {t.mm(run)}, rise {t.mm(rise)}, pitch {show_angle(pitch)}, up the slope {t.mm(slope)}",
        f"hip {str(hip['corner']).upper()} {t.mm(hip_length)} on the line,"
        f" pitch {show_angle(figure(hip, 'hip_pitch'))}, level run {t.mm(hip_run)}",
    )
    return sheet.drawing(f"Table-top: section through slope {named}, the hip dashed", says)


def _hip(t: DrawnAnswer, side: str) -> Row:
    return next(row for row in t.rows("top") if row["corner"] == side[0])

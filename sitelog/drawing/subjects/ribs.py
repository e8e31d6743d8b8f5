"""A built-up rib: one segment on its board with its mitre, and the whole rib with the joints of both layers."""

from collections.abc import Iterator
from math import cos, radians, sin

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, points, upright
from sitelog.quantities.quantity import show_angle
from sitelog.quantities.rounding import places

PARTS = 24  # straight parts that a segment's edge is drawn with


def rib(t: DrawnAnswer) -> Iterator[Drawing]:
    yield _segment(t)
    yield _whole(t)


def _segment(t: DrawnAnswer) -> Drawing:
    """x along the board from the long point, y up from the edge that the ends of the inside stand on."""
    outer, board, used = t.number("chord_out"), t.given("board") or 0.0, t.number("board_used")
    inner, mitre = t.number("chord_in"), t.of("mitre_from_square")
    tick = outer * 0.012
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, outer, board, "hidden"))
    sheet.put(Line(_edge(t, points(t.rows("outline"))), "bold", closed=True))
    left = (outer - inner) / 2
    low = board * 0.2
    sheet.put(across(0.0, outer, board + low, f"long points {t.of('chord_out')}", tick=tick, beside="above"))
    sheet.put(across(left, left + inner, -low, f"inside {t.of('chord_in')}", tick=tick, beside="below"))
    sheet.put(upright(outer + 4 * tick, 0.0, board, f"board\n{t.size('board')}", tick=tick, anchor="start"))
    sheet.put(upright(-4 * tick, 0.0, used, f"used\n{t.of('board_used')}", tick=tick, anchor="end"))
    sheet.put(Words((outer / 2, used / 2), f"rib {t.size('depth')} deep"))
    sheet.put(Words((left, 0.0), f"mitre {mitre}", "start", beside="above"))
    says = (
        f"long points {t.of('chord_out')}, inside {t.of('chord_in')}, mitre {mitre} from square at both ends",
        f"board {t.size('board')} wide, {t.of('board_used')} of it used, rib {t.size('depth')} deep",
        f"{t.count('pieces')} for one rib, {t.count('segments')} in each of {t.count('layers')} layers",
    )
    return sheet.drawing("Rib: one segment on its board", says)


def _edge(t: DrawnAnswer, corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """Round the segment: the outline's own points, and more between them on its two circles."""
    radius, depth, half = t.given("radius") or 0.0, t.given("depth") or 0.0, t.number("angle_each") / 2
    x, y = t.number("chord_out") / 2, -(radius - depth) * cos(radians(half))
    turns = [half * (2 * n / PARTS - 1) for n in range(PARTS + 1)]
    outer = [_at(radius, turn, x, y) for turn in turns]
    inner = [_at(radius - depth, turn, x, y) for turn in reversed(turns)]
    every = PARTS // (len(corners) // 2 - 1)
    for side, found in ((outer, corners[: len(corners) // 2]), (inner, corners[len(corners) // 2 :])):
        side[::every] = found
    return (*outer, *inner)


def _at(radius: float, turn: float, x: float = 0.0, y: float = 0.0) -> Point:
    """A point of a circle about x, y [mm], so many degrees clockwise from straight up."""
    return x + radius * sin(radians(turn)), y + radius * cos(radians(turn))


def _whole(t: DrawnAnswer) -> Drawing:
    """The whole rib about its centre at 0,0, the middle of it straight up; joints of the second layer are dashed."""
    radius, depth, arc = t.given("radius") or 0.0, t.given("depth") or 0.0, t.given("arc") or 0.0
    count, each, layers = int(t.number("segments")), t.number("angle_each"), int(t.number("layers"))
    lap = t.given("lap") or 0.0
    sheet = Sheet.new()
    parts = max(PARTS, min(PARTS * count, 240))
    turns = [arc * (n / parts - 0.5) for n in range(parts + 1)]
    for size in (radius, radius - depth):
        sheet.put(Line(tuple(_at(size, turn) for turn in turns), "bold"))
    for n in range(count + 1):
        turn = arc * (n / count - 0.5)
        sheet.put(Line((_at(radius - depth, turn), _at(radius, turn)), "built"))
    for n in range(count if layers > 1 else 0):
        turn = arc * ((n + lap) / count - 0.5)
        sheet.put(Line((_at(radius - depth, turn), _at(radius, turn)), "hidden"))
    sheet.put(Line((_at(radius, -arc / 2), (0.0, 0.0), _at(radius, arc / 2)), "thin"))
    lines = [
        f"radius {t.size('radius')}, {t.size('depth')} deep",
        f"{count} segments of {show_angle(each)}",
        f"{layers} layers, joints {t.of('lap_length')} apart" if layers > 1 else "1 layer",
    ]
    sheet.put(Words((0.0, radius * 0.45), "\n".join(lines)))
    says = (*lines, f"arc {t.size('arc')}, board for one rib {places(t.number('board_length'), 2)} m")
    return sheet.drawing("Rib: whole, joints of its second layer dashed", says)

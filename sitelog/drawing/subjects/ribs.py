"""A built-up rib: one segment on its board with its mitre, and the whole rib with the joints of both layers."""

from collections.abc import Iterator
from math import cos, radians, sin

from sitelog.drawing.model import Drawing, Line, Point, Stroke, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, box, points, upright
from sitelog.quantities.quantity import show_angle
from sitelog.quantities.rounding import places

PARTS = 24  # straight parts that a segment's edge is drawn with


def rib(answer: DrawnAnswer) -> Iterator[Drawing]:
    """One segment on its board, then the whole rib."""
    yield _segment(answer)
    yield _whole(answer)


def _segment(answer: DrawnAnswer) -> Drawing:
    """x along the board from the long point, y up from the edge that the ends of the inside stand on."""
    outer, board, used = answer.number("chord_out"), answer.taken("board"), answer.number("board_used")
    inner, mitre = answer.number("chord_in"), answer.of("mitre_from_square")
    tick = outer * 0.012
    sheet = Sheet.new()
    sheet.put(box(0.0, 0.0, outer, board, "hidden"))
    sheet.put(Line(_edge(answer, points(answer.rows("outline"))), "bold", closed=True))
    left = (outer - inner) / 2
    low = board * 0.2
    sheet.put(across(0.0, outer, board + low, f"long points {answer.of('chord_out')}", tick=tick, beside="above"))
    sheet.put(across(left, left + inner, -low, f"inside {answer.of('chord_in')}", tick=tick, beside="below"))
    sheet.put(upright(outer + 4 * tick, 0.0, board, f"board\n{answer.size('board')}", tick=tick, anchor="start"))
    sheet.put(upright(-4 * tick, 0.0, used, f"used\n{answer.of('board_used')}", tick=tick, anchor="end"))
    sheet.put(Words((outer / 2, used / 2), f"rib {answer.size('depth')} deep"))
    sheet.put(Words((left, 0.0), f"mitre {mitre}", "start", beside="above"))
    says = (
        f"long points {answer.of('chord_out')}, inside {answer.of('chord_in')}, mitre {mitre} from square at both ends",
        f"board {answer.size('board')} wide, {answer.of('board_used')} of it used, rib {answer.size('depth')} deep",
        f"{answer.count('pieces')} for one rib, {answer.count('segments')} in each of {answer.count('layers')} layers",
    )
    return sheet.drawing("Rib: one segment on its board", says)


def _edge(answer: DrawnAnswer, corners: tuple[Point, ...]) -> tuple[Point, ...]:
    """Round the segment: the outline's own points, and more between them on its two circles."""
    radius, depth, half = answer.taken("radius"), answer.taken("depth"), answer.number("angle_each") / 2
    x, y = answer.number("chord_out") / 2, -(radius - depth) * cos(radians(half))
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


def _whole(answer: DrawnAnswer) -> Drawing:
    """The whole rib about its centre at 0,0, the middle of it straight up; joints of the second layer are dashed."""
    radius, depth, arc = (answer.given(name) or 0.0 for name in ("radius", "depth", "arc"))
    count, layers = int(answer.number("segments")), int(answer.number("layers"))
    sheet = Sheet.new()
    for size in (radius, radius - depth):
        sheet.put(Line(_arc(size, arc, count), "bold"))
    for nth in range(count + 1):
        sheet.put(_joint(radius, depth, arc * (nth / count - 0.5), "built"))
    lap = answer.taken("lap")
    for nth in range(count if layers > 1 else 0):
        sheet.put(_joint(radius, depth, arc * ((nth + lap) / count - 0.5), "hidden"))
    sheet.put(Line((_at(radius, -arc / 2), (0.0, 0.0), _at(radius, arc / 2)), "thin"))
    told = [
        f"radius {answer.size('radius')}, {answer.size('depth')} deep",
        f"{count} segments of {show_angle(answer.number('angle_each'))}",
        f"{layers} layers, joints {answer.of('lap_length')} apart" if layers > 1 else "1 layer",
    ]
    sheet.put(Words((0.0, radius * 0.45), "\n".join(told)))
    says = (*told, f"arc {answer.size('arc')}, board for one rib {places(answer.number('board_length'), 2)} m")
    return sheet.drawing("Rib: whole, joints of its second layer dashed", says)


def _arc(radius: float, arc: float, count: int) -> tuple[Point, ...]:
    """An arc of so many degrees about 0,0 and straight up, in enough straight parts for its segments."""
    parts = max(PARTS, min(PARTS * count, 240))
    return tuple(_at(radius, arc * (nth / parts - 0.5)) for nth in range(parts + 1))


def _joint(radius: float, depth: float, turn: float, stroke: Stroke) -> Line:
    return Line((_at(radius - depth, turn), _at(radius, turn)), stroke)

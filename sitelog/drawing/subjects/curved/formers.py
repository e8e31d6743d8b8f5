"""A former with its slots and joints, what is cut at one bearer, and the slots by themselves to be marked."""

from collections.abc import Iterator, Sequence
from math import atan2, cos, dist, radians, sin, sqrt, tan

from sitelog.calculators.catalogue import Row
from sitelog.drawing.model import Anchor, Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, listed, points, series
from sitelog.quantities.quantity import show_angle, show_section

PARTS = 8  # straight parts of the edge beside a slot


def formers(answer: DrawnAnswer) -> Iterator[Drawing]:
    """The former from its left end at 0,0, its bearers in it; then the first bearer's slot, and a bearer's end."""
    yield _whole(answer)
    yield _slot(answer)
    if answer.given("pitch") is not None:
        yield _bearer(answer)


def _whole(answer: DrawnAnswer) -> Drawing:
    """x from the former's left end, y from the springing."""
    width = answer.number("former_width")
    sheet = Sheet.new()
    sheet.put(Line(((0.0, 0.0), (width, 0.0)), "thin"))
    sheet.put(Line(points(answer.rows("outline")), "bold", closed=True))
    tops = [_end_on(answer, bearer) for bearer in answer.rows("bearers")]
    for corners in tops:
        sheet.put(Line(corners, "built", closed=True))
    for row in answer.rows("joints"):
        out, into = ((figure(row, f"{end}_x"), figure(row, f"{end}_y")) for end in ("out", "in"))
        sheet.put(Line((out, into), "hidden"))
    sheet.put(*series("bearers", [(corners[1], str(n)) for n, corners in enumerate(tops, 1)], "above", _outwards(tops)))
    told = _told(answer)
    inside = answer.number("ceiling_height")
    sheet.put(Words((width / 2, inside * 0.4), "\n".join(told)))
    sheet.put(across(0.0, width, -inside * 0.12, answer.of("former_width"), tick=width * 0.01, beside="below"))
    return sheet.drawing("Formers: one former, its bearers let in", (*told, *_says(answer)))


def _told(answer: DrawnAnswer) -> list[str]:
    """What stands in the middle of the former."""
    told = [
        f"{answer.count('count')} bearers at {answer.of('centres')} along the girth",
        f"ceiling {answer.of('ceiling_height')} high, {answer.of('ceiling_width')} wide",
    ]
    if answer.rows("joints"):
        told.append(f"{answer.count('pieces')} pieces, joints dashed")
    return told


def _says(answer: DrawnAnswer) -> Iterator[str]:
    """Every size that the former is marked by."""
    bearers = answer.rows("bearers")
    yield (
        f"former {answer.of('former_width')} wide at the springing, ring {answer.size('former')} deep,"
        f" {answer.of('left_under_slot')} left under a slot"
    )
    marks = [(answer.mm(figure(row, "girth")), _place(answer, row)) for row in bearers]
    yield listed("bearers along the girth, their mark, top over the springing and lean", marks)
    yield from (_slot_says(answer, row) for row in answer.rows("slots"))
    for row in answer.rows("joints"):
        ends = [answer.mm(figure(row, name)) for name in ("out_x", "out_y", "in_x", "in_y")]
        yield f"joint {row['n']}: {ends[0]}, {ends[1]} to {ends[2]}, {ends[3]}"
    yield f"bearers {', '.join(str(row['n']) for row in bearers)} left to right"


def _end_on(answer: DrawnAnswer, bearer: Row) -> tuple[Point, ...]:
    """Round a bearer from its bottom left, clockwise, as it is in its slot."""
    section, lean = answer.section("bearer"), radians(figure(bearer, "lean"))
    x = figure(bearer, "at") - _middle(answer) + answer.number("former_width") / 2
    y = figure(bearer, "height")
    corners = []
    for way, down in ((-1, section.depth), (-1, 0.0), (1, 0.0), (1, section.depth)):
        off = way * section.thickness / 2
        corners.append((x + off * cos(lean) - down * sin(lean), y - off * sin(lean) - down * cos(lean)))
    return tuple(corners)


def _outwards(tops: Sequence[object]) -> list[Anchor]:
    """Which way the bearers' numbers lead, so that they keep clear of the former."""
    half = len(tops) // 2
    left: list[Anchor] = ["end"] * half
    middle: list[Anchor] = ["middle"] * (len(tops) % 2)
    right: list[Anchor] = ["start"] * half
    return [*left, *middle, *right]


def _place(answer: DrawnAnswer, row: Row) -> str:
    return f"{answer.mm(figure(row, 'at'))}, {answer.mm(figure(row, 'height'))}, lean {show_angle(figure(row, 'lean'))}"


def _slot_says(answer: DrawnAnswer, row: Row) -> str:
    corners = ("mouth_left", "mouth_right", "floor_left", "floor_right")
    told = (
        f"{name.replace('_', ' ')} {answer.mm(figure(row, f'{name}_x'))}, {answer.mm(figure(row, f'{name}_y'))}"
        for name in corners
    )
    sides = f"{answer.mm(figure(row, 'depth_left'))} and {answer.mm(figure(row, 'depth_right'))} deep"
    return f"slot {row['n']}, from the left end and the springing: {', '.join(told)}; {sides}"


def _slot(answer: DrawnAnswer) -> Drawing:
    """One slot as it is marked, the second from the left: each corner by x and y."""
    row = _second(answer.rows("slots"))
    names = ("mouth_left", "floor_left", "floor_right", "mouth_right")
    corners = [(figure(row, f"{name}_x"), figure(row, f"{name}_y")) for name in names]
    wide = dist(corners[1], corners[2])
    sheet = Sheet.new()
    sheet.put(Line(tuple(corners), "bold"))
    for mouth, way in ((corners[0], -1), (corners[3], 1)):
        sheet.put(Line(_edge(answer, mouth, way * wide), "built"))
    for (x, y), name in zip(corners, names, strict=True):
        told = f"{name.replace('_', ' ')}\n{answer.mm(x)}, {answer.mm(y)}"
        way = -1 if name.endswith("left") else 1
        sheet.put(Words((x + way * wide * 0.15, y), told, "end" if way < 0 else "start"))
    sides = f"sides {answer.mm(figure(row, 'depth_left'))} and {answer.mm(figure(row, 'depth_right'))}"
    middle = (corners[1][0] + corners[2][0]) / 2, min(y for _, y in corners) - wide * 0.6
    sheet.put(Words(middle, sides, beside="below"))
    title = f"Formers: corners of slot {row['n']}, from the former's left end and the springing"
    return sheet.drawing(title, (_slot_says(answer, row), sides))


def _edge(answer: DrawnAnswer, mouth: Point, girth: float) -> tuple[Point, ...]:
    """The former's edge from a slot's mouth, so far to the right or left [mm]."""
    radius, half = answer.number("former_radius"), answer.number("former_width") / 2
    below = sqrt(max(radius**2 - half**2, 0.0))
    start = atan2(mouth[0] - half, mouth[1] + below)
    turns = [start + girth / radius * n / PARTS for n in range(1, PARTS + 1)]
    return mouth, *((half + radius * sin(turn), radius * cos(turn) - below) for turn in turns)


def _second(rows: Sequence[Row]) -> Row:
    return rows[min(1, len(rows) - 1)]


def _bearer(answer: DrawnAnswer) -> Drawing:
    """The end of the second bearer: x level from its front end, its top over its side towards the crown."""
    row, section = _second(answer.rows("bearers")), answer.section("bearer")
    arris = _end_on(answer, row)
    inner, outer = ((2, 1), (3, 0)) if figure(row, "at") <= _middle(answer) else ((1, 2), (0, 3))
    top = [_back(answer, arris[n][1]) for n in inner]
    under = _back(answer, arris[outer[0]][1])
    start = min(*top, under) - 2 * section.depth
    cut = ((under, -section.depth), (top[0], 0.0), (top[1], section.thickness))
    sheet = Sheet.new()
    for y, (x, _) in zip((-section.depth, 0.0, section.thickness), cut, strict=True):
        sheet.put(Line(((start, y), (x, y)), "built"))
    sheet.put(Line(cut, "bold"))
    right = max(x for x, _ in cut) + section.thickness * 0.3
    named = {
        "top_cut_from_square": ("top", section.thickness / 2, "saw_tilt_top"),
        "side_cut_from_square": ("side to the crown", -section.depth / 2, "saw_tilt_side"),
    }
    told = []
    for name, (face, y, tilt) in named.items():
        words = f"cut {show_angle(figure(row, name))}, tilt {show_angle(figure(row, tilt))}"
        sheet.put(Words((start, y), face, "start"), Words((right, y), words, "start"))
        told.append(f"{face}: {words} from square")
    lengths = f"long point {answer.mm(figure(row, 'long_point'))}, short point {answer.mm(figure(row, 'short_point'))}"
    sheet.put(Words((start, section.thickness), lengths, "start", beside="above"))
    says = (
        f"section {show_section(section)}, {lengths}, middle of the top {answer.mm(figure(row, 'length_top'))}",
        *told,
        "one on the other side of the crown is the other hand",
    )
    return sheet.drawing(f"Formers: end of bearer {row['n']}, its top and its side folded flat", says)


def _middle(answer: DrawnAnswer) -> float:
    """The middle of the head from the left end of its OUTSIDE [mm]."""
    rows = answer.rows("bearers")
    return (figure(rows[0], "at") + figure(rows[-1], "at")) / 2


def _back(answer: DrawnAnswer, height: float) -> float:
    """Level from the front end to the main slope [mm], so high over the springing [mm]."""
    return (answer.taken("face")) + height / tan(radians(answer.taken("pitch", 90.0)))

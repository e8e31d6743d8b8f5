"""A wedged scarf: the outline of one half, the other half dashed, the gap for the wedges, and the screws."""

from collections.abc import Iterator

from sitelog.drawing.model import Beside, Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, points, series, up_for, upright
from sitelog.drawing.points import share
from sitelog.quantities.quantity import show_angle

BEHIND = 0.8  # depths of plain timber shown behind the shoulder
JOINT = 1.5  # depths over the bottom edge: where the joint's length is written
ABOVE: Beside = "above"
BELOW: Beside = "below"


def scarf(answer: DrawnAnswer) -> Iterator[Drawing]:
    """One half with the other dashed, then the pair of wedges."""
    yield _half(answer)
    yield _wedges(answer)


def _half(answer: DrawnAnswer) -> Drawing:
    """x along the timber from the shoulder, y up from its bottom edge."""
    depth, length = answer.taken("depth"), answer.number("joint_length")
    outline = points(answer.rows("outline"))
    off = BEHIND * depth
    half: tuple[Point, ...] = ((-off, 0.0), *outline, (-off, depth))
    tick = depth * 0.04
    sheet = Sheet.new()
    sheet.put(Line(half, "bold"))
    sheet.put(Line(tuple((length - x, depth - y) for x, y in half), "hidden"))
    x, y = next((figure(row, "x"), figure(row, "y")) for row in answer.rows("positions") if row["point"] == "wedge")
    sheet.put(Line(((x, y), (x, depth * JOINT)), "thin"))
    _screws(sheet, answer)
    joint = f"joint {answer.of('joint_length')}, wedge at {answer.mm(x)}, {answer.mm(y)} up"
    sheet.put(across(0.0, length, depth * JOINT, joint, tick=tick, beside="above"))
    sheet.put(upright(-off * 0.75, 0.0, depth, f"depth {answer.size('depth')}", tick=tick, anchor="start"))
    sheet.put(Words((length + tick, outline[2][1] / 2), f"nib {answer.of('nib')}", "start"))
    sheet.put(Words((length * 0.75, depth * 0.75), f"hook {answer.of('hook')}, gap {answer.of('wedge')}"))
    sheet.put(Words((length * 0.25, depth * 0.2), f"splay {answer.of('splay_from_edge')}"))
    return sheet.drawing("Scarf: one half, the other dashed", _says(answer, outline))


def _screws(sheet: Sheet, answer: DrawnAnswer) -> None:
    """Each screw from its edge through where it crosses the splay to its tip, its start beside its edge."""
    depth = answer.given("depth") or 0.0
    for edge, level, beside in (("top", depth, ABOVE), ("bottom", 0.0, BELOW)):
        rows = [row for row in answer.rows("screws") if row["edge"] == edge]
        for row in rows:
            start, crossing = (figure(row, "start_x"), level), (figure(row, "x"), figure(row, "y"))
            part = figure(row, "length") / figure(row, "through") if figure(row, "through") else 1.0
            sheet.put(Line((start, crossing, share(start, crossing, part)), "built"))
        starts = [((figure(row, "start_x"), level), answer.mm(figure(row, "start_x"))) for row in rows]
        sheet.put(*series(f"screws {edge}", starts, beside))
    long = answer.mm(figure(answer.rows("screws")[0], "length"))
    sheet.put(Words((-depth * 0.1, 0.0), f"screws {long} long, at", "end", beside="below"))


def _says(answer: DrawnAnswer, outline: tuple[Point, ...]) -> Iterator[str]:
    yield f"joint {answer.of('joint_length')} long, timber {answer.size('depth')} deep, nibs {answer.of('nib')}"
    yield (
        f"splay {answer.of('splay_from_edge')} from the edge, hook {answer.of('hook')} across,"
        f" gap {answer.of('wedge')} along"
    )
    yield f"{answer.of('depth_left')} of timber left at the hook"
    yield f"outline, along and up: {', '.join(f'{answer.mm(x)} {answer.mm(y)}' for x, y in outline)}"
    for row in answer.rows("positions"):
        yield f"{row['point']} at {answer.mm(figure(row, 'x'))}, {answer.mm(figure(row, 'y'))} up"
    for row in answer.rows("screws"):
        start, through, into, long = (answer.mm(figure(row, name)) for name in ("start_x", "through", "into", "length"))
        lean = show_angle(figure(row, "from_square"))
        yield (
            f"screw {row['n']}: from the {row['edge']} at {start}, {lean} from square, {long} long,"
            f" {through} through, {into} into the other"
        )


def _wedges(answer: DrawnAnswer) -> Drawing:
    """Square down on the gap: x across the timber's thickness from one face, y along the gap."""
    thick, gap, drive = (answer.given(name) or 0.0 for name in ("thickness", "wedge", "drive"))
    thin, head = answer.number("wedge_thin"), answer.number("wedge_thick")
    first = ((-drive, 0.0), (thick, 0.0), (thick, thin), (-drive, head))
    sheet = Sheet.new()
    sheet.put(Line(first, "bold", closed=True))
    sheet.put(Line(tuple((thick - x, gap - y) for x, y in first), "bold", closed=True))
    for x in (0.0, thick):
        sheet.put(Line(((x, -gap * 0.4), (x, gap * 1.4)), "hidden"))
    sizes = f"tip {answer.of('wedge_thin')}, {answer.of('wedge_at_face')} at the face, head {answer.of('wedge_thick')}"
    long = f"wedges {answer.of('wedge_length')} long, {answer.size('drive')} to drive and saw off"
    sheet.put(Words((thick / 2, gap * 1.4), long, beside="above"))
    sheet.put(Words((thick / 2, -gap * 0.4), sizes, beside="below"))
    sheet.put(
        Words((-drive, gap), f"gap {answer.of('wedge')}\ntimber {answer.size('thickness')}", "start", beside="above")
    )
    says = (long, sizes, f"timber {answer.size('thickness')} thick, gap {answer.of('wedge')}; one from each side")
    return sheet.drawing("Scarf: the pair of wedges driven home, faces of the timber dashed", says, up_for(thick, gap))

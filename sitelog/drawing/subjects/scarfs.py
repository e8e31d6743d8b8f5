"""A wedged scarf: the outline of one half, the other half dashed, the gap for the wedges, and the screws."""

from collections.abc import Iterator

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, points, series, upright

BEHIND = 0.8  # depths of plain timber shown behind the shoulder


def scarf(answer: DrawnAnswer) -> Iterator[Drawing]:
    """x along the timber from the shoulder, y up from its bottom edge."""
    depth, length = answer.given("depth") or 0.0, answer.number("joint_length")
    outline = points(answer.rows("outline"))
    off = BEHIND * depth
    half: tuple[Point, ...] = ((-off, 0.0), *outline, (-off, depth))
    tick = depth * 0.04
    sheet = Sheet.new()
    sheet.put(Line(half, "bold"))
    sheet.put(Line(tuple((length - x, depth - y) for x, y in half), "hidden"))
    for row in answer.rows("positions"):
        x, y = figure(row, "x"), figure(row, "y")
        if row["point"] == "wedge":
            sheet.put(Words((x, depth), f"wedge at {answer.mm(x)}, {answer.mm(y)} up", beside="above"))
            sheet.put(Line(((x, y), (x, depth)), "thin"))
        else:
            sheet.put(Line(((x, y - depth * 0.1), (x, y), (x, y + depth * 0.1)), "built"))
    screws = [row for row in answer.rows("positions") if row["point"] != "wedge"]
    sheet.put(*series("screws", [((figure(row, "x"), 0.0), answer.mm(figure(row, "x"))) for row in screws], "below"))
    sheet.put(Words((-depth * 0.1, 0.0), "screws at", "end", beside="below"))
    sheet.put(across(0.0, length, depth * 1.35, f"joint {answer.of('joint_length')}", tick=tick, beside="above"))
    sheet.put(upright(-off * 0.75, 0.0, depth, f"depth {answer.size('depth')}", tick=tick, anchor="start"))
    sheet.put(Words((length + tick, outline[2][1] / 2), f"nib {answer.of('nib')}", "start"))
    sheet.put(Words((length * 0.75, depth * 0.75), f"hook {answer.of('hook')}, gap {answer.of('wedge')}"))
    sheet.put(Words((length * 0.25, depth * 0.2), f"splay {answer.of('splay_from_edge')}"))
    says = (
        f"joint {answer.of('joint_length')} long, timber {answer.size('depth')} deep, nibs {answer.of('nib')}",
        f"splay {answer.of('splay_from_edge')} from the edge, hook {answer.of('hook')} across,"
        f" gap {answer.of('wedge')} along",
        f"{answer.of('depth_left')} of timber left at the hook",
        f"outline, along and up: {', '.join(f'{answer.mm(x)} {answer.mm(y)}' for x, y in outline)}",
        *(
            f"{row['point']} at {answer.mm(figure(row, 'x'))}, {answer.mm(figure(row, 'y'))} up"
            for row in answer.rows("positions")
        ),
    )
    yield sheet.drawing("Scarf: one half, the other dashed", says)

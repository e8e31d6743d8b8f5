"""A wedged scarf: the outline of one half, the other half dashed, the gap for the wedges, and the screws."""

from collections.abc import Iterator

from sitelog.drawing.model import Drawing, Line, Point, Words
from sitelog.drawing.pen import DrawnAnswer, Sheet, across, figure, points, series, upright

BEHIND = 0.8  # depths of plain timber shown behind the shoulder


def scarf(t: DrawnAnswer) -> Iterator[Drawing]:
    """x along the timber from the shoulder, y up from its bottom edge."""
    depth, length = t.given("depth") or 0.0, t.number("joint_length")
    outline = points(t.rows("outline"))
    off = BEHIND * depth
    half: tuple[Point, ...] = ((-off, 0.0), *outline, (-off, depth))
    tick = depth * 0.04
    sheet = Sheet.new()
    sheet.put(Line(half, "bold"))
    sheet.put(Line(tuple((length - x, depth - y) for x, y in half), "hidden"))
    for row in t.rows("positions"):
        x, y = figure(row, "x"), figure(row, "y")
        if row["point"] == "wedge":
            sheet.put(Words((x, depth), f"wedge at {t.mm(x)}, {t.mm(y)} up", beside="above"))
            sheet.put(Line(((x, y), (x, depth)), "thin"))
        else:
            sheet.put(Line(((x, y - depth * 0.1), (x, y), (x, y + depth * 0.1)), "built"))
    screws = [row for row in t.rows("positions") if row["point"] != "wedge"]
    sheet.put(*series("screws", [((figure(r, "x"), 0.0), t.mm(figure(r, "x"))) for r in screws], "below"))
    sheet.put(Words((-depth * 0.1, 0.0), "screws at", "end", beside="below"))
    sheet.put(across(0.0, length, depth * 1.35, f"joint {t.of('joint_length')}", tick=tick, beside="above"))
    sheet.put(upright(-off * 0.75, 0.0, depth, f"depth {t.size('depth')}", tick=tick, anchor="start"))
    sheet.put(Words((length + tick, outline[2][1] / 2), f"nib {t.of('nib')}", "start"))
    sheet.put(Words((length * 0.75, depth * 0.75), f"hook {t.of('hook')}, gap {t.of('wedge')}"))
    sheet.put(Words((length * 0.25, depth * 0.2), f"splay {t.of('splay_from_edge')}"))
    says = (
        f"joint {t.of('joint_length')} long, timber {t.size('depth')} deep, nibs {t.of('nib')}",
        f"splay {t.of('splay_from_edge')} from the edge, hook {t.of('hook')} across, gap {t.of('wedge')} along",
        f"{t.of('depth_left')} of timber left at the hook",
        f"outline, along and up: {', '.join(f'{t.mm(x)} {t.mm(y)}' for x, y in outline)}",
        *(f"{row['point']} at {t.mm(figure(row, 'x'))}, {t.mm(figure(row, 'y'))} up" for row in t.rows("positions")),
    )
    yield sheet.drawing("Scarf: one half, the other dashed", says)

"""A wedged scarf: one half with the other dashed, and one of its pair of wedges."""

from collections.abc import Iterator

from sitelog.drawing.pen import DrawnAnswer, figure, points
from sitelog.drawing.points import share
from sitelog.reports.templates.model import Label, Line, Template, mark, path, rows

BEHIND = 60.0  # mm of plain timber behind the shoulder


def scarf(answer: DrawnAnswer) -> Iterator[Template]:
    """One half, then a wedge."""
    yield _half(answer)
    yield _wedge(answer)


def _half(answer: DrawnAnswer) -> Template:
    """x along the timber from the shoulder, y up from its bottom edge."""
    depth, length = answer.taken("depth"), answer.number("joint_length")
    outline = points(answer.rows("outline"))
    half = ((-BEHIND, 0.0), *outline, (-BEHIND, depth))
    lines = [*path(half), mark(half[-1], half[0], dashed=True), mark((0.0, 0.0), (0.0, depth))]
    lines += path([(length - x, depth - y) for x, y in half], "mark", dashed=True)
    lines.append(mark((length, 0.0), (length, depth)))
    screws = [_screw(row, depth) for row in answer.rows("screws")]
    says = (
        f"joint {answer.of('joint_length')} long, timber {answer.size('depth')} deep, nibs {answer.of('nib')}",
        f"splay {answer.of('splay_from_edge')} from the edge, hook {answer.of('hook')}, gap {answer.of('wedge')} along",
        f"{answer.of('depth_left')} of timber left at the hook; {len(screws)} screws dashed",
        "dashed: the other half, the same turned end for end; the second timber starts its square line there",
    )
    told = rows((length * 0.56, depth * 0.92), ("Scarf, one half", *says[:2]), "start")
    return Template("Scarf, one half", (*lines, *screws), (*told,), says)


def _screw(row: dict[str, float | int | str | None], depth: float) -> Line:
    """From its edge through the splay to its tip."""
    start = figure(row, "start_x"), depth if row["edge"] == "top" else 0.0
    crossing = figure(row, "x"), figure(row, "y")
    return mark(start, share(start, crossing, figure(row, "length") / figure(row, "through")), dashed=True)


def _wedge(answer: DrawnAnswer) -> Template:
    """x across the timber from the face it is driven from, its head on the left."""
    thick, drive = answer.taken("thickness"), answer.taken("drive")
    head, thin = answer.number("wedge_thick"), answer.number("wedge_thin")
    lines = path(((-drive, 0.0), (thick, 0.0), (thick, thin), (-drive, head)), closed=True)
    lines.append(mark((0.0, -5.0), (0.0, head + 5.0), dashed=True))
    says = (
        f"wedge {answer.of('wedge_length')} long, {answer.size('drive')} to drive and saw off",
        f"tip {answer.of('wedge_thin')}, {answer.of('wedge_at_face')} at the face, head {answer.of('wedge_thick')}",
        "cut two: one from each side",
    )
    told = rows((-drive, -8.0), ("Scarf, wedge", *says), "start")
    return Template(
        "Scarf, wedge: cut two", tuple(lines), (*told, Label((2.0, head + 3.0), "face of the timber", "start")), says
    )

"""A former with its slots, joints and centre line: the calculator's outline, its chords put back into arcs."""

from collections.abc import Iterator, Sequence
from math import atan2, degrees, dist, hypot, sqrt

from sitelog.drawing.pen import DrawnAnswer, figure, points
from sitelog.quantities.quantity import show_angle, show_section
from sitelog.reports.templates.model import Arc, Curve, Label, Line, Point, Segment, Template, mark, rows

ON = 1e-4  # mm: a point of the outline nearer to a circle than that is on it
PAST = 10.0  # mm that a centre line runs past the edge


def formers(answer: DrawnAnswer) -> Iterator[Template]:
    """x from the former's left end at the springing, y plumb from the springing."""
    width, radius = answer.number("former_width"), answer.number("former_radius")
    centre = width / 2, -sqrt(max(radius**2 - (width / 2) ** 2, 0.0))
    outline = points(answer.rows("outline"))
    curves = edges(outline, centre, (radius, answer.number("inside_radius")))
    crown = radius + centre[1]
    lines = [*map(Line, curves), mark((0.0, 0.0), (width, 0.0)), mark((width / 2, -PAST), (width / 2, crown + PAST))]
    for row in answer.rows("joints"):
        out, into = ((figure(row, f"{end}_x"), figure(row, f"{end}_y")) for end in ("out", "in"))
        lines.append(mark(out, into, dashed=True))
    says = tuple(_says(answer))
    told = rows((width / 2 + 36.0, crown - 40.0), ("Former", *says[:3]), "start")
    yield Template("Former with its slots", tuple(lines), (*told, *_slots(answer, centre)), says)


def edges(outline: Sequence[Point], centre: Point, radii: Sequence[float]) -> list[Curve]:
    """Round the outline: chords that follow each other on one of the circles are one arc, all else is straight."""
    found: list[Curve] = []
    run: list[Point] = []
    on = 0.0
    for start, end in zip(outline, [*outline[1:], outline[0]], strict=True):
        radius = next((one for one in radii if _is_on(start, centre, one) and _is_on(end, centre, one)), 0.0)
        if run and radius == on and radius:
            run.append(end)
            continue
        found += _curve(run, centre, on)
        run, on = [start, end], radius
    return [*found, *_curve(run, centre, on)]


def _curve(run: Sequence[Point], centre: Point, radius: float) -> Iterator[Curve]:
    if not run:
        return
    if not radius:
        yield Segment(run[0], run[-1])
        return
    first, last = (degrees(atan2(y - centre[1], x - centre[0])) for x, y in (run[0], run[-1]))
    yield Arc(centre, radius, radius, min(first, last), max(first, last))


def _is_on(point: Point, centre: Point, radius: float) -> bool:
    return abs(hypot(point[0] - centre[0], point[1] - centre[1]) - radius) <= ON


def _slots(answer: DrawnAnswer, centre: Point) -> Iterator[Label]:
    """Each slot's number under its floor, and how deep its sides are."""
    for row in answer.rows("slots"):
        left, right = ((figure(row, f"floor_{side}_x"), figure(row, f"floor_{side}_y")) for side in ("left", "right"))
        middle = (left[0] + right[0]) / 2, (left[1] + right[1]) / 2
        off = dist(middle, centre)
        inward = (centre[0] - middle[0]) / off, (centre[1] - middle[1]) / off
        deep = [answer.mm(figure(row, f"depth_{side}")) for side in ("left", "right")]
        sides = deep[0] if deep[0] == deep[1] else f"{deep[0]} and {deep[1]}"
        at = middle[0] + 9.0 * inward[0], middle[1] + 9.0 * inward[1]
        yield from rows(at, (f"{row['n']}", sides))


def _says(answer: DrawnAnswer) -> Iterator[str]:
    yield f"{answer.of('former_width')} wide at the springing, ring {answer.size('former')} deep"
    yield f"radius {answer.of('former_radius')}, inside {answer.of('inside_radius')}"
    bearer = show_section(answer.section("bearer"))
    yield f"{answer.count('count')} slots for {bearer}, {answer.of('centres')} along the girth"
    yield f"{answer.of('left_under_slot')} left under a slot, smallest"
    if answer.rows("joints"):
        mitre = answer.of("joint_mitre_from_square")
        yield f"{answer.count('pieces')} pieces, joints dashed, mitre {mitre} from square"
    leans = ", ".join(f"{row['n']}: {show_angle(figure(row, 'lean'))}" for row in answer.rows("bearers"))
    yield f"lean of the bearers from plumb: {leans}"

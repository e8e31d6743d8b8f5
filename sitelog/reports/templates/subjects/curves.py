"""Curves: a rib's segment and the whole rib, an eyebrow's face, and a dormer's line on the slope and at the ceiling."""

from collections.abc import Callable, Iterator, Sequence

from sitelog.calculators.curves.segments import Segment as Head
from sitelog.drawing.pen import DrawnAnswer, figure
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.quantity import show_angle
from sitelog.reports.templates.model import Arc, Label, Line, Template, mark, path, rows

PAST = 40.0  # mm that a centre line runs past what it is the centre of
Curves = Callable[[float, float], list[Arc]]  # by how far inside the outside [mm], and a factor for what is plumb


def rib(answer: DrawnAnswer) -> Iterator[Template]:
    """One segment on its board, then the whole rib to lay the segments on."""
    yield _segment(answer)
    yield _whole_rib(answer)


def _segment(answer: DrawnAnswer) -> Template:
    """x along the board from the long point, y up from the edge on which the ends of the inside are."""
    radius, depth = answer.taken("radius"), answer.taken("depth")
    half, long = answer.number("angle_each") / 2, answer.number("chord_out")
    centre = long / 2, -(radius - depth) * cos_deg(half)
    outer, inner = (Arc(centre, size, size, 90 - half, 90 + half) for size in (radius, radius - depth))
    lines = [Line(outer), Line(inner)]
    for turn in (90 - half, 90 + half):
        lines += path((inner.at(turn), outer.at(turn)))
    lines.append(mark((centre[0], -PAST / 4), (centre[0], answer.number("board_used") + PAST / 4), dashed=True))
    lines.append(mark((0.0, 0.0), (long, 0.0), dashed=True))
    if answer.number("layers") > 1:
        other = 90 + half - 2 * half * answer.taken("lap")
        lines.append(mark(inner.at(other), outer.at(other), dashed=True))
    says = (
        f"radius {answer.size('radius')}, rib {answer.size('depth')} deep",
        f"long points {answer.of('chord_out')}, inside {answer.of('chord_in')}",
        f"mitre {answer.of('mitre_from_square')} from square at both ends",
        f"{answer.count('pieces')} for one rib, {answer.count('segments')} in each of {answer.count('layers')} layers",
        f"board {answer.size('board')} wide, {answer.of('board_used')} of it used",
    )
    middle = (centre[0] + 4.0, answer.number("board_used") - depth / 2 + 6.0)
    return Template(
        "One segment of the rib", tuple(lines), (*rows(middle, ("Rib, one segment", *says[:3]), "start"),), says
    )


def _whole_rib(answer: DrawnAnswer) -> Template:
    """The centre at 0,0, the middle straight up; joints of the second layer dashed."""
    radius, depth, arc = (answer.taken(name) for name in ("radius", "depth", "arc"))
    count, layers = int(answer.number("segments")), int(answer.number("layers"))
    start, end = 90 - arc / 2, 90 + arc / 2
    outer, inner = (Arc((0.0, 0.0), size, size, start, end) for size in (radius, radius - depth))
    lines = [Line(outer), Line(inner)]
    for nth in range(count + 1):
        turn = end - arc * nth / count
        ends = inner.at(turn), outer.at(turn)
        lines += path(ends, "cut" if nth in (0, count) else "mark")
    for nth in range(count if layers > 1 else 0):
        turn = end - arc * (nth + answer.taken("lap")) / count
        lines.append(mark(inner.at(turn), outer.at(turn), dashed=True))
    lines.append(mark(outer.at(end), outer.at(start), dashed=True))
    lines.append(mark((0.0, outer.at(end)[1]), (0.0, radius + PAST / 4), dashed=True))
    says = (
        f"radius {answer.size('radius')}, {answer.size('depth')} deep, arc {answer.size('arc')}",
        f"{count} segments of {answer.of('angle_each')}, joints of the second layer dashed",
    )
    at = (4.0, radius - depth / 2)
    return Template(
        "Whole rib, to lay its segments on", tuple(lines), (*rows(at, ("Rib, whole", *says), "start"),), says
    )


# --- a dormer's line ----------------------------------------------------------------------------------------------


def barrel(answer: DrawnAnswer) -> Iterator[Template]:
    """Its line on the main slope, and its ceiling's."""
    radius, pitch = answer.number("semi_axis_across"), answer.taken("pitch")
    rise = answer.number("ridge_up_slope") * sin_deg(pitch)
    width = figure(answer.rows()[-1], "at")
    outside = Head(width, rise, radius)

    def curves(inside: float, plumb: float) -> list[Arc]:
        inner = outside.inside(inside) if inside else outside
        half = inner.angle / 2
        centre = width / 2, (rise - radius) * plumb
        return [Arc(centre, inner.radius, inner.radius * plumb, 90 - half, 90 + half)]

    yield _on_slope(answer, "Barrel", curves)
    if answer.rows("ceiling_rows"):
        yield _at_ceiling(answer, "Barrel", curves)


def eyebrow(answer: DrawnAnswer) -> Iterator[Template]:
    """Its face, then with a pitch its line on the main slope and its ceiling's."""
    width, rise = answer.taken("width"), answer.taken("rise")
    crown, wing, turn = (answer.number(name) for name in ("crown_radius", "wing_radius", "tangent_angle"))

    def curves(inside: float, plumb: float) -> list[Arc]:
        """Crown and wings keep their centres; the crown's radius is less by what is inside, the wings' more."""
        top, side = crown - inside, wing + inside
        return [
            Arc((0.0, wing * plumb), side, side * plumb, 270, 270 + turn),
            Arc((width / 2, (rise - crown) * plumb), top, top * plumb, 90 - turn, 90 + turn),
            Arc((width, wing * plumb), side, side * plumb, 270 - turn, 270),
        ]

    yield _face(answer, curves)
    if answer.given("pitch") is not None and answer.given("run") is None:
        yield _on_slope(answer, "Eyebrow", curves)
        if answer.rows("ceiling_rows"):
            yield _at_ceiling(answer, "Eyebrow", curves)


def _face(answer: DrawnAnswer, curves: Curves) -> Template:
    """Square on: x from the left end, y plumb from the level of the ends."""
    width, rise = answer.taken("width"), answer.taken("rise")
    found = curves(0.0, 1.0)
    lines = [*map(Line, found), mark((0.0, 0.0), (width, 0.0)), _middle(width / 2, rise)]
    meet, high, turn = (answer.number(name) for name in ("tangent_at", "tangent_height", "tangent_angle"))
    for at, way in ((meet, -1), (width - meet, 1)):
        off = PAST * sin_deg(turn) * way, PAST * cos_deg(turn)
        lines.append(mark((at - off[0], high - off[1]), (at + off[0], high + off[1]), dashed=True))
    says = (
        f"{answer.size('width')} wide, {answer.size('rise')} high",
        f"radius of the crown {answer.of('crown_radius')}, of the wings {answer.of('wing_radius')}",
        f"arcs meet at {answer.of('tangent_at')} from each end, {answer.of('tangent_height')} up",
    )
    return Template("Eyebrow: curve at the face", tuple(lines), (*_told(width, rise, ("Eyebrow, face", *says)),), says)


def _on_slope(answer: DrawnAnswer, called: str, curves: Curves) -> Template:
    """Square down on the main slope: x from the left end of the outside, y up the slope from the springing's level."""
    plumb = 1 / sin_deg(answer.taken("pitch"))
    width = figure(answer.rows()[-1], "at")
    top = curves(0.0, plumb)
    crown = max(figure(row, "along_slope") for row in answer.rows())
    lines = [*map(Line, top), mark((0.0, 0.0), (width, 0.0)), *_ordinates(answer, "rows")]
    says = [f"pitch {answer.size('pitch')}, crown {answer.mm(crown)} up the slope"]
    high = crown
    if answer.rows("lower_rows"):
        shift = answer.number("deck_shift")
        high += shift
        lines += [Line(one, "mark", dashed=True) for one in _moved(top, shift)]
        says += [
            f"dashed: line beneath the sheet, {answer.of('deck_shift')} further up (sheet {answer.size('deck')})",
            f"beneath, measure from the zero carried square through; saw {_saw(answer)} from square",
        ]
    if answer.rows("inner_rows"):
        lines += [Line(one, "mark", dashed=True) for one in curves(answer.taken("sheet"), plumb)]
        says.append(f"inner dashed: inside the dormer's own sheet, {answer.size('sheet')}")
    lines.append(_middle(width / 2, high))
    head = f"{called}, line on the main slope"
    return Template(
        f"{called}: line on the main slope, both faces",
        tuple(lines),
        (*_told(width, crown, (head, *says)), *_sizes(answer, "rows")),
        tuple(says),
    )


def _saw(answer: DrawnAnswer) -> str:
    """The saw's lean at the crown and at the ends."""
    leans = [figure(row, "back_cut_from_square") for row in answer.rows()]
    return f"{show_angle(leans[len(leans) // 2])} at the crown, {show_angle(leans[0])} at the ends"


def _at_ceiling(answer: DrawnAnswer, called: str, curves: Curves) -> Template:
    """Square down on what the ceiling meets: y up the slope from the line square through the roof under the zero."""
    pitch, rows_of_it = answer.taken("pitch"), answer.rows("ceiling_rows")
    further = answer.taken("below") / tan_deg(pitch)
    found = _moved(curves(answer.taken("inside"), 1 / sin_deg(pitch)), further)
    left, right = (figure(row, "at") for row in (rows_of_it[0], rows_of_it[-1]))
    crown = max(figure(row, "along_slope") for row in rows_of_it)
    lines = [*map(Line, found), mark((left, 0.0), (right, 0.0)), *_ordinates(answer, "ceiling_rows")]
    lines.append(_middle((left + right) / 2, crown))
    says = (
        f"{answer.size('inside')} inside the outside, {answer.size('below')} under the main slope's sheet",
        f"crown {answer.mm(crown)} up the slope, from under the zero",
    )
    head = f"{called}, line at the ceiling"
    return Template(
        f"{called}: line at the ceiling",
        tuple(lines),
        (*_told(left + right, crown, (head, *says)), *_sizes(answer, "ceiling_rows")),
        says,
    )


def _moved(arcs: Sequence[Arc], up: float) -> list[Arc]:
    """The same arcs so far up [mm]."""
    return [Arc((arc.centre[0], arc.centre[1] + up), arc.across, arc.up, arc.start, arc.end) for arc in arcs]


def _ordinates(answer: DrawnAnswer, name: str) -> Iterator[Line]:
    """A mark at each station, so that the line can be tried with a tape; at both ends right up to it."""
    stations = answer.rows(name)
    for row in stations:
        at, up = figure(row, "at"), figure(row, "along_slope")
        if up > PAST and row not in (stations[0], stations[-1]):
            yield mark((at, up - PAST), (at, up))
            yield mark((at, 0.0), (at, min(up, PAST / 4)))
        elif up:
            yield mark((at, 0.0), (at, up))


def _sizes(answer: DrawnAnswer, name: str) -> Iterator[Label]:
    """At each station how far along it is, and how far up the slope."""
    for row in answer.rows(name):
        at, up = figure(row, "at"), figure(row, "along_slope")
        yield Label((at + 1.5, 3.0), answer.mm(at), "start")
        if up > PAST:
            yield Label((at + 1.5, up - PAST), answer.mm(up), "start")


def _middle(x: float, high: float) -> Line:
    """The centre line, from under the zero to past the crown."""
    return mark((x, -PAST / 4), (x, high + PAST / 4), dashed=True)


def _told(width: float, high: float, texts: Sequence[str]) -> Iterator[Label]:
    yield from rows((width / 2 + 4.0, high - 60.0), texts, "start")

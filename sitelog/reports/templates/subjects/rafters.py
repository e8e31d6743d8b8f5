"""Ends of rafters as they lie on the bench: birdsmouth and tail, head, hip backing, and the end of a ridge."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from math import dist

from sitelog.drawing.pen import DrawnAnswer, figure
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.quantity import show_section
from sitelog.reports.templates.model import Line, Point, Template, mark, path, rows

KEPT = 160.0  # mm of plain timber beyond what is cut
BROKEN = 6.0  # mm that the break is dashed past an edge
NONE = 0.01  # mm: a tail nearer than that to the heel's plumb line is none
ALIKE = 0.1  # mm: faces whose points are no further apart have one template
KINDS = ("common", "rafter", "hip", "valley")  # whose ends have templates; a jack has the common's foot
FACES = {"face": "either face", "1": "face 1", "2": "face 2"}

Marks = Mapping[str, Point]  # of one line of a timber, by their names: running from the head, and down as a minus


def sticks(answer: DrawnAnswer) -> Iterator[Template]:
    """The foot, where there is a plate, and the head of each face. The end of a ridge for a ridge."""
    kind = answer.word("kind")
    if kind == "ridge":
        yield _ridge_end(answer)
    if kind in KINDS:
        faces = {name: marks for name, marks in _by_line(answer).items() if name in ("face", "1", "2")}
        if all("corner" in marks for marks in faces.values()):
            yield from _each_once([_foot(answer, *face) for face in faces.items()])
        yield from _each_once([_head(answer, *face) for face in faces.items()])


def _each_once(made: Sequence[Template]) -> Iterator[Template]:
    """Of one or two faces; alike ones once, with both named. A jack has lines for faces, and no template."""
    if len(made) == 2 and _is_alike(*made):
        yield replace(made[0], title=made[0].title.replace("face 1", "faces 1 and 2"))
    else:
        yield from made


def _by_line(answer: DrawnAnswer) -> dict[str, dict[str, Point]]:
    """The points of each line of a timber: x running from the head to the tail, y up from the top edge."""
    way = -1 if answer.word("zero") == "tail" else 1
    lines: dict[str, dict[str, Point]] = {}
    for row in answer.rows():
        lines.setdefault(str(row["line"]), {})[str(row["point"])] = way * figure(row, "at"), -figure(row, "down")
    return lines


def _is_alike(template: Template, other: Template) -> bool:
    """Whether every line of the one is where the other has it."""
    pairs = zip(template.lines, other.lines, strict=False)
    ends = (zip(line.curve.points(), as_there.curve.points(), strict=False) for line, as_there in pairs)
    return len(template.lines) == len(other.lines) and all(dist(*both) <= ALIKE for pair in ends for both in pair)


def _foot(answer: DrawnAnswer, name: str, marks: Marks) -> Template:
    """From KEPT above the birdsmouth down to the tail: x from the plumb line through the plate's edge, to the tail."""
    origin = marks["plate-top"][0]
    own = {point: (x - origin, y) for point, (x, y) in marks.items()}
    depth = -own["heel-bottom"][1]
    start = min(own["seat-end"][0], own["plate-top"][0]) - KEPT
    corner, seat = own["corner"], own["seat-end"]
    tail = _tail(own)
    lines = path(((start, 0.0), *tail, corner, seat, (start, -depth)))
    lines += [_break(start, depth), mark(own["plate-top"], corner)]
    lines += _centre_lines(answer, name, ("plate-top", "heel-bottom"), origin)
    sizes = [f"seat {answer.mm(dist(corner, seat))}, {answer.mm(-corner[1])} down from the top edge at the corner"]
    if len(tail) > 1:
        sizes.append(f"tail: top edge {answer.mm(own['tail-top'][0])} past the plumb line")
    says = (f"{_cut(answer)}; {sizes[0]}", *sizes[1:], *_cheek(answer, name, "tail"))
    head = "Birdsmouth and tail" if len(tail) > 1 else "Birdsmouth, no tail"
    told = rows((start + 6.0, -10.0), (head, *_folded(says)), "start")
    return Template(f"{head}, {FACES[name]}", tuple(lines), (*told,), says)


def _tail(own: Marks) -> list[Point]:
    """From the top edge round to the heel's plumb line; with no overhang, the top of that line alone."""
    if abs(own["tail-top"][0] - own["plate-top"][0]) < NONE:
        return [own["plate-top"]]
    return [own["tail-top"], own["tail-bottom"], own["heel-bottom"]]


def _head(answer: DrawnAnswer, name: str, marks: Marks) -> Template:
    """x from the head's top point towards the foot."""
    origin = marks["head-top"][0]
    top, bottom = ((x - origin, y) for x, y in (marks["head-top"], marks["head-bottom"]))
    end = max(top[0], bottom[0]) + KEPT
    lines = [*path(((end, 0.0), top, bottom, (end, bottom[1]))), _break(end, -bottom[1])]
    lines += _centre_lines(answer, name, ("head-top", "head-bottom"), origin)
    pitch, ridge = answer.number("plumb_cut_from_square"), answer.taken("ridge")
    says = [_cut(answer), *_cheek(answer, name, "head")]
    if ridge and name == "face":
        off = ridge / 2 / cos_deg(pitch)
        lines.append(mark((-off, 0.0), (bottom[0] - off, bottom[1]), dashed=True))
        says.append(f"dashed: centre of the ridge, {answer.size('ridge')} thick")
    head = "Head"
    told = rows((bottom[0] + 8.0, -10.0), (head, *says), "start")
    return Template(f"{head}, {FACES[name]}", tuple(lines), (*told,), tuple(says))


def _cheek(answer: DrawnAnswer, name: str, end: str) -> Iterator[str]:
    """The bevel and the tilt of that face's cheek, of a timber that has a centre line of its own."""
    bevel = f"{end}_bevel_{name}_from_square"
    if answer.has(bevel):
        tilt = answer.of(f"{end}_tilt_{name}")
        yield f"{end}: edge bevel {answer.of(bevel)} from square, saw tilt {tilt} on the plumb line"
    if name != "face":
        yield "dashed: plumb line on its centre"


def _centre_lines(answer: DrawnAnswer, name: str, ends: tuple[str, str], origin: float) -> Iterator[Line]:
    """The same plumb line on the timber's centre, where that is another one."""
    centre = _by_line(answer).get("centre")
    if centre and name != "centre":
        yield mark(*((centre[end][0] - origin, centre[end][1]) for end in ends), dashed=True)


def _break(x: float, depth: float) -> Line:
    """Where the timber goes on."""
    return mark((x, BROKEN), (x, -depth - BROKEN), dashed=True)


def _cut(answer: DrawnAnswer) -> str:
    """The plumb cut, as the list has it."""
    return f"plumb cut {answer.of('plumb_cut_from_square')} from square"


def _folded(says: Sequence[str]) -> list[str]:
    """Each part of a line on its own."""
    return [part for line in says for part in line.split("; ")]


def birdsmouth(answer: DrawnAnswer) -> Iterator[Template]:
    """The birdsmouth alone: x from the plumb line through the plate's edge, towards the tail."""
    depth, deep = answer.section().depth, answer.number("depth")
    if not deep:
        return
    pitch = answer.taken("pitch")
    seat, heel = answer.number("seat"), answer.number("heel")
    corner = (depth - deep) * tan_deg(pitch), -(depth - deep)
    inner = corner[0] - seat * cos_deg(pitch), -depth
    outer = corner[0] + heel * sin_deg(pitch), -depth
    end, start = outer[0] + KEPT, min(inner[0], 0.0) - KEPT
    lines = [*path(((start, 0.0), (end, 0.0))), *path(((end, -depth), outer, corner, inner, (start, -depth)))]
    lines += [_break(start, depth), _break(end, depth), mark((0.0, 0.0), corner)]
    says = (
        f"section {show_section(answer.section())}, pitch {answer.size('pitch')}",
        f"{answer.of('depth')} deep, seat {answer.of('seat')}, heel {answer.of('heel')}",
        f"seat to top edge {answer.of('height_above_plate')}, plumb",
    )
    told = rows((start + 6.0, -10.0), ("Birdsmouth", *says), "start")
    yield Template("Birdsmouth", tuple(lines), (*told,), says)


def hip(answer: DrawnAnswer) -> Iterator[Template]:
    """Its section, square to its length: the middle of its top at 0,0, side 1 on the left as you look up the hip."""
    section = answer.section()
    half, depth = section.thickness / 2, section.depth
    downs = [half * tan_deg(answer.number(f"backing_{side}")) for side in (1, 2)]
    left, right = (-half, -downs[0]), (half, -downs[1])
    lines = path(((-half, -depth), left, (0.0, 0.0), right, (half, -depth)), closed=True)
    lines += path((left, (-half, 0.0), (half, 0.0), right), "mark", dashed=True)
    lines.append(mark((0.0, 10.0), (0.0, -depth - 10.0), dashed=True))
    backing = [
        f"side {side}: {answer.of(f'backing_{side}')} from square, {answer.mm(down)} down the face"
        for side, down in zip((1, 2), downs, strict=True)
    ]
    says = (
        f"section {show_section(section)}, square to its length, seen looking up the hip",
        *backing,
        f"left square it is dropped by {answer.mm(max(answer.number('drop_1'), answer.number('drop_2')))}, plumb",
    )
    told = rows((half + 8.0, -8.0), ("Backing", *_short(says)), "start")
    sides = (
        *rows((-half - 3.0, -depth / 2), ("side 1",), "end"),
        *rows((half + 3.0, -depth / 2), ("side 2",), "start"),
    )
    yield Template("Backing", tuple(lines), (*told, *sides), says)


def _short(says: Sequence[str]) -> list[str]:
    """Broken at the commas, so that they stand beside a narrow section."""
    return [part.strip() for line in says for part in line.split(", ")]


def _ridge_end(answer: DrawnAnswer) -> Template:
    """The face of the ridge at its head: x from its end, y up from the top edge; the last two pairs' centres."""
    depth = answer.section().depth
    marks = _by_line(answer)["face"]
    origin = marks["head-top"][0]
    centres = sorted(x - origin for point, (x, _) in marks.items() if point.startswith("centre-"))[:2]
    end = centres[-1] + KEPT / 2
    lines = [*path(((end, 0.0), (0.0, 0.0), (0.0, -depth), (end, -depth))), _break(end, depth)]
    lines += [mark((x, 0.0), (x, -depth)) for x in centres]
    says = (
        f"section {show_section(answer.section())}",
        f"last pair's centre {answer.mm(centres[0])} from the end; lines of hip and commons meet on it",
        *(f"next rafter's centre {answer.mm(x)} from the end" for x in centres[1:]),
    )
    told = rows((centres[0] + 6.0, -10.0), ("End", *says), "start")
    return Template("End", tuple(lines), (*told,), says)

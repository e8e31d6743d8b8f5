"""Rafters by one rule: what of the line up a slope at a mark is inside its outline, cut to what its ends meet."""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.read_off.openings import Opening
from sitelog.geometry.read_off.scanned import TRIMMER, End, Scan, flat_edges, hole
from sitelog.geometry.spacings import inside
from sitelog.geometry.surface.clipping import SAME
from sitelog.geometry.surface.plan_text import nearest
from sitelog.geometry.surface.surface import Surface, surface
from sitelog.geometry.surface.walls import Slope
from sitelog.geometry.vectors import Vector, angle_between_lines, atan_deg, cos_deg, cross, dot, minus, tan_deg
from sitelog.refusal import Refusal

MOST = 5_000  # rafters
EDGES = ("verge", "abutment", "step")  # lines along which a rafter may run
KINDS = {
    ("eaves", "ridge"): "common",
    ("eaves", "point"): "common",
    ("eaves", "hip"): "hip jack",
    ("valley", "ridge"): "valley jack",
    ("laid valley", "ridge"): "valley jack",
    ("valley", "hip"): "cripple",
    ("laid valley", "hip"): "cripple",
    ("valley", "valley"): "cripple",
    ("laid valley", "valley"): "cripple",
}
FIRST = (
    "eaves",
    "ridge",
    "trimmer",
    "level valley",
    "break",
    "valley",
    "laid valley",
    "hip",
    "step",
    "abutment",
    "verge",
)


class Cut(Struct, frozen=True):
    """How one end of a rafter is cut [deg]: its line on the side and on the top edge, from square, and the saw's tilt.

    The tilt is for a saw that follows the line on the side. `back` is how far [mm] the end falls short along the rafter
    for each mm that the face it is cut to stands off its line, and `swing` how much further up the slope the line is
    for each mm along the wall.
    """

    side_from_square: float
    edge_from_square: float
    saw_tilt: float
    back: float
    swing: float


class RafterEnd(Struct, frozen=True):
    """What a rafter meets: its kind, its kind and name in words, and the cut to it."""

    kind: str
    name: str
    cut: Cut


class Rafter(Struct, frozen=True):
    """A rafter on its measuring line, from foot to head [mm], its slope by its place."""

    slope: int
    at: float
    kind: str
    foot: RafterEnd
    head: RafterEnd
    length: float
    start: Vector
    end: Vector


class Marks(Struct, frozen=True):
    """Rafters stand a spacing [mm] apart, from a corner of the plan, or from the first point of each slope's wall.

    Set out from the last, from the middle or evened they share each slope from its first end to its last. `whole` are
    those beside a verge a little out of square, drawn in to run up it; else it cuts them off where it crosses them.
    """

    spacing: float
    origin: str = ""
    way: str = "first"
    whole: bool = False

    def on(self, found: Surface, slope: Slope, first: float, last: float) -> list[float]:
        """The marks along a slope between two places on it, which are its ends."""
        if self.way != "first":
            between = inside(last - first, self.spacing, self.way, SAME)
            return [first, *(first + mark for mark in between), last]
        start = slope.flat(*found.plan.points[self.origin])[0] if self.origin else 0.0
        low = math.ceil((first - SAME - start) / self.spacing)
        high = math.floor((last + SAME - start) / self.spacing)
        return [start + nth * self.spacing for nth in range(low, high + 1)]


def rafters(
    found: Surface,
    marks: Marks,
    openings: Sequence[Opening] = (),
    laid: Sequence[str] = (),
    only: int | None = None,
) -> list[Rafter]:
    """Every rafter of a roof, slope by slope; those of one slope alone if its place is given.

    Over blocks that are `laid` the slopes under them run on whole, and their own rafters stand on boards along the
    valleys. Refusal for a block that isn't there, an origin that isn't a point or has no use, or too many rafters.
    """
    if marks.origin and marks.way != "first":
        raise Refusal(f"origin: set out {marks.way} starts from no corner; leave origin= or set_out= out")
    if marks.origin and marks.origin not in found.plan.points:
        raise Refusal(f"origin: {marks.origin} isn't a point; {nearest(marks.origin, list(found.plan.points))}")
    under = _without(found, laid)
    carried = {slope for block in under.plan.blocks for slope in block.slopes}
    every: list[Rafter] = []
    for slope in range(len(found.slopes)) if only is None else (only,):
        is_carried = slope in carried
        every += _on_slope(under if is_carried else found, slope, marks, openings, is_laid=not is_carried)
        if len(every) > MOST:
            raise Refusal(f"spacing: more than {MOST} rafters; give a wider spacing")
    return every


def _without(found: Surface, laid: Sequence[str]) -> Surface:
    """The surface without the blocks that are laid over the others."""
    names = [block.name for block in found.plan.blocks]
    for name in laid:
        if name not in names:
            raise Refusal(f"laid: {name} isn't a block; {nearest(name, names)}")
    if not laid:
        return found
    kept = tuple(block for block in found.plan.blocks if block.name not in laid)
    if not kept:
        raise Refusal("laid: every block is laid over another; name those that lie on the main roof")
    return surface(replace(found.plan, blocks=kept))


def _on_slope(
    found: Surface, slope: int, marks: Marks, openings: Sequence[Opening], *, is_laid: bool
) -> Iterator[Rafter]:
    rings = flat_edges(found, slope)
    if not rings:
        return
    rings += [hole(opening.ring, TRIMMER - place) for place, opening in enumerate(openings) if opening.slope == slope]
    scan = Scan(rings, [line.kind in EDGES for line in found.lines])
    every = marks.on(found, found.slopes[slope], scan.first, scan.last)
    for mark in map(scan.drawn_in, every) if marks.whole else every:
        for part in scan.at(mark):
            start = found.slopes[slope].raised(mark, part.low.at)
            end = found.slopes[slope].raised(mark, part.high.at)
            foot = _end(found, slope, part.low, start, is_laid=is_laid)
            head = _end(found, slope, part.high, end, is_laid=False)
            kind = KINDS.get((foot.kind, head.kind), "other")
            yield Rafter(slope, mark, kind, foot, head, part.length, start, end)


def _end(found: Surface, slope: int, end: End, at: Vector, *, is_laid: bool) -> RafterEnd:
    """What a rafter meets there: at a corner the line that comes first in FIRST, or the point where hips meet."""
    own = found.slopes[slope]
    met = [(_kind(found, line), line) for line in end.lines]
    kind, line = min(met, key=lambda one: FIRST.index(one[0]))
    if kind == "trimmer":
        return RafterEnd(kind, f"trimmer {TRIMMER - line + 1}", _cut(own, own.along))
    if kind == "hip" and len(met) > 1:
        ridge = _ridge_from(found, at)
        if ridge is not None:
            return _end_on(found, slope, ridge)
        if sum(one == "hip" for one, _ in met) > 1:
            return RafterEnd("point", f"point {_point_at(found, at)}", _cut(own, own.along))
    if is_laid and kind == "valley":
        return _end_on_boards(found, slope, line)
    return _end_on(found, slope, line)


def _end_on(found: Surface, slope: int, line: int) -> RafterEnd:
    """An end that meets a line of the roof."""
    own, met = found.slopes[slope], found.lines[line]
    start, stop = found.points[met.start].at, found.points[met.end].at
    way = own.along if met.kind == "eaves" else (stop[0] - start[0], stop[1] - start[1])
    return RafterEnd(met.kind, f"{met.kind} {found.line_name(met)}", _cut(own, way))


def _end_on_boards(found: Surface, slope: int, line: int) -> RafterEnd:
    """A foot on the boards of a laid valley, which lie on the other slope."""
    met = found.lines[line]
    other = next(place for place in met.between if place != slope)
    cut = _cut_on(found.slopes[slope], found.slopes[other])
    return RafterEnd("laid valley", f"laid valley {found.line_name(met)}", cut)


def _kind(found: Surface, line: int) -> str:
    if line >= 0:
        return found.lines[line].kind
    return "trimmer"


def _ridge_from(found: Surface, at: Vector) -> int | None:
    """The ridge that ends in a point of the roof, as the crown's common meets it; None where none does."""
    for place, line in enumerate(found.lines):
        if line.kind == "ridge" and any(math.dist(found.points[end].at, at) < 2.0 for end in (line.start, line.end)):
            return place
    return None


def _point_at(found: Surface, at: Vector) -> str:
    return min(found.points, key=lambda point: math.dist(point.at, at)).name


def _cut(own: Slope, way: tuple[float, float]) -> Cut:
    """The cut to an upright face along a line on plan, as `jacks` and `common` have it."""
    turn = angle_between_lines((*own.along, 0.0), (*way, 0.0))
    if turn > 90 - 1e-6:  # it runs along the line and never meets it
        return Cut(own.pitch, 0.0, 0.0, 0.0, 0.0)
    cosine = cos_deg(own.pitch)
    edge = atan_deg(tan_deg(turn) / cosine)
    return Cut(own.pitch, edge, turn, 1 / cos_deg(turn) / cosine, _swing(own, way))


def _cut_on(own: Slope, under: Slope) -> Cut:
    """The cut of a rafter that stands on boards over another slope."""
    side: Vector = (*own.along, 0.0)
    along_rafter = minus(own.raised(0.0, 1.0), own.raised(0.0, 0.0))
    square = cross(side, along_rafter)
    on_side, on_edge = cross(under.normal, side), cross(under.normal, square)
    tilt = 90 - angle_between_lines(under.normal, side)
    return Cut(
        angle_between_lines(on_side, square),
        angle_between_lines(on_edge, side),
        tilt,
        1 / max(abs(dot(under.normal, along_rafter)), 1e-9),
        _swing(own, on_edge[:2]),
    )


def _swing(own: Slope, way: tuple[float, float]) -> float:
    """How much further up the slope a line on it is for each mm along the wall."""
    (x, y), (x_end, y_end) = own.flat(*own.start), own.flat(own.start[0] + way[0], own.start[1] + way[1])
    return (y_end - y) / (x_end - x)

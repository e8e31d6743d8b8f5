"""What the two ends of a rafter meet, and the cut to it: plate, hip, valley, ridge or its end, boards, trimmer."""

import math

from msgspec import Struct

from sitelog.geometry.read_off.scanned import TRIMMER, End
from sitelog.geometry.surface.surface import Surface
from sitelog.geometry.surface.walls import Slope
from sitelog.geometry.vectors import Vector, angle_between_lines, atan_deg, cos_deg, cross, dot, minus, tan_deg

SKEW = 45.0  # deg between a rafter and a ridge, over which it is cut to the ridge's side
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

    def steeper(self, by: float, *, is_plumb: bool) -> "Cut":
        """The cut to the same face of a rafter that lies `by` [deg] steeper: a plumb face, or a board under it."""
        if not self.back:
            return Cut(self.side_from_square + by, 0.0, 0.0, 0.0, 0.0)
        side = self.side_from_square + (by if is_plumb else -by)
        along = cos_deg(self.saw_tilt) * cos_deg(side)  # of the face's normal, along the rafter
        before = cos_deg(self.saw_tilt) * cos_deg(self.side_from_square)
        edge = atan_deg(tan_deg(self.saw_tilt) / cos_deg(side))
        return Cut(side, edge, self.saw_tilt, 1 / along, self.swing * before / along)


class RafterEnd(Struct, frozen=True):
    """What a rafter meets: its kind, its kind and name in words, and the cut to it.

    The kind of a common that runs on to the end of a ridge, at the head of two hips, is `ridge end`.
    """

    kind: str
    name: str
    cut: Cut


def end_of(found: Surface, slope: int, end: End, at: Vector, *, is_laid: bool) -> RafterEnd:
    """What a rafter meets there: at a corner the line that comes first in FIRST, or the point where hips meet."""
    own = found.slopes[slope]
    met = [(_kind(found, line), line) for line in end.lines]
    kind, line = min(met, key=lambda one: FIRST.index(one[0]))
    if kind == "trimmer":
        return RafterEnd(kind, f"trimmer {TRIMMER - line + 1}", _cut(own, own.along))
    if kind == "hip" and len(met) > 1:
        ridge = _ridge_from(found, at)
        if ridge is not None:
            return _end_on_ridge_end(found, slope, ridge)
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


def _end_on_ridge_end(found: Surface, slope: int, line: int) -> RafterEnd:
    """A head at the end of a ridge: cut to that end, or to the ridge's side where the rafter comes at it more squarely.

    Over plates a little out of square the ridge isn't quite in line with the rafter: a cut along its side would never
    end.
    """
    own, met = found.slopes[slope], found.lines[line]
    start, stop = found.points[met.start].at, found.points[met.end].at
    way = stop[0] - start[0], stop[1] - start[1]
    if angle_between_lines((*own.inward, 0.0), (*way, 0.0)) > SKEW:
        return _end_on(found, slope, line)
    return RafterEnd("ridge end", f"ridge {found.line_name(met)}", _cut(own, (-way[1], way[0])))


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

"""Rafters by one rule: what of the line up a slope at a mark is inside its outline, cut to what its ends meet."""

import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.read_off.dormer_rooms import dormer_rooms
from sitelog.geometry.read_off.openings import Opening
from sitelog.geometry.read_off.paired import MOST, PAIRS, paired_marks
from sitelog.geometry.read_off.rafter_ends import RafterEnd, end_of
from sitelog.geometry.read_off.scanned import EDGES, TRIMMER, Part, Scan, flat_edges, hole, overlap
from sitelog.geometry.spacings import inside
from sitelog.geometry.surface.clipping import SAME
from sitelog.geometry.surface.plan_text import nearest
from sitelog.geometry.surface.surface import Surface, surface
from sitelog.geometry.surface.walls import Slope
from sitelog.geometry.vectors import Vector
from sitelog.refusal import Refusal

KINDS = {
    ("eaves", "ridge"): "common",
    ("eaves", "ridge end"): "common",
    ("eaves", "point"): "common",
    ("eaves", "hip"): "hip jack",
    ("valley", "ridge"): "valley jack",
    ("valley", "ridge end"): "valley jack",
    ("laid valley", "ridge"): "valley jack",
    ("laid valley", "ridge end"): "valley jack",
    ("valley", "hip"): "cripple",
    ("laid valley", "hip"): "cripple",
    ("valley", "valley"): "cripple",
    ("laid valley", "valley"): "cripple",
}


class Rafter(Struct, frozen=True):
    """A rafter on its measuring line, from foot to head [mm], its slope by its place.

    `most` is from the lowest to the highest that the slope is in the rafter's thickness [mm].
    """

    slope: int
    at: float
    kind: str
    foot: RafterEnd
    head: RafterEnd
    length: float
    start: Vector
    end: Vector
    most: float


class Marks(Struct, frozen=True):
    """Rafters stand a spacing [mm] apart, from a corner of the plan, or from the first point of each slope's wall.

    Set out from the last, from the middle or evened they share each slope from its first end to its last; in pairs
    they stand opposite one another at hips and valleys. `whole` are those beside a verge a little out of square, drawn
    in to run up it; else it cuts them off where it crosses them. `thickness` is theirs [mm], and `later` are blocks,
    such as dormers, whose rafters in pairs are set out to those of the roof that they stand on.
    """

    spacing: float
    origin: str = ""
    way: str = "first"
    whole: bool = False
    thickness: float = 0.0
    later: tuple[str, ...] = ()

    def on(self, slope: Slope, scan: Scan, found: Surface) -> list[float]:
        """The marks along a slope between its ends."""
        every = self._on(slope, scan, found)
        return [scan.drawn_in(mark) for mark in every] if self.whole else every

    def _on(self, slope: Slope, scan: Scan, found: Surface) -> list[float]:
        if self.way != "first":
            between = inside(scan.last - scan.first, self.spacing, self.way, SAME)
            return [scan.first, *(scan.first + mark for mark in between), scan.last]
        start = slope.flat(*found.plan.points[self.origin])[0] if self.origin else 0.0
        low = math.ceil((scan.first - SAME - start) / self.spacing)
        high = math.floor((scan.last + SAME - start) / self.spacing)
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
    valleys. Under a dormer that is laid they stop at its opening and run on above it. Refusal for a block that isn't
    there, an origin that isn't a point or has no use, or too many rafters.
    """
    _check_origin(found, marks)
    under = _without(found, laid)
    paired = _paired(found, marks, laid) if marks.way == PAIRS else {}
    carried = _slopes_of(under)
    openings = [*openings, *dormer_rooms(found, [name for name in laid if name in marks.later])]
    every: list[Rafter] = []
    for slope in range(len(found.slopes)) if only is None else (only,):
        own = under if slope in carried else found
        scan = _scan(own, slope, openings)
        if scan.edges:
            at = paired[slope] if paired else marks.on(own.slopes[slope], scan, own)
            every += _on_slope(own, slope, scan, at, is_laid=slope not in carried, thickness=marks.thickness)
        if len(every) > MOST:
            raise Refusal(f"spacing: more than {MOST} rafters; give a wider spacing")
    return every


def _check_origin(found: Surface, marks: Marks) -> None:
    """Refusal for an origin that isn't a point or has no use."""
    if marks.origin and marks.way != "first":
        raise Refusal(f"origin: set out {marks.way} starts from no corner; leave origin= or set_out= out")
    if marks.origin and marks.origin not in found.plan.points:
        raise Refusal(f"origin: {marks.origin} isn't a point; {nearest(marks.origin, list(found.plan.points))}")


def _scan(found: Surface, slope: int, openings: Sequence[Opening]) -> Scan:
    """What of a slope there is, without its openings; nothing of one that is hidden."""
    rings = flat_edges(found, slope)
    if rings:
        rings += [hole(one.ring, TRIMMER - place) for place, one in enumerate(openings) if one.slope == slope]
    return Scan(rings, [line.kind in EDGES for line in found.lines])


def _slopes_of(found: Surface) -> set[int]:
    return {slope for block in found.plan.blocks for slope in block.slopes}


def _paired(found: Surface, marks: Marks, laid: Sequence[str]) -> Mapping[int, list[float]]:
    """The marks of every slope, worked once: the main roof and what is framed into it, what is laid, what is later."""
    key = PAIRS, marks, *laid
    if key not in found.kept:
        under = _without(found, laid)
        base = _without(under, [block.name for block in under.plan.blocks if block.name in marks.later])
        first, carried, sizes = _slopes_of(base), _slopes_of(under), (marks.spacing, marks.thickness)
        on = paired_marks(base, first, *sizes)
        later = paired_marks(under, carried - first, *sizes, beside=on)
        on_boards = paired_marks(found, set(range(len(found.slopes))) - carried, *sizes, over_valleys=False)
        found.kept[key] = on | later | on_boards
    kept: Mapping[int, list[float]] = found.kept[key]
    return kept


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
    key = "without", *laid
    if key not in found.kept:
        found.kept[key] = surface(replace(found.plan, blocks=kept))
    under: Surface = found.kept[key]
    return under


def _on_slope(
    found: Surface, slope: int, scan: Scan, marks: Sequence[float], *, is_laid: bool, thickness: float
) -> Iterator[Rafter]:
    for mark in marks:
        for part in scan.at(mark):
            start = found.slopes[slope].raised(mark, part.low.at)
            end = found.slopes[slope].raised(mark, part.high.at)
            foot = end_of(found, slope, part.low, start, is_laid=is_laid)
            head = end_of(found, slope, part.high, end, is_laid=False)
            kind = KINDS.get((foot.kind, head.kind), "other")
            yield Rafter(slope, mark, kind, foot, head, part.length, start, end, _most(scan, mark, part, thickness))


def _most(scan: Scan, mark: float, part: Part, thickness: float) -> float:
    """From the lowest to the highest that the outline is in a rafter's thickness [mm]."""
    half = thickness / 2
    if not half:
        return part.length
    places = [mark - half, mark + half, *(edge.start[0] for edge in scan.edges if abs(edge.start[0] - mark) < half)]
    beside = [part, *(one for place in places for one in scan.at(place) if overlap(one, part))]
    return max(one.high.at for one in beside) - min(one.low.at for one in beside)

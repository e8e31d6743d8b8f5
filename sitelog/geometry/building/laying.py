"""Plates laid block after block: where each stands on the one that it is built on to, and the walls round them all."""

import itertools
import math
from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.building.placing import (
    CORNERS,
    NARROW,
    check_under_eaves,
    is_straight,
    main_corners,
    outline,
    refused,
)
from sitelog.geometry.building.plates import CARRIED, Block, Plates, PlateSide
from sitelog.geometry.building.said import BAY, DORMER, LEAN_TO, MAIN, SIDES, WING, Said, Side
from sitelog.geometry.surface.walls import Point
from sitelog.near import closest, did_you_mean
from sitelog.quantities.rounding import as_typed, as_worked

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O, which are read as figures
FLUSH = 0.5  # mm: a block that starts this near to a corner starts at it


def plates_of(every: Sequence[Said]) -> Plates:
    """The plates of a building. Refusal, by the block's name, for a block that can't stand where it is said to."""
    building = _Building()
    for said in every:
        if said.kind == MAIN:
            building.begin(said)
        elif said.kind in (WING, BAY):
            building.build_on(said)
        elif said.kind in CARRIED:
            building.carry(said)
    points = {name: building.known[name] for start, end in building.ring for name in (start, end)}
    ordered = {name: at for name, at in building.known.items() if name in points}
    return Plates(ordered, [(start, end) for start, end in building.ring], building.blocks, building.known)


class _Foot(Struct, frozen=True):
    """Where a block's side starts on a wall, and the point it runs out to; the plate beside it there, if any.

    `straight` is one in line with that plate, and `gone` one that only makes it longer.
    """

    corner: str
    at: Point
    out: Point
    beside: PlateSide
    cover: Side
    straight: bool = False
    gone: bool = False


class _Building:
    """Plates as block after block is built on."""

    def __init__(self) -> None:
        self.known: dict[str, Point] = {}
        self.ring: list[list[str]] = []
        self.owner: list[PlateSide] = []  # of each wall of the ring
        self.blocks: list[Block] = []
        self._letters = self._free_letters()

    def _free_letters(self) -> Iterator[str]:
        yield from LETTERS
        number = 2
        while True:
            yield from (f"{letter}{number}" for letter in LETTERS)
            number += 1

    def _corner(self, at: Point) -> str:
        name = next(self._letters)
        self.known[name] = at
        return name

    # --- the main roof ---

    def begin(self, said: Said) -> None:
        names = [self._corner(at) for at in main_corners(said)]
        sides = []
        for place, start in enumerate(names):
            end = names[(place + 1) % len(names)]
            side = said.sides.get(start + end, Side("slope", said.pitch))
            sides.append(PlateSide(start + end, start, end, side, said.plate))
            self.ring.append([start, end])
            self.owner.append(sides[-1])
        if all(side.side.kind in ("gable", "against") for side in sides):
            raise refused(said, "none of its sides has a pitch: leave one without gable", said.kind)
        self.blocks.append(Block(said, sides))

    # --- wings and bays ---

    def build_on(self, said: Said) -> None:
        host, at = self._host(said)
        side = host.sides[at]
        if said.kind == BAY and side.side.kind not in ("slope", "mansard"):
            raise refused(said, f"{side.name} is a gable: a bay needs a slope. Make it a wing", "side")
        first, wall = self._wall(said, host, at)
        way, out, origin = self._frame(said, host, at)
        own = outline(said, first, way, out, origin)
        covers = [said.sides.get(name, Side("slope", said.pitch)) for name in SIDES]
        before, after = self.owner[wall - 1], self.owner[(wall + 1) % len(self.ring)]
        feet = (
            self._foot(said, wall, self.ring[wall][0], _Foot("", own[0], own[1], before, covers[0])),
            self._foot(said, wall, self.ring[wall][1], _Foot("", own[-1], own[-2], after, covers[-1])),
        )
        if feet[0].gone and feet[1].gone:
            raise refused(said, "it is as wide as the side that it is off: make that block longer instead", "width")
        if said.level and (feet[0].corner or feet[1].corner):
            what = "with a level ridge it can't be flush with a corner: move it along, or leave out level"
            raise refused(said, what, "distance")
        corners = [self._letter(feet[0]), *map(self._corner, own[1:-1]), self._letter(feet[1])]
        sides = self._sides_of(said, corners, covers, feet)
        self._splice(wall, corners, sides, side)
        self.blocks.append(Block(said, sides, host, at, tuple(corners), first))

    def _foot(self, said: Said, wall: int, corner: str, foot: "_Foot") -> "_Foot":
        """The foot with what it meets. Refusal where it all but reaches a corner, or meets another block."""
        gap = math.dist(foot.at, self.known[corner])
        if FLUSH < gap < NARROW:
            raise refused(
                said, f"it stops {as_worked(gap)} mm from corner {corner}: make it flush, or leave more", "distance"
            )
        if gap > FLUSH:
            return foot
        if corner not in (self.owner[wall].start, self.owner[wall].end):
            raise refused(
                said, f"it meets another block at {corner}: leave a gap, or make the two one block", "distance"
            )
        plate = foot.beside
        straight = is_straight((self.known[plate.start], self.known[plate.end]), (foot.at, foot.out))
        gone = straight and plate.side == foot.cover and plate.up == said.plate
        return replace(foot, corner=corner, straight=straight, gone=gone)

    def _letter(self, foot: "_Foot") -> str:
        """The letter of where it stands on the wall: a new one, that of the wall's corner, or none."""
        if foot.gone:
            return ""
        return foot.corner or self._corner(foot.at)

    def _sides_of(
        self, said: Said, corners: Sequence[str], covers: Sequence[Side], feet: Sequence["_Foot"]
    ) -> list[PlateSide]:
        """Its sides; one that only runs on a plate in line is that plate."""
        ends = itertools.pairwise(corners)
        sides = [
            PlateSide(f"{said.name}.{name}", start, end, cover, said.plate)
            for name, (start, end), cover in zip(SIDES, ends, covers, strict=True)
        ]
        for place, foot in zip((0, -1), feet, strict=True):
            if foot.gone:
                sides[place] = foot.beside
            elif foot.straight:
                _in_line(foot.beside, sides[place])
        if feet[0].gone:
            sides[0].end = corners[1]
        if feet[1].gone:
            sides[-1].start = corners[-2]
        return sides

    def _splice(self, wall: int, corners: Sequence[str], sides: Sequence[PlateSide], host: PlateSide) -> None:
        """The ring with the block's walls in place of what of the wall it covers."""
        start, end = self.ring[wall]
        added = [[first, last] for first, last in itertools.pairwise(corners)]
        owners = list(sides)
        if corners[0] == "":
            self.ring[wall - 1][1] = corners[1]
            added, owners = added[1:], owners[1:]
            if host.start == start:
                host.start = corners[-1]
        if corners[-1] == "":
            self.ring[(wall + 1) % len(self.ring)][0] = corners[-2]
            added, owners = added[:-1], owners[:-1]
            if host.end == end:
                host.end = corners[0]
        if corners[0] not in ("", start):
            added, owners = [[start, corners[0]], *added], [host, *owners]
        if corners[-1] not in ("", end):
            added, owners = [*added, [corners[-1], end]], [*owners, host]
        self.ring[wall : wall + 1] = added
        self.owner[wall : wall + 1] = owners

    # --- what is carried ---

    def carry(self, said: Said) -> None:
        host, at = self._host(said)
        first, _ = self._along(said, host, at)
        side = host.sides[at].side
        if said.kind == DORMER and side.kind not in ("slope", "mansard"):
            raise refused(said, f"{host.sides[at].name} is a {side.kind}: a dormer needs a slope", "side")
        way, out, origin = self._frame(said, host, at)
        if said.kind == LEAN_TO:
            check_under_eaves(said, host.sides[at].side.kind, host.sides[at].up, host.sides[at].name)
        points = outline(said, first, way, out, origin)
        corners = tuple(self._corner(point) for point in points)
        self.blocks.append(Block(said, [], host, at, corners, first))

    # --- where it stands ---

    def _host(self, said: Said) -> tuple[Block, int]:
        """The block that it is built on to, and the place of the side."""
        assert said.place is not None
        wanted = said.place.side
        known: dict[str, tuple[Block, int]] = {}
        for block in self.blocks:
            names = [side.name for side in block.sides] if block.said.kind == MAIN else _names(block)
            known.update({name: (block, at) for at, name in enumerate(names) if block.said.kind != BAY})
        if wanted not in known:
            near = closest(wanted, list(known))
            like = did_you_mean(near, f"the sides are {', '.join(known)}")
            raise refused(said, f"{wanted} isn't a side to build on; {like}", "side")
        return known[wanted]

    def _frame(self, said: Said, host: Block, at: int) -> tuple[Point, Point, Point]:
        """Along a side anticlockwise, out from it, and its first corner."""
        start, end = (self.known[name] for name in _ends(self, host, at))
        long = math.dist(start, end)
        way = (end[0] - start[0]) / long, (end[1] - start[1]) / long
        return way, (way[1], -way[0]), start

    def _along(self, said: Said, host: Block, at: int) -> tuple[float, float]:
        """From the side's first corner to where the block starts along it, and the side's length [mm]."""
        assert said.place is not None
        ends = _ends(self, host, at)
        names = ends if host.said.kind == MAIN else CORNERS[at]
        if said.place.corner not in names:
            raise refused(
                said,
                f"{said.place.corner} isn't a corner of {said.place.side}; give {' or '.join(map(str, names))}",
                "corner",
            )
        long = math.dist(self.known[ends[0]], self.known[ends[1]])
        distance, width = said.place.distance, said.size[0]
        first = distance if said.place.corner == names[0] else long - distance - width
        if not said.taped and (first < -FLUSH or first + width > long + FLUSH):
            raise refused(
                said,
                f"{as_typed(width)} wide and {as_typed(distance)} from {said.place.corner} runs past the end of "
                f"{said.place.side}, which is {as_worked(long)}",
                "distance",
            )
        return first, long

    def _wall(self, said: Said, host: Block, at: int) -> tuple[float, int]:
        """Where along its side it starts [mm], and the wall of the ring that takes it whole."""
        first, _ = self._along(said, host, at)
        way, _, origin = self._frame(said, host, at)
        side = host.sides[at]
        for wall, owner in enumerate(self.owner):
            if owner is side:
                low, high = (
                    (self.known[name][0] - origin[0]) * way[0] + (self.known[name][1] - origin[1]) * way[1]
                    for name in self.ring[wall]
                )
                if low - FLUSH <= first and first + said.size[0] <= high + FLUSH:
                    return first, wall
        assert said.place is not None
        raise refused(said, f"another block is there on {said.place.side}: move it, or make it narrower", "distance")


def _in_line(plate: PlateSide, new: PlateSide) -> None:
    """A gable in a straight wall with a slope takes that slope's line: measured, the two stay one line."""
    upright = ("gable", "against")
    if plate.side.kind in upright and new.side.kind == "slope":
        plate.line = new
    if new.side.kind in upright and plate.side.kind == "slope":
        new.line = plate


def _names(block: Block) -> list[str]:
    if not block.sides:
        return []
    return [f"{block.name}.{name}" for name in SIDES]


def _ends(building: _Building, host: Block, at: int) -> tuple[str, str]:
    """The two corners of a side as it was said, before any other block ran on in line with it."""
    if host.said.kind == MAIN:
        corners = [side.name[:1] for side in host.sides]
        return corners[at], corners[(at + 1) % len(corners)]
    assert host.host is not None
    start = host.corners[at] or _dropped(building, host, at)
    return start, host.corners[at + 1] or _dropped(building, host, at + 1)


def _dropped(building: _Building, block: Block, corner: int) -> str:
    """The corner of its host that fell away where a block runs on in line with it."""
    assert block.host is not None
    ends = _ends(building, block.host, block.host_side)
    if corner == 0:
        return ends[0]
    return ends[1]

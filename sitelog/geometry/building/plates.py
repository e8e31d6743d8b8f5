"""The plates of a building: its lettered corners as drawn, the walls round it, and the sides of each block."""

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from sitelog.geometry.building.said import BAY, DORMER, LEAN_TO, MAIN, SIDES, WING, Said, Side
from sitelog.geometry.surface.walls import Point
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.near import closest
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O, which are read as figures
FLUSH = 0.5  # mm: a block that starts this near to a corner starts at it
NARROW = 25.0  # mm: nearer to a corner than this, and it is asked whether it is meant to be flush
CARRIED = (LEAN_TO, DORMER)  # what stands on another block's wall or slope, with no plate of the plan's own


class PlateSide(Struct):
    """One side of a block: from point to point, what stands on it, its plate's height [mm] over the main plates."""

    name: str
    start: str
    end: str
    side: Side
    up: float = 0.0
    line: "PlateSide | None" = None  # of a gable, the slope's plate next to it that it stands in line with


class Block(Struct):
    """A block with its sides anticlockwise, and what it is built on to: `host` and the place of that side in it.

    What is `CARRIED` has its four corners in `corners`, drawn, and no sides of its own.
    """

    said: Said
    sides: list[PlateSide]
    host: "Block | None" = None
    host_side: int = 0
    corners: tuple[str, ...] = ()
    first: float = 0.0  # mm, along the host's side from its first corner

    @property
    def name(self) -> str:
        """As it was said."""
        return self.said.name


class Plates(Struct):
    """Corners [mm] by letter as drawn, those on the plates alone; the walls round them in order; and the blocks.

    `known` has besides them the corners that fell away where a wing runs on in line with the main roof.
    """

    points: dict[str, Point]
    ring: list[tuple[str, str]]
    blocks: list[Block]
    known: dict[str, Point]

    def block(self, name: str) -> Block:
        """The block of that name."""
        return next(block for block in self.blocks if block.name == name)


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


def refused(said: Said, what: str) -> Refusal:
    """A refusal in the block's name."""
    return Refusal(f"building: {said.name}: {what}")


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
        names = [self._corner(at) for at in _main_corners(said)]
        sides = []
        for place, start in enumerate(names):
            end = names[(place + 1) % len(names)]
            side = said.sides.get(start + end, Side("slope", said.pitch))
            sides.append(PlateSide(start + end, start, end, side, said.plate))
            self.ring.append([start, end])
            self.owner.append(sides[-1])
        if all(side.side.kind in ("gable", "against") for side in sides):
            raise refused(said, "none of its sides has a pitch: leave one without gable")
        self.blocks.append(Block(said, sides))

    # --- wings and bays ---

    def build_on(self, said: Said) -> None:
        host, at = self._host(said)
        side = host.sides[at]
        if said.kind == BAY and side.side.kind not in ("slope", "mansard"):
            raise refused(said, f"{side.name} is a gable: a bay stands on a side with a slope; make it a wing")
        first, wall = self._wall(said, host, at)
        way, out, origin = self._frame(said, host, at)
        own = _outline(said, first, way, out, origin)
        flush = self._flush(said, wall, own[0], own[-1])
        corners, sides = self._named_corners(said, wall, own, flush)
        self._splice(wall, corners, sides, side)
        self.blocks.append(Block(said, sides, host, at, tuple(corners), first))

    def _flush(self, said: Said, wall: int, first: Point, last: Point) -> tuple[bool, bool]:
        """Whether it starts and ends at a corner of the wall. Refusal where it all but does, or meets another block."""
        found = []
        for point, corner in ((first, self.ring[wall][0]), (last, self.ring[wall][1])):
            gap = math.dist(point, self.known[corner])
            if FLUSH < gap < NARROW:
                raise refused(said, f"it stops {as_worked(gap)} mm from corner {corner}: make it flush, or leave more")
            found.append(gap <= FLUSH)
            if gap <= FLUSH and corner not in (self.owner[wall].start, self.owner[wall].end):
                raise refused(said, f"it meets another block at {corner}: leave a gap, or make the two one block")
        return found[0], found[1]

    def _named_corners(
        self, said: Said, wall: int, own: Sequence[Point], flush: tuple[bool, bool]
    ) -> tuple[list[str], list[PlateSide]]:
        """The letters of its corners, "" for one that falls away in a straight plate, and its sides."""
        covers = [said.sides.get(name, Side("slope", said.pitch)) for name in SIDES]
        beside = (self.owner[wall - 1], own[0], own[1]), (self.owner[(wall + 1) % len(self.ring)], own[-2], own[-1])
        straight = [flat and self._is_straight(*one) for flat, one in zip(flush, beside, strict=True)]
        gone = [
            in_line and one[0].side == cover and one[0].up == said.plate
            for in_line, one, cover in zip(straight, beside, (covers[0], covers[-1]), strict=True)
        ]
        if all(gone):
            raise refused(said, "it is as wide as the side that it is off: make that block longer instead")
        corners = [self._foot(self.ring[wall][0], own[0], gone[0], flush[0])]
        corners += [self._corner(at) for at in own[1:-1]]
        corners.append(self._foot(self.ring[wall][1], own[-1], gone[1], flush[1]))
        sides = [
            PlateSide(f"{said.name}.{name}", *corners[place : place + 2], cover, said.plate)
            for place, (name, cover) in enumerate(zip(SIDES, covers, strict=True))
        ]
        for place, (plate, _, _) in zip((0, -1), beside, strict=True):
            if gone[place]:
                sides[place] = plate
            elif straight[place]:
                _in_line(plate, sides[place])
        if gone[0]:
            sides[0].end = corners[1]
        if gone[1]:
            sides[-1].start = corners[-2]
        return corners, sides

    def _foot(self, corner: str, at: Point, gone: bool, flush: bool) -> str:
        """The letter of where it stands on the wall: a new one, that of the wall's corner, or none."""
        if gone:
            return ""
        return corner if flush else self._corner(at)

    def _is_straight(self, plate: PlateSide, start: Point, end: Point) -> bool:
        (x, y), (x_end, y_end) = self.known[plate.start], self.known[plate.end]
        turn = (x_end - x) * (end[1] - start[1]) - (y_end - y) * (end[0] - start[0])
        return abs(turn) <= 1e-9 * math.dist((x, y), (x_end, y_end)) * math.dist(start, end)

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
            raise refused(said, f"{host.sides[at].name} is a {side.kind}: a dormer stands on a slope")
        way, out, origin = self._frame(said, host, at)
        if said.kind == LEAN_TO:
            _check_under_eaves(said, host.sides[at])
        points = _outline(said, first, way, out, origin)
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
            like = f"did you mean {near}?" if near else f"the sides are {', '.join(known)}"
            raise refused(said, f"{wanted} isn't a side to build on; {like}")
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
        names = ends if host.said.kind == MAIN else _CORNERS[at]
        if said.place.corner not in names:
            raise refused(
                said, f"{said.place.corner} isn't a corner of {said.place.side}; give {' or '.join(map(str, names))}"
            )
        long = math.dist(self.known[ends[0]], self.known[ends[1]])
        distance, width = said.place.distance, said.size[0]
        first = distance if said.place.corner == names[0] else long - distance - width
        if first < -FLUSH or first + width > long + FLUSH:
            raise refused(
                said,
                f"{as_typed(width)} wide and {as_typed(distance)} from {said.place.corner} runs past the end of "
                f"{said.place.side}, which is {as_worked(long)}",
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
        raise refused(said, f"another block stands there on {said.place.side}: move it, or make it narrower")


def _in_line(plate: PlateSide, new: PlateSide) -> None:
    """A gable in a straight wall with a slope takes that slope's line: measured, the two stay one line."""
    upright = ("gable", "against")
    if plate.side.kind in upright and new.side.kind == "slope":
        plate.line = new
    if new.side.kind in upright and plate.side.kind == "slope":
        new.line = plate


_CORNERS = (("house", "end"), ("left", "right"), ("end", "house"))  # of a wing's left, end and right


def _names(block: Block) -> list[str]:
    return [f"{block.name}.{name}" for name in SIDES] if block.sides else []


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
    return ends[0] if corner == 0 else ends[1]


def _main_corners(said: Said) -> list[Point]:
    """The corners of the main roof, the first wall along x, anticlockwise."""
    if not said.shape:
        long, wide = said.size
        return [(0.0, 0.0), (long, 0.0), (long, wide), (0.0, wide)]
    count = 8 if said.shape == "octagon" else 6
    edge = said.size[0] * tan_deg(180 / count)
    corners, at, turn = [], (0.0, 0.0), 0.0
    for _ in range(count):
        corners.append(at)
        at = at[0] + edge * cos_deg(turn), at[1] + edge * sin_deg(turn)
        turn += 360 / count
    return corners


def _outline(said: Said, first: float, way: Point, out: Point, origin: Point) -> list[Point]:
    """The four corners of what is built on to a side: on the side, out, along, and back. A dormer's go in from it."""
    width, far = said.size
    near = 0.0
    cut = far / tan_deg(said.splay) if said.kind == BAY else 0.0
    if said.kind == BAY and width - 2 * cut < NARROW:
        raise refused(said, f"its splays meet before its front: make it wider, or nearer than {as_worked(far)} mm")
    if said.kind == DORMER:  # its face, and on in up the slope
        near, far = -said.size[1] - 1000.0, -said.size[1]
    places = ((first, near), (first + cut, far), (first + width - cut, far), (first + width, near))
    return [
        (origin[0] + along * way[0] + past * out[0], origin[1] + along * way[1] + past * out[1])
        for along, past in places
    ]


def lean_to_pitch(said: Said) -> float:
    """The pitch [deg] of a lean-to, given or from its top."""
    if said.top is None:
        return said.pitch
    return math.degrees(math.atan2(said.top - said.plate, said.size[1]))


def _check_under_eaves(said: Said, side: PlateSide) -> None:
    pitch = lean_to_pitch(said)
    if not 5 <= pitch <= 75:
        raise refused(said, f"from its plate to its top is {as_worked(pitch)} degrees; it must be from 5 to 75")
    top = said.plate + said.size[1] * tan_deg(pitch)
    if side.side.kind not in ("gable", "against") and top > side.up:
        raise refused(
            said,
            f"its top is {as_worked(top)} up and the plate of {side.name} is at {as_typed(side.up)}: give its plate as "
            f"plate {as_worked(side.up - said.size[1] * tan_deg(pitch))} or lower",
        )


def adjusted(plates: Plates, points: Mapping[str, Point]) -> dict[str, Point]:
    """Every corner, carried blocks' with them, over plates that were measured [mm]; they keep their place on a side."""
    at = {**plates.known, **points}
    for block in plates.blocks:
        if block.said.kind in CARRIED and block.host is not None:
            start, end = at[block.host.sides[block.host_side].start], at[block.host.sides[block.host_side].end]
            drawn = plates.known[block.host.sides[block.host_side].start]
            drawn_end = plates.known[block.host.sides[block.host_side].end]
            at.update({name: _moved(plates.known[name], (drawn, drawn_end), (start, end)) for name in block.corners})
    return at


def _moved(point: Point, drawn: tuple[Point, Point], now: tuple[Point, Point]) -> Point:
    """A point that keeps its distance along and out from a side while that moves."""
    (x, y), (x_end, y_end) = drawn
    long = math.dist(*drawn)
    way = (x_end - x) / long, (y_end - y) / long
    along = (point[0] - x) * way[0] + (point[1] - y) * way[1]
    out = (point[0] - x) * way[1] - (point[1] - y) * way[0]
    long_now = math.dist(*now)
    way_now = (now[1][0] - now[0][0]) / long_now, (now[1][1] - now[0][1]) / long_now
    return (
        now[0][0] + along * way_now[0] + out * way_now[1],
        now[0][1] + along * way_now[1] - out * way_now[0],
    )

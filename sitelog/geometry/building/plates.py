"""The plates of a building: its lettered corners as drawn and as measured, the walls round it, its blocks' sides."""

import math
from collections.abc import Mapping

from msgspec import Struct

from sitelog.geometry.building.placing import moved
from sitelog.geometry.building.said import DORMER, LEAN_TO, Said, Side
from sitelog.geometry.surface.walls import Point

SAME_PLACE = 0.5  # mm along a side
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
    def from_end(self) -> bool:
        """Whether it was said from the last corner of the host's side: its distance from there stays its own."""
        return self.said.place is not None and abs(self.first - self.said.place.distance) > SAME_PLACE

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


def adjusted(plates: Plates, points: Mapping[str, Point]) -> dict[str, Point]:
    """Every corner, carried blocks' with them, over plates that were measured [mm]; they keep their place on a side."""
    at = {**plates.known, **points}
    for block in plates.blocks:
        if block.said.kind in CARRIED and block.host is not None:
            start, end = at[block.host.sides[block.host_side].start], at[block.host.sides[block.host_side].end]
            drawn = plates.known[block.host.sides[block.host_side].start]
            drawn_end = plates.known[block.host.sides[block.host_side].end]
            longer = math.dist(start, end) - math.dist(drawn, drawn_end) if block.from_end else 0.0
            at.update(
                {name: moved(plates.known[name], (drawn, drawn_end), (start, end), longer) for name in block.corners}
            )
    return at

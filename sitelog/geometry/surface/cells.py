"""What of each slope shows: its part of its block, less what lies under higher blocks. Each piece is convex."""

from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.geometry.surface.clipping import FAR, Half, Ring, clipped, clipped_by_all, everywhere, half_plane, without
from sitelog.geometry.surface.walls import NO_SLOPE, Block, Plan, Slope
from sitelog.refusal import Refusal

Region = list[Half]


class Piece(Struct, frozen=True):
    """A convex part of a slope that shows, by the places of its block and its slope; edges are labelled by wall."""

    block: int
    slope: int
    ring: Ring


def pieces(plan: Plan) -> list[Piece]:
    """Every slope's pieces. They lie side by side, and together they are the plan.

    Refusal, by name, for a block that encloses nothing or runs on for ever, and for a slope that never gets in.
    """
    higher = _Higher(plan.slopes)
    cells = [_cells(block, higher) for block in plan.blocks]
    _check_all_get_in(plan, cells)
    found = []
    for place, own in enumerate(cells):
        for slope, ring in own.items():
            found += [Piece(place, slope, part) for part in _shown(plan, higher, place, slope, ring)]
    return found


def _shown(plan: Plan, higher: "_Higher", place: int, slope: int, ring: Ring) -> list[Ring]:
    """What of a slope's part of its block no other block covers; a plane of two blocks is shown once, by the first."""
    shown = [ring]
    for other, block in enumerate(plan.blocks):
        if other == place or (other > place and slope in block.slopes):
            continue
        region = higher.region(block, slope)
        if region is not None:
            shown = [part for whole in shown for part in without(whole, region)]
    return shown


class _Higher:
    """Where on plan one slope is higher than another, each pair worked once."""

    def __init__(self, slopes: Sequence[Slope]) -> None:
        self.slopes = slopes
        self.known: dict[tuple[int, int], Half | bool] = {}

    def than(self, slope: int, other: int) -> Half | bool:
        """The half plane in which `other` is at least as high as `slope`, or whether it is everywhere."""
        if (slope, other) not in self.known:
            low, high = self.slopes[slope], self.slopes[other]
            self.known[slope, other] = half_plane(high.gx - low.gx, high.gy - low.gy, high.c - low.c)
        return self.known[slope, other]

    def region(self, block: Block, slope: int) -> Region | None:
        """Where a block is higher than a slope (as high, if it is the block's own); None if nowhere."""
        region = [wall.inside for wall in block.walls]
        for other in block.slopes:
            if other != slope:
                half = self.than(slope, other)
                if half is False:
                    return None
                if half is not True:
                    region.append(half)
        return region


def _cells(block: Block, higher: _Higher) -> dict[int, Ring]:
    """Each slope's part of its block: where it is the lowest."""
    plan = footprint(block)
    cells = {}
    for slope in block.slopes:
        halves = [higher.than(slope, other) for other in block.slopes if other != slope]
        if False in halves:
            continue
        ring = clipped_by_all(plan, [half for half in halves if not isinstance(half, bool)])
        if ring:
            cells[slope] = ring
    return cells


def footprint(block: Block) -> Ring:
    """What is inside all wall lines of a block, each edge labelled by its wall's place.

    Refusal where nothing is, in the name of the wall that leaves nothing, or where it runs on for ever.
    """
    ring = everywhere()
    for place, wall in enumerate(block.walls):
        ring = clipped(ring, wall.inside, place)
        if not ring:
            raise Refusal(
                f"plan: {block.name}: nothing is inside wall {wall.name} and the walls before it. Give walls "
                "anticlockwise as seen from above"
            )
    if any(label == FAR for _, _, label in ring):
        names = ", ".join(wall.name for wall in block.walls)
        raise Refusal(
            f"plan: {block.name} runs on for ever: {names} don't close it. Add the wall that stops it, such as the far "
            "wall of the roof it runs into"
        )
    return ring


def _check_all_get_in(plan: Plan, cells: Sequence[Mapping[int, Ring]]) -> None:
    """Refusal for a slope that is the lowest nowhere in any of its blocks."""
    in_some = {slope for own in cells for slope in own}
    for block in plan.blocks:
        for wall in block.walls:
            if wall.slope != NO_SLOPE and wall.slope not in in_some:
                raise Refusal(
                    f"plan: {block.name}: the slope over {wall.name} never gets in: others are lower all along it. "
                    f"Check its pitch and height, and {wall.name}'s place"
                )

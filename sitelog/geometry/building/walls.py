"""The plan of a building: the walls of each block, with what bounds it where it runs into the block it is built on."""

from collections.abc import Iterator, Mapping
from itertools import chain

from msgspec.structs import replace

from sitelog.geometry.building.placing import lean_to_pitch, refused
from sitelog.geometry.building.plates import CARRIED, Block, Plates, PlateSide, adjusted
from sitelog.geometry.building.said import BAY, DORMER, SPROCKETS, Said, Side
from sitelog.geometry.surface.plan_text import UPRIGHT, BlockText, PlanText, WallText
from sitelog.geometry.surface.walls import Point
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.rounding import as_typed
from sitelog.text import text_if

SQUARE = 1000.0  # mm out from the wall to the far end of a bay's square sides; any length does


def plan_of(plates: Plates, points: Mapping[str, Point] | None = None, sprockets: Said | None = None) -> PlanText:
    """The plan over the plates as drawn, or with its corners where they were measured [mm].

    Refusal, by the block's name, for sprockets that no slope is steeper than.
    """
    at = adjusted(plates, points) if points else dict(plates.known)
    blocks = [_block(block, at) for block in plates.blocks]
    if sprockets is not None:
        blocks += _sprockets(plates, blocks, sprockets)
    used = {name for block in blocks for wall in block.walls for name in (wall.start, wall.end)}
    return PlanText({name: point for name, point in at.items() if name in used}, tuple(blocks))


def plan_text(plan: PlanText) -> str:
    """The plan as `surface` reads it."""
    points = [f"{name} {x:.6f},{y:.6f}" for name, (x, y) in plan.points.items()]
    blocks = [f"{block.name} {', '.join(map(_wall_text, block.walls))}" for block in plan.blocks]
    return "; ".join((*points, *blocks))


def _wall_text(wall: WallText) -> str:
    if wall.kind in UPRIGHT:
        words = wall.kind
    elif wall.same_as:
        return f"{wall.name} ={wall.same_as}"
    else:
        words = f"{wall.pitch:.9f}".rstrip("0").rstrip(".") + (text_if(wall.up, f" {wall.up:+.6f}"))
    return f"{wall.name} {words}{f' ={wall.same_as}' if wall.same_as else ''}"


# --- the walls of a block -----------------------------------------------------------------------------------------


def _block(block: Block, at: dict[str, Point]) -> BlockText:
    if block.said.kind == DORMER:
        walls = _dormer(block)
    elif block.said.kind in CARRIED:
        walls = _lean_to(block)
    else:
        walls = chain(_own(block), _bounds(block, at))
    return BlockText(block.name, tuple(walls))


def _own(block: Block) -> Iterator[WallText]:
    """The walls of its own sides."""
    for side in block.sides:
        yield from _walls(side)


def _bounds(block: Block, at: dict[str, Point]) -> Iterator[WallText]:
    """What bounds a wing or a bay inside the block that it is built on to."""
    host = block.host
    if host is None:
        return
    if block.said.kind == BAY:
        others = [side for place, side in enumerate(host.sides) if place != block.host_side]
        yield from chain.from_iterable(map(_walls, others))
        yield from (wall for wall in _bounds(host, at))
        if block.said.level:
            yield from _square(block, at)
        return
    own = host.sides[block.host_side]
    if own.side.kind in UPRIGHT:  # its own gable stops the wing
        first, last = block.corners[0], block.corners[-1]
        start, end, line = (last, first, _name(own.start, own.end)) if first and last else (own.end, own.start, "")
        yield WallText(_name(start, end), start, end, "against", same_as=line)
        return
    yield from _far(host, block.host_side)


def _far(host: Block, side: int) -> Iterator[WallText]:
    """The wall across the host from a side."""
    if host.host is None:
        yield from _walls(host.sides[(side + len(host.sides) // 2) % len(host.sides)])
    elif side == 1:  # off the end of a wing: on to what bounds that
        yield from _far(host.host, host.host_side)
    else:
        yield from _walls(host.sides[2 - side])


def _square(block: Block, at: dict[str, Point]) -> Iterator[WallText]:
    """The two slopes of a bay with a level ridge, square to the wall at its feet."""
    first, last = block.corners[0], block.corners[-1]
    (x, y), (x_end, y_end) = at[first], at[last]
    long = ((x_end - x) ** 2 + (y_end - y) ** 2) ** 0.5
    out = (y_end - y) / long * SQUARE, -(x_end - x) / long * SQUARE
    before, after = f"{first}0", f"{last}0"
    at[before], at[after] = (x + out[0], y + out[1]), (x_end + out[0], y_end + out[1])
    up = block.said.plate
    yield WallText(_name(first, before), first, before, "slope", block.said.pitch, up)
    yield WallText(_name(after, last), after, last, "slope", block.said.pitch, up)


def _walls(side: PlateSide) -> Iterator[WallText]:
    """A side's wall, twice where it breaks."""
    cover, name = side.side, _name(side.start, side.end)
    if cover.kind == "slope":
        yield WallText(name, side.start, side.end, "slope", cover.pitch, side.up)
    elif cover.kind == "mansard":
        yield WallText(name, side.start, side.end, "slope", cover.lower, side.up)
        yield WallText(name, side.start, side.end, "slope", cover.pitch, side.up + _flat_start(cover))
    elif cover.kind == "half-hip":
        yield WallText(name, side.start, side.end, "gable")
        yield WallText(name, side.start, side.end, "slope", cover.pitch, side.up + cover.height)
    else:
        line = _name(side.line.start, side.line.end) if side.line else ""
        yield WallText(name, side.start, side.end, cover.kind, same_as=line)


def _flat_start(cover: Side) -> float:
    """How high [mm] over the plate line the flat slope of a mansard would start."""
    return cover.height * (1 - tan_deg(cover.pitch) / tan_deg(cover.lower))


def _name(start: str, end: str) -> str:
    if len(start) == len(end) == 1:
        return start + end
    return f"{start}-{end}"


# --- what is carried ----------------------------------------------------------------------------------------------


def _lean_to(block: Block) -> Iterator[WallText]:
    host = block.host
    assert host is not None
    on = host.sides[block.host_side]
    a, b, c, d = block.corners
    yield WallText(_name(a, b), a, b, "gable")
    yield WallText(_name(b, c), b, c, "slope", lean_to_pitch(block.said), block.said.plate)
    yield WallText(_name(c, d), c, d, "gable")
    yield WallText(_name(d, a), d, a, "against", same_as=_name(on.start, on.end) if on.side.pitch else "")


def _dormer(block: Block) -> Iterator[WallText]:
    host, said = block.host, block.said
    assert host is not None
    up = dormer_plate(block)
    d, a, b, c = block.corners  # in up the slope, its face from left to right, and in again
    end = said.sides.get("end", Side("gable"))
    yield WallText(_name(a, b), a, b, end.kind, end.pitch, up if end.kind == "slope" else 0.0)
    yield WallText(_name(b, c), b, c, "slope", said.pitch, up)
    yield from _far(host, block.host_side)
    yield WallText(_name(d, a), d, a, "slope", said.pitch, up)


def dormer_plate(block: Block) -> float:
    """How high [mm] a dormer's plates are over the main ones: as taped, or by its cheek over the slope at its face."""
    if block.said.up is not None or block.host is None:
        return block.said.up or 0.0
    on = block.host.sides[block.host_side]
    return on.up + _height_in(on.side, block.said.size[1]) + block.said.cheek


def _height_in(cover: Side, run: float) -> float:
    """How high [mm] a slope is over its plate at a run in from it."""
    if cover.kind == "mansard":
        return min(run * tan_deg(cover.lower), _flat_start(cover) + run * tan_deg(cover.pitch))
    return run * tan_deg(cover.pitch)


# --- sprockets ----------------------------------------------------------------------------------------------------


def _sprockets(plates: Plates, blocks: list[BlockText], said: Said) -> list[BlockText]:
    """A block over each block's eaves, with each slope at the sprockets' pitch till it meets the rafters."""
    carried = {block.name for block in plates.blocks if block.said.kind in CARRIED}
    run, pitch = said.size[0], said.pitch
    found = []
    for block in blocks:
        walls = tuple(_sprocketed(wall, run, pitch) for wall in block.walls)
        if block.name not in carried and walls != block.walls:
            found.append(BlockText(f"{block.name}-sprockets", walls))
    if not found:
        raise refused(said, f"no slope is steeper than {as_typed(pitch)}: give a flatter pitch", "pitch")
    return found


def _sprocketed(wall: WallText, run: float, pitch: float) -> WallText:
    if wall.kind in UPRIGHT or wall.pitch <= pitch:
        return wall
    return replace(wall, pitch=pitch, up=wall.up + run * (tan_deg(wall.pitch) - tan_deg(pitch)))


def sprockets_of(every: tuple[Said, ...]) -> Said | None:
    """What was said of sprockets, if anything."""
    return next((said for said in every if said.kind == SPROCKETS), None)

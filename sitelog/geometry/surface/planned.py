"""A plan's planes, each told apart by its wall and never by comparing measured numbers, and its blocks under them."""

import itertools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from sitelog.geometry.loops.split import split_loop
from sitelog.geometry.surface.clipping import TOUCH
from sitelog.geometry.surface.plan_text import UPRIGHT, BlockText, PlanText, WallText, nearest
from sitelog.geometry.surface.walls import NO_SLOPE, Block, Plan, Point, Slope, Wall
from sitelog.geometry.vectors import angle_between, sin_deg, tan_deg
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

NEARLY_IN_LINE = 25.0  # mm: two walls this near to one line are asked about
SWUNG = 3.0  # deg: a wall this nearly in line with one that it names is in its line
NEARLY_STRAIGHT = 1.0  # deg: at a corner this near to straight the two walls are in line
SHARPEST = 30.0  # deg, of a corner

Key = tuple[str, str, float, float, float]  # a wall's points, pitch, plate height and how far it is set in


def planned(text: PlanText, points: Mapping[str, Point] | None = None, *, merged: bool = True) -> Plan:
    """The planes and blocks of a plan, over its points as typed or as fitted [mm].

    Walls in line whose planes are the very same in figures are one slope, unless `merged` is False.

    Refusal, in the wall's name, for one that takes a plane that isn't there, for walls that cross, a corner under 30
    degrees, walls in line that are two slopes, and a block without a pitch.
    """
    at = dict(points or text.points)
    doubts: list[str] = []
    order: dict[tuple[str, str], int] = {}
    if text.is_loop:
        order = {(wall.start, wall.end): place for place, wall in enumerate(text.blocks[0].walls)}
        text, doubts = split_loop(text, at, planned)
    _check_blocks(text.blocks, at)
    keys = {(block.name, place): _key(text.blocks, block, wall) for block, place, wall in _walls_with_slopes(text)}
    every = list(dict.fromkeys(keys.values()))
    one_for = _one_for_each_line(every, at) if merged else dict(zip(every, every, strict=True))
    planes = sorted(dict.fromkeys(one_for.values()), key=lambda key: order.get(key[:2], 0))
    names = _names(text, keys, one_for, planes)
    slopes = tuple(_slope(names[key], key, at) for key in planes)
    places = {owner: planes.index(one_for[key]) for owner, key in keys.items()}
    blocks = tuple(_block(text, block, places, at) for block in text.blocks)
    for made in blocks:
        _check_in_line(made, slopes)
    return Plan(at, slopes, blocks, tuple(doubts))


def _block(text: PlanText, block: BlockText, places: Mapping[tuple[str, int], int], at: Mapping[str, Point]) -> Block:
    """A block with its faces, each with the place of its plane."""
    faces = (
        _face(_in_line(text.blocks, block, wall, at), places.get((block.name, place), NO_SLOPE), at)
        for place, wall in enumerate(block.walls)
    )
    return Block(block.name, tuple(faces))


def _walls_with_slopes(text: PlanText) -> Iterator[tuple[BlockText, int, WallText]]:
    for block in text.blocks:
        for place, wall in enumerate(block.walls):
            if wall.kind not in UPRIGHT:
                yield block, place, wall


def _key(blocks: Sequence[BlockText], block: BlockText, wall: WallText) -> Key:
    """What tells a wall's plane apart: its own wall, or that of the wall whose plane it takes."""
    if not wall.same_as:
        return wall.start, wall.end, wall.pitch, wall.up, wall.inset
    owner, _, name = wall.same_as.upper().rpartition(".")
    own = _planes_of_their_own(blocks)
    found = {_key(blocks, other, one) for other, one in own if one.name == name and owner in ("", other.name.upper())}
    said = f"plan: {block.name}: wall {wall.name} ={wall.same_as}"
    if not found:
        raise Refusal(f"{said}: no wall of that name has a pitch; {nearest(name, [one.name for _, one in own])}")
    if len(found) > 1:
        raise Refusal(f"{said}: {name} has more than one plane; say whose, such as ={blocks[0].name}.{name}")
    return found.pop()


def _planes_of_their_own(blocks: Sequence[BlockText]) -> list[tuple[BlockText, WallText]]:
    return [(block, wall) for block in blocks for wall in block.walls if wall.pitch and not wall.same_as]


def _one_for_each_line(keys: Sequence[Key], at: Mapping[str, Point]) -> dict[Key, Key]:
    """Each plane with the first that is the very same in figures, so that exact walls in line are one slope."""
    merged: dict[Key, Key] = {}
    for key in keys:
        merged[key] = next((first for first in merged.values() if _same_plane(first, key, at)), key)
    return merged


def _same_plane(first: Key, other: Key, at: Mapping[str, Point]) -> bool:
    if first[2:4] != other[2:4]:
        return False
    start, along, inward = _directions(first, at)
    _, along_other, _ = _directions(other, at)
    if along[0] * along_other[0] + along[1] * along_other[1] < 0:
        return False
    off = [
        (at[end][0] - start[0]) * inward[0] + (at[end][1] - start[1]) * inward[1] + other[4] - first[4]
        for end in other[:2]
    ]
    return max(map(abs, off)) <= TOUCH


def _directions(key: Key, at: Mapping[str, Point]) -> tuple[Point, Point, Point]:
    """A wall's first point as typed, its direction and the way in from it."""
    (x, y), (x_end, y_end) = at[key[0]], at[key[1]]
    long = math.hypot(x_end - x, y_end - y)
    along = (x_end - x) / long, (y_end - y) / long
    return (x, y), along, (-along[1], along[0])


def _names(
    text: PlanText, keys: Mapping[tuple[str, int], Key], merged: Mapping[Key, Key], planes: Sequence[Key]
) -> dict[Key, str]:
    """Each plane's name: its wall, with the block before it or its height after it where that isn't enough."""
    walls: dict[Key, tuple[str, str]] = {}
    for block, place, wall in _walls_with_slopes(text):
        key = keys[block.name, place]
        if merged[key] == key and not wall.same_as:
            walls.setdefault(key, (block.name, wall.name))
    return {key: _name(key, [other for other in planes if walls[other][1] == walls[key][1]], walls) for key in planes}


def _name(key: Key, rivals: Sequence[Key], walls: Mapping[Key, tuple[str, str]]) -> str:
    """The shortest name that none of the planes of the same wall has as well."""
    for tell in _TELLING:
        names = [tell(walls[other], other) for other in rivals]
        if names.count(tell(walls[key], key)) == 1:
            return tell(walls[key], key)
    return walls[key][1]


def _signed(up: float) -> str:
    return f"{'' if up < 0 else '+'}{as_typed(up)}"


_TELLING: tuple[Callable[[tuple[str, str], Key], str], ...] = (
    lambda wall, key: wall[1],
    lambda wall, key: ".".join(wall),
    lambda wall, key: f"{wall[1]}{_signed(key[3])}",
    lambda wall, key: f"{'.'.join(wall)}{_signed(key[3])}",
    lambda wall, key: f"{'.'.join(wall)}{_signed(key[3])} at {as_typed(key[2])} in {as_typed(key[4])}",
)


def _slope(name: str, key: Key, at: Mapping[str, Point]) -> Slope:
    (x, y), along, inward = _directions(key, at)
    _, _, pitch, up, inset = key
    start = x + inset * inward[0], y + inset * inward[1]
    rise = tan_deg(pitch)
    gx, gy = rise * inward[0], rise * inward[1]
    wall = name.partition("+")[0].rpartition(".")[2]
    return Slope(name, wall, pitch, up, start, along, inward, gx, gy, up - gx * start[0] - gy * start[1])


def _in_line(
    blocks: Sequence[BlockText], block: BlockText, wall: WallText, at: Mapping[str, Point]
) -> tuple[WallText, WallText]:
    """A wall, and the one in whose line it stands: itself, unless it is nearly in line with one that it names.

    A slope that takes the plane of a wall elsewhere, as a catslide does, keeps its own line.
    """
    if not wall.same_as:
        return wall, wall
    every = {one.name: one for other in blocks for one in other.walls}
    line = every.get(wall.same_as.upper().rpartition(".")[2])
    if line is not None and wall.kind not in UPRIGHT and not _is_nearly_in_line(wall, line, at):
        return wall, wall
    if line is None:
        raise Refusal(
            f"plan: {block.name}: wall {wall.name} {wall.kind} ={wall.same_as}: there is no wall of that name; "
            f"{nearest(wall.same_as.upper(), list(every))}"
        )
    return wall, line


def _is_nearly_in_line(wall: WallText, line: WallText, at: Mapping[str, Point]) -> bool:
    """Whether a wall that names another runs on in its line, for all that a plate out at a short wall turns it."""
    (x, y), along, inward = _directions((line.start, line.end, 0.0, 0.0, 0.0), at)
    _, own, _ = _directions((wall.start, wall.end, 0.0, 0.0, 0.0), at)
    turn = abs(along[0] * own[1] - along[1] * own[0])
    for end in (wall.start, wall.end):
        dx, dy = at[end][0] - x, at[end][1] - y
        off, far = abs(dx * inward[0] + dy * inward[1]), abs(dx * along[0] + dy * along[1])
        if off > max(NEARLY_IN_LINE, far * sin_deg(SWUNG)):
            return False
    return turn < sin_deg(SWUNG)


def _face(walls: tuple[WallText, WallText], slope: int, at: Mapping[str, Point]) -> Wall:
    wall, line = walls
    (x, y), along, (a, b) = _directions((line.start, line.end, 0.0, 0.0, 0.0), at)
    _, own, _ = _directions((wall.start, wall.end, 0.0, 0.0, 0.0), at)
    c = -a * x - b * y
    if along[0] * own[0] + along[1] * own[1] < 0:
        a, b, c = -a, -b, -c
    kind = wall.kind if slope == NO_SLOPE else "slope"
    return Wall(wall.name, kind, slope, (a, b, c - wall.inset))


# --- what can't be a block ----------------------------------------------------------------------------------------


def _check_blocks(blocks: Sequence[BlockText], at: Mapping[str, Point]) -> None:
    for block in blocks:
        _check_block(block, at)


def _check_block(block: BlockText, at: Mapping[str, Point]) -> None:
    if all(wall.kind in UPRIGHT for wall in block.walls):
        raise Refusal(f"plan: {block.name} doesn't have a top: none of its walls has a pitch. Give one, such as AB 40")
    for first, other in itertools.combinations(block.walls, 2):
        if _crosses(first, other, at):
            raise Refusal(f"plan: {block.name}: walls {first.name} and {other.name} cross. Check their points")
        _check_corner(block.name, first, other, at)
        _check_corner(block.name, other, first, at)


def _crosses(first: WallText, other: WallText, at: Mapping[str, Point]) -> bool:
    """Whether two walls cross between their ends."""
    if {first.start, first.end} & {other.start, other.end}:
        return False
    a, b, c, d = at[first.start], at[first.end], at[other.start], at[other.end]
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _check_corner(block: str, before: WallText, after: WallText, at: Mapping[str, Point]) -> None:
    if before.end != after.start or (before.start, before.end) == (after.end, after.start):
        return
    here, back, on = at[before.end], at[before.start], at[after.end]
    angle = angle_between((back[0] - here[0], back[1] - here[1], 0.0), (on[0] - here[0], on[1] - here[1], 0.0))
    if _turn(back, here, on) < 0 and angle < 180 - NEARLY_STRAIGHT:
        raise Refusal(
            f"plan: {block}: walls {before.name} and {after.name} turn in at {before.end}. A block has outside corners "
            "only and goes anticlockwise: part it into two blocks, or turn its walls round"
        )
    if angle < SHARPEST:
        raise Refusal(
            f"plan: {block}: the corner at {before.end} is {as_worked(angle)} degrees; it must be at least "
            f"{as_typed(SHARPEST)}"
        )


def _check_in_line(block: Block, slopes: Sequence[Slope]) -> None:
    """Refusal for two walls of a block that are nearly in line and two slopes: which is meant is for the user."""
    own = [wall for wall in block.walls if wall.slope != NO_SLOPE]
    for first, other in itertools.combinations(own, 2):
        if first.slope == other.slope or first.name == other.name:
            continue
        (a, b, _), (a_other, b_other, _) = first.inside, other.inside
        turn = math.degrees(math.atan2(abs(a * b_other - b * a_other), a * a_other + b * b_other))
        start = slopes[other.slope].start
        off = a * start[0] + b * start[1] + first.inside[2]
        if turn < NEARLY_STRAIGHT and abs(off) < NEARLY_IN_LINE:
            pitches = f"{as_typed(slopes[first.slope].pitch)} and {as_typed(slopes[other.slope].pitch)}"
            raise Refusal(
                f"plan: {block.name}: walls {first.name} and {other.name} are in line, at {pitches}. Write "
                f"{other.name} ={first.name} if they are one slope, or put them into two blocks"
            )

"""The text of a plan: points in mm, then blocks of walls, or one loop of them.

A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 40, BC gable, CD 40 +300, DA 40
"""

import re
from collections.abc import Callable, Mapping

from msgspec import Struct

from sitelog.near import closest
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import length_mm, offset_mm, pitch_deg
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal
from sitelog.text import clean

FLATTEST, STEEPEST = 5.0, 75.0  # deg
MOST_WALLS, MOST_BLOCKS = 40, 20
FURTHEST = 200_000.0  # mm
LOOP = "loop"
UPRIGHT = ("gable", "against")

_POINT = re.compile(r"([A-Za-z][A-Za-z0-9]{0,7})\s+([-+.0-9][^,]*),([^,]*)")
_BLOCK = re.compile(r"([A-Za-z][A-Za-z0-9-]{0,19})\s+(.+)")
_WALL = re.compile(r"([A-Za-z][A-Za-z0-9]*(?:-[A-Za-z][A-Za-z0-9]*)?)\s*(.*)")
_IN = re.compile(r"(.*?)\bin\s+(\S.*)")
_UP = re.compile(r"(.*\S)\s+([-+]\s*[.0-9].*)")
_TYPE_WALL = "Type a wall as AB 40, AB 40 +300, AB gable, AB against or XY =AB"

Points = Mapping[str, tuple[float, float]]


class WallText(Struct, frozen=True):
    """A wall as it was typed: its two points, and a pitch [deg] with its plate's height, or gable, or against.

    `inset` [mm] is how far the wall is set in; `same_as` names the wall whose plane it takes, or in whose line a gable
    stands.
    """

    name: str
    start: str
    end: str
    kind: str
    pitch: float = 0.0
    up: float = 0.0
    inset: float = 0.0
    same_as: str = ""


class BlockText(Struct, frozen=True):
    """A block as it was typed."""

    name: str
    walls: tuple[WallText, ...]


class PlanText(Struct, frozen=True):
    """A plan as it was typed: points [mm] by name, and blocks, or a loop as the only one."""

    points: Points
    blocks: tuple[BlockText, ...]

    @property
    def is_loop(self) -> bool:
        """Whether walls were given as one loop, to be split into blocks."""
        return self.blocks[0].name == LOOP


def read_plan(text: str) -> PlanText:
    """The plan in a text. Refusal, with the name of the wall, point or block, for what can't be read or isn't there."""
    points: dict[str, tuple[float, float]] = {}
    blocks: list[BlockText] = []
    for part in filter(None, (part.strip() for part in " ".join(text.split()).split(";"))):
        if found := _POINT.fullmatch(part):
            name = found[1].upper()
            if name in points:
                raise Refusal(f"plan: point {name} is there twice; give it once")
            points[name] = _coordinate(name, found[2]), _coordinate(name, found[3])
        else:
            blocks.append(_block(part, points))
    _check_blocks(blocks)
    return PlanText(points, tuple(blocks))


def wall_ends(name: str, points: Points) -> tuple[str, str]:
    """The two points of a wall called AB, or A1-B2. Refusal for a point that isn't there, or a name read two ways."""
    wanted = name.upper()
    splits = _splits(wanted)
    known = [(first, last) for first, last in splits if first in points and last in points]
    if len(known) == 1:
        return known[0]
    if known:
        raise Refusal(f"plan: wall {wanted} can be read two ways; put a dash between its points, such as A1-B2")
    if len(splits) == 1:
        unknown = [end for end in splits[0] if end not in points]
        raise Refusal(f"plan: wall {wanted}: {unknown[0]} isn't a point. Add it, such as {unknown[0]} 4000,6000")
    raise Refusal(f"plan: wall {wanted} isn't two points of the plan. The points are {', '.join(points) or 'missing'}")


def _splits(name: str) -> list[tuple[str, str]]:
    """The ways to part a wall's name into two points: at its dash, or anywhere."""
    first, dash, last = name.partition("-")
    if dash:
        return [(first, last)]
    return [(name[:place], name[place:]) for place in range(1, len(name))]


def _coordinate(name: str, text: str) -> float:
    try:
        value = offset_mm(text.strip())
    except Doubt as doubt:
        raise Refusal(f"plan: point {name}: '{clean(text, most=30)}' {doubt}. Type {name} 4000,6000") from None
    if abs(value) > FURTHEST:
        raise Refusal(f"plan: point {name} is {as_typed(value)} mm away; it must be within {as_typed(FURTHEST)}")
    return value


def _block(part: str, points: Points) -> BlockText:
    found = _BLOCK.fullmatch(part)
    if not found:
        raise Refusal(
            f"plan: '{clean(part, most=40)}' is neither a point, such as A 0,0, nor a block, such as main AB 40, BC 40"
        )
    name = found[1].lower()
    walls = tuple(_wall(name, wall.strip(), points) for wall in found[2].split(","))
    return BlockText(name, walls)


def _wall(block: str, text: str, points: Points) -> WallText:
    found = _WALL.fullmatch(text)
    if not found:
        raise Refusal(f"plan: {block}: '{clean(text, most=30)}' isn't a wall. {_TYPE_WALL}")
    name, rest = found[1].upper(), found[2].strip()
    start, end = wall_ends(name, points)
    if start == end or points[start] == points[end]:
        raise Refusal(f"plan: {block}: wall {name} doesn't have a length; give it two points that are apart")
    inset = 0.0
    if set_in := _IN.fullmatch(rest):
        rest, inset = set_in[1].strip(), _figure(block, name, set_in[2], length_mm)
    kind, equals, line = (part.strip() for part in rest.partition("="))
    if kind in UPRIGHT:
        return WallText(name, start, end, kind, inset=inset, same_as=line)
    if equals and not kind:
        return WallText(name, start, end, "slope", inset=inset, same_as=line)
    pitch, up = _pitch_and_height(block, name, rest)
    return WallText(name, start, end, "slope", pitch, up, inset)


def _pitch_and_height(block: str, name: str, text: str) -> tuple[float, float]:
    """A slope's pitch [deg] and its plate's height [mm]."""
    up = 0.0
    if raised := _UP.fullmatch(text):
        text, up = raised[1], _figure(block, name, raised[2], offset_mm)
    pitch = _figure(block, name, text, pitch_deg)
    if not FLATTEST - 1e-9 <= pitch <= STEEPEST + 1e-9:
        raise Refusal(
            f"plan: {block}: wall {name} has a pitch of {as_typed(pitch)}; it must be from {as_typed(FLATTEST)} to "
            f"{as_typed(STEEPEST)} degrees"
        )
    return pitch, up


def _figure(block: str, wall: str, text: str, reader: Callable[[str], float]) -> float:
    try:
        if not text:
            raise Doubt("has nothing after it")
        return reader(text)
    except Doubt as doubt:
        raise Refusal(f"plan: {block}: wall {wall}: '{clean(text, most=30)}' {doubt}. {_TYPE_WALL}") from None


def _check_blocks(blocks: list[BlockText]) -> None:
    if not blocks:
        raise Refusal("plan: no block yet. Add one, such as main AB 40, BC 40, CD 40, DA 40")
    names = [block.name for block in blocks]
    if LOOP in names and len(blocks) > 1:
        raise Refusal("plan: give one loop, or blocks, not both")
    twice = next((name for name in names if names.count(name) > 1), "")
    if twice:
        raise Refusal(f"plan: block {twice} is there twice; give each block its own name")
    _check_few(blocks)


def _check_few(blocks: list[BlockText]) -> None:
    if len(blocks) > MOST_BLOCKS:
        raise Refusal(f"plan: {len(blocks)} blocks; give at most {MOST_BLOCKS}")
    walls = {wall.name for block in blocks for wall in block.walls}
    if len(walls) > MOST_WALLS:
        raise Refusal(f"plan: {len(walls)} walls; give at most {MOST_WALLS}")


def nearest(word: str, known: list[str]) -> str:
    """What to say of a name that isn't there: the nearest one, or all."""
    near = closest(word, known)
    if near:
        return f"did you mean {near}?"
    return f"choose from: {', '.join(known)}"

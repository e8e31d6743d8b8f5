"""A loop of walls split into the blocks of its roof, where that is proved; else the person is asked for blocks.

A loop that turns in nowhere is one block. One with square corners and one pitch is split by a rule that is proved for
all of them. Any other is split into its largest pieces, and their roof is then held to `proof`, a second way.
"""

from collections.abc import Callable, Mapping, Sequence

from sitelog.geometry.loops.closed import inside_angles
from sitelog.geometry.loops.pieces import largest_pieces
from sitelog.geometry.loops.proof import is_its_roof
from sitelog.geometry.loops.rectangles import is_by_rectangles, nearly_in_line, rectangles
from sitelog.geometry.surface.plan_text import UPRIGHT, BlockText, PlanText, WallText
from sitelog.geometry.surface.walls import Plan, Point
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

STRAIGHT = 180 + 1e-9  # deg: a corner over it turns in
LONGEST = 180  # letters of what to type
ASK = "Give blocks in place of the loop, such as main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 40, EF 40, FA 40"


def split_loop(
    text: PlanText, at: Mapping[str, Point], plan_of: Callable[[PlanText], Plan]
) -> tuple[PlanText, list[str]]:
    """The plan with blocks in place of its loop, over its points where they are [mm], and lines of doubt.

    A split that wants proof is proved over the points as they were typed: plates that are out by a little keep it.
    Refusal, with the wall's or point's name, where the loop doesn't close, crosses itself, goes clockwise, has a corner
    under 30 or over 330 degrees, or has no split that is proved.
    """
    walls = text.blocks[0].walls
    angles = inside_angles(walls, at)
    if max(angles) <= STRAIGHT:
        return PlanText(at, (BlockText("main", walls),)), []
    if is_by_rectangles(walls, angles):
        return PlanText(at, _named(rectangles(walls, at))), nearly_in_line(walls, at)
    return PlanText(at, _proved(text, plan_of)), []


def _named(pieces: Sequence[Sequence[WallText]]) -> tuple[BlockText, ...]:
    return tuple(BlockText(f"wing{place}" if place else "main", tuple(own)) for place, own in enumerate(pieces))


def _proved(text: PlanText, plan_of: Callable[[PlanText], Plan]) -> tuple[BlockText, ...]:
    """The largest pieces as blocks. Refusal where they aren't proved to be the roof."""
    walls = text.blocks[0].walls
    _check_one_plate(walls)
    pieces = largest_pieces([text.points[wall.start] for wall in walls])
    if not pieces:
        raise Refusal(f"plan: loop: it turns in too often to be split. {ASK}")
    blocks = _named([[walls[place] for place in own] for own in pieces])
    try:
        proved = is_its_roof(plan_of(PlanText(text.points, blocks)), walls)
    except Refusal as refusal:
        raise Refusal(f"{refusal.message}. The loop's blocks are: {_as_typed(blocks)}") from None
    if not proved:
        raise Refusal(
            "plan: loop: two ways of working out its roof don't agree, so it isn't split. Give blocks in place of the "
            f"loop, such as {_as_typed(blocks)}"
        )
    return blocks


def _check_one_plate(walls: Sequence[WallText]) -> None:
    raised = [wall for wall in walls if wall.up or wall.inset]
    if raised:
        raise Refusal(
            f"plan: loop: wall {raised[0].name} is raised or set in, and a loop that turns in is only split if every "
            f"wall is at one plate height. {ASK}"
        )


def _as_typed(blocks: Sequence[BlockText]) -> str:
    """As many of the blocks as fit in a line, as a person types them."""
    told = ""
    for block in blocks:
        walls = ", ".join(f"{wall.name} {_pitch(wall)}" for wall in block.walls)
        more = f"{told}; {block.name} {walls}" if told else f"{block.name} {walls}"
        if told and len(more) > LONGEST:
            break
        told = more
    return told


def _pitch(wall: WallText) -> str:
    if wall.same_as:
        return f"{wall.kind if wall.kind in UPRIGHT else ''} ={wall.same_as}".strip()
    if wall.kind in UPRIGHT:
        return wall.kind
    return as_typed(wall.pitch)

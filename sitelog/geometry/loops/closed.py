"""What a loop of walls must be: closed, anticlockwise, crossing itself nowhere, no corner too sharp."""

import math
from collections.abc import Mapping, Sequence

from sitelog.geometry.surface.clipping import TOUCH
from sitelog.geometry.surface.plan_text import WallText
from sitelog.geometry.surface.walls import Point
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.refusal import Refusal

SHARPEST, WIDEST = 30.0, 330.0  # deg, of a corner inside


def inside_angles(walls: Sequence[WallText], at: Mapping[str, Point]) -> list[float]:
    """The corner [deg] at the start of each wall, inside. Refusal, by name, for what isn't a loop."""
    _check_closes(walls, at)
    return [_inside_angle(walls[place - 1], wall, at) for place, wall in enumerate(walls)]


def _check_closes(walls: Sequence[WallText], at: Mapping[str, Point]) -> None:
    if len(walls) < 3:
        raise Refusal("plan: a loop needs three walls or more")
    for place, wall in enumerate(walls):
        before = walls[place - 1]
        if before.end != wall.start:
            raise Refusal(f"plan: loop: wall {wall.name} doesn't start where {before.name} ends, at {before.end}")
        for other in walls[place + 1 :]:
            if _cross(wall, other, at):
                raise Refusal(f"plan: loop: walls {wall.name} and {other.name} cross. Check their points")
    twice = sum(at[wall.start][0] * at[wall.end][1] - at[wall.end][0] * at[wall.start][1] for wall in walls)
    if twice <= 0:
        raise Refusal("plan: the loop goes clockwise; give its walls anticlockwise as seen from above")
    for place, wall in enumerate(walls):
        angle = _inside_angle(walls[place - 1], wall, at)
        if not SHARPEST <= angle <= WIDEST:
            raise Refusal(
                f"plan: loop: the corner at {wall.start} is {as_worked(angle)} degrees; it must be from "
                f"{as_typed(SHARPEST)} to {as_typed(WIDEST)}"
            )


def _cross(first: WallText, other: WallText, at: Mapping[str, Point]) -> bool:
    """Whether two walls cross, or one ends on the other between its ends."""
    if {first.start, first.end} & {other.start, other.end}:
        return False
    a, b, c, d = at[first.start], at[first.end], at[other.start], at[other.end]
    if _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0:
        return True
    return any(_is_on(p, a, b) for p in (c, d)) or any(_is_on(p, c, d) for p in (a, b))


def _is_on(point: Point, start: Point, end: Point) -> bool:
    return math.dist(start, point) + math.dist(point, end) <= math.dist(start, end) + TOUCH


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _inside_angle(before: WallText, wall: WallText, at: Mapping[str, Point]) -> float:
    here, back, on = at[wall.start], at[before.start], at[wall.end]
    to_back = math.atan2(back[1] - here[1], back[0] - here[0])
    to_on = math.atan2(on[1] - here[1], on[0] - here[0])
    return math.degrees(to_back - to_on) % 360

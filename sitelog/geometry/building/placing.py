"""Where a block stands over its plan: the corners that its words come to, and how they move with a measured wall."""

import math

from sitelog.geometry.building.said import BAY, DORMER, MAIN, SIDED, SIDES, WING, BlockRefusal, Said
from sitelog.geometry.surface.walls import Point
from sitelog.geometry.vectors import cos_deg, sin_deg, tan_deg
from sitelog.quantities.rounding import as_typed, as_worked

CORNERS = (("house", "end"), ("left", "right"), ("end", "house"))  # of a wing's left, end and right
INWARDS = 1000.0  # mm: the far ends of a dormer's sides are drawn so far in from its face
NARROW = 25.0  # mm: nearer to a corner than this, and it is asked whether it is meant to be flush


def refused(said: Said, what: str, about: str = "") -> BlockRefusal:
    """A refusal in the block's name; `about` is what of it can't be."""
    return BlockRefusal(said.name, what, about)


def sides_of(said: Said) -> dict[str, tuple[str, str]]:
    """The sides of a block that another can be built on to, as they are said, with their two corners."""
    if said.kind == MAIN:
        letters = "ABCDEFGH"[: SIDED.get(said.shape, 4)]
        return {first + last: (first, last) for first, last in zip(letters, letters[1:] + letters[0], strict=True)}
    if said.kind == WING:
        return {f"{said.name}.{side}": ends for side, ends in zip(SIDES, CORNERS, strict=True)}
    return {}


def is_straight(plate: tuple[Point, Point], way: tuple[Point, Point]) -> bool:
    """Whether two lines on plan run the same way, or back."""
    turn = (plate[1][0] - plate[0][0]) * (way[1][1] - way[0][1]) - (plate[1][1] - plate[0][1]) * (way[1][0] - way[0][0])
    return abs(turn) <= 1e-9 * math.dist(*plate) * math.dist(*way)


def main_corners(said: Said) -> list[Point]:
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


def outline(said: Said, first: float, way: Point, out: Point, origin: Point) -> list[Point]:
    """The four corners of what is built on to a side: on the side, out, along, and back. A dormer's go in from it."""
    width, far = said.size
    near = 0.0
    cut = far / tan_deg(said.splay) if said.kind == BAY else 0.0
    if said.kind == BAY and width - 2 * cut < NARROW:
        raise refused(
            said, f"its splays meet before its front: make it wider, or nearer than {as_worked(far)} mm", "width"
        )
    if said.kind == DORMER:  # its face, and on in up the slope
        near, far = -said.size[1] - INWARDS, -said.size[1]
    left, right = said.ends or (far, far)
    places = ((first, near), (first + cut, left), (first + width - cut, right), (first + width, near))
    return [
        (origin[0] + along * way[0] + past * out[0], origin[1] + along * way[1] + past * out[1])
        for along, past in places
    ]


def lean_to_pitch(said: Said) -> float:
    """The pitch [deg] of a lean-to, given or from its top."""
    if said.top is None:
        return said.pitch
    return math.degrees(math.atan2(said.top - said.plate, said.size[1]))


def check_under_eaves(said: Said, kind: str, up: float, name: str) -> None:
    """Refusal for a lean-to that is too flat or too steep, or reaches over the eaves [mm] of what it leans on."""
    pitch = lean_to_pitch(said)
    if not 5 <= pitch <= 75:
        raise refused(said, f"from its plate to its top is {as_worked(pitch)} degrees; it must be from 5 to 75", "top")
    top = said.plate + said.size[1] * tan_deg(pitch)
    if said.taped:
        return
    if kind not in ("gable", "against") and top > up:
        raise refused(
            said,
            f"its top is {as_worked(top)} up and the plate of {name} is at {as_typed(up)}: give its plate as "
            f"plate {as_worked(up - said.size[1] * tan_deg(pitch))} or lower",
            "plate",
        )


def moved(point: Point, drawn: tuple[Point, Point], now: tuple[Point, Point], more: float = 0.0) -> Point:
    """A point that keeps its distance along, or `more` [mm], and out from a side while that moves."""
    (x, y), (x_end, y_end) = drawn
    long = math.dist(*drawn)
    way = (x_end - x) / long, (y_end - y) / long
    along = (point[0] - x) * way[0] + (point[1] - y) * way[1] + more
    out = (point[0] - x) * way[1] - (point[1] - y) * way[0]
    long_now = math.dist(*now)
    way_now = (now[1][0] - now[0][0]) / long_now, (now[1][1] - now[0][1]) / long_now
    return (
        now[0][0] + along * way_now[0] + out * way_now[1],
        now[0][1] + along * way_now[1] - out * way_now[0],
    )

"""Ten thousand roofs by chance: over each point lies the highest block, and every rafter is there once."""

import math
import random
from collections.abc import Callable

import pytest

from sitelog.geometry.read_off.rafters import Marks, rafters
from sitelog.refusal import Refusal
from tests.length import LONG
from tests.surface.by_half_planes import Face, Point, Roof
from tests.surface.held import built, hold_to_half_planes, hold_together
from tests.surface.roofs import ROOFS
from tests.surface.test_invariants import jittered, turned
from tests.surface.test_timbers import hold_rafters

REASONS = ("the corner at", "never gets in", "doesn't have a top", "are in line")
COUNT = 2600 if LONG else 40  # of each of four kinds


def one_block(chance: random.Random) -> Roof:
    """A block of 3 to 9 walls on a circle drawn out to an oval, some of them gables, some plates up."""
    count = chance.randint(3, 9)
    angles = sorted(chance.uniform(0, math.tau) for _ in range(count))
    long, wide = chance.uniform(2000, 15_000), chance.uniform(2000, 15_000)
    points = {f"P{n}": (long * math.cos(a), wide * math.sin(a)) for n, a in enumerate(angles)}
    return Roof(points, {"main": walls(chance, list(points))})


def walls(chance: random.Random, names: list[str]) -> list[Face]:
    found = []
    for start, end in zip(names, [*names[1:], names[0]], strict=True):
        if chance.random() < 0.2:
            found.append(Face(start, end, "gable"))
        else:
            found.append(Face(start, end, chance.uniform(5, 75), up=chance.choice((0, 0, 0, 300, 900))))
    return found


def many_blocks(chance: random.Random) -> Roof:
    """Two to six rectangles of any way and place over each other, as no builder would."""
    points: dict[str, Point] = {}
    blocks: dict[str, list[Face]] = {}
    for block in range(chance.randint(2, 6)):
        x, y = chance.uniform(0, 12_000), chance.uniform(0, 12_000)
        long, wide = chance.uniform(1500, 12_000), chance.uniform(1500, 8000)
        turn = chance.choice((0, math.pi / 2, chance.uniform(0, math.tau)))
        names = [f"B{block}{corner}" for corner in range(4)]
        for name, (px, py) in zip(names, ((0, 0), (long, 0), (long, wide), (0, wide)), strict=True):
            points[name] = (
                x + px * math.cos(turn) - py * math.sin(turn),
                y + px * math.sin(turn) + py * math.cos(turn),
            )
        blocks[f"b{block}"] = walls(chance, names)
    return Roof(points, blocks)


def measured(chance: random.Random) -> Roof:
    """A roof of the table with its plates out by 0.01 to 20 mm, turned round."""
    roof = ROOFS[chance.choice(sorted(ROOFS))]
    return turned(jittered(roof, 10 ** chance.uniform(-2, 1.3), chance.randint(0, 2**32)), chance.uniform(0, math.tau))


@pytest.mark.grows
@pytest.mark.parametrize("draw", [one_block, many_blocks, measured], ids=lambda draw: draw.__name__)
def test_by_chance(draw: Callable[[random.Random], Roof]) -> None:
    tried = 0
    for seed in range(COUNT):
        roof = draw(random.Random(seed))
        try:
            found = built(roof)
        except Refusal as refused:
            assert any(reason in refused.message for reason in REASONS), refused.message
            continue
        tried += 1
        hold_to_half_planes(roof, found, count=12, seed=seed)
        hold_together(found)
        hold_rafters(found, rafters(found, Marks(900)), 900)
    assert tried > COUNT / 4


# --- right-angled loops -------------------------------------------------------------------------------------------


def skyline(chance: random.Random) -> dict[str, Point]:
    """A right-angled loop with a straight base, and up to nine steps of any height over it."""
    xs = sorted({chance.randrange(0, 20_000, 10) for _ in range(chance.randint(2, 10))})
    while len(xs) < 2:
        xs = sorted({chance.randrange(0, 20_000, 10) for _ in range(4)})
    heights = [chance.randrange(1000, 9000, 10) for _ in xs[1:]]
    corners: list[Point] = [(xs[0], 0.0), (xs[-1], 0.0)]
    for left, right, height in reversed(list(zip(xs, xs[1:], heights, strict=False))):
        for corner in ((right, height), (left, height)):
            if corners[-1] != corner:
                corners.append((float(corner[0]), float(corner[1])))
    kept = [
        corner
        for n, corner in enumerate(corners)
        if not (corners[n - 1][1] == corner[1] == corners[(n + 1) % len(corners)][1])
    ]
    return {f"P{n}": corner for n, corner in enumerate(kept)}


def distance_in(points: dict[str, Point], x: float, y: float) -> float:
    """How far [mm] a point inside is from the loop, square to it: half the largest square about it that fits."""
    corners = list(points.values())
    least = math.inf
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        across = max(min(x0, x1) - x, x - max(x0, x1), 0.0)
        up = max(min(y0, y1) - y, y - max(y0, y1), 0.0)
        least = min(least, max(across, up))
    return least


def is_in(points: dict[str, Point], x: float, y: float) -> bool:
    corners = list(points.values())
    inside = False
    for (x0, y0), (x1, y1) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside


@pytest.mark.grows
def test_over_a_right_angled_loop_the_roof_is_as_high_as_the_nearest_wall_lets_it_be() -> None:
    """A second way: with one pitch all round the height is the pitch's rise over the largest square that fits."""
    for seed in range(COUNT):
        chance = random.Random(seed)
        points = skyline(chance)
        names = list(points)
        roof = Roof(points, {"loop": [Face(a, b, 40.0) for a, b in zip(names, [*names[1:], names[0]], strict=True)]})
        if len(names) > 40:
            continue
        found = built(roof)
        hold_together(found)
        xs, ys = zip(*points.values(), strict=True)
        for _ in range(12):
            x, y = chance.uniform(min(xs), max(xs)), chance.uniform(0, max(ys))
            height = max(
                (found.slopes[piece.slope].height(x, y) for piece in found.pieces if _holds(piece.ring, x, y)),
                default=None,
            )
            if is_in(points, x, y):
                assert height == pytest.approx(distance_in(points, x, y) * math.tan(math.radians(40)), abs=1e-3), seed
            else:
                assert height is None or height < 0.01, seed


def _holds(ring: list[tuple[float, float, int]], x: float, y: float) -> bool:
    return all(
        (b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0]) >= 0
        for a, b in zip(ring, [*ring[1:], ring[0]], strict=True)
    )

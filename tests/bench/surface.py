"""The surface of a roof of 40 walls and 6 blocks, and all its timbers, against a tenth of a second."""

import math
from itertools import pairwise
from statistics import median
from time import perf_counter

from sitelog.geometry.read_off.level_members import purlins
from sitelog.geometry.read_off.rafters import Marks, rafters
from sitelog.geometry.surface.surface import Surface, surface_of
from tests.bench.row import Row

MOST_MS = 100.0
ROUNDS = 15


def plan() -> str:
    """A main roof of four walls with five rounded wings: 40 walls in six blocks."""
    points = ["A 0,0", "B 40000,0", "C 40000,9000", "D 0,9000"]
    blocks = ["main AB 40, BC 40, CD 40, DA 40"]
    for wing in range(5):
        sides = 8 if wing == 4 else 7
        left, wide, deep = 3000 + 7500 * wing, 4000 + 300 * wing, 4000 + 200 * wing
        names = [f"W{wing}{letter}" for letter in "ABCDEFGHI"[: sides + 1]]
        corners: list[tuple[float, float]] = [(left + wide, 9000.0)]
        for step in range(sides - 1):
            turn = math.pi * step / (sides - 2)
            corners.append((left + wide / 2 * (1 + math.cos(turn)), 9000 + deep + 1500 * math.sin(turn)))
        corners.append((left, 9000.0))
        points += [f"{name} {x:.3f},{y:.3f}" for name, (x, y) in zip(names, corners, strict=True)]
        walls = [f"{a}-{b} {36 + n}" for n, (a, b) in enumerate(pairwise(names))]
        blocks.append(f"w{wing} AB 40, {', '.join(walls)}")
    return "; ".join([*points, *blocks])


def all_of_it(text: str) -> Surface:
    """The surface, its rafters at 400 and two rows of purlins."""
    found = surface_of(text)
    rafters(found, Marks(400))
    purlins(found, [1000, 2000])
    return found


def rows() -> list[Row]:
    text = plan()
    found = all_of_it(text)
    assert len({wall.name for block in found.plan.blocks for wall in block.walls}) == 40
    assert len(found.plan.blocks) == 6
    alone, whole = (median(_ms(work, text) for _ in range(ROUNDS)) for work in (surface_of, all_of_it))
    return [
        Row(f"{what}, against {MOST_MS:g} ms", cost, MOST_MS, cost / MOST_MS, 1.0)
        for what, cost in (("the surface of 40 walls in 6 blocks", alone), ("the same with all its timbers", whole))
    ]


def _ms(work: object, text: str) -> float:
    assert callable(work)
    start = perf_counter()
    work(text)
    return (perf_counter() - start) * 1000

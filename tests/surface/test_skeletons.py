"""Loops of one pitch, right-angled and not, against a straight skeleton that others wrote; skipped if it isn't there.

For development alone, and not among what the project installs: `pip install --no-deps py_straight_skeleton` (3-clause
BSD). The binding to a geometry kernel that has skeletons has no wheel; one that has a wheel has none.
"""

import random

import pytest

from sitelog.refusal import Refusal
from tests.surface.by_half_planes import Face, Roof
from tests.surface.held import built, distance, is_inside
from tests.surface.roofs import L_POINTS, T_POINTS, U_POINTS, Z_POINTS
from tests.surface.test_chance import skyline
from tests.surface.test_loops import BAY_POINTS

skeletons = pytest.importorskip("py_straight_skeleton", reason="py_straight_skeleton is not installed")
SKYLINES = [skyline(random.Random(seed)) for seed in range(25)]
SQUARE_ONES = [L_POINTS, T_POINTS, U_POINTS, Z_POINTS, *(points for points in SKYLINES if len(points) <= 40)]


def out_of_square(seed: int) -> dict[str, tuple[float, float]]:
    """A plan of the table with its corners moved, so that nothing is in line and nothing is square."""
    chance = random.Random(seed)
    plan = chance.choice((L_POINTS, T_POINTS, U_POINTS, Z_POINTS, BAY_POINTS))
    return {name: (x + chance.uniform(-400, 400), y + chance.uniform(-400, 400)) for name, (x, y) in plan.items()}


LOOPS = [*SQUARE_ONES, BAY_POINTS, *(out_of_square(seed) for seed in range(25))]


@pytest.mark.parametrize("points", LOOPS, ids=range(len(LOOPS)))
def test_each_node_of_the_skeleton_is_on_the_roof_at_its_height(points: dict[str, tuple[float, float]]) -> None:
    """At 45 degrees a node is as high as the walls have moved in when it comes to be."""
    names = list(points)
    roof = Roof(points, {"loop": [Face(a, b, 45.0) for a, b in zip(names, [*names[1:], names[0]], strict=True)]})
    try:
        found = built(roof)
    except Refusal as refused:
        assert "don't agree" in refused.message
        pytest.skip("asked about, not split")
    outlines = [found.outline(place) for place in range(len(found.slopes))]
    skeleton = skeletons.compute_skeleton(exterior=[list(at) for at in points.values()], holes=[])
    for node in skeleton.nodes:
        x, y = node.position.x, node.position.y
        there = [
            found.slopes[place].height(x, y)
            for place, rings in enumerate(outlines)
            if is_inside(rings, x, y) or any(distance(ring, x, y) < 0.1 for ring in rings)
        ]
        assert there, (x, y)
        assert there == pytest.approx([node.time] * len(there), abs=0.5), (x, y)

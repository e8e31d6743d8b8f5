"""Right-angled loops against a straight skeleton that others wrote; left out where it isn't installed.

For development alone, and not among what the project installs: `pip install --no-deps py_straight_skeleton` (3-clause
BSD). The binding to a geometry kernel that has skeletons has no wheel; one that has a wheel has none.
"""

import random

import pytest

from tests.surface.by_half_planes import Face, Roof
from tests.surface.held import built, distance, is_inside
from tests.surface.roofs import L_POINTS, T_POINTS, U_POINTS, Z_POINTS
from tests.surface.test_chance import skyline

skeletons = pytest.importorskip("py_straight_skeleton", reason="py_straight_skeleton is not installed")
SKYLINES = [skyline(random.Random(seed)) for seed in range(25)]
LOOPS = [L_POINTS, T_POINTS, U_POINTS, Z_POINTS, *(points for points in SKYLINES if len(points) <= 40)]


@pytest.mark.parametrize("points", LOOPS, ids=range(len(LOOPS)))
def test_each_node_of_the_skeleton_is_on_the_roof_at_its_height(points: dict[str, tuple[float, float]]) -> None:
    """At 45 degrees a node is as high as the walls have moved in when it comes to be."""
    names = list(points)
    roof = Roof(points, {"loop": [Face(a, b, 45.0) for a, b in zip(names, [*names[1:], names[0]], strict=True)]})
    found = built(roof)
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

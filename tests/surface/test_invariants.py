"""A roof is the same whichever way it is drawn, and nearly the same where its plates are nearly as drawn."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.surface.by_half_planes import Face, Point, Roof
from tests.surface.held import built, hold_to_half_planes, hold_together, lengths, told
from tests.surface.roofs import ROOFS

roofs = st.sampled_from(sorted(ROOFS)).map(ROOFS.__getitem__)
seeds = st.integers(0, 2**32)


def turned(roof: Roof, angle: float, x: float = 0.0, y: float = 0.0) -> Roof:
    cos, sin = math.cos(angle), math.sin(angle)
    return roof.moved(
        {name: (px * cos - py * sin + x, px * sin + py * cos + y) for name, (px, py) in roof.points.items()}
    )


def jittered(roof: Roof, by: float, seed: int) -> Roof:
    chance = random.Random(seed)

    def out(point: Point) -> Point:
        return point[0] + chance.uniform(-by, by), point[1] + chance.uniform(-by, by)

    return roof.moved({name: out(point) for name, point in roof.points.items()})


@given(roofs, st.floats(0, math.tau), st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))
@settings(deadline=None, max_examples=60)
def test_turned_and_moved_it_is_the_same_to_a_millionth_of_a_mm(roof: Roof, angle: float, x: float, y: float) -> None:
    was, now = lengths(built(roof)), lengths(built(turned(roof, angle, x, y)))
    assert was.keys() == now.keys()
    for key, values in was.items():
        assert now[key] == pytest.approx(values, abs=1e-6), key


@pytest.mark.parametrize("roof", ROOFS.values(), ids=list(ROOFS))
def test_mirrored_it_has_the_same_lines_between_the_same_walls(roof: Roof) -> None:
    def back(face: Face) -> Face:
        same = back(face.same_as) if face.same_as else None
        return Face(face.end, face.start, face.pitch, face.up, face.inset, same)

    mirror = Roof(
        {name: (-x, y) for name, (x, y) in roof.points.items()},
        {name: [back(face) for face in reversed(faces)] for name, faces in roof.blocks.items()},
    )

    def renamed(names: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(sorted(f"{name[1]}{name[0]}{name[2:]}" for name in names))

    was = {(kind, renamed(names)): values for (kind, names), values in lengths(built(roof)).items()}
    now = lengths(built(mirror))
    assert was.keys() == now.keys()
    for key, values in was.items():
        assert now[key] == pytest.approx(values, abs=1e-6), key


@given(roofs, st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_the_order_of_blocks_walls_and_points_changes_nothing(roof: Roof, chance: random.Random) -> None:
    points = list(roof.points.items())
    chance.shuffle(points)
    blocks = {name: chance.sample(list(faces), len(faces)) for name, faces in roof.blocks.items()}
    other = Roof(dict(points), dict(chance.sample(list(blocks.items()), len(blocks))))
    was, now = lengths(built(roof)), lengths(built(other))
    assert was.keys() == now.keys()
    for key, values in was.items():
        assert now[key] == pytest.approx(values, abs=1e-6), key
    assert built(other).volume == pytest.approx(built(roof).volume, rel=1e-12)


@given(roofs, st.floats(-2, 1.3), st.floats(0, math.tau), seeds)
@settings(deadline=None, max_examples=150)
def test_plates_out_by_a_hundredth_to_20_mm_lose_no_slope_and_double_no_line(
    roof: Roof, power: float, angle: float, seed: int
) -> None:
    """Lines of less than 100 times what the plates are out by may come and go; no other may."""
    out = 10**power
    other = turned(jittered(roof, out, seed), angle)
    was, now = built(roof), built(other)
    hold_to_half_planes(other, now, count=20, seed=seed)
    hold_together(now)
    assert now.hidden == was.hidden
    least = max(100 * out, 1.0)
    assert not told(now, least) - told(was, least / 2)
    assert not told(was, least) - told(now, least / 2)


@given(roofs, st.floats(-8, -2), st.floats(0, math.tau), seeds)
@settings(deadline=None, max_examples=150)
def test_plates_out_by_about_the_tolerance_itself_change_nothing_that_a_tape_reads(
    roof: Roof, power: float, angle: float, seed: int
) -> None:
    """From a hundred-millionth of a mm to a hundredth: under, at and over TOUCH, FINE and SAME."""
    other = turned(jittered(roof, 10**power, seed), angle)
    now = built(other)
    hold_to_half_planes(other, now, count=10, seed=seed)
    hold_together(now)
    assert told(now, 1.0) == told(built(roof), 1.0)


@given(st.floats(5, 74), st.floats(-7, 0), seeds)
@settings(deadline=None, max_examples=60)
def test_pitches_that_are_nearly_the_same_are_still_slopes_of_their_own(pitch: float, power: float, seed: int) -> None:
    chance = random.Random(seed)
    base = ROOFS["L"]
    more = [chance.uniform(-1, 1) * 10**power for _ in range(6)]
    walls = {name: pitch + off for name, off in zip(("AB", "BC", "CD", "DE", "EF", "FA"), more, strict=True)}
    roof = Roof(
        base.points,
        {
            name: [Face(face.start, face.end, max(walls[face.name], 5.0)) for face in faces]
            for name, faces in base.blocks.items()
        },
    )
    found = built(roof)
    hold_to_half_planes(roof, found, count=30, seed=seed)
    hold_together(found)
    assert not found.hidden


@given(seeds)
@settings(deadline=None, max_examples=40)
def test_a_mm_on_the_plates_moves_no_point_by_more_than_the_planes_lean_allows(seed: int) -> None:
    """33 mm where pitches are 1 degree apart: their line moves 1 / (1 - tan 39 / tan 40) times as far."""
    roof = ROOFS["L"]
    was = {point.slopes: point.at for point in built(roof).points}
    now = {point.slopes: point.at for point in built(jittered(roof, 1.0, seed)).points}
    for slopes, at in was.items():
        assert math.dist(at, now[slopes]) < 33

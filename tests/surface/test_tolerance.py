"""What is decided by a tolerance, tried just under it, at it, and just over it.

At a tolerance itself a figure that was worked may fall to either side by its last digit: there the roof must be whole
either way. Where the figures are exact, as at 0, it counts as within.
"""

import math

import pytest

from sitelog.geometry.read_off.rafters import Marks, rafters
from sitelog.geometry.read_off.scanned import BESIDE, SHORTEST, FlatEdge, Scan
from sitelog.geometry.surface.cells import Piece
from sitelog.geometry.surface.clipping import EVEN, FINE, PARALLEL, SAME, TOUCH, Ring, clipped, half_plane, without
from sitelog.geometry.surface.lines import ALIKE, OPPOSED
from sitelog.geometry.surface.planar_map import mapped
from sitelog.geometry.surface.surface import Surface, surface_of
from sitelog.refusal import Refusal
from tests.surface.held import hold_together, told

UNDER, AT, OVER = 0.999, 1.0, 1.001
ROUND = pytest.mark.parametrize("share", [UNDER, AT, OVER])


def box(left: float, low: float, right: float, high: float) -> Ring:
    return [(left, low, 0), (right, low, 1), (right, high, 2), (left, high, 3)]


# --- on a line ----------------------------------------------------------------------------------------------------


@ROUND
def test_a_corner_no_further_past_a_cut_than_touch_is_on_it(share: float) -> None:
    ring = box(-share * TOUCH, 0, 1000, 1000)
    left = clipped(ring, (1.0, 0.0, 0.0))
    assert (left == ring) == (share <= 1)
    assert min(x for x, _, _ in left) == (-share * TOUCH if share <= 1 else 0.0)


@ROUND
def test_what_reaches_no_further_in_than_touch_is_nothing(share: float) -> None:
    ring = box(-1000, 0, share * TOUCH, 1000)
    assert (clipped(ring, (1.0, 0.0, 0.0)) == []) == (share <= 1)
    outside = without(ring, [(1.0, 0.0, 0.0)])
    assert outside == ([ring] if share <= 1 else [clipped(ring, (-1.0, 0.0, 0.0))])


@ROUND
def test_slopes_that_part_more_slowly_than_parallel_are_higher_everywhere_or_nowhere(share: float) -> None:
    rate = share * PARALLEL
    for up in (300.0, -300.0):
        assert half_plane(rate, 0.0, up) == ((up > 0) if share < 1 else (1.0, 0.0, up / rate))
    assert 400_000 * PARALLEL < TOUCH, "from one end of the largest plan to the other"


# --- side by side -------------------------------------------------------------------------------------------------


@ROUND
def test_a_corner_is_on_an_edge_that_it_is_no_further_from_than_fine(share: float) -> None:
    """The corner is in the middle of the other piece's edge, so nothing else could join the two."""
    off = share * FINE
    pieces = [Piece(0, 0, box(0, -1000, 2000, 0)), Piece(0, 1, box(0, 0, 1000, 900)),
              Piece(0, 2, [(1000, off, 0), (2000, 0, 1), (2000, 900, 2), (1000, 900, 3)])]  # fmt: skip
    found = mapped(pieces)
    over = {side.slope for edge, side in found.sides.items() if (found.across(edge) or side).slope == 0} - {0}
    assert over == {1, 2}
    assert sum(found.across(edge) is None for edge in found.sides) == 7, "the six outer edges, one of them in two"


@ROUND
def test_an_edge_no_longer_than_same_is_shut(share: float) -> None:
    short = share * SAME
    found = mapped([Piece(0, 0, [(0, 0, 0), (short, 0, 1), (1000, 1000, 2), (0, 1000, 3)])])
    assert len(found.sides) == (3 if share <= 1 else 4)


# --- level --------------------------------------------------------------------------------------------------------


def stepped(up: float) -> Surface:
    """Two roofs end to end, the right one's plates higher."""
    return surface_of(
        "A 0,0; B 4500,0; C 4500,6000; D 0,6000; E 9000,0; F 9000,6000; left AB 40, BC gable, CD 40, DA gable;"
        f"right BE 40 {up:+.12f}, EF gable, FC 40 {up:+.12f}, CB gable"
    )


@ROUND
def test_slopes_no_further_apart_than_even_meet_and_others_have_a_step(share: float) -> None:
    found = stepped(share * EVEN)
    hold_together(found)
    kinds = {kind for kind, _ in told(found)}
    assert found.plan_area == pytest.approx(54e6, rel=1e-12)
    if share != AT:
        assert ("step" in kinds, "break" in kinds) == (share > 1, share < 1)
    assert len([line for line in found.lines if line.kind == "ridge"]) == 2
    names = [point.name for point in found.points]
    assert len(names) == len(set(names))


@ROUND
def test_a_line_that_falls_no_more_than_even_is_told_as_a_level_one_is(share: float) -> None:
    """A ridge between two slopes whose plates run apart by a hair climbs by that; it is a ridge all the same."""
    out = share * EVEN / math.tan(math.radians(40))
    found = surface_of(
        f"A 0,0; B 9000,0; C 9000,{6000 + 2 * out:.12f}; D 0,6000; main AB 40, BC gable, CD 40, DA gable"
    )
    hold_together(found)
    [ridge] = [line for line in found.lines if line.kind == "ridge"]
    rise = found.points[ridge.end].at[2] - found.points[ridge.start].at[2]
    assert abs(rise) == pytest.approx(share * EVEN, abs=1e-6)
    assert ridge.length == pytest.approx(9000)


# --- in line ------------------------------------------------------------------------------------------------------


def loop_in_line(off: float) -> Surface:
    """A T turned down: its walls AB and EF are in line on either side of the stem, at 0 and `off`."""
    return surface_of(
        f"A 0,0; B 3000,0; C 3000,-4000; D 6000,-4000; E 6000,{off:.12f}; F 9000,{off:.12f}; G 9000,5000; H 0,5000;"
        "loop AB 40, BC 40, CD 40, DE 40, EF 40, FG 40, GH 40, HA 40"
    )


@ROUND
def test_walls_no_further_out_of_line_than_touch_are_one_slope(share: float) -> None:
    found = loop_in_line(share * TOUCH)
    hold_together(found)
    names = [slope.name for slope in found.slopes]
    assert ("EF" in names) == (share > 1)
    assert bool(found.plan.doubts) == (share > 1), "and then they are asked about"
    assert found.plan_area == pytest.approx(57e6)
    assert [line.kind for line in found.lines].count("valley") == 2


@ROUND
@pytest.mark.parametrize("limit", [25.0, 1.0])
def test_two_walls_in_line_with_two_pitches_are_asked_about_as_far_as_is_said(share: float, limit: float) -> None:
    """25 mm apart at the most, and 1 degree: a wall further off is another wall. Its line is judged at its start."""
    off, turn = (share * limit, 0.0) if limit == 25.0 else (0.0, math.tan(math.radians(share)))
    plan = (
        f"A 0,0; B 4000,0; M 4500,{-off:.12f}; N 9000,{-off - 4500 * turn:.12f}; C 9000,6000; D 0,6000;"
        "main AB 40, MN 35, NC 40, CD 40, DA 40"
    )
    if share < 1:
        with pytest.raises(Refusal, match="walls AB and MN are in line"):
            surface_of(plan)
    elif share > 1:
        assert surface_of(plan).slopes


# --- kinds of lines -----------------------------------------------------------------------------------------------


@ROUND
def test_slopes_that_rise_within_5_degrees_of_each_other_meet_in_a_break(share: float) -> None:
    """A wall turned so far at its middle; over 5 degrees the line is a hip."""
    turn = math.radians(share * ALIKE)
    x, y = 4500 + 4500 * math.cos(turn), 4500 * math.sin(turn)
    found = surface_of(
        f"A 0,0; M 4500,0; B {x:.9f},{y:.9f}; C 9000,6000; D 0,6000; main AM 40, MB 40, BC gable, CD 40, DA gable"
    )
    hold_together(found)
    [kind] = [line.kind for line in found.lines if found.line_name(line) in ("AM-MB", "MB-AM")]
    if share != AT:
        assert kind == ("break" if share < 1 else "hip")


@ROUND
def test_slopes_that_rise_within_30_degrees_of_against_each_other_meet_in_a_ridge(share: float) -> None:
    turn = math.radians(180 - share * OPPOSED) if share <= 1 else math.radians(180 - OPPOSED * share)
    rise = 9000 * math.tan(turn)
    found = surface_of(f"A 0,0; B 9000,0; C 9000,{6000 + rise:.9f}; D 0,6000; main AB 40, BC gable, CD 40, DA gable")
    hold_together(found)
    [kind] = [line.kind for line in found.lines if len(line.between) == 2]
    if share != AT:
        assert kind == ("hip" if share < 1 else "ridge")


# --- timbers ------------------------------------------------------------------------------------------------------


def scan(left: float) -> Scan:
    """A slope whose verge is at `left`, on which a rafter may stand."""
    corners = [(left, 0.0), (9000.0, 0.0), (9000.0, 4000.0), (left, 4000.0)]
    ends = [*corners[1:], corners[0]]
    return Scan([[FlatEdge(a, b, n) for n, (a, b) in enumerate(zip(corners, ends, strict=True))]], [True] * 4)


@ROUND
@pytest.mark.parametrize("way", [1, -1])
def test_a_rafter_no_further_past_a_verge_than_beside_stands_on_it(share: float, way: int) -> None:
    parts = scan(way * share * BESIDE).at(0.0)
    assert len(parts) == (1 if way < 0 or share <= 1 else 0)
    assert all(part.length == pytest.approx(4000) for part in parts)


@ROUND
def test_what_is_no_longer_than_the_shortest_is_no_timber(share: float) -> None:
    corners = [(0.0, 0.0), (1000.0, 0.0), (1000.0, share * SHORTEST), (0.0, share * SHORTEST)]
    ends = [*corners[1:], corners[0]]
    found = Scan([[FlatEdge(a, b, n) for n, (a, b) in enumerate(zip(corners, ends, strict=True))]], [False] * 4)
    assert len(found.at(500.0)) == (share > 1)


@ROUND
def test_the_mark_at_the_end_of_a_wall_is_a_mark_as_far_as_same(share: float) -> None:
    """A wall that is short of its last mark by a hair has its end rafter all the same."""
    found = surface_of(
        f"A 0,0; B {8000 - share * SAME:.12f},0; C {8000 - share * SAME:.12f},6000; D 0,6000;"
        "main AB 40, BC gable, CD 40, DA gable"
    )
    ends = [rafter for rafter in rafters(found, Marks(400)) if rafter.at > 7900 and rafter.slope == 0]
    if share != AT:
        assert len(ends) == (share < 1)

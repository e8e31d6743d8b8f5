"""Which lengths fix a plan and prove each other, and the points that fit them."""

import math
import random
from collections.abc import Mapping
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.setting_out.plates import adjusted, six, weighed
from sitelog.geometry.plan_ties import Pair, fitted_points, ties_to_take
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal
from tests.surface.roofs import L_POINTS, SQUARE, T_POINTS, U_POINTS, Z_POINTS

PLANS = {"square": SQUARE, "L": L_POINTS, "T": T_POINTS, "U": U_POINTS, "Z": Z_POINTS}
Points = Mapping[str, tuple[float, float]]


def sides_of(points: Points) -> list[Pair]:
    names = list(points)
    return [*pairwise(names), (names[-1], names[0])]


def taped(points: Points, pairs: list[Pair], out: float = 0.0, seed: int = 0) -> list[Tie]:
    chance = random.Random(seed)
    return [Tie(a, b, math.dist(points[a], points[b]) + chance.uniform(-out, out)) for a, b in pairs]


def rank(points: Points, pairs: list[Pair]) -> int:
    """How many ways of moving the points change some length: numpy's rank of the lengths' slopes."""
    names = list(points)
    rows = np.zeros((len(pairs), 2 * len(names)))
    for row, (a, b) in zip(rows, pairs, strict=True):
        (xa, ya), (xb, yb) = points[a], points[b]
        long = math.dist(points[a], points[b])
        row[2 * names.index(a) : 2 * names.index(a) + 2] = (xa - xb) / long, (ya - yb) / long
        row[2 * names.index(b) : 2 * names.index(b) + 2] = (xb - xa) / long, (yb - ya) / long
    return int(np.linalg.matrix_rank(rows, tol=1e-6))


@pytest.mark.parametrize("points", PLANS.values(), ids=list(PLANS))
def test_the_ties_to_take_are_the_fewest_that_fix_the_plan_and_leave_one_to_spare(points: Points) -> None:
    """Fixed: as many ways of moving as points have, less three for the whole. With any one left out it still is."""
    sides = sides_of(points)
    pairs = [*sides, *(pair for pair, _ in ties_to_take(points, sides))]
    fixed = 2 * len(points) - 3
    assert len(pairs) == fixed + 1
    assert rank(points, pairs) == fixed
    for left_out in range(len(pairs)):
        assert rank(points, [*pairs[:left_out], *pairs[left_out + 1 :]]) == fixed, pairs[left_out]


def test_four_plates_take_both_diagonals() -> None:
    assert sorted(pair for pair, _ in ties_to_take(SQUARE, sides_of(SQUARE))) == [("A", "C"), ("B", "D")]


def test_no_tie_runs_past_a_corner_on_its_line() -> None:
    """D and G of the T have C and H in line with them."""
    taken = {frozenset(pair) for pair, _ in ties_to_take(T_POINTS, sides_of(T_POINTS))}
    assert not taken & {frozenset("CG"), frozenset("DH"), frozenset("CH")}


@given(st.sampled_from(sorted(PLANS)), st.floats(0, math.tau), st.integers(0, 2**32))
@settings(deadline=None, max_examples=30)
def test_true_lengths_give_the_points_back_and_each_is_checked(name: str, turn: float, seed: int) -> None:
    drawn = {
        point: (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn))
        for point, (x, y) in PLANS[name].items()
    }
    chance = random.Random(seed)
    real = {point: (x + chance.uniform(-20, 20), y + chance.uniform(-20, 20)) for point, (x, y) in drawn.items()}
    pairs = [*sides_of(drawn), *(pair for pair, _ in ties_to_take(drawn, sides_of(drawn)))]
    found = fitted_points(drawn, weighed(taped(real, pairs), "II"))
    assert found.spare == 1
    assert found.agrees
    for a, b in pairs:
        assert math.dist(found.points[a], found.points[b]) == pytest.approx(math.dist(real[a], real[b]), abs=1e-4)
    assert all(standard is not None for standard in found.standard)
    first, second = list(drawn)[:2]
    assert found.points[first] == pytest.approx(drawn[first], abs=1e-6)
    (x, y), (x_drawn, y_drawn) = found.points[second], drawn[second]
    assert math.atan2(y, x) == pytest.approx(math.atan2(y_drawn, x_drawn), abs=1e-9) or math.hypot(x, y) < 1


def test_four_plates_fit_as_squareness_fits_them() -> None:
    lengths = six(9000, 6000, 9003, 6002, 10822, 10815)
    by_six = adjusted(lengths, "II")
    found = fitted_points(SQUARE, weighed(lengths, "II"))
    for name, at in by_six.points.items():
        assert found.points[name] == pytest.approx(at, abs=1e-6)


def test_a_length_that_is_out_shows() -> None:
    pairs = [*sides_of(L_POINTS), *(pair for pair, _ in ties_to_take(L_POINTS, sides_of(L_POINTS)))]
    lengths = taped(L_POINTS, pairs)
    assert fitted_points(L_POINTS, weighed(lengths, "II")).agrees
    wrong = [*lengths[:6], Tie(lengths[6].start, lengths[6].end, lengths[6].length + 60), *lengths[7:]]
    assert not fitted_points(L_POINTS, weighed(wrong, "II")).agrees


@pytest.mark.parametrize(
    ("pairs", "said"),
    [
        ([("A", "X")], "X isn't a point"),
        ([("A", "B"), ("B", "C"), ("C", "A")], "nothing is taped to D"),
        ([("A", "B"), ("B", "C"), ("C", "D"), ("D", "A")], "C|D"),
    ],
)
def test_lengths_that_fix_no_plan_are_refused(pairs: list[Pair], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        fitted_points(SQUARE, weighed([Tie(a, b, 5000.0) for a, b in pairs], "II"))


def test_points_in_one_line_can_t_be_fixed() -> None:
    with pytest.raises(Refusal, match="too many are in line"):
        ties_to_take({"A": (0, 0), "B": (1000, 0), "C": (2000, 0)}, [("A", "B")])

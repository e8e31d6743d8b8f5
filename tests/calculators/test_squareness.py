"""Four plates: square or not, and what the taped lengths can and can't tell, against another path to the same plan."""

import itertools
import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.setting_out.plates import adjusted, six
from sitelog.calculators.setting_out.squareness import squareness
from sitelog.geometry.least_squares import critical
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal
from tests.calculators.results import corners

SIDES = ("ab", "bc", "cd", "da", "ac", "bd")
Plan = dict[str, tuple[float, float]]

RECTANGLE: Plan = {"A": (0, 0), "B": (9000, 0), "C": (9000, 6000), "D": (0, 6000)}
OFF_THE_DIAGONALS: Plan = {"M": (4500, 2000)}
ON_BOTH_DIAGONALS: Plan = {"M": (4500, 3000)}
# Plates as a gang might tape them, with one length to spare that is out by a millimetre or two.
TAPED = {"ab": 9000.0, "bc": 6000.0, "cd": 9010.0, "da": 6005.0, "ac": 10_830.0, "bd": 10_812.0}


def taped(plan: Plan) -> dict[str, float]:
    return {side: math.dist(plan[side[0].upper()], plan[side[1].upper()]) for side in SIDES}


def ties(plan: Plan, points: Plan) -> tuple[Tie, ...]:
    return tuple(Tie(corner, name, math.dist(plan[corner], point)) for name, point in points.items() for corner in plan)


def number(answer: Answer, name: str) -> float:
    value = answer.results[name]
    assert isinstance(value, (int, float))
    return value


def rows(answer: Answer, name: str) -> list[dict[str, float | int | str | None]]:
    value = answer.results[name]
    assert isinstance(value, list)
    return value


def residuals(answer: Answer) -> list[float]:
    return [float(row["residual"] or 0) for row in rows(answer, "lengths")]


# A plan of four plates that a roof might stand on: near enough a rectangle, each corner up to 400 mm off.
coordinate = st.floats(-400, 400)
plans = st.tuples(st.floats(3000, 15_000), st.floats(3000, 15_000), *[coordinate] * 8).map(
    lambda v: {
        "A": (v[2], v[3]),
        "B": (v[0] + v[4], v[5]),
        "C": (v[0] + v[6], v[1] + v[7]),
        "D": (v[8], v[1] + v[9]),
    }
)


def free_fit(lengths: Sequence[Tie], start: Plan) -> np.ndarray:
    """Residuals by another road: no point held, every coordinate free, numpy's least squares of smallest change."""
    names = sorted(start)
    at = np.array([start[name] for name in names], dtype=float)
    ends = np.array([(names.index(tie.start), names.index(tie.end)) for tie in lengths])
    measured = np.array([tie.length for tie in lengths])
    for _ in range(60):
        apart = at[ends[:, 1]] - at[ends[:, 0]]
        long = np.hypot(apart[:, 0], apart[:, 1])
        slopes = np.zeros((len(lengths), at.size))
        for row, (one, other) in enumerate(ends):
            slopes[row, 2 * other : 2 * other + 2] = apart[row] / long[row]
            slopes[row, 2 * one : 2 * one + 2] = -apart[row] / long[row]
        at = at + np.linalg.lstsq(slopes, measured - long, rcond=1e-10)[0].reshape(at.shape)
    return np.asarray(np.hypot(*(at[ends[:, 1]] - at[ends[:, 0]]).T) - measured)


# -- where the corners are


def test_a_three_four_five_rectangle_is_square() -> None:
    answer = squareness(ab=4000.0, bc=3000.0, cd=4000.0, da=3000.0, ac=5000.0, bd=5000.0)
    expected = {"a_x": 0, "a_y": 0, "b_x": 4000, "b_y": 0, "c_x": 4000, "c_y": 3000, "d_x": 0, "d_y": 3000}
    for name, value in expected.items():
        assert number(answer, name) == pytest.approx(value, abs=1e-6)
    for corner in "abcd":
        assert number(answer, f"angle_{corner}") == pytest.approx(90, abs=1e-9)
    assert number(answer, "area") == pytest.approx(12, abs=1e-9)
    assert number(answer, "misclosure") == pytest.approx(0, abs=1e-9)
    assert number(answer, "out_of_square") == pytest.approx(0, abs=1e-6)
    assert answer.results["suspect"] is None
    assert answer.verdict == "pass"


@given(plans)
def test_true_lengths_give_back_the_plan_they_were_taken_from(plan: Plan) -> None:
    answer = squareness(**taped(plan), tolerance=5000.0)
    assert number(answer, "misclosure") == pytest.approx(0, abs=1e-6)
    for before, corner, after in (("D", "A", "B"), ("A", "B", "C"), ("B", "C", "D"), ("C", "D", "A")):
        to, back = (np.subtract(plan[end], plan[corner]) for end in (before, after))
        cosine = float(to @ back) / float(np.linalg.norm(to) * np.linalg.norm(back))
        assert number(answer, f"angle_{corner.lower()}") == pytest.approx(math.degrees(math.acos(cosine)), abs=1e-6)
    x, y = np.array([plan[corner] for corner in "ABCD"]).T
    shoelace = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2e6
    assert number(answer, "area") == pytest.approx(shoelace, rel=1e-9)


@given(plans, st.lists(st.floats(-15, 15), min_size=6, max_size=6))
def test_the_fit_is_the_one_that_changes_the_lengths_least(plan: Plan, slips: list[float]) -> None:
    lengths = six(*(one + slip for one, slip in zip(taped(plan).values(), slips, strict=True)))
    fitted = adjusted(lengths, "II")
    assert fitted.residuals == pytest.approx(free_fit(lengths, plan), abs=1e-5)


@given(plans, st.lists(st.floats(-15, 15), min_size=14, max_size=14))
def test_the_fit_with_ties_to_two_more_points_is_the_least_too(plan: Plan, slips: list[float]) -> None:
    inside: Plan = {"M": (1400, 1000), "N": (1600, 2100)}
    lengths = [
        Tie(tie.start, tie.end, tie.length + slip)
        for tie, slip in zip((*six(**taped(plan)), *ties(plan, inside)), slips, strict=True)
    ]
    fitted = adjusted(lengths, "II")
    assert fitted.spare == 5
    assert fitted.residuals == pytest.approx(free_fit(lengths, plan | inside), abs=1e-5)


def test_the_area_is_bretschneiders_of_the_fitted_lengths() -> None:
    """Area of any quadrilateral from sides and diagonals (C. A. Bretschneider, 1842): a third way to the same plan."""
    answer = squareness(**TAPED)
    a, b, c, d, p, q = (float(row["fitted"] or 0) for row in rows(answer, "lengths"))
    area = math.sqrt(4 * p**2 * q**2 - (b**2 + d**2 - a**2 - c**2) ** 2) / 4e6
    assert number(answer, "area") == pytest.approx(area, rel=1e-9)


def test_plates_named_from_the_next_corner_round_are_the_same_plates() -> None:
    turned = dict(zip(SIDES, (TAPED[side] for side in ("bc", "cd", "da", "ab", "bd", "ac")), strict=True))
    one, other = squareness(**TAPED), squareness(**turned)
    for name in ("area", "misclosure", "diagonal_difference", "out_of_square", "standard_residual"):
        assert number(other, name) == pytest.approx(number(one, name), abs=1e-6)
    assert number(other, "angle_a") == pytest.approx(number(one, "angle_b"), abs=1e-8)


def test_other_sums_read_the_corners_that_squareness_shows() -> None:
    answer, points = squareness(**TAPED), corners(*TAPED.values())
    assert {
        name: (number(answer, f"{name.lower()}_x"), number(answer, f"{name.lower()}_y")) for name in "ABCD"
    } == points


# -- square or not


# Rectangle 9000 x 6000, diagonals 10816.65, racked by so much at the top. Over a difference under a metre a class II
# tape is out by 0.5 between its marks, so U = 2 sqrt((0.25 + 2)/3) = 1.732: 10 passes to 8.27 and fails from 11.73.
@pytest.mark.parametrize(
    ("racked", "verdict"), [(0, "pass"), (4.9, "pass"), (5.1, "unsure"), (7, "unsure"), (7.1, "fail")]
)
def test_plates_are_called_square_or_not_only_by_more_than_the_tape_is_good_to(racked: float, verdict: str) -> None:
    plan = RECTANGLE | {"C": (9000 + racked, 6000.0), "D": (racked, 6000.0)}
    answer = squareness(**taped(plan))
    assert number(answer, "uncertainty") == pytest.approx(math.sqrt(3))
    assert answer.verdict == verdict
    assert answer.cautions == (("plate-refer",) if verdict == "fail" else ())


def test_out_of_square_is_how_far_the_shorter_side_stands_off_a_square_on_the_longer() -> None:
    answer = squareness(**taped(RECTANGLE | {"C": (9007.0, 6000.0), "D": (7.0, 6000.0)}))
    assert number(answer, "out_of_square") == pytest.approx(7, abs=1e-6)


def test_the_corner_that_is_worst_is_named() -> None:
    """C pushed 30 out both ways opens B and D and closes C by what both gained."""
    answer = squareness(**taped(RECTANGLE | {"C": (9030.0, 6030.0)}))
    assert answer.results["worst_corner"] == "C"
    assert number(answer, "angle_c") < 90


def test_racked_plates_are_told_which_way_to_go() -> None:
    answer = squareness(**taped(RECTANGLE | {"C": (9020.0, 6000.0), "D": (20.0, 6000.0)}))
    assert any("A and C is the longer" in note for note in answer.notes)


def test_equal_diagonals_do_not_make_a_tapered_roof_square() -> None:
    answer = squareness(**taped(RECTANGLE | {"C": (8960.0, 6000.0), "D": (40.0, 6000.0)}))
    assert number(answer, "diagonal_difference") == pytest.approx(0, abs=1e-9)
    assert answer.verdict == "pass"
    assert answer.cautions == ("plate-refer",)
    assert any("diagonals agree" in note for note in answer.notes)


@pytest.mark.parametrize(("tolerance", "cautions"), [(39.9, ("plate-refer",)), (40.1, ())])
def test_a_corner_off_square_is_referred_from_the_tolerance_that_was_given(
    tolerance: float, cautions: tuple[str, ...]
) -> None:
    """C and D in by 40 each: by hand, each side of 6000.13 leans 40 off a square on AB, and the diagonals are equal."""
    answer = squareness(**taped(RECTANGLE | {"C": (8960.0, 6000.0), "D": (40.0, 6000.0)}), tolerance=tolerance)
    assert answer.verdict == "pass" and answer.cautions == cautions


# -- can the lengths be true


def test_six_lengths_over_four_points_have_one_to_spare_and_so_all_six_stand_equally_accused() -> None:
    """With one redundant length every standardised residual has the same size (Baarda 1968)."""
    standard = [abs(float(row["standard"] or 0)) for row in rows(squareness(**TAPED), "lengths")]
    assert standard == pytest.approx([standard[0]] * 6, rel=1e-4)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("slip", [-1000.0, -30.0, 30.0, 100.0])
def test_six_lengths_show_that_one_is_wrong_and_never_which(side: str, slip: float) -> None:
    lengths = taped(RECTANGLE)
    answer = squareness(**lengths | {side: lengths[side] + slip})
    assert answer.results["suspect"] is None
    assert answer.verdict == "unsure"
    assert number(answer, "standard_residual") > critical(1)
    (note,) = answer.notes
    assert "don't agree:" in note
    assert "show which" in note


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("slip", [-1000.0, -60.0, 60.0, 100.0, 1000.0])
def test_a_point_tied_in_off_the_diagonals_shows_which_length_is_wrong(side: str, slip: float) -> None:
    lengths = taped(RECTANGLE)
    answer = squareness(
        **lengths | {side: lengths[side] + slip}, ties=ties(RECTANGLE, OFF_THE_DIAGONALS), tolerance=2000.0
    )
    assert answer.results["suspect"] == side.upper()
    assert answer.verdict == "unsure"
    assert any(f"{side.upper()} doesn't fit the rest" in note for note in answer.notes)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("slip", [-30.0, 20.0, 30.0])
def test_a_smaller_slip_leaves_a_few_to_measure_again_and_the_wrong_one_is_among_them(side: str, slip: float) -> None:
    lengths = taped(RECTANGLE)
    answer = squareness(
        **lengths | {side: lengths[side] + slip}, ties=ties(RECTANGLE, OFF_THE_DIAGONALS), tolerance=2000.0
    )
    assert answer.verdict == "unsure"
    assert answer.results["suspect"] in (None, side.upper())
    (note,) = answer.notes
    assert side.upper() in note


def test_a_tie_that_is_wrong_is_named_as_well() -> None:
    first, *rest = ties(RECTANGLE, OFF_THE_DIAGONALS)
    answer = squareness(**taped(RECTANGLE), ties=(Tie(first.start, first.end, first.length - 50), *rest))
    assert answer.results["suspect"] == "A-M"


def test_a_point_where_the_diagonals_cross_can_not_tell_its_own_two_ties_apart() -> None:
    """B, M and D stand in line there: B-M too long and D-M too long look alike, and nobody is named."""
    wrong = [
        Tie(tie.start, tie.end, tie.length + (40 if tie.start == "B" else 0))
        for tie in ties(RECTANGLE, ON_BOTH_DIAGONALS)
    ]
    answer = squareness(**taped(RECTANGLE), ties=tuple(wrong))
    assert answer.results["suspect"] is None
    (note,) = answer.notes
    assert "B-M, D-M" in note


def test_a_side_taped_twice_shows_which_reading_was_wrong() -> None:
    lengths = taped(RECTANGLE)
    answer = squareness(**lengths | {"ab": lengths["ab"] + 60}, ties=(Tie("A", "B", lengths["ab"]),))
    assert answer.results["suspect"] == "AB"
    assert [row["tie"] for row in rows(answer, "lengths")][-1] == "A-B"


def test_two_wrong_lengths_are_not_laid_on_one() -> None:
    lengths = taped(RECTANGLE)
    answer = squareness(
        **lengths | {"ab": lengths["ab"] + 90, "bc": lengths["bc"] - 70}, ties=ties(RECTANGLE, OFF_THE_DIAGONALS)
    )
    assert answer.results["suspect"] is None
    assert answer.verdict == "unsure"


def test_lengths_inside_the_tapes_own_error_are_seldom_doubted_and_a_named_one_is_the_wrong_one() -> None:
    """120 roofs by chance: true lengths with errors anywhere in limit and reading, then one of them 40 mm out."""
    chance = np.random.default_rng(1968)
    points = six(**taped(RECTANGLE)) + ties(RECTANGLE, OFF_THE_DIAGONALS)
    doubted = named = right = 0
    for turn in range(120):
        slips = chance.uniform(-2, 2, 10) + chance.uniform(-1, 1, 10)
        lengths = [tie.length + slip for tie, slip in zip(points, slips, strict=True)]
        doubted += not adjusted(_tied(points, lengths), "II").agrees
        wrong = turn % 10
        lengths[wrong] += 40
        answer = _asked(points, lengths)
        names = [row["tie"] for row in rows(answer, "lengths")]
        named += answer.results["suspect"] is not None
        right += answer.results["suspect"] == names[wrong]
    assert doubted / 120 < 0.1
    assert right / named > 0.99
    assert named > 80


def _tied(points: Sequence[Tie], lengths: Sequence[float]) -> list[Tie]:
    return [Tie(tie.start, tie.end, float(length)) for tie, length in zip(points, lengths, strict=True)]


def _asked(points: Sequence[Tie], lengths: Sequence[float]) -> Answer:
    sides = dict(zip(SIDES, map(float, lengths[:6]), strict=True))
    return squareness(**sides, ties=tuple(_tied(points[6:], lengths[6:])), tolerance=1000.0)


@given(plans, st.tuples(st.floats(0.2, 0.8), st.floats(0.1, 0.35)))
def test_a_point_tied_to_all_four_corners_is_found_where_it_is(plan: Plan, share: tuple[float, float]) -> None:
    a, b, d = (np.array(plan[corner]) for corner in "ABD")
    point = a + share[0] * (b - a) + share[1] * (d - a)
    answer = squareness(**taped(plan), ties=ties(plan, {"M": (float(point[0]), float(point[1]))}), tolerance=5000.0)
    (found,) = rows(answer, "points")
    assert found["point"] == "M"
    for corner in "abcd":
        here = (number(answer, f"{corner}_x"), number(answer, f"{corner}_y"))
        reach = math.dist(here, (float(found["x"] or 0), float(found["y"] or 0)))
        assert reach == pytest.approx(math.dist(plan[corner.upper()], point), abs=1e-5)


def test_a_point_with_two_ties_lies_inside_and_checks_nothing() -> None:
    two = tuple(tie for tie in ties(RECTANGLE, OFF_THE_DIAGONALS) if tie.start in "AB")
    answer = squareness(**taped(RECTANGLE), ties=two)
    (found,) = rows(answer, "points")
    assert [found["x"], found["y"]] == pytest.approx([4500, 2000], abs=1e-6)
    assert [row["standard"] for row in rows(answer, "lengths")[6:]] == [None, None]


# -- what can't be


@pytest.mark.parametrize(
    ("slip", "says"),
    [
        ({"ac": 15_000.0}, "AC 15000 can't be longer than BC 6000 and AB 9000 together: check AC"),
        ({"cd": 4816.0}, "CD 4816 can't be right with BD 10817: check CD"),
        ({"ac": 3000.0}, "AC 3000 can't be right with AB 9000: check AC"),
        ({"bd": 15_500.0}, "BD 15500 can't be longer than BC 6000 and CD 9000 together: check BD"),
        ({"ab": 900.0, "cd": 900.0}, "AC 10817 can't be longer than AB 900 and BC 6000 together: check all three"),
        ({"ab": 900.0}, "AB 900 can't be right with AC 10817: check AB"),
    ],
)
def test_three_lengths_that_do_not_close_name_the_one_that_every_open_triangle_has(
    slip: dict[str, float], says: str
) -> None:
    with pytest.raises(Refusal, match=says):
        squareness(**taped(RECTANGLE) | slip)


def test_a_side_and_a_diagonal_that_changed_places_are_refused() -> None:
    lengths = taped(RECTANGLE)
    with pytest.raises(Refusal, match="two are swapped"):
        squareness(**lengths | {"bc": lengths["ac"], "ac": lengths["bc"], "da": lengths["bd"], "bd": lengths["da"]})


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ((Tie("A", "M", 4000.0),), "M must be measured from at least two other points"),
        ((Tie("M", "N", 4000.0), Tie("N", "M", 4000.0)), "must be measured from at least two other points"),
        ((Tie("A", "M", 4000.0), Tie("A", "M", 4001.0)), "M must be measured from at least two other points"),
        ((Tie("A", "M", 4500.0), Tie("B", "M", 4500.0)), "in line with the"),
        ((Tie("A", "C", 10_800.0),) * 25, "at most 24"),
    ],
)
def test_a_point_that_its_ties_do_not_hold_is_refused_by_name(more: tuple[Tie, ...], says: str) -> None:
    with pytest.raises(Refusal, match=says):
        squareness(**taped(RECTANGLE), ties=more)


@given(st.lists(st.floats(1, 20_000), min_size=6, max_size=6))
def test_any_six_lengths_get_an_answer_or_one_line(lengths: list[float]) -> None:
    try:
        answer = squareness(**dict(zip(SIDES, lengths, strict=True)))
    except Refusal as refusal:
        assert "\n" not in refusal.message
    else:
        assert all(math.isfinite(one) for one in residuals(answer))
        total = sum(number(answer, f"angle_{corner}") for corner in "abcd")
        assert total == pytest.approx(360)


def test_more_spare_lengths_may_stray_further_before_they_are_doubted() -> None:
    """Quantiles of the normal law, from tables: 1.960 for 1 in 20 two-sided, 2.576 for 1 in 100."""
    assert critical(1) == pytest.approx(1.960, abs=0.0005)
    assert critical(5) == pytest.approx(2.576, abs=0.0005)
    assert all(a < b for a, b in itertools.pairwise(critical(n) for n in range(1, 30)))

"""A hipped roof cut off by a flat: to the agreed digits, and as a level slice of the heap of planes, in numpy."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.refusal import Refusal
from sitelog.trade.flat_top import flat_top
from sitelog.trade.roof import roof
from tests.trade.formulas import prove_working
from tests.trade.results import cell, column, figure, figures, rows
from tests.trade.test_roof import MEASURED, Plates, plates

Array = NDArray[np.float64]
SQUARE = {"length": 9000, "width": 6000, "pitch": 35}
IN = 1400 / math.tan(math.radians(35))  # 1999.41


def slice_at(shape: Plates, rise: float) -> list[Array]:
    """The corners of the roof's level slice at that height, over A to D; one that a slope cuts off is left out."""
    matrix, bound = shape.slopes()
    room = bound - matrix[:, 2] * rise
    found = []
    for corner in range(4):
        pair = [corner - 1, corner]
        place: Array = np.asarray(np.linalg.solve(matrix[pair, :2], room[pair]), dtype=np.float64)
        if np.all(matrix[:, :2] @ place <= room + 1e-7):
            found.append(place)
    return found


def ridge_heights(shape: Plates) -> list[float]:
    """The two ends of the ridge over the plates, the lower first."""
    whole = roof(**shape.inputs())
    ends = (whole.results[name] for name in ("ridge_p", "ridge_q"))
    return sorted(cell(end, "z") for end in ends if isinstance(end, dict))


def test_a_table_at_1400_on_9000_by_6000_at_35_comes_out_to_the_printed_digits() -> None:
    """1400 / tan 35 = 1999.41 in; 9000 and 6000 less twice that; hips 1400 root(1 + 2 / tan^2 35)."""
    answer = flat_top(**SQUARE, rise=1400)
    assert column(answer, "sides", "length") == pytest.approx([5001.19, 2001.19] * 2, abs=5e-3)
    assert column(answer, "sides", "offset_in") == pytest.approx([1999.41] * 4, abs=5e-3)
    assert column(answer, "top", "hip_length") == pytest.approx([3155.20] * 4, abs=5e-3)
    assert column(answer, "top", "hip_pitch") == pytest.approx([26.341] * 4, abs=5e-4)
    assert figures(answer, "diagonal_ac", "diagonal_bd") == pytest.approx([math.hypot(5001.19, 2001.19)] * 2, abs=0.01)
    assert answer.verdict is None


@given(shape=plates(), share=st.floats(0.05, 0.95))
@settings(max_examples=80, deadline=None)
def test_the_table_is_the_level_slice_of_the_roof_under_its_ridge(shape: Plates, share: float) -> None:
    """Every corner of the slice stands: no slope cuts it off below the lower end of the ridge."""
    rise = share * ridge_heights(shape)[0]
    answer = flat_top(**shape.inputs(), rise=rise)
    drawn = slice_at(shape, rise)
    assert len(drawn) == 4
    sides = [float(np.linalg.norm(drawn[(side + 1) % 4] - drawn[side])) for side in range(4)]
    assert column(answer, "sides", "length") == pytest.approx(sides, abs=1e-3)
    assert figure(answer, "diagonal_ac") == pytest.approx(np.linalg.norm(drawn[2] - drawn[0]), abs=1e-3)
    assert figure(answer, "diagonal_bd") == pytest.approx(np.linalg.norm(drawn[3] - drawn[1]), abs=1e-3)
    runs = [float(np.linalg.norm(place - corner)) for place, corner in zip(drawn, shape.corners, strict=True)]
    assert column(answer, "top", "hip_run") == pytest.approx(runs, abs=1e-3)
    assert column(answer, "top", "hip_length") == pytest.approx([math.hypot(run, rise) for run in runs], abs=1e-3)
    assert column(answer, "top", "hip_pitch") == pytest.approx([math.degrees(math.atan2(rise, run)) for run in runs])
    matrix, _ = shape.slopes()
    for side, offset in enumerate(column(answer, "sides", "offset_in")):
        # Square in from the plate's own line to the table's edge.
        level = matrix[side, :2] / np.linalg.norm(matrix[side, :2])
        assert offset == pytest.approx(-level @ (drawn[side] - shape.corners[side]), abs=1e-3)
    prove_working(answer, rel=1e-8)


@given(shape=plates(), share=st.floats(-1, 2))
@settings(max_examples=60, deadline=None)
def test_a_rise_is_refused_where_the_slice_has_lost_a_corner_and_only_there(shape: Plates, share: float) -> None:
    """Under, between and over the heights of a falling ridge's two ends."""
    low, high = ridge_heights(shape)
    rise = low + share * (high - low)
    assume(high - low > 1 and rise > 1 and abs(share) > 1e-3)
    if len(slice_at(shape, rise)) == 4:
        flat_top(**shape.inputs(), rise=rise)
    else:
        with pytest.raises(Refusal, match="no table left"):
            flat_top(**shape.inputs(), rise=rise)


def test_on_plates_as_measured_the_table_follows_them() -> None:
    """Its corners from its own outline: the six lengths between them are the ones told."""
    answer = flat_top(**MEASURED, pitch=35, rise=1400)
    points = [np.array([cell(row, "x"), cell(row, "y")]) for row in rows(answer, "outline")]
    told = dict(zip(("ab", "bc", "cd", "da"), column(answer, "sides", "length"), strict=True))
    told |= {"ac": figure(answer, "diagonal_ac"), "bd": figure(answer, "diagonal_bd")}
    for (one, start), (other, end) in itertools.combinations(zip("abcd", points, strict=True), 2):
        pair = one + other if one + other != "ad" else "da"
        assert told[pair] == pytest.approx(np.linalg.norm(end - start)), pair


def test_a_table_out_of_square_by_over_10_between_its_diagonals_is_told() -> None:
    """The firm's limit for plates. At 30 between those of the plates, 11 are left at the table."""
    racked = flat_top(**MEASURED | {"ac": 10836, "bd": 10806}, pitch=35, rise=1400)
    assert any("its diagonals are 11 mm apart" in note for note in racked.notes)
    assert not any("diagonals" in note for note in flat_top(**MEASURED, pitch=35, rise=1400).notes)


def test_the_outline_is_the_corners_over_a_to_d() -> None:
    answer = flat_top(**SQUARE, rise=1400)
    assert [row["corner"] for row in rows(answer, "top")] == ["a", "b", "c", "d"]
    assert [row["n"] for row in rows(answer, "outline")] == [1, 2, 3, 4]
    for axis in "xy":
        assert column(answer, "outline", axis) == column(answer, "top", axis)
    assert column(answer, "outline", "x") == pytest.approx([IN, 9000 - IN, 9000 - IN, IN])
    assert column(answer, "outline", "y") == pytest.approx([IN, IN, 6000 - IN, 6000 - IN])


def test_a_run_in_from_ab_sets_the_rise_for_every_side() -> None:
    """45 degrees on AB: in as far as up, 1200. At 30 on the others 1200 / tan 30 = 2078.46."""
    answer = flat_top(length=9000, width=6000, pitch=30, pitch_ab=45, run=1200)
    assert figure(answer, "rise") == pytest.approx(1200)
    assert column(answer, "sides", "offset_in") == pytest.approx([1200, 2078.46, 2078.46, 2078.46], abs=5e-3)


@pytest.mark.parametrize(
    ("off", "verdict"),
    [(0, "pass"), (3.2, "pass"), (-3.2, "pass"), (5, "unsure"), (-5, "unsure"), (6.8, "fail"), (-6.8, "fail")],
)
def test_a_wall_line_is_judged_by_what_the_tape_can_prove(off: float, verdict: str) -> None:
    """Class II is good to 0.9 up to 2 m and 1.1 up to 3 m, with a reading of 1: U is 1.55 or 1.72, about 5."""
    assert flat_top(**SQUARE, rise=1400, wall_bc=IN - off).verdict == verdict


def test_the_worst_wall_line_gives_the_verdict_and_says_at_what_rise_the_table_meets_it() -> None:
    """2050 tan 35 = 1435: the table, 1999 in, is 51 out from that wall."""
    answer = flat_top(**SQUARE, rise=1400, wall_ab=2000, wall_da=2050)
    assert answer.verdict == "fail"
    [note] = [one for one in answer.notes if "wall line" in one]
    assert "over DA the table comes 51 mm out from the wall line" in note
    assert "at a rise of 1435" in note
    by_side = {str(row["side"]): row for row in rows(answer, "sides")}
    assert cell(by_side["da"], "off_wall") == pytest.approx(IN - 2050)
    assert by_side["bc"]["off_wall"] is None


def test_lengths_that_do_not_agree_are_told_before_anything_is_cut() -> None:
    assert any("squareness" in note for note in flat_top(**MEASURED | {"ac": 10890}, pitch=35, rise=1400).notes)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({**SQUARE}, "give either the rise or the run in"),
        ({**SQUARE, "rise": 1400, "run": 2000}, "not both"),
        ({**SQUARE, "rise": 2100.63}, "a rise of 2101 there is no table left: these slopes meet at 2101"),
        ({**SQUARE, "rise": 2500}, "these slopes meet at 2101"),
        ({**SQUARE, "run": 3000}, "no table left"),
        ({"length": 9000, "width": 6000, "rise": 1400}, "flat-top needs a pitch for AB"),
        ({"length": 9000, "pitch": 35, "rise": 1400}, "flat-top: give the six lengths"),
        ({**SQUARE, "rise": 0}, "over 0"),
        ({**SQUARE, "rise": 1400, "tape": "IV"}, "one of I, II, III"),
        (
            {**Plates(np.array([[0, 0], [6000, 0], [6000, 6000], [4000, 2500]]), (35, 35, 35, 35)).inputs(), "rise": 1},
            "flat-top: the plates turn in, or run straight on, at corner D",
        ),
    ],
)
def test_a_table_that_cannot_be_is_refused(inputs: dict[str, float | str], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        flat_top(**inputs)

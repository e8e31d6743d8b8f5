"""Level, wind, straightness and the tape, against planes, lines and hand-worked figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.setting_out.levels import levels, string, twist
from sitelog.calculators.setting_out.taping import tape
from sitelog.refusal import Refusal

reading = st.floats(-3000, 3000).map(lambda x: round(x, 2))
readings = st.lists(reading, min_size=2, max_size=40).map(tuple)


def number(answer: Answer, name: str) -> float:
    value = answer.results[name]
    assert isinstance(value, (int, float))
    return value


def column(answer: Answer, name: str, of: str) -> list[float]:
    rows = answer.results[name]
    assert isinstance(rows, list)
    return [float(row[of] or 0) for row in rows]


# -- levels


def test_the_smallest_staff_reading_is_the_highest_point_and_packing_brings_the_rest_up_to_it() -> None:
    """Worked by hand."""
    answer = levels(readings=(1402.0, 1405.0, 1400.0, 1407.0), points="A,B,C,D")
    assert answer.results["high_point"] == "C"
    assert answer.results["range"] == 7
    assert column(answer, "packing", "packing") == [2, 5, 0, 7]
    assert answer.verdict is None


@given(readings)
def test_packed_up_every_point_reads_the_same(given_readings: tuple[float, ...]) -> None:
    staff = levels(readings=given_readings)
    packed = np.array(given_readings) - column(staff, "packing", "packing")
    assert np.ptp(packed) == pytest.approx(0, abs=1e-9)
    assert min(column(staff, "packing", "packing")) == 0
    assert max(column(staff, "packing", "packing")) == number(staff, "range")


@given(readings)
def test_heights_above_a_datum_tell_the_same_as_a_staff_held_below_the_level(
    given_readings: tuple[float, ...],
) -> None:
    staff = levels(readings=given_readings)
    heights = levels(readings=tuple(1500 - one for one in given_readings), kind="height")
    assert column(heights, "packing", "packing") == pytest.approx(column(staff, "packing", "packing"), abs=1e-9)


# Tolerance 5 in all, reading 1: U = 2 sqrt(2/3) = 1.633, so a pass to 3.37 and a fail from 6.63.
@pytest.mark.parametrize(("drop", "verdict"), [(3.3, "pass"), (3.4, "unsure"), (6.6, "unsure"), (6.7, "fail")])
def test_plates_are_called_level_or_not_only_by_more_than_the_level_is_good_to(drop: float, verdict: str) -> None:
    answer = levels(readings=(1400.0, 1400.0 + drop), tolerance=5.0)
    assert number(answer, "uncertainty") == pytest.approx(1.633, abs=0.0005)
    assert answer.verdict == verdict


@pytest.mark.parametrize(
    ("given_readings", "points", "says"),
    [
        ((1400.0,), None, "or more"),
        ((1400.0, 1401.0), "A", "give 2 names in points=, one for each reading; you gave 1"),
        ((1400.0, 1401.0), "A,", "one for each reading; you gave 1"),
        ((1400.0, 1401.0), "A,A", "same name"),
    ],
)
def test_levels_wants_a_name_a_reading_and_something_to_be_level_with(
    given_readings: tuple[float, ...], points: str | None, says: str
) -> None:
    with pytest.raises(Refusal, match=says):
        levels(readings=given_readings, points=points)


# -- twist


def test_a_first_pair_five_and_a_half_in_wind_over_400() -> None:
    """Worked by hand: 6.5 - 1 = 5.5; inverse tan 5.5/400 = 0.788 degrees; 5.5/3.45 = 1.594 mm a metre."""
    answer = twist(spacing=400.0, fall_foot=1.0, fall_head=6.5, length=3450.0, tolerance=3.0)
    assert answer.results["wind"] == 5.5
    assert number(answer, "wind_angle") == pytest.approx(0.788, abs=0.0005)
    assert number(answer, "wind_per_metre") == pytest.approx(1.594, abs=0.0005)
    assert answer.verdict == "fail"


@given(st.floats(300, 2000), st.floats(-50, 50), st.floats(-50, 50), st.floats(500, 8000))
def test_wind_is_how_far_the_fourth_bearing_stands_off_the_plane_of_the_other_three(
    spacing: float, foot: float, head: float, length: float
) -> None:
    """Left rafter straight and level, right rafter lower by the falls; the plane through three bearings."""
    left_foot, right_foot = np.array([0, 0, 0]), np.array([spacing, 0, -foot])
    left_head, right_head = np.array([0, length, 0]), np.array([spacing, length, -head])
    normal = np.cross(right_foot - left_foot, left_head - left_foot)
    on_plane = -(normal[0] * spacing + normal[1] * length) / normal[2]
    answer = twist(spacing=spacing, fall_foot=foot, fall_head=head, length=length)
    assert number(answer, "wind") == pytest.approx(float(on_plane - right_head[2]), abs=1e-9)


@given(st.floats(-40, 40), st.floats(-40, 40), st.floats(-40, 40))
def test_two_rafters_that_fall_alike_are_out_of_level_and_not_in_wind(foot: float, head: float, more: float) -> None:
    plain = twist(spacing=600.0, fall_foot=foot, fall_head=head, length=3000.0)
    tipped = twist(spacing=600.0, fall_foot=foot + more, fall_head=head + more, length=3000.0)
    other_hand = twist(spacing=600.0, fall_foot=-foot, fall_head=-head, length=3000.0)
    assert number(tipped, "wind") == pytest.approx(number(plain, "wind"), abs=1e-9)
    assert number(other_hand, "wind") == -number(plain, "wind")


@pytest.mark.parametrize("sign", [1, -1])
def test_wind_either_way_is_held_to_the_tolerance(sign: int) -> None:
    assert twist(spacing=400.0, fall_foot=0.0, fall_head=6.0 * sign, length=3000.0, tolerance=3.0).verdict == "fail"
    assert twist(spacing=400.0, fall_foot=0.0, fall_head=1.0 * sign, length=3000.0, tolerance=3.0).verdict == "pass"


@pytest.mark.parametrize(("foot", "head", "named"), [(400.0, 0.0, "fall_foot"), (0.0, -400.0, "fall_head")])
def test_a_straightedge_can_not_fall_by_its_own_length(foot: float, head: float, named: str) -> None:
    with pytest.raises(Refusal, match=named):
        twist(spacing=400.0, fall_foot=foot, fall_head=head, length=3000.0)


# -- string


def test_a_ridge_that_bows_seven_at_the_middle_of_4800() -> None:
    """Worked by hand: 4800/7 = 685.7; U = 2 sqrt((1 + 1/4 + 1/4)/3) = 1.414."""
    answer = string(offsets=(0.0, 4.0, 7.0, 3.0, 0.0), length=4800.0, tolerance=10.0)
    assert answer.results["bow"] == 7
    assert answer.results["station"] == 2400
    assert number(answer, "ratio") == pytest.approx(685.7, abs=0.05)
    assert number(answer, "uncertainty") == pytest.approx(1.414, abs=0.0005)
    assert answer.verdict == "pass"
    assert column(answer, "stations", "at") == [0, 1200, 2400, 3600, 4800]


@given(st.lists(st.floats(-200, 200), min_size=3, max_size=30).map(tuple), st.floats(500, 30_000))
def test_the_bow_is_the_worst_offset_from_the_line_end_to_end(offsets: tuple[float, ...], length: float) -> None:
    at = np.linspace(0, length, len(offsets))
    off = np.array(offsets) - np.interp(at, [0, length], [offsets[0], offsets[-1]])
    answer = string(offsets=offsets, length=length)
    assert abs(number(answer, "bow")) == pytest.approx(float(np.abs(off).max()), abs=1e-9)
    assert column(answer, "stations", "off_line") == pytest.approx(off.tolist(), abs=1e-9)


@given(st.lists(reading, min_size=3, max_size=12).map(tuple), st.floats(-50, 50), st.floats(-50, 50))
def test_a_line_strung_askew_shows_the_same_bow(offsets: tuple[float, ...], first: float, last: float) -> None:
    askew = tuple(np.array(offsets) + np.linspace(first, last, len(offsets)))
    plain, other = (string(offsets=tuple(map(float, one)), length=6000.0) for one in (offsets, askew))
    assert abs(number(other, "bow")) == pytest.approx(abs(number(plain, "bow")), abs=1e-6)


@pytest.mark.parametrize("offsets", [(0.0, 0.0, 0.0), (3.0, 4.0, 5.0), (0.1, 0.2, 0.3)])
def test_what_is_dead_straight_has_no_ratio(offsets: tuple[float, ...]) -> None:
    answer = string(offsets=offsets, length=3000.0, tolerance=5.0)
    assert number(answer, "bow") == pytest.approx(0, abs=1e-12)
    assert answer.results["ratio"] is None
    assert answer.verdict == "pass"


def test_a_bow_to_the_other_side_carries_its_sign_and_fails_alike() -> None:
    answer = string(offsets=(0.0, -20.0, 0.0), length=3000.0, tolerance=5.0)
    assert answer.results["bow"] == -20
    assert answer.results["ratio"] == 150
    assert answer.verdict == "fail"


def test_two_offsets_are_only_the_ends() -> None:
    with pytest.raises(Refusal, match="three offsets"):
        string(offsets=(0.0, 0.0), length=3000.0)


# -- tape


def test_a_class_two_tape_gives_its_limit_and_its_band() -> None:
    """SI 2016/1153, Schedule 1I, and ISO 14253-1: limit 1.5, U 2.2, pass to 2.8, fail from 7.2."""
    answer = tape(length=4200.0, tolerance=5.0, off_temperature=12.0)
    assert number(answer, "limit_of_error") == pytest.approx(1.5)
    assert number(answer, "uncertainty") == pytest.approx(2.2, abs=0.05)
    assert number(answer, "pass_to") == pytest.approx(2.8, abs=0.05)
    assert number(answer, "fail_from") == pytest.approx(7.2, abs=0.05)
    assert answer.verdict is None
    assert answer.results["difference"] is None


@pytest.mark.parametrize(
    ("measured", "verdict"), [(4202.0, "pass"), (4196.0, "unsure"), (4206.0, "unsure"), (4190.0, "fail")]
)
def test_a_taped_length_gets_one_of_three_verdicts(measured: float, verdict: str) -> None:
    answer = tape(length=4200.0, measured=measured, nominal=4200.0, tolerance=5.0)
    assert answer.results["difference"] == measured - 4200
    assert answer.verdict == verdict


def test_a_difference_without_a_tolerance_gets_no_verdict() -> None:
    answer = tape(length=4200.0, measured=4203.0, nominal=4200.0)
    assert answer.results["difference"] == 3
    assert answer.verdict is None


def test_a_tape_coarser_than_the_tolerance_has_nothing_that_passes() -> None:
    answer = tape(length=12_000.0, class_="III", tolerance=2.0, measured=12_000.0, nominal=12_000.0)
    assert answer.results["pass_to"] is None
    assert answer.verdict == "unsure"
    assert any("can't show" in note for note in answer.notes)


def test_from_a_mark_the_hook_adds_nothing() -> None:
    hook, mark = (tape(length=4200.0, start=start) for start in ("hook", "mark"))
    assert number(hook, "limit_of_error") - number(mark, "limit_of_error") == pytest.approx(0.2)


@given(
    st.floats(1, 100_000),
    st.sampled_from(["I", "II", "III"]),
    st.floats(0.1, 5),
    st.floats(0.001, 40) | st.floats(-40, -0.001),
)
def test_heat_and_a_worse_eye_never_make_a_reading_better(length: float, class_: str, eye: float, off: float) -> None:
    best = tape(length=length, class_=class_, reading=eye)
    warm = tape(length=length, class_=class_, reading=eye, off_temperature=off)
    worse = tape(length=length, class_=class_, reading=eye * 2)
    assert number(warm, "uncertainty") >= number(best, "uncertainty")
    assert number(worse, "uncertainty") > number(best, "uncertainty")


def test_what_was_measured_needs_what_it_should_be() -> None:
    with pytest.raises(Refusal, match="measured= and nominal=, or neither"):
        tape(length=4200.0, measured=4203.0)

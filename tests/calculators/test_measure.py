"""What a tape and a reading can prove."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.index import find
from sitelog.calculators.setting_out.verdicts import (
    advice,
    expanded,
    tape_limit,
    uncertainty,
    verdict_by_guard_band,
)
from sitelog.refusal import Refusal
from tests.calculators.results import figure

# SI 2016/1153, Schedule 1I: class, length mm, from the hook, limit mm. The 10 m rows are as sellers print them
# for a new tape, +-1.1, +-2.3 and +-4.6 mm over 10 m between marks (from memory).
LIMITS = [
    ("II", 4200, True, 1.5),
    ("I", 10_000, False, 1.1),
    ("II", 10_000, False, 2.3),
    ("III", 10_000, False, 4.6),
    ("I", 1000, True, 0.3),
    ("II", 1001, True, 0.9),  # over 1 m counts as 2 m
    ("III", 5000, True, 2.9),
    ("II", 3000.0000000001, True, 1.1),  # 3 m with the dust of a conversion is 3 m
]


@pytest.mark.parametrize(("class_", "length", "from_hook", "limit"), LIMITS)
def test_the_limit_is_that_of_the_tapes_class(class_: str, length: float, from_hook: bool, limit: float) -> None:
    assert tape_limit(length, class_, from_hook) == pytest.approx(limit, abs=1e-12)


def test_a_class_two_tape_at_4200_and_12_degrees_off_is_good_to_two_millimetres() -> None:
    """Worked by hand: limit 1.5, reading 1, heat 11.5e-6 x 4200 x 12 = 0.58, U = 2 sqrt(3.586/3) = 2.187."""
    assert uncertainty(4200, "II", 1.0, 12.0) == pytest.approx(2.187, abs=0.0005)
    assert uncertainty(4200, "II", 1.0, -12.0) == uncertainty(4200, "II", 1.0, 12.0)


@given(st.floats(0, 200_000), st.floats(0, 200_000), st.booleans())
def test_a_longer_length_is_never_known_better_nor_a_coarser_tape(one: float, other: float, hook: bool) -> None:
    short, long = sorted((one, other))
    for class_ in ("I", "II", "III"):
        assert tape_limit(short, class_, hook) <= tape_limit(long, class_, hook)
    assert tape_limit(long, "I", hook) < tape_limit(long, "II", hook) < tape_limit(long, "III", hook)


@pytest.mark.parametrize("bounds", [(1.5, 1.0, 0.58), (1.0, 1.0), (0.5, 1.0, 1.0), (1.0, 0.5, 0.5)])
def test_u_is_twice_the_spread_of_errors_that_may_lie_anywhere_in_their_bounds(
    bounds: tuple[float, ...],
) -> None:
    """The formula against 200,000 errors drawn by chance, the way of JCGM 101:2008; 19 in 20 lie inside."""
    chance = np.random.default_rng(20161153)
    errors = sum(chance.uniform(-bound, bound, 200_000) for bound in bounds)
    assert 2 * float(np.std(errors)) == pytest.approx(expanded(*bounds), rel=0.01)
    assert float(np.mean(np.abs(errors) <= expanded(*bounds))) > 0.95


def test_the_difference_of_two_lengths_off_one_tape_is_known_better_than_either() -> None:
    """Limit between marks over 18 mm 0.3 + 0.2 x 1 = 0.5, two readings: U = 2 sqrt(2.25/3) = 1.732."""
    plates = {"ab": 9000.0, "bc": 6000.0, "cd": 9000.0, "da": 6000.0}
    for ac, bd in ((10_826.0, 10_808.0), (10_808.0, 10_826.0)):
        found = figure(find("squareness")(**plates, ac=ac, bd=bd), "uncertainty")
        assert found == pytest.approx(math.sqrt(3), abs=1e-12)
        assert found < uncertainty(10_812, "II")


# Tolerance 5 and U 2.2: pass to 2.8, fail from 7.2 (ISO 14253-1, guard band U on both sides of the limit).
VERDICTS = [
    (0.0, "pass"),
    (2.8, "pass"),
    (-2.8, "pass"),
    (2.9, "unsure"),
    (5.0, "unsure"),
    (7.1, "unsure"),
    (7.2, "fail"),
    (-7.2, "fail"),
    (40.0, "fail"),
]


@pytest.mark.parametrize(("difference", "verdict"), VERDICTS)
def test_a_reading_near_the_limit_is_too_close_to_call(difference: float, verdict: str) -> None:
    assert verdict_by_guard_band(difference, 5, 2.2) == verdict


@given(st.floats(-1e5, 1e5), st.floats(0, 1e4), st.floats(0, 1e4))
def test_a_coarser_tape_never_turns_a_doubt_into_a_verdict(difference: float, tolerance: float, u: float) -> None:
    coarse = verdict_by_guard_band(difference, tolerance, u + 1)
    assert coarse in ("unsure", verdict_by_guard_band(difference, tolerance, u))


@given(st.floats(-1e5, 1e5), st.floats(0, 1e4), st.floats(1e-6, 1e4))
def test_a_tape_coarser_than_the_tolerance_passes_nothing(difference: float, tolerance: float, more: float) -> None:
    assert verdict_by_guard_band(difference, tolerance, tolerance + more) != "pass"


# Over a third of the tolerance warns; over the tolerance says that it can't show it.
@pytest.mark.parametrize(("u", "said"), [(1.6, 0), (1.7, 1), (5.0, 1), (5.1, 1)])
def test_an_instrument_too_coarse_for_the_tolerance_is_said_before_anyone_climbs(u: float, said: int) -> None:
    told = advice(None, 5, u)
    assert len(told) == said
    assert all(("can't show" in one) == (u > 5) for one in told)


def test_a_doubt_is_told_with_its_band_and_the_ways_on() -> None:
    (band, _) = advice("unsure", 5, 2.2)
    assert "2.5 or less passes," in band
    assert "7.5 or more fails" in band
    assert "three readings" in band


@pytest.mark.parametrize("length", [-1, math.nan, math.inf])
def test_no_tape_measures_what_is_no_length(length: float) -> None:
    with pytest.raises(Refusal, match="length"):
        tape_limit(length, "II")


def test_a_class_that_no_tape_has_is_refused_with_those_there_are() -> None:
    with pytest.raises(Refusal, match="I, II, III"):
        uncertainty(4200, "IV")

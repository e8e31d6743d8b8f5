"""Firrings against a published table of falls, and against the plane they are to make."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.decks.firrings import firrings
from sitelog.refusal import Refusal
from tests.calculators.results import column, figure

spans = st.floats(600, 20_000)
falls = st.floats(1 / 120, 1 / 20)


@pytest.mark.parametrize(
    ("fall", "needed"),
    # A manufacturer's guidance on flat roofs (read): over 3600, 90 at 1:40 and 45 at 1:80.
    [(1 / 40, 90.0), (1 / 80, 45.0)],
)
def test_the_published_fall_over_3600_comes_back(fall: float, needed: float) -> None:
    answer = firrings(span=3600, fall=fall, thin=10)
    assert figure(answer, "thick_end") - figure(answer, "thin_end") == pytest.approx(needed)


@given(span=spans, fall=falls, thin=st.floats(0, 100), spacing=st.floats(200, 900))
def test_across_the_joists_the_tops_lie_in_one_plane_at_the_fall(
    span: float, fall: float, thin: float, spacing: float
) -> None:
    answer = firrings(span=span, fall=fall, thin=thin, spacing=spacing, laid="across")
    at, thick = (np.array(column(answer, "rows", key)) for key in ("at", "thickness"))
    slope, low = np.polyfit(at, thick, 1)
    assert slope == pytest.approx(fall, rel=1e-6)
    assert low == pytest.approx(thin, abs=1e-6)
    assert thick[-1] == pytest.approx(figure(answer, "thick_end"))
    assert at[-1] == pytest.approx(span)
    assert np.diff(at).max() <= spacing + 1e-6
    assert len(at) == answer.results["count"]


@pytest.mark.parametrize(
    ("length", "spacing", "count"),
    [
        (4800.0, 400.0, 13),
        (4847.0, 400.0, 13),  # 12 bays of 400 between the centres of joists 47 thick, flush with the ends
        (4848.0, 400.0, 14),
        (300.0, 400.0, 2),
        (5230.0, 400.0, 14),  # 5183 between the end joists: not 15, as 5230 / 400 and one more would be
    ],
)
def test_along_the_joists_there_is_a_firring_on_each(length: float, spacing: float, count: int) -> None:
    assert firrings(span=3870, fall=1 / 60, thin=20, spacing=spacing, length=length).results["count"] == count


@given(length=st.floats(100, 12_000), spacing=st.floats(150, 700), clear=st.sampled_from([0.0, 50.0]))
def test_the_joists_are_as_many_as_a_man_walks_off_along_the_plate(length: float, spacing: float, clear: float) -> None:
    """He lays one at each end and steps the spacing off from the first while the next is short of the last."""
    first, last = clear + 47 / 2, length - clear - 47 / 2
    assume(last - first >= 47)
    laid = [first, last]
    while (at := first + (len(laid) - 1) * spacing) < last - 1e-6:
        laid.append(at)
    answer = firrings(span=3000, fall=1 / 40, thin=20, spacing=spacing, length=length, clear=clear)
    assert answer.results["count"] == len(laid)


def test_a_count_is_only_given_where_there_is_a_length_to_count_along() -> None:
    assert "count" not in firrings(span=3600, fall=1 / 40, thin=20).results


# BS 6229:2018 as a manufacturer's guidance gives it, NHBC Standards 2022, 7.1 (both read).
@pytest.mark.parametrize(
    ("kind", "fall", "warned"),
    [
        ("design", 1 / 40, False),
        ("design", 1 / 41, True),
        ("design", 1 / 60, True),
        ("finished", 1 / 40, False),
        ("finished", 1 / 80, False),
        ("finished", 1 / 81, True),
    ],
)
def test_it_warns_where_less_than_1_in_80_will_be_left(kind: str, fall: float, warned: bool) -> None:
    answer = firrings(span=3600, fall=fall, thin=20, kind=kind)
    assert any("BS 6229:2018" in note for note in answer.notes) == warned
    assert answer.verdict is None, "a fall that is drawn is the designer's"


def test_cross_firrings_under_38_are_told_from_memory_and_not_refused() -> None:
    thin = firrings(span=3600, fall=1 / 40, thin=20, laid="across")
    assert "from memory" in thin.notes[-1]
    assert firrings(span=3600, fall=1 / 40, thin=38, laid="across").notes == ()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"span": 3600.0, "fall": 0.2, "thin": 20.0}, "fall is 1:5; a flat roof is up to 10 degrees, 1:5.7"),
        ({"span": 3600.0, "fall": 0.0, "thin": 20.0}, "fall is 0; it must be over 0"),
        ({"span": 3600.0, "fall": 0.025}, "needs thin"),
        (
            {"span": 3600.0, "fall": 0.025, "thin": 20.0, "length": 40.0},
            "a joist 47 thick doesn't fit between its ends",
        ),
        ({"span": 3600.0, "fall": 0.025, "thin": 20.0, "spacing": 1.0, "laid": "across"}, "3601 firrings"),
    ],
)
def test_firrings_that_can_not_be_are_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        firrings(**given)
    assert "\n" not in refusal.value.message

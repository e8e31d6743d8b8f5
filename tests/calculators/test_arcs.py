"""Arcs against circles fitted by linear algebra, and lengths and areas added up point by point."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.arcs import arc
from sitelog.refusal import Refusal
from tests.calculators.results import column, figure

chords = st.floats(200, 12_000)
flatness = st.floats(0.01, 0.5)  # rise over chord: half a circle at most


def points(answer: Answer) -> np.ndarray:
    return np.column_stack([column(answer, "rows", "at"), column(answer, "rows", "height")])


def circle_through(found: np.ndarray) -> tuple[np.ndarray, float]:
    """Centre and radius by least squares: x2 + y2 = 2ax + 2by + c."""
    system = np.column_stack([2 * found, np.ones(len(found))])
    a, b, c = np.linalg.lstsq(system, (found**2).sum(axis=1), rcond=None)[0]
    return np.array([a, b]), math.sqrt(c + a * a + b * b)


@given(chord=chords, flat=flatness, count=st.integers(4, 40))
def test_all_heights_lie_on_one_circle_whose_centre_is_plumb_under_the_middle(
    chord: float, flat: float, count: int
) -> None:
    answer = arc(chord=chord, rise=flat * chord, count=count)
    centre, radius = circle_through(points(answer))
    assert radius == pytest.approx(figure(answer, "radius"), rel=1e-6)
    assert centre == pytest.approx([chord / 2, -figure(answer, "centre_below_chord")], abs=1e-6 * radius)


@given(chord=chords, flat=flatness)
def test_length_and_area_are_those_added_up_point_by_point(chord: float, flat: float) -> None:
    answer = arc(chord=chord, rise=flat * chord, count=4)
    # Points of the circle by angle, close enough together that straight parts stand for it.
    radius, half = figure(answer, "radius"), math.radians(figure(answer, "angle")) / 2
    turns = np.linspace(-half, half, 4001)
    x, y = radius * np.sin(turns), radius * np.cos(turns)
    assert figure(answer, "arc_length") == pytest.approx(np.hypot(np.diff(x), np.diff(y)).sum(), rel=1e-6)
    above = y - radius * math.cos(half)
    area = ((above[1:] + above[:-1]) / 2 * np.diff(x)).sum() / 1e6
    assert figure(answer, "area") == pytest.approx(area, rel=1e-5)
    assert np.ptp(x) == pytest.approx(chord, rel=1e-9)


@given(chord=chords, flat=st.floats(0.01, 0.49))
def test_any_two_of_the_three_are_the_same_arc(chord: float, flat: float) -> None:
    one = arc(chord=chord, rise=flat * chord)
    radius = figure(one, "radius")
    for other in (arc(chord=chord, radius=radius), arc(rise=flat * chord, radius=radius)):
        for name in ("chord", "rise", "radius", "angle", "arc_length", "area"):
            assert figure(other, name) == pytest.approx(figure(one, name), rel=1e-6), name


@given(chord=chords, flat=flatness, spacing=st.floats(20, 3_000))
def test_marks_run_from_end_to_end_alike_both_ways_and_none_further_apart_than_asked(
    chord: float, flat: float, spacing: float
) -> None:
    answer = arc(chord=chord, rise=flat * chord, spacing=spacing)
    at, height = column(answer, "rows", "at"), column(answer, "rows", "height")
    assert [at[0], at[-1]] == pytest.approx([0, chord])
    assert len(at) % 2 == 1
    assert at[len(at) // 2] == pytest.approx(chord / 2)
    assert max(height) == height[len(at) // 2] == pytest.approx(flat * chord)
    assert max(later - earlier for earlier, later in pairwise(at)) <= spacing + 1e-6
    assert at == pytest.approx([chord - one for one in reversed(at)], abs=1e-9)
    assert height == pytest.approx(list(reversed(height)), abs=1e-9)


def test_a_half_circle_is_as_high_as_its_radius_and_its_centre_is_on_the_chord() -> None:
    answer = arc(chord=1800, radius=900)
    assert figure(answer, "rise") == pytest.approx(900)
    assert figure(answer, "centre_below_chord") == pytest.approx(0)
    assert figure(answer, "angle") == pytest.approx(180)
    assert figure(answer, "arc_length") == pytest.approx(900 * math.pi)


def test_a_very_flat_arc_keeps_its_heights() -> None:
    """1 mm over 2400 is a radius of 720 m; heights fall off by the square of the distance, near enough."""
    answer = arc(chord=2400, rise=1, count=4)
    assert column(answer, "rows", "height") == pytest.approx([0, 0.75, 1, 0.75, 0], abs=1e-6)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"chord": 2400.0}, "you gave only one"),
        ({}, "you gave none"),
        ({"chord": 2400.0, "rise": 600.0, "radius": 1500.0}, "you gave all three"),
        ({"chord": 2400.0, "rise": 1300.0}, "more than half a circle"),
        ({"chord": 2400.0, "radius": 1100.0}, "at least half of it, 1200"),
        ({"rise": 1200.0, "radius": 1100.0}, "more than half a circle"),
        ({"chord": 2400.0, "rise": 0.0}, "over 0"),
        ({"chord": 2400.0, "rise": 600.0, "spacing": 100.0, "count": 8}, "spacing= or count=, not both"),
        ({"chord": 2400.0, "rise": 600.0, "spacing": 0.5}, "spacing is 0.5; that is 4801 points"),
        ({"chord": 2400.0, "rise": 600.0, "count": 2_000}, "count is 2000; give at most 1999"),
    ],
)
def test_an_arc_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        arc(**given)
    assert "\n" not in refusal.value.message

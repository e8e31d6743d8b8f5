"""The barrel's line against cylinder and plane met in space, and against the ellipse its points are fitted by."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.barrels import barrel, ellipse_arc
from sitelog.refusal import Refusal
from tests.calculators.results import column, figure

pitches = st.floats(15, 70)
radii = st.floats(300, 3_000)


def table(answer: Answer, name: str = "rows") -> np.ndarray:
    return np.column_stack([column(answer, name, key) for key in ("at", "height", "along_slope", "back")])


def struck(x: float, radius: float, below: float, pitch: float) -> float:
    """Up the slope, from the springing, to where its line at `x` off the middle leaves the cylinder.

    The slope is walked along u = (0, cos p, sin p); the cylinder's axis is level along y, `below` the springing.
    """
    u = np.array([0.0, math.cos(math.radians(pitch)), math.sin(math.radians(pitch))])
    roots = np.roots([u[2] ** 2, 2 * below * u[2], x * x + below * below - radius * radius])
    return float(max(roots.real))


@given(radius=radii, pitch=pitches, share=st.floats(0.2, 1.0))
def test_every_row_is_where_the_cylinder_meets_the_slope(radius: float, pitch: float, share: float) -> None:
    answer = barrel(radius=radius, rise=share * radius, pitch=pitch, spacing=radius / 4)
    found, below = table(answer), radius - share * radius
    half = found[-1, 0] / 2
    for at, height, along, back in found[1:-1]:
        assert along == pytest.approx(struck(at - half, radius, below, pitch), rel=1e-6, abs=1e-6)
        assert (back, height) == pytest.approx(
            (along * math.cos(math.radians(pitch)), along * math.sin(math.radians(pitch)))
        )
    assert found[[0, -1], 1:] == pytest.approx(np.zeros((2, 3)), abs=1e-4)


@given(radius=radii, pitch=pitches, share=st.floats(0.3, 1.0))
def test_the_line_on_the_slope_is_an_ellipse_of_the_semi_axes_told(radius: float, pitch: float, share: float) -> None:
    answer = barrel(radius=radius, rise=share * radius, pitch=pitch, spacing=radius / 10)
    found = table(answer)
    across, along = (found[:, 0] - found[-1, 0] / 2) / radius, found[:, 2] / radius
    # across2 / a2 + (along + c)2 / b2 = 1, solved as p across2 + q along2 + r along + s = 0 by its null vector.
    system = np.column_stack([across**2, along**2, along, np.ones_like(along)])
    p, q, r, s = np.linalg.svd(system)[2][-1]
    centre = -r / (2 * q)
    full = q * centre**2 - s
    assert math.sqrt(full / p) * radius == pytest.approx(figure(answer, "semi_axis_across"), rel=1e-4)
    assert math.sqrt(full / q) * radius == pytest.approx(figure(answer, "semi_axis_up_slope"), rel=1e-4)
    assert -centre * radius == pytest.approx(figure(answer, "centre_down_slope"), abs=1e-4 * radius)


@given(radius=radii, pitch=pitches, share=st.floats(0.2, 1.0))
def test_the_line_is_as_long_as_its_points_added_up(radius: float, pitch: float, share: float) -> None:
    answer = barrel(radius=radius, rise=share * radius, pitch=pitch)
    below, half = (1 - share) * radius, math.acos(1 - share)
    turns = np.linspace(-half, half, 20_001)
    across = radius * np.sin(turns)
    along = (radius * np.cos(turns) - below) / math.sin(math.radians(pitch))
    added = np.hypot(np.diff(across), np.diff(along)).sum()
    assert figure(answer, "line_length") == pytest.approx(added, rel=1e-6)


@given(radius=radii, pitch=pitches, share=st.floats(0.3, 1.0), thick=st.floats(6, 40))
def test_the_inner_line_is_the_sheet_inside_the_outer_one_everywhere(
    radius: float, pitch: float, share: float, thick: float
) -> None:
    rise = share * radius
    answer = barrel(radius=radius, rise=rise, pitch=pitch, sheet=thick, spacing=radius / 5)
    outer, inner = table(answer), table(answer, "inner_rows")
    middle, below = outer[-1, 0] / 2, radius - rise
    # Square to the curve: from the common centre, one sheet nearer to it.
    away = np.hypot(inner[:, 0] - middle, inner[:, 1] + below)
    assert away == pytest.approx(np.full(len(inner), radius - thick), rel=1e-7)
    assert inner[:, 1].max() == pytest.approx(rise - thick)
    # A half circle stands upright at its ends, where a float's dust along the level shows most in the height.
    assert inner[[0, -1], 1] == pytest.approx([0, 0], abs=1e-4)
    assert inner[0, 0] > 0
    shared = set(inner[1:-1, 0]) - set(outer[:, 0])
    assert not shared, "inner marks between the ends are the outer ones"


def test_a_dormer_on_a_steeper_slope_reaches_less_far_back() -> None:
    reach = [figure(barrel(radius=900, pitch=pitch), "ridge_back") for pitch in (20, 30, 45, 60, 80)]
    assert reach == sorted(reach, reverse=True)
    assert reach[2] == pytest.approx(900), "at 45 it goes as far back as it is high"


def test_the_crown_is_a_flat_to_a_leadworker_for_a_fifth_of_the_radius() -> None:
    """r sin 11 = 0.19 r each side of the crown: geometry on the 11 degrees of a trade page (derived)."""
    assert barrel(radius=1000, pitch=40).notes[0].startswith("Within 191 mm")


@pytest.mark.parametrize(
    ("across", "up"),
    [(900, 900), (900, 1400), (1, 10)],
)
def test_a_quarter_of_an_ellipse_lies_between_its_chord_and_its_two_semi_axes(across: float, up: float) -> None:
    quarter = ellipse_arc(across, up, 90) / 2
    assert math.hypot(across, up) < quarter < across + up
    if across == up:
        assert quarter == pytest.approx(math.pi * across / 2, rel=1e-12)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"pitch": 40.0}, "barrel: give two of chord=, rise= and radius=, or"),
        ({"chord": 1800.0, "pitch": 40.0}, "you gave only one"),
        ({"radius": 900.0, "rise": 1000.0, "pitch": 40.0}, "more than half a circle"),
        ({"radius": 900.0}, "barrel needs pitch"),
        ({"radius": 900.0, "pitch": 90.0}, "pitch is 90; it must be under 90"),
        ({"radius": 900.0, "pitch": 0.1}, "would run 516 m back before it met so flat a slope"),
        ({"radius": 900.0, "pitch": 40.0, "sheet": 900.0}, "sheet is 900; it must be under the rise"),
        ({"radius": 900.0, "pitch": 40.0, "spacing": 0.5}, "3601 points"),
    ],
)
def test_a_barrel_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        barrel(**given)
    assert "\n" not in refusal.value.message

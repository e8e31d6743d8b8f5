"""The eyebrow against circles drawn in space: do they touch, share a tangent, and run out level?"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.eyebrows import Eyebrow, eyebrow
from sitelog.refusal import Refusal
from tests.calculators.results import cell, column, figure, rows

widths = st.floats(1_000, 8_000)
flatness = st.floats(0.02, 0.45)  # rise over width
splits = st.floats(0.1, 0.9)


def curve(answer: Answer, width: float, rise: float, split: float) -> Eyebrow:
    crown, wing = figure(answer, "crown_radius"), figure(answer, "wing_radius")
    return Eyebrow(width / 2, rise, split * width / 2, crown, wing)


@given(width=widths, flat=flatness, split=splits)
def test_the_two_circles_touch_where_the_arcs_meet(width: float, flat: float, split: float) -> None:
    rise = flat * width
    answer = eyebrow(width=width, rise=rise, split=split)
    crown = np.array([width / 2, rise - figure(answer, "crown_radius")])
    wing = np.array([0.0, figure(answer, "wing_radius")])
    both = figure(answer, "crown_radius") + figure(answer, "wing_radius")
    assert np.hypot(*(crown - wing)) == pytest.approx(both), "circles that touch from outside"
    meets = wing + (crown - wing) * figure(answer, "wing_radius") / both
    assert meets == pytest.approx([figure(answer, "tangent_at"), figure(answer, "tangent_height")])
    # The common tangent is square to the line of the centres.
    slope = math.degrees(math.atan2((crown - wing)[0], -(crown - wing)[1]))
    assert slope == pytest.approx(figure(answer, "tangent_angle"))


@given(width=widths, flat=flatness, split=splits)
def test_it_runs_out_level_at_the_ends_and_has_no_kink(width: float, flat: float, split: float) -> None:
    rise = flat * width
    answer = eyebrow(width=width, rise=rise, split=split)
    line, step = curve(answer, width, rise, split), width * 1e-6

    def slope(at: float, by: float) -> float:
        return math.degrees(math.atan((line.height(at + by) - line.height(at)) / by))

    assert slope(0, step) == pytest.approx(0, abs=0.01)
    meets = figure(answer, "tangent_at")
    assert slope(meets, step) == pytest.approx(figure(answer, "tangent_angle"), abs=0.02)
    assert slope(meets, -step) == pytest.approx(figure(answer, "tangent_angle"), abs=0.02)
    assert line.height(width / 2) == pytest.approx(rise)


@given(width=widths, flat=flatness, split=splits, pitch=st.floats(20, 75))
def test_its_rows_lie_on_the_two_circles_and_on_the_slope(
    width: float, flat: float, split: float, pitch: float
) -> None:
    rise = flat * width
    answer = eyebrow(width=width, rise=rise, split=split, pitch=pitch, spacing=width / 20)
    crown, wing = figure(answer, "crown_radius"), figure(answer, "wing_radius")
    for row in rows(answer, "rows"):
        off, height = abs(cell(row, "at") - width / 2), cell(row, "height")
        if off <= split * width / 2:
            assert math.hypot(off, height - rise + crown) == pytest.approx(crown)
        else:
            assert math.hypot(width / 2 - off, height - wing) == pytest.approx(wing)
        # A level line back from the front meets the slope as far back as the slope takes to climb so high.
        assert cell(row, "back") * math.tan(math.radians(pitch)) == pytest.approx(height, abs=1e-6)
        assert math.hypot(cell(row, "back"), height) == pytest.approx(cell(row, "along_slope"), abs=1e-6)


@given(width=widths, flat=flatness, split=splits)
def test_the_curve_is_as_long_as_its_points_added_up(width: float, flat: float, split: float) -> None:
    rise = flat * width
    answer = eyebrow(width=width, rise=rise, split=split)
    line = curve(answer, width, rise, split)
    at = np.linspace(0, width, 4001)
    high = np.array([line.height(float(one)) for one in at])
    assert figure(answer, "curve_length") == pytest.approx(np.hypot(np.diff(at), np.diff(high)).sum(), rel=1e-4)


def test_the_more_of_the_width_the_crown_takes_the_larger_its_radius() -> None:
    found = [figure(eyebrow(width=3000, rise=600, split=split), "crown_radius") for split in (0.2, 0.4, 0.6, 0.8)]
    assert found == sorted(found)
    # Crown and wing share one sum of radii: half the width over the sine of the tangent's angle.
    assert found[0] == pytest.approx(figure(eyebrow(width=3000, rise=600, split=0.8), "wing_radius"))


def test_without_a_pitch_only_the_front_is_set_out() -> None:
    answer = eyebrow(width=3000, rise=600)
    assert {row["along_slope"] for row in rows(answer, "rows")} == {None}
    assert "ridge_back" not in answer.results
    assert column(answer, "rows", "height")[0] == 0


# Roof Tile Association, Eyebrows (read): main slope 55 at least, else soakers; flattest part 35.
def test_it_says_what_plain_tiles_ask_of_it() -> None:
    steep = eyebrow(width=3000, rise=600, pitch=55).notes
    assert "55, or use soakers; never flatter than 35 (Roof Tile Association, Eyebrows)" in steep[0]
    # 600 up to the front, then 55 climbs faster than 35: they are level where x tan 55 = 600 + x tan 35.
    assert f"{600 / (math.tan(math.radians(55)) - math.tan(math.radians(35))):.0f} mm back" in steep[1]
    assert "this slope is 50" in eyebrow(width=3000, rise=600, pitch=50).notes[0]
    assert "too flat for it" in eyebrow(width=3000, rise=600, pitch=35).notes[0]


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"width": 3000.0, "rise": 1500.0}, "must be under half the width, 1500"),
        ({"width": 3000.0, "rise": 600.0, "split": 0.0}, "split is 0; it must be over 0"),
        ({"width": 3000.0, "rise": 600.0, "split": 1.0}, "split is 1; it must be under 1"),
        ({"width": 3000.0, "rise": 0.0}, "over 0"),
        ({"width": 3000.0, "rise": 600.0, "pitch": 0.1}, "would run 344 m back"),
        ({"width": 3000.0, "rise": 600.0, "spacing": 1.0}, "3001 points"),
    ],
)
def test_an_eyebrow_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        eyebrow(**given)
    assert "\n" not in refusal.value.message

"""A purlin against a hip: to the agreed digits, by the square, and as a stick cut in numpy arris by arris."""

import itertools

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.purlin import purlin
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import figure, figures
from tests.calculators.test_hips import Drawing

Array = NDArray[np.float64]
BEVELS = ("edge_bevel_from_square", "face_bevel_from_square")


def test_a_regular_purlin_at_35_comes_out_to_the_printed_digits() -> None:
    answer = purlin(pitch=35)
    assert figures(answer, *BEVELS) == pytest.approx([39.323, 29.838], abs=5e-4)
    # cos 35 x cos 45 = 0.579228, whose inverse sine is 35.396
    assert figure(answer, "saw_tilt_on_face") == pytest.approx(35.396, abs=5e-4)


def test_a_regular_purlin_is_marked_by_the_square_from_run_rise_and_length() -> None:
    """Common practice with a steel square, 8 in 12: run on length marks the edge, rise on length the face."""
    length = (12**2 + 8**2) ** 0.5
    answer = purlin(pitch=float(np.degrees(np.arctan(8 / 12))))
    assert np.tan(np.radians(figures(answer, *BEVELS))) == pytest.approx([12 / length, 8 / length])


def cut_ends(drawing: Drawing, side: int, width: float, depth: float) -> dict[tuple[str, str], float]:
    """How far along each arris of a purlin, from the square through its axis, the hip's upright face cuts it.

    Arrises by (lower or upper face, bottom or top); plus is into the purlin, away from the hip.
    """
    plate, inward = (np.array([*level, 0.0]) for level in (drawing.plate(side), drawing.inward(side)))
    pitch = np.radians(drawing.pitches[side - 1])
    up_slope = np.cos(pitch) * inward + np.array([0, 0, np.sin(pitch)])
    out_of_slope = np.cross(plate, up_slope)
    out_of_slope = out_of_slope * np.sign(out_of_slope[2])
    wall = np.array([*drawing.across(side), 0.0])
    ends = {}
    for (face, y), (edge, z) in itertools.product(
        (("lower", -width / 2), ("upper", width / 2)), (("bottom", -depth / 2), ("top", depth / 2))
    ):
        ends[face, edge] = float(-wall @ (y * up_slope + z * out_of_slope) / (wall @ plate))
    return ends


@given(
    corner=st.floats(60, 150),
    pitch=st.floats(10, 70),
    pitch2=st.floats(10, 70),
    side=st.sampled_from((1, 2)),
    width=st.floats(30, 150),
    depth=st.floats(60, 300),
)
@settings(max_examples=80, deadline=None)
def test_a_purlin_cut_arris_by_arris_shows_the_bevels_told(
    corner: float, pitch: float, pitch2: float, side: int, width: float, depth: float
) -> None:
    drawing = Drawing(corner, (pitch, pitch2))
    answer = purlin(corner=corner, pitch=pitch, pitch2=pitch2, side=side)
    ends = cut_ends(drawing, side, width, depth)
    across = ends["upper", "top"] - ends["lower", "top"]
    down = ends["lower", "top"] - ends["lower", "bottom"]
    assert figure(answer, "edge_bevel_from_square") == pytest.approx(np.degrees(np.arctan(abs(across) / width)))
    assert figure(answer, "face_bevel_from_square") == pytest.approx(np.degrees(np.arctan(abs(down) / depth)))
    # The marks on the two faces run parallel, and are as far apart as the tilt carries the blade through the width.
    apart = abs(across) * np.cos(np.arctan(abs(down) / depth))
    assert figure(answer, "saw_tilt_on_face") == pytest.approx(np.degrees(np.arctan(apart / width)))
    prove_working(answer, rel=1e-8)
    assume(abs(across) > 1e-3)
    face, edge = min(ends, key=lambda arris: ends[arris])
    assert f"the long point is the {edge} arris of the {face} face" in answer.notes[0]


@given(corner=st.floats(60, 120), pitch=st.floats(20, 60), pitch2=st.floats(20, 60), side=st.sampled_from((1, 2)))
@settings(max_examples=40, deadline=None)
def test_on_the_slope_purlin_and_jack_meet_the_hip_at_angles_that_make_a_right_angle(
    corner: float, pitch: float, pitch2: float, side: int
) -> None:
    same = {"corner": corner, "pitch": pitch, "pitch2": pitch2, "side": side}
    try:
        jack = jacks(**same, spacing=400, run=90_000, first=400)
    except Refusal:
        assume(False)
    total = figure(purlin(**same), "edge_bevel_from_square") + figure(jack, "edge_bevel_from_square")
    assert total == pytest.approx(90)


def test_the_other_side_of_an_irregular_corner_is_another_purlin() -> None:
    assert not any("isn't the same turned over" in note for note in purlin(corner=100, pitch=35).notes)
    for other in ({"pitch2": 36}, {"pitch2": 36, "side": 2}):
        assert any("isn't the same turned over" in note for note in purlin(pitch=35, **other).notes)


def test_a_tilt_over_45_is_told() -> None:
    """A shallow slope and a sharp corner: cos 20 x cos 30 is 0.81, 54 degrees."""
    assert any("over 45" in note for note in purlin(corner=60, pitch=20).notes)
    assert not any("over 45" in note for note in purlin(pitch=35).notes)


def test_a_hip_with_purlins_on_it_is_the_engineers() -> None:
    assert purlin(pitch=35).cautions == ("hip-engineer",)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"side": 0}, "purlin: side is 0; give 1 "),
        ({"corner": 180}, "under 180"),
        ({"pitch": 0}, "at least 0.1"),
        ({"pitch2": 90}, "at most 89.9"),
    ],
)
def test_a_purlin_that_cannot_be_is_refused(inputs: dict[str, float], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        purlin(**{"pitch": 35, **inputs})

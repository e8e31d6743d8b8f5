"""A pattern rafter tried between a plate and a ridge, laid by vectors and numpy, against what its gaps say."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.rafters.feet.pattern import pattern
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.results import figure


def turn(angle: float) -> np.ndarray:
    """What turns a vector by that angle [rad], steeper."""
    return np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])


def timber(length: float, pitch: float, depth: float, notch: float) -> dict[str, np.ndarray]:
    """Corner of the birdsmouth at 0,0, top and bottom of a head cut plumb, at the pitch [deg] that it is cut for."""
    along = turn(np.radians(pitch)) @ [1.0, 0.0]
    square = turn(np.radians(pitch)) @ [0.0, 1.0]
    plumb = np.array([0.0, 1.0])

    def head(from_line: float) -> np.ndarray:
        """Where the edge so far square from the line meets the plumb cut through the end of the line."""
        a, _ = np.linalg.solve(np.column_stack([along, -plumb]), length * along - from_line * square)
        return np.asarray(a * along + from_line * square)

    return {"top": head(depth - notch), "bottom": head(-notch)}


@given(
    run=st.floats(800, 6000),
    pitch=st.floats(12, 60),
    off=st.floats(-3, 3),
    longer=st.floats(-30, 30),
    depth=st.sampled_from([97.0, 147.0, 195.0]),
    share=st.sampled_from([0.0, 0.25, 1 / 3]),
)
def test_gaps_of_a_tried_pattern_give_the_rafter_that_fits(
    run: float, pitch: float, off: float, longer: float, depth: float, share: float
) -> None:
    """The rafter that fits is known. The pattern is cut otherwise, turned until its top is at the same height, and
    slid in until it touches ridge or plate; its gaps are taped, and must lead back to the one that fits.
    """
    true_length = run / np.cos(np.radians(pitch))
    fits = timber(true_length, pitch, depth, share * depth)
    cut = timber(true_length + longer, pitch + off, depth, share * depth)
    # Turned about the birdsmouth's corner until its top arris is as high as that of the rafter that fits.
    reach, at = np.hypot(*cut["top"]), np.arctan2(cut["top"][1], cut["top"][0])
    assume(fits["top"][1] < reach * 0.999)
    by = np.arcsin(fits["top"][1] / reach) - at
    top, bottom = turn(by) @ cut["top"], turn(by) @ cut["bottom"]
    assert top[1] == pytest.approx(fits["top"][1])
    clear = run - max(top[0], bottom[0])  # the heel on the plate, the head towards the ridge's face
    out = min(clear, 0.0)
    back = np.array([out, 0.0])
    top, bottom = top + back, bottom + back
    answer = pattern(
        length=true_length + longer, pitch=pitch + off, section=Section(47, depth), birdsmouth=share,
        gap_top=max(run - top[0], 0.0), gap_bottom=max(run - bottom[0], 0.0), heel=-out,
    )  # fmt: skip
    assert figure(answer, "length") == pytest.approx(true_length, abs=1e-5)
    assert figure(answer, "plumb_cut_from_square") == pytest.approx(pitch, abs=1e-6)
    assert figure(answer, "seat_cut_from_square") == pytest.approx(90 - pitch, abs=1e-6)
    assert figure(answer, "length_change") == pytest.approx(-longer, abs=1e-5)
    assert figure(answer, "pitch_change") == pytest.approx(-off, abs=1e-6)
    assert figure(answer, "run") == pytest.approx(run)
    assert figure(answer, "run_change") == pytest.approx(
        run - (true_length + longer) * np.cos(np.radians(pitch + off)), abs=1e-6
    )
    assert figure(answer, "head_height") == pytest.approx(fits["top"][1])
    assert figure(answer, "turned") == pytest.approx(np.degrees(by), abs=1e-6)


def test_one_that_is_cut_anew_is_taken_as_it_was_cut_and_the_run_is_held_to_the_list() -> None:
    """Cut to what the gaps of the first one gave it fits, and says of the run what the first one said."""
    first = pattern(length=3639.0, pitch=35.0, gap_top=6.0, gap_bottom=3.0)
    cut = {"cut_length": figure(first, "length"), "cut_pitch": figure(first, "plumb_cut_from_square")}
    second = pattern(length=3639.0, pitch=35.0, **cut)
    for name in ("length", "plumb_cut_from_square", "run", "run_change", "head_height"):
        assert figure(second, name) == pytest.approx(figure(first, name)), name
    assert figure(second, "length_change") == pytest.approx(0, abs=1e-9)


def test_a_pattern_without_gaps_is_right() -> None:
    answer = pattern(length=3639.0, pitch=35.0)
    assert figure(answer, "length") == pytest.approx(3639)
    assert figure(answer, "plumb_cut_from_square") == pytest.approx(35)


def test_a_pattern_that_is_short_all_the_way_is_lengthened_and_cut_flatter() -> None:
    """By hand, no birdsmouth and a rafter of no depth: 4 by 3 by 5; 8 short of 4008, the head as high as it is."""
    answer = pattern(length=5000.0, pitch=np.degrees(np.arctan(3 / 4)), section=Section(47, 1e-6), birdsmouth=0.0,
                     gap_top=8.0, gap_bottom=8.0)  # fmt: skip
    assert figure(answer, "length") == pytest.approx(np.sqrt(4008**2 + 3000**2), abs=0.001)
    assert figure(answer, "pitch_change") < 0


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"gap_top": 2.0, "gap_bottom": 2.0, "heel": 3.0}, "it touches neither plate nor ridge. Push it home"),
        ({"gap_top": 300.0}, "differ by 300; the cut is 183 long"),
        ({"gap_top": 170.0}, "it is at 103 degrees"),
        ({"gap_bottom": 170.0}, "it is at -33 degrees"),
        ({"heel": 4000.0}, "heel is 4000; that leaves no run"),
        ({"heel": -1.0}, "heel is -1; it must be at least 0"),
        ({"birdsmouth": 1.0}, "birdsmouth is 1; it must be under 1"),
    ],
)
def test_gaps_that_can_not_be_are_refused_in_one_line(more: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        pattern(**({"length": 3639.0, "pitch": 35.0} | more))
    assert "\n" not in refusal.value.message

"""The common rafter and its birdsmouth: by hand, by printed rule, and by drawing the rafter in numpy."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.rafters.birdsmouth import birdsmouth
from sitelog.calculators.rafters.common import common
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import figure, figures

Point = NDArray[np.float64]


def test_a_47x150_at_35_over_3000_comes_out_as_worked_by_hand() -> None:
    """tan 35 = 0.700208, cos 35 = 0.819152, sin 35 = 0.573576; the figures that the design was agreed on."""
    answer = common(run=3000, pitch=35, section=Section(47, 150), ridge=38, tied="yes")
    by_hand = {
        "rise": 2100.62,
        "length_on_line": 3662.32,
        "ridge_deduction": 23.19,
        "length_to_ridge": 3639.13,
        "plumb_cut_from_square": 35,
        "seat_cut_from_square": 55,
        "plumb_cut_length": 183.12,
        "birdsmouth_depth": 50,
        "seat_length": 87.17,
        "heel_plumb": 61.04,
        "height_above_plate": 122.08,
        "tail_length": 0,
        "overall_length": 3744.16,
        "order_length": 3900,
        "mass": 47 * 150 * 3744.16 * 420e-9,
    }
    for name, expected in by_hand.items():
        assert figure(answer, name) == pytest.approx(expected, abs=0.005), name
    assert answer.verdict == "pass"
    assert answer.cautions == ()


def test_a_rafter_of_three_to_four_is_five_long() -> None:
    """3-4-5: run 4000, rise 3000; a ridge of 40 takes 25 along the line, a tail of 400 level is 500 long."""
    answer = common(run=4000, rise=3000, ridge=40, overhang=400, section=Section(50, 160), birdsmouth=0.25)
    assert figure(answer, "length_on_line") == pytest.approx(5000)
    assert figure(answer, "ridge_deduction") == pytest.approx(25)
    assert figure(answer, "tail_length") == pytest.approx(500)
    # Birdsmouth 40 deep: seat 40 / 0.6, heel 40 / 0.8, and 120 / 0.8 of the rafter is left over the plate.
    assert figures(answer, "birdsmouth_depth", "seat_length") == pytest.approx([40, 40 / 0.6])
    assert figures(answer, "heel_plumb", "height_above_plate") == pytest.approx([50, 150])
    # The slanted end adds 160 x 3/4.
    assert figure(answer, "overall_length") == pytest.approx(5000 - 25 + 500 + 120)


@given(
    run=st.floats(300, 9000),
    pitch=st.floats(5, 75),
    depth=st.floats(60, 300),
    ridge=st.floats(0, 100),
    overhang=st.floats(0, 900),
    share=st.floats(0.05, 0.6),
    plate=st.floats(75, 250),
)
@settings(max_examples=60, deadline=None)
def test_a_rafter_drawn_corner_by_corner_has_the_lengths_told(
    run: float, pitch: float, depth: float, ridge: float, overhang: float, share: float, plate: float
) -> None:
    """Drawn with the plate's top outer edge at 0,0: underside, top and plumb lines met as lines on paper."""
    answer = common(
        run=run, pitch=pitch, section=Section(47, depth), ridge=ridge, overhang=overhang, birdsmouth=share, plate=plate
    )
    up = np.array([np.cos(np.radians(pitch)), np.sin(np.radians(pitch))])
    square = np.array([-up[1], up[0]])
    deep = min(share * depth, plate * up[1])  # the seat ends with the plate
    underside, top = -deep * square, (depth - deep) * square

    def at_x(point: Point, x: float) -> Point:
        return np.asarray(point + up * (x - point[0]) / up[0])

    def at_z(point: Point, z: float) -> Point:
        return np.asarray(point + up * (z - point[1]) / up[1])

    centre, face = at_x(np.zeros(2), run), at_x(np.zeros(2), run - ridge / 2)
    tail_foot, head_top = at_x(underside, -overhang), at_x(top, run - ridge / 2)
    drawn = {
        "rise": centre[1],
        "length_on_line": np.linalg.norm(centre),
        "length_to_ridge": np.linalg.norm(face),
        "ridge_deduction": np.linalg.norm(centre - face),
        "seat_length": at_z(underside, 0)[0],
        "heel_plumb": -at_x(underside, 0)[1],
        "height_above_plate": at_x(top, 0)[1],
        "tail_length": np.linalg.norm(at_x(np.zeros(2), -overhang)),
        "plumb_cut_length": at_x(top, 0)[1] - at_x(underside, 0)[1],
        "overall_length": (head_top - tail_foot) @ up,
    }
    for name, expected in drawn.items():
        assert figure(answer, name) == pytest.approx(float(expected), rel=1e-9, abs=1e-6), name
    prove_working(answer)


@given(run=st.floats(300, 9000), pitch=st.floats(5, 75))
@settings(max_examples=30, deadline=None)
def test_a_rise_asks_for_the_same_rafter_as_its_pitch(run: float, pitch: float) -> None:
    by_pitch = common(run=run, pitch=pitch)
    by_rise = common(run=run, rise=figure(by_pitch, "rise"))
    for name in by_pitch.results.keys() - {"order_length"}:
        assert figure(by_rise, name) == pytest.approx(figure(by_pitch, name), rel=1e-9), name
    prove_working(by_rise)


@pytest.mark.parametrize(
    ("share", "verdict"),
    [(1 / 3, "pass"), (0.25, "pass"), (0.34, "fail"), (0.5, "fail")],
)
def test_a_birdsmouth_over_a_third_of_the_depth_fails_and_goes_to_the_engineer(share: float, verdict: str) -> None:
    """The third: LABC guidance after the TRADA span tables."""
    for answer in (
        common(run=3000, pitch=35, birdsmouth=share, plate=140, tied="yes"),
        birdsmouth(pitch=35, fraction=share, plate=140, tied="yes"),
    ):
        assert answer.verdict == verdict
        assert ("notch-engineer" in answer.cautions) == (verdict == "fail")


def test_a_birdsmouth_by_its_seat_is_the_one_by_its_depth() -> None:
    """47x150 at 35: a third is 50 deep, seat 87.17, heel 61.04, 122.08 over the plate."""
    by_third = birdsmouth(pitch=35, tied="yes")
    assert figures(by_third, "depth", "seat", "heel", "height_above_plate") == pytest.approx(
        [50, 87.17, 61.04, 122.08], abs=0.005
    )
    by_seat = birdsmouth(pitch=35, seat=figure(by_third, "seat"), tied="yes")
    assert figures(by_seat, *by_third.results) == pytest.approx(figures(by_third, *by_third.results))
    assert by_seat.verdict == "pass"


def test_the_common_has_the_birdsmouth_of_the_birdsmouth_calculator() -> None:
    one, other = common(run=3000, pitch=42, birdsmouth=0.3), birdsmouth(pitch=42, fraction=0.3)
    names = ("birdsmouth_depth", "seat_length", "heel_plumb", "height_above_plate")
    assert figures(one, *names) == figures(other, "depth", "seat", "heel", "height_above_plate")


@pytest.mark.parametrize(
    ("section", "pitch", "plate", "wanted", "depth"),
    [
        # sin 12 = 0.207912: a third of 225 is 75 deep, a seat of 75 / 0.207912 = 361; 100 x 0.207912 = 20.8.
        (Section(47, 225), 12, 100, 361, 20.79),
        # sin 35 = 0.573576: a third of 150 is 50, a seat of 87; 75 x 0.573576 = 43.0.
        (Section(47, 150), 35, 75, 87, 43.02),
    ],
)
def test_a_seat_ends_with_its_plate_and_the_depth_is_the_one_that_covers_it(
    section: Section, pitch: float, plate: float, wanted: float, depth: float
) -> None:
    for answer, deep, seat in (
        (birdsmouth(section=section, pitch=pitch, plate=plate, tied="yes"), "depth", "seat"),
        (common(run=3000, section=section, pitch=pitch, plate=plate, tied="yes"), "birdsmouth_depth", "seat_length"),
    ):
        assert figures(answer, deep, seat) == pytest.approx([depth, plate], abs=0.01)
        [note] = (one for one in answer.notes if "plate of" in one)
        assert f"a seat of {wanted} on a plate of {plate}" in note
        assert f"cut it {depth:.0f} deep" in note
        assert answer.verdict == "pass"
        prove_working(answer)


def test_a_seat_typed_longer_than_the_plate_ends_with_it_too() -> None:
    answer = birdsmouth(pitch=20, seat=150, plate=100, tied="yes")
    assert figure(answer, "seat") == pytest.approx(100)
    assert "a seat of 150 on a plate of 100" in answer.notes[0]
    assert birdsmouth(pitch=35, plate=100, tied="yes").notes == ()


@given(pitch=st.floats(3, 80), share=st.floats(0, 0.9), plate=st.floats(50, 300))
@settings(max_examples=60, deadline=None)
def test_no_seat_longer_than_its_plate_ever_comes_out(pitch: float, share: float, plate: float) -> None:
    assert figure(birdsmouth(pitch=pitch, fraction=share, plate=plate), "seat") <= plate + 1e-6


@pytest.mark.parametrize(
    ("tied", "verdict", "said"),
    [
        (None, None, "give tied=yes or tied=no"),
        ("not told", "unsure", "give tied=yes or tied=no"),
        ("no", "unsure", "ask the engineer"),
    ],
)
def test_the_third_passes_only_where_the_eaves_are_tied(tied: str | None, verdict: str | None, said: str) -> None:
    """LABC guidance after the TRADA span tables: a third, the rafter restrained at the eaves by a ceiling tie."""
    for answer in (birdsmouth(pitch=35, tied=tied), common(run=3000, pitch=35, tied=tied)):
        assert answer.verdict == verdict
        assert any(said in note for note in answer.notes)
        assert ("notch-engineer" in answer.cautions) == (verdict == "unsure")
    assert common(run=3000, pitch=35, birdsmouth=0, tied=tied).verdict == "pass"


def test_no_stock_length_holds_a_rafter_of_nine_metres() -> None:
    answer = common(run=8000, pitch=35)
    assert answer.results["order_length"] is None
    assert "joint-engineer" in answer.cautions
    assert any("order it specially" in note for note in answer.notes)


@pytest.mark.parametrize(("overall", "order"), [(1700, 1800), (1801, 2100), (3600, 3600), (7199, 7200)])
def test_the_next_stock_length_is_ordered(overall: float, order: float) -> None:
    """1800 to 7200 by 300 (common practice); at 45 degrees and 100 deep the slant adds 100."""
    run = (overall - 100) / 2**0.5
    answer = common(run=run - 1e-7, pitch=45, section=Section(47, 100))
    assert figure(answer, "order_length") == order
    spare = order - overall
    assert any("to spare" in note for note in answer.notes) == (spare < 20)


def test_a_timber_over_a_guideline_weight_is_marked_for_the_lift() -> None:
    """75x225 at 420 kg/m3 (BS EN 338:2016, mean of C24) is 7.09 kg a metre: over 16 kg from 2.26 m."""
    assert "heavy-lift" in common(run=3000, pitch=35, section=Section(75, 225)).cautions
    assert "heavy-lift" not in common(run=1500, pitch=35, section=Section(75, 225)).cautions


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"run": 3000}, "add pitch=35, or rise="),
        ({"run": 3000, "pitch": 35, "rise": 2100}, "not both"),
        ({"run": 3000, "pitch": 35, "birdsmouth": 1}, "is too deep"),
        ({"run": 3000, "pitch": 35, "birdsmouth": 50}, "it must be at most 1"),
        ({"run": 15, "pitch": 35, "ridge": 38}, "half the ridge"),
        ({"run": 0, "pitch": 35}, "run is 0"),
        ({"run": 3000, "pitch": 0}, "must be over 0"),
        ({"run": 3000, "pitch": 90}, "must be under 90"),
        ({"run": float("nan"), "pitch": 35}, "finite"),
        ({"run": 3000, "pitch": 35, "section": Section(0, 150)}, "thickness is 0"),
        ({"run": 3000, "pitch": 35, "section": Section(47, float("inf"))}, "depth is inf"),
        ({"run": 3000, "pitch": 35, "overhang": -1}, "overhang is -1"),
    ],
)
def test_a_rafter_that_cannot_be_is_refused_by_the_rule_it_breaks(
    inputs: dict[str, float | Section], rule: str
) -> None:
    with pytest.raises(Refusal, match=rule):
        common(**inputs)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"pitch": 35, "fraction": 0.3, "seat": 80}, "not both"),
        ({"pitch": 35, "fraction": 1}, "is deeper than the 150 rafter allows"),
        ({"pitch": 35, "seat": 300}, "172 mm deep is deeper than the 150 rafter"),
        ({"pitch": 35, "seat": 0}, "over 0"),
    ],
)
def test_a_birdsmouth_that_cannot_be_is_refused(inputs: dict[str, float], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        birdsmouth(**inputs)

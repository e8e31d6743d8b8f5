"""A roof over four plates: to the agreed digits, and against the heap of planes that bounds it, in numpy."""

import itertools
import math
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.catalogue import Answer, Row
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.ridge import ridge
from sitelog.calculators.rafters.roof import roof
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, column, figure, rows

Array = NDArray[np.float64]
SIX = ("ab", "bc", "cd", "da", "ac", "bd")
MEASURED = {"ab": 9000, "bc": 6000, "cd": 9010, "da": 6005, "ac": 10830, "bd": 10812}
SIDES = ("ab", "bc", "cd", "da")


@dataclass(frozen=True)
class Plates:
    """Four corners [mm] in order, anticlockwise, and the pitches [deg] of the slopes that follow each."""

    corners: Array
    pitches: tuple[float, float, float, float]

    def inputs(self) -> dict[str, float]:
        ends = {name: self.corners[place] for place, name in enumerate("abcd")}
        lengths = {pair: float(np.linalg.norm(ends[pair[0]] - ends[pair[1]])) for pair in SIX}
        return lengths | {f"pitch_{side}": pitch for side, pitch in zip(SIDES, self.pitches, strict=True)}

    def slopes(self) -> tuple[Array, Array]:
        """Each slope as a row of `matrix @ (x, y, z) <= bound`: under it is inside the roof."""
        matrix, bound = [], []
        for place, pitch in enumerate(self.pitches):
            start, end = self.corners[place], self.corners[(place + 1) % 4]
            along = (end - start) / np.linalg.norm(end - start)
            inward = np.array([-along[1], along[0]]) * np.tan(np.radians(pitch))
            matrix.append([*-inward, 1.0])
            bound.append(-inward @ start)
        return np.array(matrix), np.array(bound)

    def peaks(self) -> list[Array]:
        """Every point over the plates where three slopes meet and no slope is below them."""
        matrix, bound = self.slopes()
        found = []
        for three in itertools.combinations(range(4), 3):
            if abs(np.linalg.det(matrix[list(three)])) < 1e-9:
                continue
            point: Array = np.asarray(np.linalg.solve(matrix[list(three)], bound[list(three)]), dtype=np.float64)
            if point[2] > 0 and np.all(matrix @ point <= bound + 1e-6):
                found.append(point)
        return found


@st.composite
def plates(draw: st.DrawFn) -> Plates:
    """Convex: a corner in each quarter of an oval."""
    across, deep = draw(st.floats(3000, 9000)), draw(st.floats(3000, 9000))
    angles = [np.radians(180 + 90 * place + draw(st.floats(15, 75))) for place in range(4)]
    pitch = st.floats(15, 65)
    return Plates(
        np.array([[across * np.cos(angle), deep * np.sin(angle)] for angle in angles]),
        (draw(pitch), draw(pitch), draw(pitch), draw(pitch)),
    )


def point(answer: Answer, name: str) -> Array:
    value = answer.results[name]
    assert isinstance(value, dict)
    return np.array([cell(value, axis) for axis in "xyz"])


def by_name(answer: Answer, table: str, key: str) -> dict[str, Row]:
    return {str(row[key]): row for row in rows(answer, table)}


def test_a_roof_of_9000_by_6000_at_35_comes_out_to_the_printed_digits() -> None:
    """Ridge 9000 - 6000; hips 3000 root(2 + tan^2 35)."""
    for keep in ("pitch", "ridge"):
        answer = roof(length=9000, width=6000, pitch=35, keep=keep)
        assert figure(answer, "ridge_length") == pytest.approx(3000)
        assert figure(answer, "ridge_fall") == pytest.approx(0, abs=1e-9)
        assert column(answer, "hips", "length") == pytest.approx([4734.20] * 4, abs=5e-3)
        assert column(answer, "hips", "angle") == pytest.approx([90] * 4)
        assert column(answer, "slopes", "common_longest") == pytest.approx([3662.32] * 4, abs=5e-3)
        assert list(point(answer, "ridge_p")) == pytest.approx([3000, 3000, 2100.6226])
        assert list(point(answer, "ridge_q")) == pytest.approx([6000, 3000, 2100.6226])
        assert answer.results["ridge_along"] == "AB CD"
        assert any("both ways are the same" in note for note in answer.notes)


def test_a_roof_on_plates_as_measured_comes_out_to_the_printed_digits() -> None:
    answer = roof(**MEASURED, pitch=35)
    assert figure(answer, "ridge_length") == pytest.approx(3002.33, abs=5e-3)
    assert figure(answer, "ridge_fall") == pytest.approx(0.59, abs=5e-3)
    assert column(answer, "hips", "length") == pytest.approx([4738.93, 4729.71, 4739.73, 4735.25], abs=5e-3)
    assert list(by_name(answer, "hips", "corner")) == ["a", "b", "c", "d"]
    assert list(by_name(answer, "slopes", "side")) == ["ab", "bc", "cd", "da"]


@given(plates())
@settings(max_examples=80, deadline=None)
def test_true_slopes_bound_the_roof_from_above_and_meet_where_the_ridge_is(shape: Plates) -> None:
    """The ends of the ridge are the peaks of the heap of planes, whichever way the ridge runs."""
    answer = roof(**shape.inputs())
    peaks = shape.peaks()
    assume(len(peaks) == 2)
    heights = sorted((point(answer, "ridge_p")[2], point(answer, "ridge_q")[2]))
    assert heights == pytest.approx(sorted(peak[2] for peak in peaks), abs=1e-4)
    assert figure(answer, "ridge_length") == pytest.approx(np.linalg.norm(peaks[0] - peaks[1]), abs=1e-3)
    assert figure(answer, "ridge_fall") == pytest.approx(abs(peaks[0][2] - peaks[1][2]), abs=1e-4)
    matrix, bound = shape.slopes()
    for place, row in enumerate(rows(answer, "hips")):
        # The hip from a corner ends at the one peak that lies on both slopes beside it.
        beside = [place - 1, place]
        [end] = [one for one in peaks if np.allclose(matrix[beside] @ one, bound[beside], rtol=0, atol=1e-5)]
        length = np.linalg.norm(end - [*shape.corners[place], 0])
        assert cell(row, "length") == pytest.approx(length, abs=1e-3)
    prove_working(answer)


@given(plates())
@settings(max_examples=40, deadline=None)
def test_each_hip_of_a_roof_is_the_hip_worked_at_its_own_corner(shape: Plates) -> None:
    answer = roof(**shape.inputs())
    heights = {"p": point(answer, "ridge_p")[2], "q": point(answer, "ridge_q")[2]}
    along = str(answer.results["ridge_along"])
    ends = {"a": "p", "c": "q", "b": "q" if along == "AB CD" else "p", "d": "p" if along == "AB CD" else "q"}
    for place, (corner, row) in enumerate(by_name(answer, "hips", "corner").items()):
        left, right = shape.pitches[place - 1], shape.pitches[place]
        run = heights[ends[corner]] / math.tan(math.radians(left))
        alone = hip(corner=cell(row, "angle"), pitch=left, pitch2=right, run=run)
        for name, other in (("length", "length_on_line"), ("pitch", "hip_pitch"), ("run", "run")):
            assert cell(row, name) == pytest.approx(figure(alone, other), rel=1e-6), name
        for name in ("plan_angle_1", "plan_angle_2"):
            assert cell(row, name) == pytest.approx(figure(alone, name), abs=1e-5), name


@given(plates())
@settings(max_examples=40, deadline=None)
def test_commons_stand_at_their_pitch_from_plate_to_ridge(shape: Plates) -> None:
    answer = roof(**shape.inputs())
    heights = {"p": point(answer, "ridge_p")[2], "q": point(answer, "ridge_q")[2]}
    for pitch, row in zip(shape.pitches, rows(answer, "slopes"), strict=True):
        lengths = []
        for end, height in heights.items():
            if row[f"run_at_{end}"] is not None:
                assert cell(row, f"pitch_at_{end}") == pytest.approx(pitch, abs=1e-6)
                assert cell(row, f"run_at_{end}") == pytest.approx(height / math.tan(math.radians(pitch)))
                lengths.append(height / math.sin(math.radians(pitch)))
        assert [cell(row, "common_shortest"), cell(row, "common_longest")] == pytest.approx(
            [min(lengths), max(lengths)]
        )
        ridge_side = str(row["side"]).upper() in str(answer.results["ridge_along"])
        assert len(lengths) == (2 if ridge_side else 1)


@given(plates())
@settings(max_examples=30, deadline=None)
def test_naming_the_corners_from_the_next_one_on_gives_the_same_roof(shape: Plates) -> None:
    seen = roof(**shape.inputs())
    turned = Plates(np.roll(shape.corners, -1, axis=0), (*shape.pitches[1:], shape.pitches[0]))
    other = roof(**turned.inputs())
    assert figure(other, "ridge_length") == pytest.approx(figure(seen, "ridge_length"), abs=1e-3)
    lengths = column(seen, "hips", "length")
    assert column(other, "hips", "length") == pytest.approx([*lengths[1:], lengths[0]], abs=1e-3)


@given(plates())
@settings(max_examples=40, deadline=None)
def test_a_level_ridge_is_the_same_on_plan_at_the_mean_height_and_its_slopes_wind(shape: Plates) -> None:
    true, kept = roof(**shape.inputs()), roof(**shape.inputs(), keep="ridge")
    mean = (point(true, "ridge_p")[2] + point(true, "ridge_q")[2]) / 2
    for end in ("ridge_p", "ridge_q"):
        assert list(point(kept, end)) == pytest.approx([*point(true, end)[:2], mean])
    assert figure(kept, "ridge_fall") == 0
    told = {name: figure(kept, f"choice_{name}") for name in ("height", "length", "pitch")}
    assert told == {name: figure(true, f"choice_{name}") for name in told}
    assert told["height"] == pytest.approx(figure(true, "ridge_fall") / 2, abs=1e-9)
    pairs = list(zip(rows(true, "slopes"), rows(kept, "slopes"), strict=True))
    pitches = [
        abs(cell(one, name) - cell(other, name))
        for one, other in pairs
        for name in ("pitch_at_p", "pitch_at_q")
        if one[name] is not None
    ]
    assert told["pitch"] == pytest.approx(max(pitches), abs=1e-9)
    hips = zip(column(true, "hips", "length"), column(kept, "hips", "length"), strict=True)
    assert max(abs(one - other) for one, other in hips) <= told["length"] + 1e-9
    for row in rows(kept, "slopes"):
        for end in ("p", "q"):
            if row[f"run_at_{end}"] is not None:
                tangent = math.tan(math.radians(cell(row, f"pitch_at_{end}")))
                assert cell(row, f"run_at_{end}") * tangent == pytest.approx(mean)


def test_between_slopes_of_one_pitch_the_ridge_kept_level_is_midway_between_its_plates() -> None:
    slopes = by_name(roof(**MEASURED, pitch=35, keep="ridge"), "slopes", "side")
    for end in ("run_at_p", "run_at_q"):
        assert cell(slopes["ab"], end) == pytest.approx(cell(slopes["cd"], end))


def test_four_equal_plates_of_one_pitch_make_a_pyramid() -> None:
    """Equilateral square pyramid: hips as long as the eaves at 54.7356 degrees (Wikipedia, Square pyramid)."""
    answer = roof(length=5000, width=5000, pitch=54.735610317)
    assert figure(answer, "ridge_length") == pytest.approx(0, abs=1e-6)
    assert column(answer, "hips", "length") == pytest.approx([5000] * 4)
    assert any("meet at a point" in note for note in answer.notes)


def test_the_ridge_runs_along_the_longer_plates() -> None:
    answer = roof(length=6000, width=9000, pitch=35)
    assert answer.results["ridge_along"] == "BC DA"
    assert list(point(answer, "ridge_p")) == pytest.approx([3000, 3000, 2100.6226])
    assert list(point(answer, "ridge_q")) == pytest.approx([3000, 6000, 2100.6226])


def test_lengths_that_do_not_agree_are_told_before_anything_is_cut() -> None:
    wrong = MEASURED | {"ac": 10890}
    assert any("squareness" in note for note in roof(**wrong, pitch=35).notes)
    assert not any("squareness" in note for note in roof(**MEASURED, pitch=35).notes)


@given(
    length=st.floats(7000, 20_000),
    width=st.floats(3000, 6000),
    pitches=st.tuples(*[st.floats(30, 60)] * 4),
)
@settings(max_examples=40, deadline=None)
def test_the_ridge_between_two_hips_is_the_ridge_of_the_roof(
    length: float, width: float, pitches: tuple[float, float, float, float]
) -> None:
    own = {f"pitch_{side}": pitch for side, pitch in zip(SIDES, pitches, strict=True)}
    whole = roof(length=length, width=width, **own)
    assume(whole.results["ridge_along"] == "AB CD")
    alone = ridge(length=length, width=width, **own)
    assert figure(alone, "ridge_length") == pytest.approx(figure(whole, "ridge_length"))
    assert figure(alone, "rise") == pytest.approx(point(whole, "ridge_p")[2])


def test_each_hipped_end_takes_one_run_off_the_ridge_and_adds_half_a_common_to_its_cut() -> None:
    """Common practice: half of 47 at each hipped end. 9000 less 3000 for each."""
    for hips, centres, cut in ((2, 3000, 3047), (1, 6000, 6023.5), (0, 9000, 9000)):
        answer = ridge(length=9000, width=6000, pitch=35, hips=hips, thickness=47)
        assert figure(answer, "ridge_length") == pytest.approx(centres)
        assert figure(answer, "cut_length") == pytest.approx(cut)


def test_a_gable_asks_no_pitch() -> None:
    assert figure(ridge(length=9000, width=6000, pitch_ab=35, pitch_cd=35, hips=0), "ridge_length") == 9000
    with pytest.raises(Refusal, match="needs a pitch for BC"):
        ridge(length=9000, width=6000, pitch_ab=35, pitch_cd=35, hips=1)


def test_a_ridge_longer_than_any_stock_is_a_joint_for_the_engineer() -> None:
    answer = ridge(length=15_000, width=6000, pitch=35)
    assert answer.results["order_length"] is None
    assert answer.cautions == ("joint-engineer",)


def dart(d: tuple[float, float]) -> dict[str, float]:
    """Plates on a square of 6000 whose corner D has been moved."""
    return Plates(np.array([[0, 0], [6000, 0], [6000, 6000], d]), (35, 35, 35, 35)).inputs()


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        (dart((4000, 2500)), "turn in, or run straight on, at corner D"),
        (dart((0, 0.5)) | {"da": 0}, "da is 0"),
        ({"pitch": 35}, "give the six lengths ab, bc, cd, da, ac, bd, or length and width"),
        ({"pitch": 35, "ab": 9000, "bc": 6000}, "cd, da, ac, bd missing"),
        ({"pitch": 35, "length": 9000}, "or length and width"),
        ({"pitch": 35, "length": 9000, "width": 6000, **MEASURED}, "or length and width"),
        ({"length": 9000, "width": 6000}, "needs a pitch for AB: give pitch= or pitch_ab="),
        ({"length": 9000, "width": 6000, "pitch_ab": 35}, "needs a pitch for BC"),
        ({**MEASURED, "ac": 16_000, "pitch": 35}, "AC 16000 can't be longer than"),
        ({"length": 9000, "width": 6000, "pitch": 90}, "at most 89.9"),
        ({"length": 9000, "width": 6000, "pitch": 35, "keep": "both"}, "one of pitch, ridge"),
    ],
)
def test_a_roof_that_cannot_be_is_refused(inputs: dict[str, float | str], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        roof(**inputs)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"length": 6000}, "leave no ridge between the hips"),
        ({"length": 5000}, "the ridge runs the other way"),
        ({"hips": 3}, "at most 2"),
        ({"hips": 1.5}, "it must be a whole number"),
        ({"pitch": None}, "needs a pitch for AB"),
        ({"width": 0}, "over 0"),
    ],
)
def test_a_ridge_that_cannot_be_is_refused(inputs: dict[str, float | None], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        ridge(**{"length": 9000, "width": 6000, "pitch": 35, **inputs})

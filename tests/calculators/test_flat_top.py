"""A hipped roof cut off by a flat: to the agreed digits, and as a level slice of the heap of planes, in numpy."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.rafters.flat_top import flat_top
from sitelog.calculators.rafters.roof import roof
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, column, figure, figures, row_of, rows
from tests.calculators.test_roof import MEASURED, Plates, plates

Array = NDArray[np.float64]
SQUARE = {"length": 9000, "width": 6000, "pitch": 35}
IN = 1400 / math.tan(math.radians(35))  # 1999.41


def slice_at(shape: Plates, rise: float) -> list[Array]:
    """The corners of the roof's level slice at that height, over A to D; one that a slope cuts off is left out."""
    matrix, bound = shape.slopes()
    room = bound - matrix[:, 2] * rise
    found = []
    for corner in range(4):
        pair = [corner - 1, corner]
        place: Array = np.asarray(np.linalg.solve(matrix[pair, :2], room[pair]), dtype=np.float64)
        if np.all(matrix[:, :2] @ place <= room + 1e-7):
            found.append(place)
    return found


@st.composite
def under_a_table(draw: st.DrawFn) -> Plates:
    """Plates whose hips lead away from no edge of the table.

    Where corner C is over 90, the steeper of its slopes rises less than 1 / -cos C as fast as the other.
    """
    shape = draw(plates())
    lowest, highest = draw(st.floats(15, 50)), 65.0
    along: Array = np.roll(shape.corners, -1, axis=0) - shape.corners
    along /= np.linalg.norm(along, axis=1)[:, None]
    for corner in range(4):
        cosine = float(-along[corner - 1] @ along[corner])
        if cosine < 0:
            highest = min(highest, math.degrees(math.atan(math.tan(math.radians(lowest)) / -cosine)) - 0.01)
    pitch = st.floats(lowest, max(lowest, highest))
    return Plates(shape.corners, (draw(pitch), draw(pitch), draw(pitch), draw(pitch)))


def ridge_heights(shape: Plates) -> list[float]:
    """The two ends of the ridge over the plates, the lower first."""
    whole = roof(**shape.inputs())
    ends = (whole.results[name] for name in ("ridge_p", "ridge_q"))
    return sorted(cell(end, "z") for end in ends if isinstance(end, dict))


def test_a_table_at_1400_on_9000_by_6000_at_35_comes_out_to_the_printed_digits() -> None:
    """1400 / tan 35 = 1999.41 in; 9000 and 6000 less twice that; hips 1400 root(1 + 2 / tan^2 35)."""
    answer = flat_top(**SQUARE, rise=1400)
    assert column(answer, "sides", "length") == pytest.approx([5001.19, 2001.19] * 2, abs=5e-3)
    assert column(answer, "sides", "offset_in") == pytest.approx([1999.41] * 4, abs=5e-3)
    assert column(answer, "top", "hip_length") == pytest.approx([3155.20] * 4, abs=5e-3)
    assert column(answer, "top", "hip_pitch") == pytest.approx([26.341] * 4, abs=5e-4)
    assert figures(answer, "diagonal_ac", "diagonal_bd") == pytest.approx([math.hypot(5001.19, 2001.19)] * 2, abs=0.01)
    assert answer.verdict is None


@given(shape=under_a_table(), share=st.floats(0.05, 0.95))
@settings(max_examples=80, deadline=None)
def test_the_table_is_the_level_slice_of_the_roof_under_its_ridge(shape: Plates, share: float) -> None:
    """Every corner of the slice stands: no slope cuts it off below the lower end of the ridge."""
    rise = share * ridge_heights(shape)[0]
    answer = flat_top(**shape.inputs(), rise=rise)
    drawn = slice_at(shape, rise)
    assert len(drawn) == 4
    sides = [float(np.linalg.norm(drawn[(side + 1) % 4] - drawn[side])) for side in range(4)]
    assert column(answer, "sides", "length") == pytest.approx(sides, abs=1e-3)
    assert figure(answer, "diagonal_ac") == pytest.approx(np.linalg.norm(drawn[2] - drawn[0]), abs=1e-3)
    assert figure(answer, "diagonal_bd") == pytest.approx(np.linalg.norm(drawn[3] - drawn[1]), abs=1e-3)
    runs = [float(np.linalg.norm(place - corner)) for place, corner in zip(drawn, shape.corners, strict=True)]
    assert column(answer, "top", "hip_run") == pytest.approx(runs, abs=1e-3)
    assert column(answer, "top", "hip_length") == pytest.approx([math.hypot(run, rise) for run in runs], abs=1e-3)
    assert column(answer, "top", "hip_pitch") == pytest.approx([math.degrees(math.atan2(rise, run)) for run in runs])
    matrix, _ = shape.slopes()
    for side, offset in enumerate(column(answer, "sides", "offset_in")):
        # Square in from the plate's own line to the table's edge.
        level = matrix[side, :2] / np.linalg.norm(matrix[side, :2])
        assert offset == pytest.approx(-level @ (drawn[side] - shape.corners[side]), abs=1e-3)
    prove_working(answer, rel=1e-8)


@given(shape=under_a_table(), place=st.sampled_from(("under", "between", "over")), share=st.floats(0.01, 0.99))
@settings(max_examples=60, deadline=None)
def test_a_rise_is_refused_where_the_slice_has_lost_a_corner_and_only_there(
    shape: Plates, place: str, share: float
) -> None:
    """Under, between and over the heights of a falling ridge's two ends."""
    low, high = ridge_heights(shape)
    assume(high - low > 1)
    rise = {"under": low * share, "between": low + share * (high - low), "over": high * (1 + share)}[place]
    if len(slice_at(shape, rise)) == 4:
        flat_top(**shape.inputs(), rise=rise)
    else:
        with pytest.raises(Refusal, match="no table is left"):
            flat_top(**shape.inputs(), rise=rise)


def test_on_plates_as_measured_the_table_follows_them() -> None:
    """Its corners from its own outline: the six lengths between them are the ones told."""
    answer = flat_top(**MEASURED, pitch=35, rise=1400)
    points = [np.array([cell(row, "x"), cell(row, "y")]) for row in rows(answer, "outline")]
    told = dict(zip(("ab", "bc", "cd", "da"), column(answer, "sides", "length"), strict=True))
    told |= {"ac": figure(answer, "diagonal_ac"), "bd": figure(answer, "diagonal_bd")}
    for (one, start), (other, end) in itertools.combinations(zip("abcd", points, strict=True), 2):
        pair = one + other if one + other != "ad" else "da"
        assert told[pair] == pytest.approx(np.linalg.norm(end - start)), pair


def test_a_table_out_of_square_by_over_10_between_its_diagonals_is_told() -> None:
    """The firm's limit for plates. At 30 between those of the plates, 11 are left at the table."""
    racked = flat_top(**MEASURED | {"ac": 10836, "bd": 10806}, pitch=35, rise=1400)
    assert any("its diagonals differ by 11 mm" in note for note in racked.notes)
    assert not any("diagonals" in note for note in flat_top(**MEASURED, pitch=35, rise=1400).notes)


def test_the_outline_is_the_corners_over_a_to_d() -> None:
    answer = flat_top(**SQUARE, rise=1400)
    assert [row["corner"] for row in rows(answer, "top")] == ["a", "b", "c", "d"]
    assert [row["n"] for row in rows(answer, "outline")] == [1, 2, 3, 4]
    for axis in "xy":
        assert column(answer, "outline", axis) == column(answer, "top", axis)
    assert column(answer, "outline", "x") == pytest.approx([IN, 9000 - IN, 9000 - IN, IN])
    assert column(answer, "outline", "y") == pytest.approx([IN, IN, 6000 - IN, 6000 - IN])


def test_a_run_in_from_ab_sets_the_rise_for_every_side() -> None:
    """45 degrees on AB: in as far as up, 1200. At 30 on the others 1200 / tan 30 = 2078.46."""
    answer = flat_top(length=9000, width=6000, pitch=30, pitch_ab=45, run=1200)
    assert figure(answer, "rise") == pytest.approx(1200)
    assert column(answer, "sides", "offset_in") == pytest.approx([1200, 2078.46, 2078.46, 2078.46], abs=5e-3)


# -- walls under the table: distances, and no verdict


def test_a_wall_that_is_not_central_is_a_distance_and_no_fault() -> None:
    """1999.41 in to the table; a wall at 2500 on one side and at 1000 on the other, 25 of board and dabs on each."""
    answer = flat_top(**SQUARE, rise=1400, wall_ab=2500, wall_cd=1000, wall_lining=25)
    assert answer.verdict is None
    assert not any("wall" in note for note in answer.notes)
    by_side = {str(row["side"]): row for row in rows(answer, "sides")}
    assert cell(by_side["ab"], "finished_wall") == 2525
    assert cell(by_side["ab"], "wall_to_table") == pytest.approx(IN - 2525)
    assert cell(by_side["cd"], "wall_to_table") == pytest.approx(IN - 1025)
    assert by_side["bc"]["finished_wall"] is None and by_side["bc"]["wall_to_table"] is None


def test_what_once_judged_a_wall_is_still_taken_and_judges_nothing() -> None:
    assert flat_top(**SQUARE, rise=1400, wall_ab=500, tolerance=5, tape="I").verdict is None


# -- the rafter on the floor, and the hips' heads

UNEQUAL = {
    "length": 9000,
    "width": 6000,
    "pitch_ab": 35,
    "pitch_bc": 45,
    "pitch_cd": 40,
    "pitch_da": 50,
    "rise": 1200,
    "floor": 450,
    "finish": 40,
    "lining": 27.5,
    "wall_ab": 1500,
    "wall_cd": 1250,
    "wall_lining": 25,
    "hip_thickness": 63,
}


def test_equal_pitches_on_square_corners_cut_both_cheeks_at_45_and_half_the_thickness_past() -> None:
    answer = flat_top(**SQUARE, rise=1400)
    for head in rows(answer, "heads"):
        assert cell(head, "bevel_from_square") == pytest.approx(48.134, abs=5e-4)
        assert cell(head, "saw_tilt") == pytest.approx(45)
        assert cell(head, "past_level") == pytest.approx(23.5)
        assert cell(head, "past_along") == pytest.approx(26.223, abs=5e-4)
    for clip in rows(answer, "clips"):
        assert [cell(clip, "mark_1"), cell(clip, "mark_2")] == pytest.approx([33.23] * 2, abs=5e-3)
        assert cell(clip, "hip_length") == pytest.approx(3181.42, abs=5e-3)
    assert column(answer, "elevation", "foot_below_table") == pytest.approx([61.04] * 4, abs=5e-3)
    assert figures(answer, "stud_top", "stud_length") == pytest.approx([1306, 1259])


def test_unequal_pitches_over_a_floor_come_out_to_the_printed_digits() -> None:
    answer = flat_top(**UNEQUAL)
    to_table = [row["wall_to_table"] for row in rows(answer, "sides")]
    assert to_table == [pytest.approx(188.78, abs=5e-3), None, pytest.approx(155.10, abs=5e-3), None]
    for side, plan, bevel, tilt, past, along in (
        ("da", 30.44, 63.30, 59.56, 53.61, 62.63),
        ("ab", 59.56, 34.46, 30.44, 18.51, None),
    ):
        head = row_of(answer, "heads", corner="a", side=side)
        found = [cell(head, name) for name in ("plan_angle", "bevel_from_square", "saw_tilt", "past_level")]
        assert found == pytest.approx([plan, bevel, tilt, past], abs=5e-3)
        assert along is None or cell(head, "past_along") == pytest.approx(along, abs=5e-3)
    clip = row_of(answer, "clips", corner="a")
    found = [cell(clip, name) for name in ("clip_back", "mark_1", "mark_2", "clip_width", "hip_length")]
    assert found == pytest.approx([53.61, 62.18, 105.83, 122.75, 2384.46], abs=5e-3)
    assert figures(answer, "stud_length", "ceiling_height") == pytest.approx([1549, 1622.5])
    assert cell(row_of(answer, "elevation", side="da"), "foot_at_cut") == pytest.approx(1572.21, abs=5e-3)


def test_plates_as_measured_come_out_to_the_printed_digits() -> None:
    answer = flat_top(**MEASURED, pitch=35, rise=1400, hip_thickness=94)
    for side in ("da", "ab"):
        head = row_of(answer, "heads", corner="a", side=side)
        assert [cell(head, "plan_angle"), cell(head, "past_level")] == pytest.approx([44.96, 47.06], abs=5e-3)
    for side in ("ab", "bc"):
        assert cell(row_of(answer, "heads", corner="b", side=side), "past_level") == pytest.approx(46.86, abs=5e-3)
    assert cell(row_of(answer, "clips", corner="a"), "clip_width") == pytest.approx(94, abs=5e-3)


@given(shape=under_a_table(), share=st.floats(0.1, 0.9), thickness=st.floats(30, 100))
@settings(max_examples=60, deadline=None)
def test_each_cheek_stands_on_its_edge_of_the_table_and_a_clipped_head_bears_whole(
    shape: Plates, share: float, thickness: float
) -> None:
    """By points: the face of the hip is carried on to the table's edge, drawn from the slice of the planes."""
    rise = share * ridge_heights(shape)[0]
    top = slice_at(shape, rise)
    answer = flat_top(**shape.inputs(), rise=rise, hip_thickness=thickness)
    for corner, name in enumerate("abcd"):
        up = top[corner] - shape.corners[corner]
        run = float(np.linalg.norm(up))
        slope = math.hypot(run, rise) / run
        ahead = up / run
        left = np.array([-ahead[1], ahead[0]])
        backs = []
        for off, other, side in ((left, corner - 1, "dcba"[::-1][corner - 1]), (-left, (corner + 1) % 4, name)):
            edge = top[other] - top[corner]
            # corner + that part of edge = corner + half * off + past * ahead
            _, past = np.linalg.solve(np.column_stack([edge, -ahead]), thickness / 2 * off)
            head = row_of(answer, "heads", corner=name, side={"a": "ab", "b": "bc", "c": "cd", "d": "da"}[side])
            assert cell(head, "past_level") == pytest.approx(past, rel=1e-6, abs=1e-3)
            assert cell(head, "past_along") == pytest.approx(past * slope, rel=1e-6, abs=1e-3)
            bevel = math.degrees(math.atan2(past * slope, thickness / 2))
            assert cell(head, "bevel_from_square") == pytest.approx(bevel, abs=1e-4)
            backs.append(past)
        clip = row_of(answer, "clips", corner=name)
        back = max(backs)
        assert cell(clip, "clip_back") == pytest.approx(back, rel=1e-6, abs=1e-3)
        # The cut crosses both edges, square to the hip, that far ahead of the corner.
        ends = []
        for key, other in (("mark_1", corner - 1), ("mark_2", (corner + 1) % 4)):
            edge = (top[other] - top[corner]) / np.linalg.norm(top[other] - top[corner])
            ends.append(top[corner] + back / (edge @ ahead) * edge)
            assert cell(clip, key) == pytest.approx(back / (edge @ ahead), rel=1e-6, abs=1e-3)
        assert cell(clip, "clip_width") == pytest.approx(np.linalg.norm(ends[1] - ends[0]), rel=1e-6, abs=1e-3)
        assert cell(clip, "clip_width") >= thickness - 1e-6
        assert cell(clip, "hip_length") == pytest.approx((run + back) * slope, rel=1e-6, abs=1e-3)
    prove_working(answer, rel=1e-8)


@pytest.mark.parametrize("pitch", [20.0, 35.0, 50.0])
def test_the_rafter_on_the_floor_is_a_board_laid_through_the_birdsmouths_corner(pitch: float) -> None:
    """Its bottom edge at the head, by a line at the pitch through the seat's inner end."""
    answer = flat_top(length=9000, width=7000, pitch=pitch, rise=700, floor=300, section=Section(47, 200))
    row = rows(answer, "elevation")[0]
    slope, run = math.tan(math.radians(pitch)), 700 / math.tan(math.radians(pitch))
    bottom = 300 + (run - cell(row, "seat_length")) * slope  # the seat's inner end is on the bottom edge
    top = 300 + cell(row, "height_above_plate") + run * slope
    assert cell(row, "foot_at_cut") == pytest.approx(bottom)
    assert cell(row, "top_at_cut") == pytest.approx(top)
    assert cell(row, "plumb_cut_length") == pytest.approx(top - bottom)
    assert cell(row, "foot_below_table") == pytest.approx(300 + 700 - bottom)
    assert cell(row, "rafter_length") == pytest.approx(math.hypot(run, 700))
    assert cell(row, "trimmer_back_in") == pytest.approx(run + 94)


def test_a_table_too_low_for_any_stud_says_so() -> None:
    assert any("no room for a stud" in note for note in flat_top(**SQUARE, rise=100).notes)


def test_a_hip_that_leads_away_from_an_edge_of_the_table_is_refused() -> None:
    with pytest.raises(Refusal, match="over B is at 122 degrees to an edge"):
        flat_top(ab=9000, bc=6000, cd=9000, da=6000, ac=13500, bd=7033.3, pitch=20, pitch_ab=70, rise=500)


def test_lengths_that_do_not_agree_are_told_before_anything_is_cut() -> None:
    assert any("squareness" in note for note in flat_top(**MEASURED | {"ac": 10890}, pitch=35, rise=1400).notes)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({**SQUARE}, "give rise= or run_in="),
        ({**SQUARE, "rise": 1400, "run": 2000}, "not both"),
        ({**SQUARE, "rise": 2100.63}, "at a rise of 2101: these slopes meet at 2101."),
        ({**SQUARE, "rise": 2500}, "these slopes meet at 2101"),
        ({**SQUARE, "run": 3000}, "no table is left"),
        ({"length": 9000, "width": 6000, "rise": 1400}, "flat-top needs a pitch for AB"),
        ({"length": 9000, "pitch": 35, "rise": 1400}, "flat-top: give the six lengths"),
        ({**SQUARE, "rise": 0}, "over 0"),
        ({**SQUARE, "rise": 1400, "tape": "IV"}, "one of I, II, III"),
        ({**SQUARE, "rise": 1400, "hip_thickness": 0}, "hip_thickness is 0; it must be over 0"),
        (
            {**Plates(np.array([[0, 0], [6000, 0], [6000, 6000], [4000, 2500]]), (35, 35, 35, 35)).inputs(), "rise": 1},
            "flat-top: the plates turn in, or run straight on, at corner D",
        ),
    ],
)
def test_a_table_that_cannot_be_is_refused(inputs: dict[str, float | str], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        flat_top(**inputs)

"""Hips and jacks over any corner: to the agreed digits, and drawn again in numpy, timber and all.

The drawing is another path than the calculators': the corner opens along y, points come from solved equations,
and each angle is read off the places where a cut's plane meets the arrises of a timber.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.rafters.common import common
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import column, figure, figures, rows

Array = NDArray[np.float64]
CORNERS = st.floats(60, 150)
PITCHES = st.floats(10, 70)
RUNS = st.floats(500, 9000)


def turned(angle: float) -> Array:
    """A level unit vector, that many degrees to the right of straight ahead."""
    return np.array([np.sin(np.radians(angle)), np.cos(np.radians(angle))])


def between(a: Array, b: Array) -> float:
    return float(np.degrees(np.arccos(np.clip(a @ b / np.linalg.norm(a) / np.linalg.norm(b), -1, 1))))


@dataclass(frozen=True)
class Drawing:
    """A corner as it looks from outside: plate 1 to the left, plate 2 to the right, straight ahead is y."""

    corner: float
    pitches: tuple[float, float]

    def plate(self, side: int) -> Array:
        return turned(-self.corner / 2 if side == 1 else self.corner / 2)

    def inward(self, side: int) -> Array:
        """Square to the plate, on the side of the other plate."""
        plate, other = self.plate(side), self.plate(3 - side)
        square = other - (other @ plate) * plate
        return np.asarray(square / np.linalg.norm(square))

    def steepness(self, side: int) -> float:
        return float(np.tan(np.radians(self.pitches[side - 1])))

    def head(self, run: float) -> Array:
        """The point of both slopes where side 1's common has gone that far in."""
        rows = [[*(self.steepness(side) * self.inward(side)), -1.0] for side in (1, 2)]
        return np.linalg.solve([*rows, [*self.inward(1), 0.0]], [0.0, 0.0, run])

    def along(self) -> Array:
        head = self.head(1.0)
        return np.asarray(head / np.linalg.norm(head))

    def plan(self) -> Array:
        level = self.along()[:2]
        return np.asarray(level / np.linalg.norm(level))

    def across(self, side: int) -> Array:
        """Level and square to the hip, towards that side's plate."""
        plate = self.plate(side)
        square = plate - (plate @ self.plan()) * self.plan()
        return np.asarray(square / np.linalg.norm(square))

    def height(self, side: int, place: Array) -> float:
        return float(self.steepness(side) * (self.inward(side) @ place))

    def skew(self, side: int, along: Array, thickness: float) -> float:
        """How far apart, along the hip, a cut in the plane of the side's commons meets its two arrises."""
        met = [
            -(half * self.across(1) @ self.plate(side)) / (along[:2] @ self.plate(side))
            for half in (-thickness / 2, thickness / 2)
        ]
        return float(abs(met[0] - met[1]))

    def to_face(self, side: int, at: float, half: float) -> float:
        """Level, from the plate square in to the hip's face that looks to that side."""
        base, wall = at * self.plate(side), half * self.across(side)
        solved = np.linalg.solve(np.column_stack([self.inward(side), -self.plan()]), wall - base)
        return float(solved[0])


def test_a_regular_hip_over_3000_at_35_comes_out_to_the_printed_digits() -> None:
    """tan 35 / root 2 = 0.495122, 26.341 degrees; run 3000 x root 2; ridge 19 x root 2 / cos 26.341."""
    answer = hip(pitch=35, run=3000, section=Section(47, 225), ridge=38)
    printed = {
        "plan_angle_1": (45, 1e-9),
        "plan_angle_2": (45, 1e-9),
        "hip_pitch": (26.341, 5e-4),
        "run": (4242.64, 5e-3),
        "rise": (2100.62, 5e-3),
        "length_on_line": (4734.20, 5e-3),
        "ridge_deduction": (29.98, 5e-3),
        "plumb_cut_from_square": (26.341, 5e-4),
        "seat_cut_from_square": (63.659, 5e-4),
        "backing_1": (23.927, 5e-4),
        "backing_2": (23.927, 5e-4),
        "dihedral": (132.145, 5e-4),
        "edge_bevel_1_from_square": (48.134, 5e-4),
        "edge_bevel_2_from_square": (48.134, 5e-4),
        "saw_tilt_1": (45, 1e-9),
        "drop_1": (23.5 * 0.495122, 5e-4),
        "drop_2": (23.5 * 0.495122, 5e-4),
        "overall_length": (4734.20 - 29.98 + 225 * 0.495122, 0.01),
        "order_length": (5100, 0),
    }
    for name, (expected, tolerance) in printed.items():
        assert figure(answer, name) == pytest.approx(expected, abs=tolerance), name


def test_a_corner_of_100_between_35_and_40_comes_out_to_the_printed_digits() -> None:
    answer = hip(corner=100, pitch=35, pitch2=40, run=3000)
    printed = {
        "plan_angle_1": (56.138, 5e-4),
        "plan_angle_2": (43.862, 5e-4),
        "hip_pitch": (30.175, 5e-4),
        "run": (3612.81, 5e-3),
        "length_on_line": (4179.12, 5e-3),
        "backing_1": (18.639, 5e-4),
        "backing_2": (27.610, 5e-4),
        "dihedral": (133.751, 5e-4),
    }
    for name, (expected, tolerance) in printed.items():
        assert figure(answer, name) == pytest.approx(expected, abs=tolerance), name
    for side, step, tilt in ((1, 1.8193, 56.138), (2, 1.2546, 43.862)):
        jack = jacks(corner=100, pitch=35, pitch2=40, side=side, spacing=400, run=3000)
        assert figure(jack, "difference") / 400 == pytest.approx(step, abs=5e-5)
        assert figure(jack, "saw_tilt") == pytest.approx(tilt, abs=5e-4)


def test_regular_jacks_at_35_step_and_bevel_to_the_printed_digits() -> None:
    answer = jacks(pitch=35, spacing=400, run=3000, hip_thickness=47, thickness=47)
    assert figure(answer, "difference") / 400 == pytest.approx(1.2208, abs=5e-5)
    assert figure(answer, "edge_bevel_from_square") == pytest.approx(50.677, abs=5e-4)
    assert figures(answer, "saw_tilt", "plumb_cut_from_square", "pairs") == pytest.approx([45, 35, 7])


@given(corner=CORNERS, pitch=PITCHES, pitch2=PITCHES, run=RUNS, thickness=st.floats(20, 100))
@settings(max_examples=80, deadline=None)
def test_a_hip_drawn_as_the_meeting_of_two_slopes_has_the_figures_told(
    corner: float, pitch: float, pitch2: float, run: float, thickness: float
) -> None:
    answer = hip(corner=corner, pitch=pitch, pitch2=pitch2, run=run, section=Section(thickness, 225))
    drawing = Drawing(corner, (pitch, pitch2))
    head, along, plan = drawing.head(run), drawing.along(), drawing.plan()
    for side in (1, 2):
        assert figure(answer, f"plan_angle_{side}") == pytest.approx(between(plan, drawing.plate(side)))
    assert figures(answer, "run", "rise", "length_on_line") == pytest.approx(
        [np.linalg.norm(head[:2]), head[2], np.linalg.norm(head)]
    )
    assert figure(answer, "hip_pitch") == pytest.approx(between(along, np.array([*plan, 0])))
    beside = {}
    for side in (1, 2):
        assume(abs(plan @ drawing.plate(side)) > 0.01)
        # A point of the slope beside the hip, brought square to the hip.
        out = drawing.across(side)
        point = np.array([*out, drawing.height(side, out)])
        beside[side] = point - (point @ along) * along
        falls = between(beside[side], np.array([*out, 0]))
        signed = falls if drawing.height(side, out) < 0 else -falls
        assert figure(answer, f"backing_{side}") == pytest.approx(signed, abs=1e-6)
        assert figure(answer, f"drop_{side}") == pytest.approx(-drawing.height(side, out * thickness / 2), abs=1e-6)
        bevel = np.degrees(np.arctan(drawing.skew(side, along, thickness) / thickness))
        assert figure(answer, f"edge_bevel_{side}_from_square") == pytest.approx(bevel, abs=1e-6)
        tilt = np.degrees(np.arctan(drawing.skew(side, plan, thickness) / thickness))
        assert figure(answer, f"saw_tilt_{side}") == pytest.approx(tilt, abs=1e-6)
    assert figure(answer, "dihedral") == pytest.approx(between(beside[1], beside[2]), abs=1e-5)
    prove_working(answer, rel=1e-8)


@given(
    corner=CORNERS,
    pitch=PITCHES,
    pitch2=PITCHES,
    side=st.sampled_from((1, 2)),
    spacing=st.floats(300, 650),
    sizes=st.tuples(st.floats(0, 90), st.floats(20, 75)),
)
@settings(max_examples=80, deadline=None)
def test_hip_jacks_drawn_from_plate_to_face_have_the_lengths_and_cuts_told(
    corner: float, pitch: float, pitch2: float, side: int, spacing: float, sizes: tuple[float, float]
) -> None:
    hip_thickness, thickness = sizes
    drawing = Drawing(corner, (pitch, pitch2))
    plan_angle = between(drawing.plan(), drawing.plate(side))
    assume(plan_angle < 88)
    first = thickness + hip_thickness / np.sin(np.radians(plan_angle))
    run = (first + 3.5 * spacing) * np.tan(np.radians(plan_angle))
    assume(0 < run < 100_000)
    answer = jacks(
        corner=corner,
        pitch=pitch,
        pitch2=pitch2,
        side=side,
        spacing=spacing,
        first=first,
        run=run,
        hip_thickness=hip_thickness,
        thickness=thickness,
    )
    own = (pitch, pitch2)[side - 1]
    centres = [first + spacing * n for n in range(4)]
    assert column(answer, "rows", "at") == pytest.approx(centres)
    for name, aside in (("centre", 0.0), ("long_point", thickness / 2), ("short_point", -thickness / 2)):
        drawn = [drawing.to_face(side, at + aside, hip_thickness / 2) / np.cos(np.radians(own)) for at in centres]
        assert column(answer, "rows", f"length_{name}") == pytest.approx(drawn), name
    slant = column(answer, "rows", "length_long_point")[0] - column(answer, "rows", "length_short_point")[0]
    assert figure(answer, "edge_bevel_from_square") == pytest.approx(np.degrees(np.arctan(slant / thickness)))
    level = slant * np.cos(np.radians(own))
    assert figure(answer, "saw_tilt") == pytest.approx(np.degrees(np.arctan(level / thickness)))
    assert figure(answer, "plumb_cut_from_square") == own
    assert figure(answer, "pairs") == 4
    prove_working(answer, rel=1e-8)


def valley_face(corner: float, pitches: tuple[float, float], side: int, at: float, half: float) -> float:
    """Level, from the line of the plate in to where a rafter of that side leaves the valley's near face.

    Drawn from outside a corner that turns in: both plates come towards the eye, and each slope lies behind its own.
    """
    plates = {1: turned(180 + corner / 2), 2: turned(180 - corner / 2)}
    inward = {}
    for one in (1, 2):
        other = plates[3 - one]
        square = (other @ plates[one]) * plates[one] - other
        inward[one] = square / np.linalg.norm(square)
    steep = {one: np.tan(np.radians(pitches[one - 1])) for one in (1, 2)}
    # Where both slopes are as high as each other: the level direction square to the difference of their slopes.
    apart = steep[1] * inward[1] - steep[2] * inward[2]
    plan = np.array([-apart[1], apart[0]]) / np.linalg.norm(apart)
    plan = plan if plan @ inward[1] > 0 else -plan
    towards = apart / np.linalg.norm(apart) * (1 if side == 1 else -1)  # where the side's own slope is higher
    base, wall = -at * plates[side], half * towards
    return float(np.linalg.solve(np.column_stack([inward[side], -plan]), wall - base)[0])


@given(
    corner=CORNERS,
    pitch=st.floats(20, 55),
    pitch2=st.floats(20, 55),
    side=st.sampled_from((1, 2)),
    sizes=st.tuples(st.floats(0, 90), st.floats(20, 75)),
)
@settings(max_examples=60, deadline=None)
def test_valley_jacks_drawn_from_face_to_ridge_have_the_lengths_told(
    corner: float, pitch: float, pitch2: float, side: int, sizes: tuple[float, float]
) -> None:
    half, aside, run = sizes[0] / 2, sizes[1] / 2, 4000.0
    plan_angle = figure(hip(corner=corner, pitch=pitch, pitch2=pitch2, run=run), f"plan_angle_{side}")
    assume(plan_angle < 85)
    answer = jacks(
        corner=corner,
        pitch=pitch,
        pitch2=pitch2,
        side=side,
        spacing=150,
        first=100,
        run=run,
        hip_thickness=sizes[0],
        thickness=sizes[1],
        on="valley",
    )
    slope = np.cos(np.radians((pitch, pitch2)[side - 1]))
    for name, offset in (("centre", 0.0), ("long_point", -aside), ("short_point", aside)):
        drawn = [
            (run - valley_face(corner, (pitch, pitch2), side, at + offset, half)) / slope
            for at in column(answer, "rows", "at")
        ]
        assert column(answer, "rows", f"length_{name}") == pytest.approx(drawn, abs=1e-6), name
    prove_working(answer, rel=1e-8)


@given(corner=CORNERS, pitch=PITCHES, pitch2=PITCHES, run=RUNS)
@settings(max_examples=40, deadline=None)
def test_seen_in_a_mirror_a_hip_has_its_sides_changed_over_and_is_the_same_timber(
    corner: float, pitch: float, pitch2: float, run: float
) -> None:
    seen = hip(corner=corner, pitch=pitch, pitch2=pitch2, run=run)
    run2 = run * np.tan(np.radians(pitch)) / np.tan(np.radians(pitch2))
    assume(run2 < 200_000)
    mirrored = hip(corner=corner, pitch=pitch2, pitch2=pitch, run=run2)
    swap = str.maketrans("12", "21")
    for name in seen.results.keys() - {"order_length", "ridge_deduction"}:
        other = figure(mirrored, name.translate(swap))
        assert figure(seen, name) == pytest.approx(other, rel=1e-8, abs=1e-8), name


@given(pitch=PITCHES, run=RUNS)
@settings(max_examples=30, deadline=None)
def test_a_jack_where_the_full_commons_begin_is_a_full_common(pitch: float, run: float) -> None:
    """A regular hip of no thickness has run as far along the plate as in: the next jack would be the common."""
    answer = jacks(pitch=pitch, spacing=run / 4, run=run, hip_thickness=0)
    lengths = column(answer, "rows", "length_centre")
    assert len(lengths) == 3
    full = figure(common(run=run, pitch=pitch), "length_on_line")
    assert lengths[-1] + figure(answer, "difference") == pytest.approx(full)


def test_a_tail_runs_out_to_where_the_two_fascias_meet() -> None:
    """Level fascias: side 2's overhang is 300 tan 35 / tan 40, and their corner is on the hip's own line."""
    corner, pitches = 100.0, (35.0, 40.0)
    drawing = Drawing(corner, pitches)
    outs = [300.0, 300 * np.tan(np.radians(35)) / np.tan(np.radians(40))]
    foot = np.linalg.solve([drawing.inward(1), drawing.inward(2)], [-out for out in outs])
    answer = hip(corner=corner, pitch=35, pitch2=40, run=3000, overhang=300)
    length = np.hypot(np.linalg.norm(foot), 300 * np.tan(np.radians(35)))
    assert figure(answer, "tail_length") == pytest.approx(length)
    without = hip(corner=corner, pitch=35, pitch2=40, run=3000)
    assert figure(answer, "overall_length") - figure(without, "overall_length") == pytest.approx(length)


def test_half_the_ridge_is_measured_along_the_hip_from_the_side_the_ridge_runs_by() -> None:
    """Common practice. Half of 38 is 19 square to the ridge; along the hip 19 / sin of its angle to the ridge."""
    for side, angle in ((1, 56.13756), (2, 43.86244)):
        answer = hip(corner=100, pitch=35, pitch2=40, run=3000, ridge=38, ridge_side=side)
        level = 19 / np.sin(np.radians(angle))
        assert figure(answer, "ridge_deduction") == pytest.approx(level / np.cos(np.radians(30.175293)))


def test_the_seat_of_a_dropped_hip_puts_its_arris_level_with_the_commons() -> None:
    """Regular, 35: commons 122.08 over the plate, drop 11.64, so 110.44; 225 - 110.44 cos 26.341 = 126.03 deep."""
    answer = hip(pitch=35, run=3000, section=Section(47, 225), common_height_above_plate=122.077459)
    assert figure(answer, "height_above_plate") == pytest.approx(110.442, abs=5e-4)
    assert figure(answer, "birdsmouth_depth") == pytest.approx(126.025, abs=5e-4)
    assert figure(answer, "seat_length") == pytest.approx(126.025 / np.sin(np.radians(26.341)), abs=0.01)
    assert "notch-engineer" in answer.cautions
    assert "height_above_plate" not in hip(pitch=35, run=3000).results


def test_a_seat_that_runs_past_the_plates_is_told_with_the_hip_that_would_end_with_them() -> None:
    """The seat above, 126.025 / sin 26.341 = 284; plates of 100 are 141 at 45; 126.025 - 141.4 x 0.4437 = 63 less."""

    def seated(depth: float, plate: float) -> Answer:
        return hip(pitch=35, run=3000, section=Section(47, depth), common_height_above_plate=122.077459, plate=plate)

    [note] = (one for one in seated(225, 100).notes if "along the hip" in one)
    assert "the seat is 284 long and the plates are only 141 along the hip;" in note
    assert "a hip 162 deep" in note
    assert figure(seated(161.73, 100), "seat_length") == pytest.approx(100 * 2**0.5, abs=0.05)
    assert not any("along the hip" in one for one in seated(225, 250).notes)


def test_a_hip_between_unequal_slopes_is_dropped_by_the_larger_drop() -> None:
    answer = hip(corner=100, pitch=35, pitch2=40, run=3000, common_height_above_plate=130)
    drops = figures(answer, "drop_1", "drop_2")
    assert drops[1] > drops[0]
    assert figure(answer, "height_above_plate") == pytest.approx(130 - drops[1])
    assert any("14 mm, the larger" in note for note in answer.notes)
    assert hip(pitch=35, run=3000).notes == ()


def test_every_hip_is_the_engineers() -> None:
    """Its section is never decided here."""
    assert "hip-engineer" in hip(pitch=35, run=3000).cautions


def test_a_shallow_slope_beside_a_steep_one_may_have_no_jacks_at_all() -> None:
    """Corner 150, 10 against 70 degrees: the hip runs 148 degrees from the shallow plate, away from its rafters."""
    answer = hip(corner=150, pitch=10, pitch2=70, run=3000)
    assert figure(answer, "plan_angle_1") > 90
    assert figure(answer, "backing_1") < 0
    assert any("runs away from side 1" in note for note in answer.notes)
    with pytest.raises(Refusal, match="no jack on that side meets it"):
        jacks(corner=150, pitch=10, pitch2=70, run=3000, spacing=400, side=1)
    assert rows(jacks(corner=150, pitch=10, pitch2=70, run=3000, spacing=400, side=2, first=9000), "rows")


def test_the_first_jack_is_one_spacing_from_the_corner_if_nothing_else_is_said() -> None:
    unsaid = jacks(pitch=35, spacing=450, run=3000)
    assert unsaid.results == jacks(pitch=35, spacing=450, first=450, run=3000).results


def test_a_cut_that_many_saws_cannot_tilt_to_is_told() -> None:
    """Over 45 degrees (common practice): at 56.1 on side 1 and not at 43.9 on side 2, nor at 45 both sides."""
    inputs = {"corner": 100, "pitch": 35, "pitch2": 40, "run": 3000}
    assert [note for note in hip(**inputs).notes if "saw tilt 1 is over 45" in note]
    assert not [note for note in hip(**inputs).notes if "saw tilt 2" in note]
    for side, told in ((1, True), (2, False)):
        notes = jacks(**inputs, spacing=400, side=side).notes
        assert any("saw tilt is over 45" in note for note in notes) == told
    assert hip(pitch=35, run=3000).notes == ()


def test_an_irregular_corner_says_that_its_other_side_is_another_list() -> None:
    assert any("side 2" in note for note in jacks(corner=95, pitch=35, spacing=400, run=3000, pitch2=36).notes)
    assert jacks(pitch=35, spacing=400, run=3000).notes == ()


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"corner": 0}, "over 0"),
        ({"corner": 180}, "under 180"),
        ({"pitch": 0}, "at least 0.1"),
        ({"pitch2": 90}, "at most 89.9"),
        ({"pitch": 89.999999, "pitch2": 1e-9}, "at most 89.9"),
        ({"run": 0}, "over 0"),
        ({"ridge_side": 3}, "ridge_side is 3; give 1 "),
        ({"run": 20, "ridge": 45}, "leaves no hip."),
        ({"common_height_above_plate": 5}, "the commons' 5 above the plate:"),
        ({"common_height_above_plate": 300}, "it 259 deep, or pack it up"),
        ({"section": Section(-1, 200)}, "thickness is -1"),
    ],
)
def test_a_hip_that_cannot_be_is_refused(inputs: dict[str, float | Section], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        hip(**{"pitch": 35, "run": 3000, **inputs})


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"spacing": 1}, "2999 jacks; at most 2000"),
        ({"spacing": 1e-9}, "at most 2000"),
        ({"first": 30}, "would clash with the hip; it must be over 57"),
        ({"first": 3000}, "must be under 3000, where the full commons begin"),
        ({"first": 3000, "on": "valley"}, "must be under 3000"),
        ({"first": 2990, "on": "valley"}, "the valley is at the ridge already"),
        ({"side": 3}, "side is 3"),
        ({"on": "ridge"}, "one of hip, valley"),
    ],
)
def test_jacks_that_cannot_be_are_refused(inputs: dict[str, float | str], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        jacks(**{"pitch": 35, "run": 3000, "spacing": 400, **inputs})


def test_the_least_first_jack_told_is_one_that_stands() -> None:
    """Its near face just clears the hip's: 47/2 along the plate and 23.5 root 2 for the hip, 56.73."""
    least = 23.5 + 23.5 * 2**0.5
    assert rows(jacks(pitch=35, run=3000, spacing=400, first=least + 0.01), "rows")
    with pytest.raises(Refusal):
        jacks(pitch=35, run=3000, spacing=400, first=least - 0.01)


@pytest.mark.parametrize(
    ("run", "last", "notes"),
    [
        (2846, 2623, 1),  # at the spacing it would stand at 2800, 46 from the common: midway of 2400 and 2846 is 2623
        (2848, 2800, 0),  # more than a thickness clear of it
    ],
)
def test_the_last_jack_never_touches_the_common_at_the_ridge_s_end(run: float, last: float, notes: int) -> None:
    """At 90 degrees and one pitch the commons begin as far along as they run: by hand."""
    answer = jacks(pitch=35, spacing=400, run=run, thickness=47)
    at = rows(answer, "rows")[-1]["at"]
    assert at == pytest.approx(last)
    assert sum("would touch the common" in note for note in answer.notes) == notes


@pytest.mark.parametrize(("corner", "told"), [(90.0, False), (89.95, False), (90.05, False), (92.0, True)])
def test_a_saw_that_tilts_to_45_cuts_a_corner_that_is_square_as_far_as_it_can_be_set(corner: float, told: bool) -> None:
    """Between equal slopes it is the plan angle, half the corner: 45.025 at 90.05, shown and set as 45.0; 46 at 92."""
    section = Section(47, 225)
    notes = [
        *hip(run=3000, pitch=35, corner=corner, section=section).notes,
        *jacks(run=3000, pitch=35, corner=corner, spacing=400, hip_thickness=47, thickness=47).notes,
    ]
    assert any("many saws" in note for note in notes) is told

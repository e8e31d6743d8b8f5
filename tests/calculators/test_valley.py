"""The valley rafter: to print, as the hip's own line, and drawn again in numpy from outside a corner that turns in."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators.ask import ask
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.rafters.valley import valley
from sitelog.drawing.index import drawings_of
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, figure, figures, rows
from tests.calculators.test_hips import between, turned

Array = NDArray[np.float64]
CORNERS = st.floats(60, 150)
PITCHES = st.floats(10, 70)
FOOT, INCH = 304.8, 25.4


@dataclass(frozen=True)
class Drawing:
    """A corner that turns in, seen from outside: both plates come towards the eye, each slope rises behind its own."""

    corner: float
    pitches: tuple[float, float]

    def plate(self, side: int) -> Array:
        return turned(180 + self.corner / 2 if side == 1 else 180 - self.corner / 2)

    def inward(self, side: int) -> Array:
        """Square to the plate, away from the other plate."""
        plate, other = self.plate(side), self.plate(3 - side)
        square = (other @ plate) * plate - other
        return np.asarray(square / np.linalg.norm(square))

    def height(self, side: int, place: Array) -> float:
        return float(np.tan(np.radians(self.pitches[side - 1])) * (self.inward(side) @ place))

    def head(self, run: float) -> Array:
        """The point of both slopes where side 1's common has gone that far in."""
        steep = [np.tan(np.radians(pitch)) for pitch in self.pitches]
        slopes = [[*(steep[side - 1] * self.inward(side)), -1.0] for side in (1, 2)]
        return np.linalg.solve([*slopes, [*self.inward(1), 0.0]], [0.0, 0.0, run])

    def out(self, side: int, plan: Array) -> Array:
        """Level and square to the valley, towards that side's slope."""
        square = self.plate(side) - (self.plate(side) @ plan) * plan
        return np.asarray(square / np.linalg.norm(square))


@given(corner=CORNERS, pitch=PITCHES, pitch2=PITCHES, run=st.floats(500, 9000), thickness=st.floats(20, 100))
@settings(max_examples=80, deadline=None)
def test_a_valley_drawn_as_the_meeting_of_two_slopes_has_the_figures_told(
    corner: float, pitch: float, pitch2: float, run: float, thickness: float
) -> None:
    answer = valley(corner=corner, pitch=pitch, pitch2=pitch2, run=run, section=Section(thickness, 225))
    drawing = Drawing(corner, (pitch, pitch2))
    head = drawing.head(run)
    along, plan = head / np.linalg.norm(head), head[:2] / np.linalg.norm(head[:2])
    square = np.array([*(-along[2] * plan), along[:2] @ plan])
    assert figures(answer, "run", "rise", "length_on_line") == pytest.approx(
        [np.linalg.norm(head[:2]), head[2], np.linalg.norm(head)]
    )
    assert figure(answer, "hip_pitch") == pytest.approx(between(along, np.array([*plan, 0])))
    beside = {}
    for side in (1, 2):
        plate, out = drawing.plate(side), drawing.out(side, plan)
        assume(abs(plan @ plate) > 0.01)
        assert figure(answer, f"plan_angle_{side}") == pytest.approx(between(plan, -plate))
        # Off the line, the roof is the higher of the two slopes: there it is this side's.
        assert drawing.height(side, out) > drawing.height(3 - side, out)
        point = np.array([*out, drawing.height(side, out)])
        beside[side] = point - (point @ along) * along
        hollow = np.degrees(np.arctan2(beside[side] @ square, beside[side][:2] @ out))
        assert figure(answer, f"backing_{side}") == pytest.approx(hollow, abs=1e-6)
        assert figure(answer, f"drop_{side}") == pytest.approx(drawing.height(side, out * thickness / 2), abs=1e-6)
        inward = drawing.inward(side)  # a ridge along the plate is square to it
        assume(abs(plan @ inward) > 0.01)
        for name, line, cut in (
            (f"edge_bevel_{side}_from_square", along, plate),
            (f"saw_tilt_{side}", plan, plate),
            (f"ridge_bevel_{side}_from_square", along, inward),
            (f"ridge_tilt_{side}", plan, inward),
        ):
            met = [-(half * out @ cut) / (line[:2] @ cut) for half in (-thickness / 2, thickness / 2)]
            assert figure(answer, name) == pytest.approx(np.degrees(np.arctan(abs(met[0] - met[1]) / thickness)))
    assert figure(answer, "dihedral") == pytest.approx(between(beside[1], beside[2]), abs=1e-5)
    prove_working(answer, rel=1e-8)


def test_a_valley_is_the_line_and_the_cuts_of_a_hip_over_the_same_corner() -> None:
    """But for the tail: a hip's is a point on its centre, a valley's is hollow, so that its faces are longer."""
    same = {"corner": 100, "pitch": 35, "pitch2": 40, "run": 3000, "ridge": 38, "overhang": 300}
    one, other = valley(**same), hip(**same)
    own = {"overall_on_centre", "tail_past_1", "tail_past_2", "overall_length", "order_length", "mass"}
    own |= {f"ridge_{cut}" for side in (1, 2) for cut in (f"bevel_{side}_from_square", f"tilt_{side}")}
    assert {name: size for name, size in one.results.items() if name not in own} == {
        name: size for name, size in other.results.items() if name not in own
    }
    assert one.results["overall_on_centre"] == other.results["overall_length"]


def test_the_tail_of_a_valley_is_hollow_so_that_its_faces_are_longer_than_its_centre() -> None:
    """By hand at 35, 47 thick: each fascia leaves the centre line at 45 on plan, so a face half of 47 to the side meets
    it 23.5 further out, level; along the valley 23.5 / cos(26.341) = 26.22. Ordered by its centre it would be short."""
    answer = valley(pitch=35, run=3000, overhang=300)
    assert figures(answer, "tail_past_1", "tail_past_2") == pytest.approx([26.22, 26.22], abs=0.005)
    assert figure(answer, "overall_length") - figure(answer, "overall_on_centre") == pytest.approx(26.22, abs=0.005)


@given(corner=CORNERS, pitch=PITCHES, pitch2=PITCHES, thickness=st.floats(20, 100), overhang=st.floats(0, 600))
@settings(max_examples=60, deadline=None)
def test_each_face_of_a_valley_runs_down_to_its_own_fascia(
    corner: float, pitch: float, pitch2: float, thickness: float, overhang: float
) -> None:
    """The fascia of side k is level, square to that side's commons; where a line on the face meets it, in numpy."""
    answer = valley(
        corner=corner, pitch=pitch, pitch2=pitch2, run=3000, section=Section(thickness, 225), overhang=overhang
    )
    drawing = Drawing(corner, (pitch, pitch2))
    head = drawing.head(3000)
    plan, run = head[:2] / np.linalg.norm(head[:2]), np.linalg.norm(head[:2])
    down = {}
    for side in (1, 2):
        out = overhang * (1 if side == 1 else np.tan(np.radians(pitch)) / np.tan(np.radians(pitch2)))
        inward = drawing.inward(side)
        assume(abs(inward @ plan) > 0.05)
        for place, face in (("centre", 0.0), (side, thickness / 2)):
            start = face * drawing.out(side, plan)
            down[place] = (out + inward @ start) / (inward @ plan) * np.linalg.norm(head) / run
        assert figure(answer, f"tail_past_{side}") == pytest.approx(down[side] - down["centre"], abs=1e-6)
    longest = max(down[1], down[2]) - down["centre"]
    assert figure(answer, "overall_length") - figure(answer, "overall_on_centre") == pytest.approx(longest, abs=1e-6)


@pytest.mark.parametrize("head", ["pointed", "square"])
def test_a_valley_its_stick_and_their_drawings_say_the_same_lengths(head: str) -> None:
    same = {"corner": "100", "pitch": "35", "pitch2": "42", "run": "3000", "ridge": "38mm", "overhang": "300"}
    one = ask("valley", same)
    stick = ask("sticks", {**same, "kind": "valley", "head": head, "common_height_above_plate": "150"})
    names = ("overall_length", "overall_on_centre")
    assert figures(one, *names) == pytest.approx(figures(stick, *names))
    tails = {row["line"]: cell(row, "at") for row in rows(stick, "rows") if row["point"] == "tail-top"}
    past = [tails[side] - tails["centre"] for side in ("1", "2")]
    assert figures(one, "tail_past_1", "tail_past_2") == pytest.approx(past)
    for answer in (one, stick):
        told = " ".join(line for drawing in drawings_of(answer) for line in drawing.says)
        for name, says in zip(names, ("over all", "over all on its centre"), strict=True):
            length = f"{figure(one, name):.0f}"
            assert f"{length} {says}" in told or f"{says} {length}" in told


def test_a_regular_valley_at_35_comes_out_to_the_printed_digits() -> None:
    """As the hip: tan 35 / root 2 = 0.495122, and 23.5 x 0.495122 = 11.64 to the arris."""
    answer = valley(pitch=35, run=3000, section=Section(47, 225))
    printed = {"hip_pitch": 26.341, "run": 4242.64, "length_on_line": 4734.20, "backing_1": 23.927, "drop_2": 11.635}
    for name, expected in printed.items():
        assert figure(answer, name) == pytest.approx(expected, abs=5e-3), name


def test_a_valley_between_ridges_30_feet_apart_is_as_long_as_printed() -> None:
    """Builder 3 & 2, Volume 2 (NAVEDTRA 14044), p. 2-28, fig. 2-41: 9 in 12 over a span of 30 ft, 288.15 in."""
    answer = valley(pitch=float(np.degrees(np.arctan(9 / 12))), run=15 * FOOT)
    assert figure(answer, "length_on_line") / INCH == pytest.approx(288.15, abs=0.08)


def test_the_ridge_of_a_wing_runs_back_half_the_wings_width() -> None:
    """H. Miller, The Carpenters' Guide, Height of ridge: half width 8 ft, standing out 4 ft, a ridge of 12 ft."""
    answer = valley(pitch=35, run=8 * FOOT)
    back = figure(answer, "run") * np.cos(np.radians(figure(answer, "plan_angle_2")))
    assert 4 + back / FOOT == pytest.approx(12, abs=1e-3)


@given(corner=CORNERS, pitch=st.floats(20, 55), pitch2=st.floats(20, 55), side=st.sampled_from((1, 2)))
@settings(max_examples=40, deadline=None)
def test_valley_jacks_stand_on_the_valley(corner: float, pitch: float, pitch2: float, side: int) -> None:
    """On a valley of no thickness: how far a jack's foot is in, over how far along, shows the plan angle."""
    plan = figure(valley(corner=corner, pitch=pitch, pitch2=pitch2, run=4000), f"plan_angle_{side}")
    assume(plan < 80)
    answer = jacks(
        corner=corner, pitch=pitch, pitch2=pitch2, side=side, spacing=100, run=4000, hip_thickness=0, on="valley"
    )
    first = rows(answer, "rows")[0]
    inward = 4000 - cell(first, "length_centre") * np.cos(np.radians((pitch, pitch2)[side - 1]))
    assert inward / cell(first, "at") == pytest.approx(np.tan(np.radians(plan)), rel=1e-6)


def test_the_seat_of_a_square_valley_has_the_commons_height_on_its_centre() -> None:
    """Regular, 35: 225 - 122.08 cos 26.341 = 115.60 deep, and 115.60 / sin 26.341 = 260.5 of seat."""
    answer = valley(pitch=35, run=3000, section=Section(47, 225), common_height_above_plate=122.077459)
    assert figure(answer, "height_above_plate") == 122.077459
    assert figure(answer, "birdsmouth_depth") == pytest.approx(115.599, abs=5e-3)
    assert figure(answer, "seat_length") == pytest.approx(260.53, abs=0.02)
    assert "notch-engineer" in answer.cautions
    assert "notch-engineer" not in valley(pitch=35, run=3000, common_height_above_plate=200).cautions


def test_the_tail_runs_out_to_where_the_two_fascias_meet() -> None:
    """Level fascias: side 2's overhang is 300 tan 35 / tan 40, and their corner is on the valley's own line."""
    drawing = Drawing(100, (35, 40))
    outs = [300.0, 300 * np.tan(np.radians(35)) / np.tan(np.radians(40))]
    foot = np.linalg.solve([drawing.inward(1), drawing.inward(2)], [-out for out in outs])
    answer = valley(corner=100, pitch=35, pitch2=40, run=3000, overhang=300)
    length = np.hypot(np.linalg.norm(foot), 300 * np.tan(np.radians(35)))
    assert figure(answer, "tail_length") == pytest.approx(length)


def test_a_hollow_valley_is_raised_by_the_larger_drop() -> None:
    [note] = [one for one in valley(corner=100, pitch=35, pitch2=40, run=3000).notes if "hollow" in one]
    assert "are 9 and 14 mm above its arrises." in note
    assert "raise it 14 mm" in note
    [regular] = [one for one in valley(pitch=35, run=3000).notes if "hollow" in one]
    assert "are 11.5 mm above" in regular


def test_every_valley_is_the_engineers() -> None:
    answer = valley(pitch=35, run=3000)
    assert "hip-engineer" in answer.cautions
    assert any("the engineer gives its section" in note for note in answer.notes)


def test_a_valley_between_a_shallow_and_a_steep_slope_may_lead_away_from_the_shallow_one() -> None:
    """Corner 150, 10 against 70 degrees: on side 1 the slope runs down from the valley, and no jack reaches it."""
    answer = valley(corner=150, pitch=10, pitch2=70, run=3000)
    assert figure(answer, "plan_angle_1") > 90
    assert figure(answer, "backing_1") < 0
    assert figure(answer, "drop_1") < 0
    assert any("runs away from side 1" in note for note in answer.notes)


def test_the_working_of_a_valley_speaks_of_a_valley() -> None:
    assert not [step for step in valley(pitch=35, run=3000).working if "hip" in f"{step.name} {step.formula}"]


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"corner": 0}, "over 0"),
        ({"corner": 180}, "under 180"),
        ({"pitch": 0}, "at least 0.1"),
        ({"pitch2": 90}, "at most 89.9"),
        ({"run": 0}, "over 0"),
        ({"ridge_side": 3}, "valley: ridge_side is 3; give 1 "),
        ({"run": 20, "ridge": 45}, "leaves no valley."),
        ({"common_height_above_plate": 300}, "sits 44 clear of the plate. Make it 269 deep, or pack it up"),
        ({"section": Section(47, 0)}, "valley: section's depth is 0"),
    ],
)
def test_a_valley_that_cannot_be_is_refused(inputs: dict[str, float | Section], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        valley(**{"pitch": 35, "run": 3000, **inputs})

"""A hip's foot, against upright planes through the plates met with the hip's own faces, slopes crossed by numpy."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Value
from sitelog.calculators.rafters.feet.hip_foot import hip_foot
from sitelog.calculators.rafters.hips import hip
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.results import as_printed, figure

# Worked by points where planes meet, and apart from that by closed forms; typed here as a person types them.
WORKED = (
    (
        "pitch=35",
        "bevel_1_from_square 48.134  bevel_2_from_square 48.134  saw_tilt_1 45  saw_tilt_2 45  v_back_1 23.5"
        "  v_back_along_1 26.223  clip_back 23.5  clip_mark_1 33.234  clip_mark_2 33.234",
    ),
    (
        "pitch=35 common_height_above_plate=122.077 overhang=300 dummy_run=600",
        "height_at_corner 110.442  height_at_clip 122.077  tail_run 424.264  tail_along 473.420"
        "  dummy_length_1 732.465  dummy_seat_1 87.173  string_height 542.202  string_cross_run 848.528"
        "  string_cross_length 946.839  dummy_nearest_1 656.734",
    ),
    (
        "corner=100 pitch=35 pitch2=40 thickness=63 common_height_above_plate=110 overhang=300 dummy_run=600",
        "bevel_1_from_square 37.819  bevel_2_from_square 50.279  saw_tilt_1 33.862  saw_tilt_2 46.138  v_back_1 21.137"
        "  v_back_2 32.776  clip_back 32.776  clip_mark_1 58.823  clip_mark_2 45.459  clip_width 80.345"
        "  overhang_2 250.342  dummy_run_2 500.685  dummy_nearest_1 464.047  dummy_nearest_2 589.931"
        "  dummy_seat_1 104.421  dummy_seat_2 102.266",
    ),
    (
        "corner=135 pitch=38 pitch2=42 thickness=94 common_height_above_plate=110 overhang=250 dummy_run=500",
        "plan_angle_1 77.204  plan_angle_2 57.796  v_back_1 10.675  v_back_2 29.602  clip_mark_1 133.655"
        "  clip_mark_2 55.545  clip_width 177.336",
    ),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_a_hip_foot_comes_out_at_its_worked_values(typed: str, printed: str) -> None:
    as_printed(ask("hip-foot", dict(pair.split("=", 1) for pair in typed.split())), printed)


class Corner:
    """A corner at 0,0,0 in space. Side 2's plate runs along x, side 1's to its left; the building is between them."""

    def __init__(self, corner: float, pitches: tuple[float, float]) -> None:
        turn = math.radians(corner)
        self.plates = (np.array([math.cos(turn), math.sin(turn), 0.0]), np.array([1.0, 0.0, 0.0]))
        self.into = (np.array([math.sin(turn), -math.cos(turn), 0.0]), np.array([0.0, 1.0, 0.0]))
        up = np.array([0.0, 0.0, 1.0])
        self.slopes = [
            math.cos(math.radians(pitch)) * up - math.sin(math.radians(pitch)) * into
            for pitch, into in zip(pitches, self.into, strict=True)
        ]
        line = np.cross(self.slopes[0], self.slopes[1])
        self.hip = line / np.linalg.norm(line) * (1 if line[2] > 0 else -1)
        flat = self.hip * [1.0, 1.0, 0.0]
        self.ahead = flat / np.linalg.norm(flat)
        left = np.array([-self.ahead[1], self.ahead[0], 0.0])
        self.aside = (left, -left)  # level, square to the hip, towards side 1 and side 2
        self.rise = float(self.hip[2] / np.dot(self.hip, self.ahead))


def on_plan(start: np.ndarray, way: np.ndarray, other: np.ndarray, along: np.ndarray) -> np.ndarray:
    """Where two level lines cross."""
    a, _ = np.linalg.solve(np.column_stack([way[:2], -along[:2]]), other[:2] - start[:2])
    return np.asarray(start + a * way)


@given(
    corner=st.floats(60, 150), left=st.floats(12, 60), right=st.floats(12, 60), thick=st.floats(30, 120),
    overhang=st.floats(50, 600), run=st.floats(300, 1500),
)  # fmt: skip
def test_a_hip_foot_is_where_upright_planes_through_the_plates_cut_the_hips_faces(
    corner: float, left: float, right: float, thick: float, overhang: float, run: float
) -> None:
    height = 400.0
    common = Section(47, 600)
    made = Corner(corner, (left, right))
    bare = [float(np.dot(made.ahead, plate)) for plate in made.plates]
    if min(bare) <= 0.01:
        with pytest.raises(Refusal, match="runs away from side"):
            hip_foot(corner=corner, pitch=left, pitch2=right) if min(bare) < -0.01 else _refuse()
        return
    try:
        answer = hip_foot(
            corner=corner, pitch=left, pitch2=right, thickness=thick, common_height_above_plate=height,
            common=common, overhang=overhang, dummy_run=run, dummy_thickness=50,
        )  # fmt: skip
    except Refusal as refused:
        assert "drop" in refused.message or "clear" in refused.message
        assume(False)
    origin, along = np.zeros(3), math.hypot(1, made.rise)
    backs, drops = [], []
    for side in (0, 1):
        k, aside = side + 1, made.aside[side] * thick / 2
        tip = on_plan(aside, made.ahead, origin, made.plates[side])  # the arris on that face, in the plate's plane
        back = float(np.dot(tip, made.ahead))
        backs.append(back)
        assert figure(answer, f"v_back_{k}") == pytest.approx(back)
        assert figure(answer, f"v_back_along_{k}") == pytest.approx(back * along)
        cheek = aside + back * along * made.hip  # on the unbacked top, from the centre at the corner
        square = angle(cheek, aside)
        assert figure(answer, f"bevel_{k}_from_square") == pytest.approx(square)
        assert figure(answer, f"saw_tilt_{k}") == pytest.approx(90 - angle(made.plates[side], made.ahead))
        # The slope's height over the arris beside the centre: an unbacked hip stands over it by so much.
        drops.append(float(np.dot(aside, made.slopes[side]) / made.slopes[side][2]))
    clip = max(backs)
    marks = [on_plan(clip * made.ahead, made.aside[0], origin, made.plates[side]) for side in (0, 1)]
    assert (figure(answer, "clip_back"), figure(answer, "clip_along")) == pytest.approx((clip, clip * along))
    for k, mark in enumerate(marks, 1):
        assert figure(answer, f"clip_mark_{k}") == pytest.approx(float(np.linalg.norm(mark)))
        assert abs(float(np.dot(mark, made.aside[0]))) >= thick / 2 - 1e-6, "the whole of the hip bears"
    assert figure(answer, "clip_width") == pytest.approx(float(np.linalg.norm(marks[0] - marks[1])))
    assert figure(answer, "height_at_corner") == pytest.approx(height - max(drops))
    assert figure(answer, "height_at_clip") == pytest.approx(height)
    # The fascias: lines parallel to the plates, outside; the second through where the first meets the hip's centre.
    tail = on_plan(-overhang * made.into[0], made.plates[0], origin, made.ahead)
    assert figure(answer, "tail_run") == pytest.approx(float(np.linalg.norm(tail)))
    assert figure(answer, "tail_along") == pytest.approx(float(np.linalg.norm(tail)) * along)
    assert figure(answer, "overhang_2") == pytest.approx(-float(np.dot(tail, made.into[1])))
    runs = (run, figure(answer, "dummy_run_2"))
    tops = [run_k * math.tan(math.radians(pitch)) for run_k, pitch in zip(runs, (left, right), strict=True)]
    assert tops[0] == pytest.approx(tops[1])
    assert figure(answer, "string_height") == pytest.approx(height + tops[0])
    cross = on_plan(runs[0] * made.into[0], made.plates[0], runs[1] * made.into[1], made.plates[1])
    assert figure(answer, "string_cross_run") == pytest.approx(float(np.dot(cross, made.ahead)))
    assert float(np.dot(cross, made.aside[0])) == pytest.approx(0, abs=1e-6)
    assert figure(answer, "string_cross_length") == pytest.approx(float(np.dot(cross, made.ahead)) * along)
    for side, pitch in ((0, left), (1, right)):
        k = side + 1
        assert figure(answer, f"dummy_length_{k}") == pytest.approx(runs[side] / math.cos(math.radians(pitch)))
        near = on_plan(
            made.aside[side] * thick / 2, made.ahead, runs[side] * made.into[side], made.plates[side]
        )  # where the hip's face crosses the level of the dummy's head
        assert figure(answer, f"dummy_nearest_{k}") == pytest.approx(float(np.dot(near, made.plates[side])) + 25)
        # Down the bottom edge to the level of the plate: the seat from the edge in.
        seat = (600 / math.cos(math.radians(pitch)) - height) / math.tan(math.radians(pitch))
        assert figure(answer, f"dummy_seat_{k}") == pytest.approx(seat)


def _refuse() -> None:
    raise Refusal("runs away from side: too near to say")


def angle(a: np.ndarray, b: np.ndarray) -> float:
    return math.degrees(math.atan2(np.linalg.norm(np.cross(a, b)), float(np.dot(a, b))))


@given(corner=st.floats(70, 130), left=st.floats(20, 60), right=st.floats(20, 60))
def test_its_drop_and_tail_are_those_of_the_hip_rafter(corner: float, left: float, right: float) -> None:
    given: dict[str, Value] = {"corner": corner, "pitch": left, "pitch2": right, "overhang": 300.0}
    try:
        foot = hip_foot(**given, thickness=47.0, common_height_above_plate=300.0)
        whole = hip(**given, run=3000.0, section=Section(47, 500), common_height_above_plate=300.0)
    except Refusal:
        assume(False)
    assert figure(foot, "height_at_corner") == pytest.approx(figure(whole, "height_above_plate"))
    assert figure(foot, "tail_along") == pytest.approx(figure(whole, "tail_length"))
    assert figure(foot, "hip_pitch") == pytest.approx(figure(whole, "hip_pitch"))


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"corner": 150.0, "pitch": 20.0, "pitch2": 60.0}, "on plan the hip runs away from side 1's commons"),
        ({"pitch": 35.0, "common_height_above_plate": 5.0}, "it must be over the hip's drop, 11.5"),
        ({"pitch": 35.0, "common_height_above_plate": 300.0, "dummy_run": 600.0}, "150 deep sits clear of plate 1"),
        ({"pitch": 35.0, "thickness": 0.0}, "thickness is 0; it must be over 0"),
        ({"pitch": 35.0, "dummy_run": 0.0}, "dummy_run is 0; it must be over 0"),
        ({}, "hip-foot needs pitch"),
    ],
)
def test_a_hip_foot_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        hip_foot(**given)
    assert "\n" not in refusal.value.message


def test_what_was_not_asked_for_is_left_out() -> None:
    names = set(hip_foot(pitch=35.0).results)
    assert not {name for name in names if name.startswith(("height", "tail", "overhang", "dummy", "string"))}

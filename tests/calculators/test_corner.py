"""A corner by three lengths, and what hips and jacks take from it, against points, planes and lines in numpy."""

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sitelog.calculators.decks.falls import hipped_falls
from sitelog.calculators.rafters.hips import hip
from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.setting_out.corner import corner
from sitelog.calculators.sticks.sticks import sticks
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal
from tests.calculators.results import cell, figure, rows

CORNERS, PITCHES = st.floats(60, 130), st.floats(12, 60)


@given(first=st.floats(500, 12_000), second=st.floats(500, 12_000), turn=st.floats(25, 155))
def test_the_angle_is_that_between_the_sides_and_out_of_square_is_off_a_square_set_on_the_longer(
    first: float, second: float, turn: float
) -> None:
    angle = math.radians(turn)
    ends = np.array([[first, 0.0], [second * math.cos(angle), second * math.sin(angle)]])
    answer = corner(first=first, second=second, across=float(np.linalg.norm(ends[0] - ends[1])))
    assert figure(answer, "angle") == pytest.approx(turn, abs=1e-6)
    shorter, longer = sorted(ends, key=lambda end: float(np.linalg.norm(end)))
    off = -float(np.dot(shorter, longer) / np.linalg.norm(longer))  # along the longer, behind the corner if it is open
    assert figure(answer, "out_of_square") == pytest.approx(off, abs=1e-4)


@pytest.mark.parametrize(("sides", "angle"), [((3000, 4000, 5000), 90), ((2000, 2000, 2000), 60)])
def test_three_four_five_is_square_and_three_alike_are_sixty(sides: tuple[float, ...], angle: float) -> None:
    """Euclid, Elements, I.48 and I.1."""
    first, second, across = sides
    assert figure(corner(first=first, second=second, across=across), "angle") == pytest.approx(angle)


@pytest.mark.parametrize("sides", [(1000, 1000, 2000), (5000, 1000, 3000), (900, 3000, 2000)])
def test_three_lengths_that_dont_close_are_refused(sides: tuple[float, ...]) -> None:
    first, second, across = sides
    with pytest.raises(Refusal, match="can't be as long as"):
        corner(first=first, second=second, across=across)


def planes(turn: float, pitches: tuple[float, float]) -> tuple[np.ndarray, np.ndarray]:
    """Up each slope's normal, over plates from 0,0: side 2's plate along x, side 1's at that turn [deg] to its left."""
    angle = math.radians(turn)
    into = (np.array([math.sin(angle), -math.cos(angle), 0.0]), np.array([0.0, 1.0, 0.0]))
    up = np.array([0.0, 0.0, 1.0])
    first, second = (
        math.cos(math.radians(pitch)) * up - math.sin(math.radians(pitch)) * way
        for pitch, way in zip(pitches, into, strict=True)
    )
    return first, second


@given(turn=CORNERS, left=PITCHES, right=PITCHES, side=st.sampled_from((1, 2)), run=st.floats(1500, 6000))
def test_the_full_common_stands_where_the_hip_has_run_in_as_far_as_its_run(
    turn: float, left: float, right: float, side: int, run: float
) -> None:
    try:
        answer = jacks(corner=turn, pitch=left, pitch2=right, side=side, spacing=400, run=run)
    except Refusal:
        assume(False)
    first, second = planes(turn, (left, right))
    line = np.cross(first, second)
    line = line / line[2]
    angle = math.radians(turn)
    into = (np.array([math.sin(angle), -math.cos(angle)]), np.array([0.0, 1.0]))[side - 1]
    along = (np.array([math.cos(angle), math.sin(angle)]), np.array([1.0, 0.0]))[side - 1]
    reach = run / float(np.dot(line[:2], into))
    assert figure(answer, "common_at") == pytest.approx(reach * float(np.dot(line[:2], along)), rel=1e-6, abs=1e-6)


@given(turn=CORNERS, left=PITCHES, right=PITCHES, thick=st.floats(30, 120), height=st.floats(90, 160))
def test_a_clipped_heel_has_the_commons_height_and_its_seat_ends_where_the_v_s_does(
    turn: float, left: float, right: float, thick: float, height: float
) -> None:
    """The seat is one level plane: cut back at the heel, it still ends at the same place."""
    figures = {"corner": turn, "pitch": left, "pitch2": right, "run": 3000.0, "section": Section(thick, 400)}
    try:
        v, clipped = (
            hip(**figures, common_height_above_plate=height, heel=heel)  # type: ignore[arg-type]
            for heel in ("v", "clipped")
        )
    except Refusal:
        assume(False)
    pitch = math.radians(figure(v, "hip_pitch"))
    assert figure(clipped, "height_above_plate") == pytest.approx(height)
    back = (height - figure(v, "height_above_plate")) / math.tan(pitch)  # level, from the corner to the cut
    nearer = min(figure(v, "plan_angle_1"), figure(v, "plan_angle_2"))
    assume(nearer > 5)
    assert back == pytest.approx(thick / 2 / math.tan(math.radians(nearer)))
    assert back + figure(clipped, "seat_length") == pytest.approx(figure(v, "seat_length"))


@settings(max_examples=25, deadline=None)
@given(
    long=st.floats(3000, 9000), wide=st.floats(2500, 6000), off=st.floats(-150, 150), thick=st.floats(38, 100),
    fall=st.floats(1 / 80, 1 / 40),
)  # fmt: skip
def test_a_firrings_marks_across_its_end_lean_by_the_bevels_that_its_row_gives(
    long: float, wide: float, off: float, thick: float, fall: float
) -> None:
    """Half the thickness either side of the centre: from arris to arris, or to where the end turns."""
    corners = np.array([[0.0, 0.0], [long, 0.0], [long + off, wide], [0.0, wide - off]])
    names = {"ab": (0, 1), "bc": (1, 2), "cd": (2, 3), "da": (3, 0), "ac": (0, 2), "bd": (1, 3)}
    sizes = {name: float(np.linalg.norm(corners[one] - corners[two])) for name, (one, two) in names.items()}
    answer = hipped_falls(**sizes, fall=fall, thin=20, spacing=600, diagonal_thickness=thick)
    for row in rows(answer, "rows"):
        turns = row["break_along"] is not None
        lengths = {name: cell(row, f"length_{of}") for name, of in (("left", "left"), ("middle", "centre"))}
        lengths["right"] = cell(row, "length_right")
        if min(lengths.values()) <= 0:  # its cut runs out on the edge before the arris
            continue
        told = {"turn_across": row["break_across"], "turn_along": row["break_along"]} if turns else {}
        bevels = {"bevel": cell(row, "bevel_left_from_square"), "bevel2": cell(row, "bevel_right_from_square")}
        one = sticks(
            kind="firring", zero="tail", section=Section(47, 200), length=cell(row, "long_point"), thin=20.0,
            thick=cell(row, "thick_long"), **lengths, **told, **(bevels if turns else {"bevel": bevels["bevel"]}),
        )  # fmt: skip
        assert figure(one, "overall_length") == pytest.approx(max(*lengths.values(), row["break_along"] or 0.0))
        at = {str(mark["line"]): cell(mark, "at") for mark in rows(one, "rows") if mark["point"] == "head-top"}
        if not turns:
            lean = math.degrees(math.atan(abs(at["left"] - at["right"]) / 47))
            assert lean < 1e-6 or figure(one, "head_bevel_1_from_square") == pytest.approx(lean, abs=1e-6)
            continue
        across, turn = float(str(row["break_across"])), at.get("turn", at["centre"])
        for name, way, bevel in (("left", 1, "head_bevel_1_from_square"), ("right", -1, "head_bevel_2_from_square")):
            lean = math.degrees(math.atan(abs(at[name] - turn) / (47 / 2 + way * across)))
            assert figure(one, bevel) == pytest.approx(lean, abs=1e-5)

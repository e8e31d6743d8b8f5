"""Ribs against their own outline: does each segment lie on its board, and do the ends meet on one centre?"""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.curves.ribs import rib
from sitelog.refusal import Refusal
from tests.calculators.results import column, figure

radii = st.floats(300, 6_000)
depths = st.floats(50, 200)


def outline(answer: Answer) -> np.ndarray:
    return np.column_stack([column(answer, "outline", "x"), column(answer, "outline", "y")])


def made(radius: float, depth: float, spare: float, whole: float = 180.0) -> Answer:
    """A rib out of a board that leaves so much beside its depth."""
    assume(depth < radius * 0.6)
    return rib(radius=radius, depth=depth, board=depth + spare, arc=whole)


@given(radius=radii, depth=depths, spare=st.floats(10, 150))
def test_a_segment_lies_on_its_board_and_one_fewer_would_not(radius: float, depth: float, spare: float) -> None:
    answer = made(radius, depth, spare)
    found, board = outline(answer), depth + spare
    assert found[:, 1].min() == pytest.approx(0, abs=1e-6)
    assert found[:, 1].max() == pytest.approx(figure(answer, "board_used"), rel=1e-6)
    assert figure(answer, "board_used") <= board + 1e-6
    fewer = figure(answer, "segments") - 1
    assume(fewer >= 1)
    half = math.radians(180 / fewer / 2)
    assert radius - (radius - depth) * math.cos(half) > board - 1e-6


@given(radius=radii, depth=depths, spare=st.floats(10, 150))
def test_both_edges_are_struck_from_one_centre_and_the_ends_run_to_it(
    radius: float, depth: float, spare: float
) -> None:
    answer = made(radius, depth, spare)
    found = outline(answer)
    centre = np.array([figure(answer, "chord_out") / 2, figure(answer, "board_used") - radius])
    away = np.hypot(*(found - centre).T)
    half = len(found) // 2
    assert away[:half] == pytest.approx(np.full(half, radius))
    assert away[half:] == pytest.approx(np.full(half, radius - depth))
    # The mitre is from square to the chord: the end's own direction against the upright of the board.
    for outer, inner in ((found[0], found[-1]), (found[half - 1], found[half])):
        end = outer - inner
        assert math.degrees(math.atan2(abs(end[0]), end[1])) == pytest.approx(figure(answer, "mitre_from_square"))
    assert found[half - 1, 0] == pytest.approx(figure(answer, "chord_out"))
    assert found[half, 0] - found[-1, 0] == pytest.approx(figure(answer, "chord_in"))


@given(whole=st.floats(20, 360), radius=st.floats(600, 3_000))
def test_the_segments_go_round_the_whole_arc(whole: float, radius: float) -> None:
    answer = made(radius, 90.0, 60.0, whole)
    assert figure(answer, "segments") * figure(answer, "angle_each") == pytest.approx(whole)
    assert figure(answer, "angle_each") <= figure(answer, "segment_angle") + 1e-9


@pytest.mark.parametrize(("lap", "layers"), [(0.5, 2), (0.4, 2), (1 / 3, 3), (0.25, 4), (0.2, 5)])
def test_layers_break_joints_by_the_lap_and_one_more_would_not(lap: float, layers: int) -> None:
    answer = rib(radius=900, depth=75, board=150, lap=lap)
    assert answer.results["layers"] == layers

    def nearest(count: int) -> float:
        starts = sorted(layer * lap % 1 for layer in range(count))
        return min(after - before for before, after in zip(starts, [*starts[1:], starts[0] + 1], strict=True))

    assert nearest(layers) >= lap - 1e-9
    assert nearest(layers + 1) < lap - 1e-9


def test_a_board_wide_enough_takes_the_rib_in_one() -> None:
    answer = rib(radius=900, depth=75, board=900)
    assert answer.results["segments"] == 1
    assert figure(answer, "mitre_from_square") == pytest.approx(90)
    assert rib(radius=3000, depth=100, board=225, arc=30).results["segments"] == 1


def test_a_built_up_rib_defers_to_the_engineer() -> None:
    assert rib(radius=900, depth=75, board=150).cautions == ("joint-engineer",)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"radius": 900.0, "depth": 900.0, "board": 1000.0}, "must be under the radius"),
        ({"radius": 900.0, "depth": 150.0, "board": 150.0}, "wider than the rib is deep"),
        ({"radius": 200_000.0, "depth": 75.0, "board": 75.0001, "arc": 360.0}, "Use a wider board"),
        ({"radius": 900.0, "depth": 75.0, "board": 150.0, "arc": 0.0}, "arc is 0; it must be over 0"),
        ({"radius": 900.0, "depth": 75.0, "board": 150.0, "lap": 0.6}, "lap is 0.6; it must be at most 0.5"),
    ],
)
def test_a_rib_that_can_not_be_is_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        rib(**given)
    assert "\n" not in refusal.value.message

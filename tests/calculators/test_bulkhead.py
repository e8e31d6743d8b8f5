"""A bulkhead round a level ceiling, against circles met by level lines and lines of the section met by numpy."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Value
from sitelog.calculators.curves.bulkhead import bulkhead
from sitelog.refusal import Refusal
from tests.calculators.results import as_printed, cell, figure, rows

# Worked by lines met with planes, and apart from that by closed forms; typed here as a person types them.
FIRST = "radius=900 sheet=18 former=75 lining=15 pitch=40 rafter=150 deck=18 spacing=250"
WORKED = (
    (
        FIRST,
        "trimmers[0].height 792  trimmers[1].height 396  trimmers[0].from_at 214.11  trimmers[0].to_at 1585.89"
        "  trimmers[0].length 1371.78  trimmers[1].from_at 108  trimmers[1].to_at 214.11"
        "  trimmers[0].under_along 1432.35  trimmers[1].under_along 816.28  trimmers[0].rafter_between -"
        "  trimmers[1].rafter_between 522.07  hangers[0].at 150  hangers[0].length 141.51"
        "  hangers[0].foot_cut_from_square 71.26  hangers[1].at 400  hangers[1].length 177.78"
        "  hangers[1].foot_cut_from_square 39.15  hangers[3].at 900  hangers[3].length 0  head_cut_from_square 40",
    ),
    (
        "chord=2400 rise=900 sheet=18 former=75 lining=15 pitch=50 rafter=150 steps=3 layers=1 spacing=250",
        "trimmers[0].height 792  trimmers[1].height 528  trimmers[3].height 264  trimmers[0].length 1460.52"
        "  trimmers[1].length 232.64  trimmers[3].length 124.15  trimmers[0].under_along 1159.75"
        "  trimmers[1].under_along 815.12  trimmers[3].under_along 470.49  trimmers[1].rafter_between 297.63"
        "  trimmers[3].rafter_between 297.63  hangers[0].at 200  hangers[0].length 62.49  hangers[0].step 3"
        "  hangers[1].at 450  hangers[1].length 16.80  hangers[1].step 2",
    ),
    (f"{FIRST} heights=820,400", "trimmers[0].most_drop 420  trimmers[0].under_along 1475.91"),
)


@pytest.mark.parametrize(("typed", "printed"), WORKED, ids=[typed for typed, _ in WORKED])
def test_a_bulkhead_comes_out_at_its_worked_values(typed: str, printed: str) -> None:
    as_printed(ask("bulkhead", dict(pair.split("=", 1) for pair in typed.split())), printed)


def crossings(radius: float, centre: tuple[float, float], height: float) -> tuple[float, float]:
    """Where a level line so high meets the circle: the roots of (x - cx)^2 + (h - cy)^2 = r^2."""
    x, y = centre
    left, right = sorted(np.roots([1.0, -2 * x, x * x + (height - y) ** 2 - radius * radius]).real)
    return float(left), float(right)


@given(
    radius=st.floats(400, 3000),
    share=st.floats(0.4, 1.0),
    pitch=st.floats(12, 60),
    deck=st.sampled_from([0.0, 18.0]),
    rafter=st.floats(95, 300),
    steps=st.integers(1, 4),
    layers=st.integers(1, 3),
)
def test_trimmers_and_hangers_are_where_level_lines_meet_the_ceilings_circle(
    radius: float, share: float, pitch: float, deck: float, rafter: float, steps: int, layers: int
) -> None:
    rise, chord = share * radius, 2 * math.sqrt(share * (2 - share)) * radius
    try:
        answer = bulkhead(
            chord=chord, rise=rise, sheet=18, former=75, lining=15, pitch=pitch, deck=deck, rafter=rafter,
            steps=steps, layers=layers, spacing=radius / 7,
        )  # fmt: skip
    except Refusal as refused:
        assert "overlap by" in refused.message
        assume(False)
    inner, centre = radius - 108, (chord / 2, rise - radius)
    turn = math.radians(pitch)
    up, into = np.array([math.cos(turn), math.sin(turn)]), np.array([math.sin(turn), -math.cos(turn)])
    heights = [(rise - 108) * (steps - k) / steps for k in range(steps)]
    fronts = []
    for k, (height, lower) in enumerate(pairwise([*heights, 0.0]), 1):
        of_step = {row["place"]: row for row in rows(answer, "trimmers") if row["step"] == k}
        assert set(of_step) == ({"centre"} if k == 1 else {"left", "right"})
        far = crossings(inner, centre, lower)
        near = crossings(inner, centre, height) if k > 1 else far[::-1]
        for place, start, end in (("left", far[0], near[0]), ("right", near[1], far[1]), ("centre", far[0], far[1])):
            if place in of_step:
                row = of_step[place]
                assert (cell(row, "from_at"), cell(row, "to_at")) == pytest.approx((start, end), abs=1e-3)
                assert cell(row, "length") == pytest.approx(end - start, abs=2e-3)
                assert cell(row, "most_drop") == pytest.approx(height - lower, abs=1e-6)
        # The level of its underside, met with the line of the rafters' undersides.
        a, _ = np.linalg.solve(np.column_stack([up, [-1.0, 0.0]]), np.array([0.0, height]) - (deck + rafter) * into)
        row = next(iter(of_step.values()))
        assert cell(row, "under_along") == pytest.approx(a, abs=1e-6)
        assert cell(row, "under_back") == pytest.approx(float((a * up + (deck + rafter) * into)[0]), abs=1e-6)
        fronts.append(a)
        if k > 1:
            assert cell(row, "rafter_between") == pytest.approx(fronts[-2] - a - layers * 47, abs=1e-6)
    for row in rows(answer, "hangers"):
        at, step = cell(row, "at"), int(cell(row, "step"))
        _, foot = crossings_up(inner, centre, at)
        assert cell(row, "length") == pytest.approx(heights[step - 1] - foot, abs=1e-3)
        slope = math.degrees(math.atan2(abs(at - centre[0]), foot - centre[1]))  # square to the radius there
        assert cell(row, "foot_cut_from_square") == pytest.approx(slope, abs=1e-3)
        assert foot >= ([*heights, 0.0][step]) - 1e-6 and (step == 1 or foot < heights[step - 1] + 1e-6)
    ends = crossings(inner, centre, 0.0)
    marks = [cell(row, "at") for row in rows(answer, "hangers")]
    assert ends[0] < marks[0] <= ends[0] + radius / 7 + 1e-6 and marks[-1] < ends[1]
    assert np.diff(marks) == pytest.approx(np.full(len(marks) - 1, radius / 7))
    assert figure(answer, "head_cut_from_square") == pitch


def crossings_up(radius: float, centre: tuple[float, float], at: float) -> tuple[float, float]:
    """Where a plumb line meets the circle."""
    return crossings(radius, (centre[1], centre[0]), at)


GIVEN: dict[str, Value] = {"radius": 900.0, "pitch": 40.0, "rafter": 150.0}


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"heights": (700.0, 300.0)}, "the first of heights is 700; it must be at least the ceiling's crown, 900"),
        ({"heights": (900.0, 300.0, 400.0)}, "heights go from 300 to 400; each must be lower"),
        ({"heights": (900.0, 300.0, 0.0)}, "the last of heights is 0; it must be over the springing"),
        ({"heights": (1000.0, 950.0)}, "the second of heights is 950; it must be under the ceiling's crown"),
        ({"heights": (900.0, 860.0)}, "steps 1 and 2 overlap by 32. Give fewer steps"),
        ({"heights": (900.0, 800.0, 600.0, 400.0, 200.0)}, "heights has 5 figures; give 1 to 4"),
        ({"steps": 5}, "steps is 5; it must be at most 4"),
        ({"spacing": 0.5}, "that is 3600 hangers"),
        ({"sheet": 900.0}, "sheet, former and lining are 900 together"),
    ],
)
def test_a_bulkhead_that_can_not_be_is_refused_in_one_line(more: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        bulkhead(**(GIVEN | more))
    assert "\n" not in refusal.value.message


def test_a_hanger_between_two_steps_belongs_to_the_upper() -> None:
    """By hand: of a radius of 1000, 600 up is 800 off the middle (3-4-5): there the second step starts."""
    answer = bulkhead(radius=1000, pitch=40, rafter=150, heights=(1000.0, 600.0), spacing=800)
    assert [(row["at"], row["step"], row["length"]) for row in rows(answer, "hangers")] == [
        (200.0, 1, pytest.approx(400)),
        (1000.0, 1, 0.0),
        (1800.0, 1, pytest.approx(400)),
    ]

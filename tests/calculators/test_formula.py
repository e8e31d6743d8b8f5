"""A formula is worked from its text: in degrees, plain arithmetic, and nothing else."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Working
from sitelog.calculators.formula import value_of
from sitelog.calculators.index import find
from tests.calculators.results import column, figure

LENGTHS = st.floats(1, 9000)


@pytest.mark.parametrize(
    ("formula", "value"),
    [
        ("2 + 3 * 4 - 6 / 3", 12),
        ("-2 ** 2", -4),
        ("2 * 3 ** 2", 18),
        ("7 / 2", 3.5),
        ("sin(30)", 0.5),
        ("cos(60)", 0.5),
        ("tan(45)", 1),
        ("asin(0.5)", 30),
        ("acos(0.5)", 60),
        ("atan(1)", 45),
        ("atan2(1, -1)", 135),
        ("sqrt(6.25)", 2.5),
        ("hypot(3, 4)", 5),
    ],
)
def test_arithmetic_is_as_at_school_and_angles_are_in_degrees(formula: str, value: float) -> None:
    """Values of the sine at 30, the tangent at 45 and the rest are those of any table."""
    assert value_of(formula, {}) == pytest.approx(value, rel=1e-12)


@given(run=LENGTHS, rise=LENGTHS)
def test_numbers_are_put_in_by_name(run: float, rise: float) -> None:
    assert value_of("hypot(run, rise)", {"run": run, "rise": rise}) == math.hypot(run, rise)


@pytest.mark.parametrize(
    "formula",
    [
        "__import__('os')",
        "run.real",
        "run if run else 0",
        "[run]",
        "run[0]",
        "(lambda: run)()",
        "open(run)",
        "sin(x=run)",
        "sin(*run)",
        "run // 2",
        "run % 2",
        "+run",
        "not run",
        "run < 2",
        "'run'",
        "True",
        "(run := 2)",
        "f'{run}'",
        "sin",
        "run()",
        "max(run, 2)",
    ],
)
def test_nothing_but_arithmetic_is_worked(formula: str) -> None:
    with pytest.raises(ValueError, match=r"a formula can't have|is of"):
        value_of(formula, {"run": 2.0})


def test_a_formula_and_its_numbers_have_the_same_names() -> None:
    with pytest.raises(ValueError, match="is of"):
        value_of("run * 2", {})
    with pytest.raises(ValueError, match="is of"):
        value_of("run * 2", {"run": 1.0, "rise": 2.0})


def test_a_step_keeps_what_was_worked_and_gives_it_back() -> None:
    working = Working()
    assert working.step("double", "2 * run", run=3.0) == 6.0
    assert [(step.name, step.formula, step.value, step.unit) for step in working.steps] == [
        ("double", "2 * run", 6.0, "mm")
    ]


# -- rows that are worked from geometry, against the step that tells one of them


@pytest.mark.parametrize("on", ["hip", "valley"])
@pytest.mark.parametrize("side", [1, 2])
def test_the_first_jack_is_as_long_as_its_working(on: str, side: int) -> None:
    answer = find("jacks")(corner=100, pitch=35, pitch2=40, side=side, spacing=400, run=3000, on=on)
    steps = {one.name: one.value for one in answer.working}
    assert column(answer, "rows", "length_centre")[0] == pytest.approx(steps["length_of_the_first"], rel=1e-9)
    either_way = column(answer, "rows", "length_long_point")[0] - column(answer, "rows", "length_centre")[0]
    assert either_way == pytest.approx(steps["long_and_short_point_either_way"], rel=1e-9)


def test_an_arc_is_as_high_at_a_quarter_as_its_working() -> None:
    answer = find("arc")(chord=2400, rise=600, count=4)
    steps = {one.name: one.value for one in answer.working}
    assert column(answer, "rows", "height")[1] == pytest.approx(steps["height_at_a_quarter"], rel=1e-9)


def test_the_sides_of_a_table_run_from_corner_to_corner() -> None:
    """The plate less what the two hips run along it, against the distance between the corners."""
    answer = find("flat-top")(ab=9000, bc=6000, cd=9010, da=6005, ac=10830, bd=10812, pitch=35, rise=1400)
    x, y = (column(answer, "top", axis) for axis in "xy")
    for place, length in enumerate(column(answer, "sides", "length")):
        after = (place + 1) % 4
        assert length == pytest.approx(math.dist((x[place], y[place]), (x[after], y[after])), rel=1e-9)


def test_a_board_holds_the_segment_that_is_cut_from_it() -> None:
    answer = find("rib")(radius=900, depth=75, board=150)
    assert max(column(answer, "outline", "y")) == pytest.approx(figure(answer, "board_used"), rel=1e-9)

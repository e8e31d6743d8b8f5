"""One rule of rounding: what was typed is shown as typed, what was worked out to 1 mm, under 20 mm to 0.5."""

import re
from math import isclose
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import sitelog
from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Output
from sitelog.calculators.sheet import table
from sitelog.drawing.pen import DrawnAnswer as Drawn
from sitelog.quantities import rounding
from sitelog.quantities.quantity import show, show_angle, show_length
from sitelog.wording.formatting import value_text

PACKAGE = Path(sitelog.__file__).parent
A_FORMAT = re.compile(r":(?:\.0f|g)\}")
# Text that a program reads back, and the places of ink on paper, are not figures that people read.
APART = ("rounding.py", "svg.py")


@pytest.mark.parametrize(
    ("mm", "shown"),
    [
        (3640.349823686662, "3640"),
        (95.025, "95"),
        (1000.5, "1001"),
        (20.49, "20"),
        (19.75, "20"),
        (12.5, "12.5"),
        (12.74, "12.5"),
        (6.25, "6.5"),
        (7.0, "7"),
        (-6.25, "-6.5"),
        (-0.1, "0"),
        (0.1 + 0.4, "0.5"),
        (1000.4999999999999, "1001"),  # the machine's dust, not the sum's
    ],
)
def test_what_was_worked_out_is_to_a_millimetre_and_a_small_one_to_a_half(mm: float, shown: str) -> None:
    assert show_length(mm) == shown


@pytest.mark.parametrize("text", ["6.5", "7", "12.3", "0.6", "3600", "3600.5", "-2.25"])
def test_what_was_typed_is_shown_as_typed(text: str) -> None:
    assert show_length(float(text), typed=True) == text
    assert show("mm", float(text), typed=True) == f"{text} mm"


def test_a_typed_angle_keeps_its_digits_and_one_worked_out_is_to_a_tenth() -> None:
    assert show_angle(35.25, typed=True) == "35.25°"
    assert show_angle(35.25) == "35.3°"
    assert show_angle(33.690067525979785, typed=True) == "33.7°"  # 8/12, which no decimal ends


@given(st.floats(-200_000, 200_000))
def test_a_length_worked_out_reads_the_same_on_every_front(mm: float) -> None:
    shown = show_length(mm)
    answer = ask("common", {"run": "3000", "pitch": "35"})
    assert value_text("mm", mm, "metric") == f"{shown} mm"  # screens and line mode
    assert Drawn(answer, "metric").mm(mm) == shown  # drawings
    column = Output("rows", "", "Rows", (Output("a", "mm", "A"),))
    assert table(column, [{"a": mm}]).rows == ((shown,),)  # tables of sums, cutting list and pack


@given(st.floats(-200_000, 200_000))
def test_no_shown_length_is_further_off_than_half_its_last_digit(mm: float) -> None:
    assert abs(float(show_length(mm)) - mm) <= (0.5 if abs(mm) >= rounding.FINE_UNDER else 0.25) + 1e-6


@given(st.floats(0, 200_000))
def test_a_bound_is_rounded_to_the_safe_side(mm: float) -> None:
    assert rounding.at_most(mm) <= mm + 1e-6
    assert rounding.at_least(mm) >= mm - 1e-6


@given(st.floats(1e-6, 1e9))
def test_a_bare_number_keeps_four_figures_or_a_tenth(value: float) -> None:
    shown = float(rounding.four_figures(value))
    assert isclose(shown, value, rel_tol=5.01e-4) or abs(shown - value) <= 0.051


def test_no_figure_is_rounded_anywhere_else() -> None:
    found = [
        f"{module.relative_to(PACKAGE)}: {line.strip()}"
        for module in sorted(PACKAGE.rglob("*.py"))
        if module.name not in APART
        for line in module.read_text(encoding="utf-8").splitlines()
        if A_FORMAT.search(line)
    ]
    assert not found


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        *[(1 / 3, "1/3"), (2 / 3, "2/3"), (0.25, "0.25"), (0.3, "0.3"), (0.042, "0.042"), (25.4 / 64, "0.3969")],
        *[(float("nan"), "nan"), (float("inf"), "inf"), (1e12, "1000000000000")],
    ],
)
def test_a_fraction_that_was_typed_is_shown_as_one(value: float, shown: str) -> None:
    """A third of the depth is typed 1/3; what has its decimals is shown by them."""
    assert rounding.as_typed(value) == shown

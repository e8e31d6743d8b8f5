"""The cases worked by hand, proved to their last digit, and the calculators held to them."""

import tomllib
from pathlib import Path

import pytest

from sitelog.calculators.index import calculators
from tests.calculators.by_hand import Case, prove_answer, prove_lines
from tests.calculators.by_hand_curves_and_decks import CURVE_SHEET
from tests.calculators.by_hand_rafters import RAFTER_SHEET

CAUTIONS = Path(__file__).parents[2] / "checklists" / "cautions.toml"
SHEET = (*RAFTER_SHEET, *CURVE_SHEET)
cases = pytest.mark.parametrize("case", SHEET, ids=lambda case: case.calculator)


@cases
def test_every_line_worked_by_hand_is_right_to_its_last_digit(case: Case) -> None:
    prove_lines(case)


@cases
def test_the_calculator_comes_to_what_was_worked_by_hand(case: Case) -> None:
    prove_answer(case)


@cases
def test_what_it_warns_of_is_in_the_library_of_cautions(case: Case) -> None:
    known = {one["id"] for one in tomllib.loads(CAUTIONS.read_text(encoding="utf-8"))["caution"]}
    assert set(case.answer().cautions) <= known


def test_every_calculator_of_these_branches_is_on_the_sheet() -> None:
    worked = {case.calculator for case in SHEET}
    branches = ("setting-out", "rafters", "curves", "decks")
    assert {one.name for one in calculators().values() if one.branch in branches} <= worked
    assert {"metal-bays", "grp-deck"} <= worked

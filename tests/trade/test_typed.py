"""The calculators from another program: typed, in mm and degrees, refused in one line; mypy reads this file too."""

import math

import pytest

import sitelog.trade
from sitelog.calculators.index import WHERE, find
from sitelog.refusal import Refusal
from sitelog.trade import common, hip, squareness
from tests import stubs


def test_the_types_are_those_of_the_calculators() -> None:
    assert stubs.FILE.read_text(encoding="utf-8") == stubs.stub(), "python -m tests.stubs"


def test_a_common_rafter_has_its_length_by_pythagoras() -> None:
    worked = common(run=3000.0, pitch=35.0)
    length: float = worked.length_on_line
    assert length == pytest.approx(3000 / math.cos(math.radians(35)))
    assert worked.answer.units["length_on_line"] == "mm"


def test_what_it_does_not_take_or_give_is_told() -> None:
    with pytest.raises(Refusal, match="pitch"):
        common(run=3000.0)
    with pytest.raises(Refusal, match="ran"):
        common(ran=3000.0, run=3000.0, pitch=35.0)  # type: ignore[call-arg]
    with pytest.raises(AttributeError, match="lenght"):
        _ = common(run=3000.0, pitch=35.0).lenght  # type: ignore[attr-defined]
    with pytest.raises(AttributeError, match="no calculator called commons-en"):
        _ = sitelog.trade.commons_en  # type: ignore[attr-defined]


def test_a_roof_is_worked_from_its_plates_to_its_hips() -> None:
    plates = squareness(ab=9000, bc=6000, cd=9000, da=6000, ac=10817, bd=10817)
    assert plates.suspect is None
    assert hip(run=3000.0, pitch=35.0).answer.calculator == "hip"


def test_every_calculator_is_a_function() -> None:
    assert all(callable(getattr(sitelog.trade, name.replace("-", "_"))) for name in WHERE)


@pytest.mark.parametrize("name", WHERE)
def test_each_says_its_units_what_it_refuses_and_where_it_comes_from(name: str) -> None:
    """As `help` shows it: every length in mm, every angle in degrees, and Refusal."""
    calculator = find(name)
    told = getattr(sitelog.trade, name.replace("-", "_")).__doc__
    assert "Raises Refusal" in told and f"Source: {calculator.basis.split()[0]}" in told
    for given in calculator.inputs:
        unit = {"length": " [mm]", "lengths": " [mm]", "angle": " [degrees]", "pitch": " [degrees]"}.get(given.kind, "")
        assert f"\n    {given.attribute}{unit}" in told, given.name
    for output in calculator.results:
        unit = "" if output.columns or not output.unit else f" [{output.unit}]"
        assert f"\n    {output.name}{unit}" in told, output.name

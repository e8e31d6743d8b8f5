"""From what a person types to an answer, and from an answer to plain types."""

import json

import pytest

from sitelog.calculators.ask import as_json, ask
from sitelog.calculators.setting_out.squareness import squareness
from sitelog.calculators.timber.weights import mass
from sitelog.quantities.quantity import Section, Tie
from sitelog.refusal import Refusal


def test_typed_and_handed_in_give_the_same_answer_to_the_last_digit() -> None:
    typed = ask("mass", {"section": "47x225", "length": "5.1m", "count": "2"})
    handed = mass(section=Section(47, 225), length=5100.0, count=2)
    assert typed.results == handed.results
    assert typed.working == handed.working


def test_feet_and_inches_are_read_as_a_tape_shows_them() -> None:
    """1 in = 25.4 mm exactly: 7 ft 10 1/2 in = 94.5 in = 2400.3 mm."""
    answer = ask("mass", {"section": "47x100", "length": "7'10 1/2\""})
    assert answer.inputs["length"] == pytest.approx(2400.3, abs=1e-9)


def test_nominal_inches_are_told_as_the_metric_size_they_stand_for() -> None:
    answer = ask("mass", {"section": "2x6", "length": "3600"})
    assert answer.inputs["section"] == Section(47, 150, "2x6")
    assert answer.notes[0] == "2x6 is used as 47x150, regularised"
    assert not any("regularised" in note for note in ask("mass", {"section": "47x150", "length": "3600"}).notes)


@pytest.mark.parametrize("text", ["C16", "c16", " C16 "])
def test_a_grade_may_be_typed_in_small_letters(text: str) -> None:
    assert ask("mass", {"section": "47x100", "length": "1m", "grade": text}).inputs["grade"] == "C16"


def test_the_jobs_own_tape_stands_where_none_is_typed() -> None:
    sides = {"ab": "4000", "bc": "3000", "cd": "4000", "da": "3000", "ac": "5000", "bd": "5000"}
    assert ask("squareness", sides, {"tape": "III", "run": 3000.0}).inputs["tape"] == "III"
    assert ask("squareness", {**sides, "tape": "I"}, {"tape": "III"}).inputs["tape"] == "I"


REFUSED = [
    ({"sectoin": "47x100"}, "mass doesn't have a figure called 'sectoin'; did you mean section?"),
    ({"zzz": "1"}, "mass doesn't have a figure called 'zzz'; choose from: section, length, grade, density, count"),
    ({"section": "47x100"}, "mass needs length"),
    ({"section": "47x100", "length": "1m", "grade": "C99\x1b[2J"}, "grade is 'C99[2J'; it must be one of C16, C24"),
    ({"section": "47x100", "length": "-1"}, "length: '-1'"),
    ({"section": "47x100", "length": "0"}, "mass: length is 0; it must be over 0"),
    ({"section": "47x100", "length": "1m", "count": "2.5"}, "count: '2.5'"),
    ({"class_": "II"}, "mass doesn't have a figure called 'class_'"),
]


@pytest.mark.parametrize(("texts", "says"), REFUSED)
def test_what_is_wrong_is_named_with_what_would_be_right(texts: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal) as refused:
        ask("mass", texts)
    assert refused.value.message.startswith(says)
    assert "\n" not in refused.value.message


def test_an_input_given_twice_is_refused() -> None:
    with pytest.raises(Refusal, match="length is there twice;"):
        ask("mass", [("section", "47x100"), ("length", "1m"), ("length", "2m")])


def test_json_tells_a_section_and_ties_as_they_are_typed_and_numbers_unrounded() -> None:
    told = json.loads(json.dumps(as_json(ask("mass", {"section": "2x6", "length": "3333"}))))
    assert told["inputs"] == {"section": "47x150", "length": 3333.0, "grade": "C24", "count": 1}
    assert told["results"]["mass_each"] == pytest.approx(0.047 * 0.150 * 3.333 * 420, rel=1e-12)
    assert told["units"] == {"mass_per_metre": "kg", "mass_each": "kg", "mass_all": "kg"}
    assert told["verdict"] is None


def test_json_is_a_list_of_ties_in_their_own_grammar() -> None:
    answer = squareness(
        ab=4000.0, bc=3000.0, cd=4000.0, da=3000.0, ac=5000.0, bd=5000.0, ties=(Tie("A", "C", 5000.125),)
    )
    told = json.loads(json.dumps(as_json(answer)))
    assert told["inputs"]["ties"] == ["A-C:5000.125"]
    assert told["units"]["lengths"] == {
        "tie": "",
        "taped": "mm",
        "fitted": "mm",
        "residual": "mm",
        "standard": "",
    }

"""A list with `each`: what lint holds of it, broken at one place each, and what it is written out to."""

from pathlib import Path

import pytest

from sitelog.checklist.each import expanded
from sitelog.checklist.load import Faults, load
from sitelog.geometry.building.named import roof_of
from sitelog.wording.result import figure_label
from tests.checklist.small import write
from tests.checklist.small_roof import CUT_ROOF
from tests.shipped import library

# What is replaced, by what, and words of the fault.
BROKEN = [
    ('each = "hips"\nsources', 'each = "hip"\nsources', "each can't be 'hip'; did you mean hips?"),
    ('name = "building"', 'name = "blocks"', "each is for a roof that is said block by block; add a fact building"),
    ('name = "taped"', 'name = "plates"', "gathers is for the fact taped of the kind ties"),
    ('gathers = "line_taped"', 'gathers = "building"', "building isn't a fact that each of them has"),
    ('drawn = "@block_run"', 'drawn = "@line_length"', "no fact line_length: say it where that fact is given for each"),
    ('needs = ["ridge.run"]', 'needs = ["ridge.run"]\neach = "hips"', "stage valley comes for each of valleys"),
    ('each = "lines"', 'each = "sides"', "the sum side gives line_length too"),
    ('gives = { block_run', 'gives = { line_run', "unknown fact @block_run"),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "fault"), BROKEN)
def test_a_list_with_each_is_held_to_hold_for_any_roof(tmp_path: Path, old: str, new: str, fault: str) -> None:
    assert old in CUT_ROOF
    with pytest.raises(Faults) as refused:
        load(shipped=write(tmp_path, **{"cut-roof": CUT_ROOF.replace(old, new, 1)}))
    assert any(fault in one for one in refused.value.faults), refused.value.faults
    assert all("cut-roof.toml:" in one for one in refused.value.faults)


def test_too_many_checks_for_one_line_are_told(tmp_path: Path) -> None:
    check = '[[stage.check]]\nid = "p{}"\nask = "Photograph it"\nkind = "photo"\nsources = ["practice"]\n'
    many = "".join(check.format(number) for number in range(9))
    valley = CUT_ROOF.replace('[[stage]]\nid = "last"', f'{many}\n[[stage]]\nid = "last"')
    with pytest.raises(Faults) as refused:
        load(shipped=write(tmp_path, **{"cut-roof": valley}))
    assert any("stage valley has 10 checks" in one for one in refused.value.faults)


def test_facts_and_sums_are_each_lines_own(tmp_path: Path) -> None:
    listed = load(shipped=write(tmp_path, **{"cut-roof": CUT_ROOF})).lists["cut-roof"]
    whole = expanded(listed, roof_of("main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"))
    gives = {name: path for run in whole.sums for name, path in run.gives.items()}
    assert gives["valley_ce_ef_length"] == "named_lines.valley-ce-ef.length"
    assert gives["wing_run"] == "blocks.wing.run_1"
    taped = next(fact for fact in whole.facts if fact.name == "taped")
    assert taped.worked and [(term.name, term.value) for term in taped.worked.terms][:2] == [
        ("a_b_taped", "A-B"), ("b_c_taped", "B-C"),
    ]  # fmt: skip


def test_a_check_of_one_figure_asks_it_once_at_each_line() -> None:
    """Its field is called by its kind, as in any other check: the question isn't said again beside it."""
    whole = expanded(library().lists["cut-roof"], roof_of("main 9000x6000 40"))
    string = next(check for stage in whole.stages for check in stage.checks if check.id.endswith("-string"))
    (figure,) = string.figures
    assert string.ask.startswith("Hip ") and figure_label(figure.says, figure.kind, string) == "length"

"""Figures that are likely slips, line by line: asked about before they are taken."""

from pathlib import Path

import pytest

from sitelog.calculators.index import calculators
from sitelog.checklist.schema.model import Library
from sitelog.job.log.entry import Author
from sitelog.job.storage.file import JobFile
from sitelog.lines.new_job import new_job
from sitelog.lines.talk import Talk
from tests.lines.listener import ROW, WIDE, ScriptedInput, walked
from tests.tui.site import DEVICE, Watch

ASKED = "9 mm? Did you mean 9 m? Type yes, or 9mm if you mean it."
REST = ["6000", "9000", "6000", "10817", "10817", "-", "1"]


def heard(file: Path, library: Library, watch: Watch, says: list[str]) -> ScriptedInput:
    listener = ScriptedInput(says)
    walked(file, library, listener, watch)
    return listener


@pytest.mark.parametrize(
    ("says", "kept"), [(["9", "yes"], 9000), (["9", "Y"], 9000), (["9", "9.2m"], 9200), (["9", "9010"], 9010)]
)
def test_a_side_of_nine_is_asked_about_and_the_answer_is_taken(
    plates: Path, library: Library, watch: Watch, says: list[str], kept: float
) -> None:
    listener = heard(plates, library, watch, ["main.plates.sides", "do", *says, *REST])
    assert ASKED in listener.heard
    last = JobFile.open(plates, read_only=True).entries[-1]
    assert (last.act, last.value["ab"]) == ("answer", kept)


def test_nine_millimetres_typed_with_the_unit_are_never_asked_about(
    plates: Path, library: Library, watch: Watch
) -> None:
    listener = heard(plates, library, watch, ["main.plates.sides", "do", "9mm", "back"])
    assert "Did you mean" not in listener.text


def test_yes_answers_nothing_where_nothing_was_asked(plates: Path, library: Library, watch: Watch) -> None:
    listener = heard(plates, library, watch, ["main.plates.sides", "do", "yes"])
    assert any("'yes' isn't a figure" in line for line in listener.heard)
    listener = heard(plates, library, watch, ["main.plates.sides", "do", "250", "yes"])
    assert any("250 mm? Type 250mm if you mean it" in line for line in listener.heard)
    assert any("'yes' isn't a figure" in line for line in listener.heard)


def test_back_leaves_the_question_and_nothing_is_entered(plates: Path, library: Library, watch: Watch) -> None:
    heard(plates, library, watch, ["main.plates.sides", "do", "9", "back"])
    assert not [one for one in JobFile.open(plates, read_only=True).entries if one.check == "plates.sides"]


def test_a_new_job_is_not_set_up_nine_millimetres_long(tmp_path: Path, library: Library, watch: Watch) -> None:
    form = str(library.forms().index("hipped") + 1)
    figures = len([spec for spec in library.lists["hipped"].facts if spec.asked]) - 3
    says = ["Mill barn", "", "A. Dunn", "", form, "", "", "9", "yes", "6", "6m", "40", *[""] * figures, "1", "", "1"]
    listener = ScriptedInput(says)
    talk = Talk(listener.read_line, listener.write_line, width=WIDE)
    with new_job(talk, tmp_path, library, lambda by: Author(by, DEVICE, watch()), by="") as job:
        facts = job.state.facts
        assert [facts[f"main.{name}"].drawn for name in ("length", "width", "pitch")] == [9000, 6000, 40]
    assert ASKED in listener.heard


def test_a_figure_drawn_again_is_asked_about(plates: Path, library: Library, watch: Watch) -> None:
    says = next(fact.says for fact in library.lists["hipped"].facts if fact.name == "length")
    row = f"{ROW} | {says}"
    listener = heard(plates, library, watch, ["facts", row, "1", "9.2", "yes", "quit"])
    assert "9.2 mm? Did you mean 9.2 m? Type yes, or 9.2mm if you mean it." in listener.heard
    last = JobFile.open(plates, read_only=True).entries[-1]
    assert (last.act, last.value) == ("drawn", {"length": 9200})


def test_the_stock_lengths_of_an_order_are_asked_about(plates: Path, library: Library, watch: Watch) -> None:
    listener = heard(plates, library, watch, ["cutting list", "1", "4.8,5.4", "yes", "", "", ""])
    assert "4.8 mm? Did you mean 4.8 m? Type yes, or 4.8mm,5.4mm if you mean it." in listener.heard
    assert any(line.startswith("Length bought") for line in listener.heard)
    assert "No yard.toml beside the job: the usual lengths are used." in listener.heard


def test_an_order_takes_what_is_on_site_and_says_whose_lengths_it_buys(
    plates: Path, library: Library, watch: Watch
) -> None:
    (plates.parent / "yard.toml").write_text("[47x225]\nlengths = [4800]\n", encoding="utf-8")
    listener = heard(plates, library, watch, ["cutting list", "1", "", "", "", "47x225:5400:4"])
    (plates.parent / "yard.toml").unlink()
    assert "Yard: yard.toml beside the job." in listener.heard
    assert any(line.startswith("on site: sticks and offcuts on site") for line in listener.heard)
    assert any(line.startswith("Use first, from site") for line in listener.heard), listener.heard[-12:]
    assert any(line.startswith("Not in yard.toml, so not ordered: ") for line in listener.heard)


def test_a_sum_asks_as_soon_as_the_figure_is_typed(plates: Path, library: Library, watch: Watch) -> None:
    number = str([*calculators()].index("common") + 1)
    listener = heard(plates, library, watch, ["calculators", number, "3.0", "yes", "back"])
    assert "3.0 mm? Did you mean 3.0 m? Type yes, or 3.0mm if you mean it." in listener.heard
    assert any(line.startswith("pitch:") for line in listener.heard[-3:])

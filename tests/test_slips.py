"""What is asked about before it is taken. The bounds are the house's own; the wording is held here to what is typed."""

import json
import shlex
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Input
from sitelog.calculators.index import calculators
from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.usual import of_fact, of_figure
from sitelog.quantities.quantity import Kind, read
from sitelog.quantities.slips import NAMES, USUAL, Slip, Usual, question, stem, typed, usual
from sitelog.refusal import Refusal
from tests import shipped
from tests.checklist import small

SPAN, STOCK, SPACING, PITCH, FALL = (USUAL[name] for name in ("span", "stock", "spacing", "pitch", "fall"))

# kind, what is usual, typed; what is said.
ASKED: list[tuple[Kind, Usual, str, str]] = [
    ("length", SPAN, "9", "9 mm? Type 9m, or 9mm if you mean it"),
    ("length", SPAN, "3.0", "3.0 mm? Type 3.0m, or 3.0mm if you mean it"),
    ("length", SPAN, "299", "299 mm? Type 299mm if you mean it"),
    ("length", SPAN, "60001", "60001 mm? Type 60001mm if you mean it"),
    ("length", SPACING, "0.4", "0.4 mm? Type 0.4m, or 0.4mm if you mean it"),
    ("length", SPACING, ".6", ".6 mm? Type .6m, or .6mm if you mean it"),
    ("length", SPACING, "4000", "4000 mm? Type 4000mm if you mean it"),
    ("lengths", STOCK, "4.8", "4.8 mm? Type 4.8m, or 4.8mm if you mean it"),
    ("lengths", STOCK, "3.6,4.2", "3.6 mm? Type 3.6m,4.2m, or 3.6mm,4.2mm if you mean it"),
    ("lengths", STOCK, "3600, 4.2", "4.2 mm? Type 3600mm,4.2m, or 3600mm,4.2mm if you mean it"),
    ("ties", SPAN, "A-M:4.51,B-M:4490", "4.51 mm? Type A-M:4.51m,B-M:4490, or A-M:4.51mm,B-M:4490 if you mean it"),
    ("cuts", USUAL["piece"], "47x150:4.87:2", "4.87 mm? Type 47x150:4.87m:2, or 47x150:4.87mm:2 if you mean it"),
    ("prices", STOCK, "47x150:4.8:21.60", "4.8 mm? Type 47x150:4.8m:21.60, or 47x150:4.8mm:21.60 if you mean it"),
    ("pitch", PITCH, "76", "76 degrees? Type 76deg if you mean it"),
    ("fall", FALL, "1:6", "1:6? Type 1:60, or 1 in 6 if you mean it"),
    ("fall", FALL, "1:800", "1:800? Type 1:80, or 1 in 800 if you mean it"),
    ("fall", FALL, "1:2", "1:2? Type 1:20, or 1 in 2 if you mean it"),
]
TAKEN: list[tuple[Kind, Usual, str]] = [
    ("length", SPAN, "300"),
    ("length", SPAN, "60000"),
    ("length", SPAN, "0"),
    ("length", SPAN, "9m"),
    ("length", SPAN, "9mm"),
    ("length", SPAN, "9 MM"),
    ("length", SPAN, "9'"),
    ("length", SPAN, "70m"),
    ("length", SPACING, "40cm"),
    ("lengths", STOCK, "3600,4200"),
    ("lengths", STOCK, "3.6m,4.2m"),
    ("lengths", STOCK, "3.6mm,4.2mm"),
    ("ties", SPAN, "A-M:4510,B-M:4.49m"),
    ("cuts", USUAL["piece"], "47x150:4870:12,47x225:5.4m:4"),
    ("pitch", PITCH, "75"),
    ("pitch", PITCH, "76deg"),
    ("pitch", PITCH, "30/7"),
    ("fall", FALL, "1:60"),
    ("fall", FALL, "1:10"),
    ("fall", FALL, "1 in 6"),
]


@pytest.mark.parametrize(("kind", "within", "text", "says"), ASKED)
def test_a_figure_without_a_unit_that_no_roof_has_is_asked_about(
    kind: Kind, within: Usual, text: str, says: str
) -> None:
    with pytest.raises(Slip) as asked:
        typed(kind, text, within, name="It")
    assert asked.value.message == f"It: {says}"


@pytest.mark.parametrize(("kind", "within", "text"), TAKEN)
def test_a_usual_figure_and_any_with_its_unit_is_taken(kind: Kind, within: Usual, text: str) -> None:
    assert typed(kind, text, within) == read(kind, text)


@pytest.mark.parametrize(("kind", "within", "text", "says"), ASKED)
def test_both_readings_that_are_offered_are_taken(kind: Kind, within: Usual, text: str, says: str) -> None:
    with pytest.raises(Slip) as asked:
        typed(kind, text, within)
    kept = says.partition("Type ")[2].removesuffix(" if you mean it").rpartition(", or ")[2]
    assert typed(kind, kept, within) == read(kind, text)
    if asked.value.likely:
        assert typed(kind, asked.value.likely, within) != read(kind, text)


def test_the_question_is_put_as_a_person_would() -> None:
    with pytest.raises(Slip) as asked:
        typed("length", "9", SPAN)
    assert asked.value.question == "9 mm? Did you mean 9 m?"
    assert asked.value.likely == "9m"


def test_a_long_list_is_not_said_back_whole() -> None:
    with pytest.raises(Slip) as asked:
        typed("lengths", ",".join(["3.6"] * 40), STOCK, name="lengths")
    assert asked.value.message == "lengths: 3.6 mm? Type 3.6m, or 3.6mm if you mean it"


@given(st.integers(1, 200_000), st.sampled_from(sorted(USUAL)))
def test_nothing_with_a_unit_is_ever_asked_about(mm: int, called: str) -> None:
    for text in (f"{mm}mm", f"{mm / 1000}m", f"{mm}in"):
        question("length", text, USUAL[called])


@given(st.floats(0.001, 59))
def test_a_length_typed_in_metres_is_asked_about_with_the_metres_offered(metres: float) -> None:
    text = f"{metres:.3f}".rstrip("0").rstrip(".")
    if read("length", text):
        with pytest.raises(Slip) as asked:
            question("length", text, SPAN)
        likely = asked.value.likely
        assert read("length", likely) == pytest.approx(float(text) * 1000) if likely else float(text) < 0.3


# --- which figures ------------------------------------------------------------------------------------------------

INPUTS_ASKED = [
    ("common", "run", "3.0"),
    ("common", "overhang", "0.3"),
    ("hip", "run", "3"),
    ("roof", "length", "9"),
    ("squareness", "ac", "10.8"),
    ("opening", "level_width", "1.2"),
    ("commons", "spacing", "0.4"),
    ("barrel", "radius", "0.9"),
    ("gauge", "unit_length", "0.5"),
    ("stock", "lengths", "4.8"),
    ("stock", "cuts", "47x150:4.87:2"),
    ("stock", "prices", "47x150:4.8:20"),
    ("mass", "length", "5.1"),
    ("hip", "pitch2", "80"),
    ("gutter", "fall", "1:8"),
]
# Small by nature, or anything: differences, tolerances, readings, laps, thin ends, sheet metal, places along a line.
INPUTS_TAKEN = [
    ("squareness", "tolerance", "5"),
    ("twist", "fall_foot", "1"),
    ("twist", "fall_head", "6.5"),
    ("string", "offsets", "0,2,1,0"),
    ("levels", "readings", "2,1,3"),
    ("ordinates", "readings", "0,3,1"),
    ("firrings", "thin", "20"),
    ("laps", "lap", "75"),
    ("gutter", "thickness", "0.6"),
    ("gutter", "drip", "50"),
    ("stock", "kerf", "2.8"),
    ("stock", "trim", "5"),
    ("centres", "first", "23.5"),
    ("flat-top", "finish", "22"),
    ("scarf", "wedge", "20"),
    ("gauge", "eaves", "50"),
    ("gauge", "top", "30"),
]


def _usual(calculator: str, name: str) -> tuple[Input, Usual | None]:
    one = calculators()[calculator].input(name)
    return one, usual(one.kind, f"{calculator}.{name}", name)


@pytest.mark.parametrize(("calculator", "name", "text"), INPUTS_ASKED)
def test_an_input_of_a_sum_is_asked_about(calculator: str, name: str, text: str) -> None:
    one, within = _usual(calculator, name)
    with pytest.raises(Slip):
        typed(one.kind, text, within, name=name)


@pytest.mark.parametrize(("calculator", "name", "text"), INPUTS_TAKEN)
def test_what_is_small_by_nature_is_never_asked_about(calculator: str, name: str, text: str) -> None:
    one, within = _usual(calculator, name)
    assert typed(one.kind, text, within) == read(one.kind, text)


@pytest.mark.parametrize("name", sorted(calculators()))
def test_every_worked_example_goes_through_unasked(name: str) -> None:
    pairs = [tuple(word.split("=", 1)) for word in shlex.split(calculators()[name].example)]
    assert ask(name, pairs).results  # type: ignore[arg-type]


def test_every_usual_figure_of_a_sum_goes_through_unasked() -> None:
    for one in calculators().values():
        for given_input in one.inputs:
            default = given_input.default
            if isinstance(default, float | int):
                question(given_input.kind, f"{default:g}", usual(given_input.kind, f"{one.name}.{given_input.name}"))


@pytest.fixture(scope="module")
def library() -> Library:
    return shipped.library()


def test_every_name_in_the_table_is_of_something_that_is_asked(library: Library) -> None:
    known = {f"{one.name}.{i.name}" for one in calculators().values() for i in one.inputs}
    known |= {name.partition(".")[2] for name in known}
    for listed in library.lists.values():
        for fact in listed.facts:
            known |= {fact.name}
        known |= {f"{check.id}.{f.key}" for stage in listed.stages for check in stage.checks for f in check.figures}
        known |= {fact.name for finish in library.finishes.values() for fact in finish.facts}
        known |= {name for each in listed.sums for name in each.gives}
    known |= {stem(name) for name in known}
    assert {name for names in NAMES.values() for name in names} <= known


def test_what_a_checklist_has_as_usual_goes_through_unasked(library: Library) -> None:
    for listed in library.lists.values():
        for fact in listed.facts:
            if fact.default:
                question(fact.kind, fact.default, of_fact(fact), name=fact.name)


def test_a_firm_may_widen_or_narrow_what_is_usual_for_a_fact_of_its_own(tmp_path: Path) -> None:
    wide = small.changed("hipped", 'default = "9000"', 'default = "9000"\nusual = ["90m", "200"]')
    steep = 'says = "Pitch"\nusual = ["10", "60"]'
    shed = small.write(tmp_path, hipped=wide.replace('says = "Pitch"', steep))
    facts = {fact.name: fact for fact in load(shipped=shed).lists["hipped"].facts}
    assert of_fact(facts["length"]) == Usual(200, 90_000)
    assert of_fact(facts["pitch"]) == Usual(10, 60)
    assert of_fact(facts["width"]) == SPAN


FIGURES_ASKED = [
    ("hipped", "plates.sides", "ab", "8.996"),
    ("hipped", "plates.sides", "ac", "10.826"),
    ("hipped", "hips.lengths", "a", "4.7"),
    ("hipped", "first-pair.twist", "spacing", "0.4"),
    ("hipped", "tiler.slopes", "ab_q", "3.6"),
    ("hipped", "trimming.size", "first", "1.6"),
    ("hipped", "hips.gap-a", "head", "2.1"),
    ("barrel-dormer", "cheeks.over-plates", "back", "1.8"),
    ("firred-deck", "edges.line", "length", "6"),
]
FIGURES_TAKEN = [
    ("hipped", "hip-lines.line-a", "offsets", "0,2,1,0"),
    ("hipped", "first-pair.twist", "fall_foot", "1"),
    ("hipped", "hips.gap-a", "gap", "3"),
    ("hipped", "hips.drop", "a", "9"),
    ("hipped", "jacks.plane", "a", "2"),
    ("gabled", "verges.noggings", "span", "250"),
    ("firred-deck", "firrings.corners", "a", "20"),
    ("firred-deck", "deck.gaps", "edge", "3"),
    ("eyebrow-dormer", "template.tangent", "height", "5"),
]


def _figure(library: Library, form: str, place: str, key: str) -> tuple[Kind, Usual | None]:
    stage, _, name = place.partition(".")
    check = next(s for s in library.lists[form].stages if s.id == stage).check(name)
    figure = check.figure(key) if check else None
    assert check, f"{form} has no {place}"
    assert figure, f"{place} has no {key}"
    return figure.kind, of_figure(library, form, check, figure)


@pytest.mark.parametrize(("form", "place", "key", "text"), FIGURES_ASKED)
def test_a_figure_of_a_check_is_asked_about_as_the_fact_it_measures(
    library: Library, form: str, place: str, key: str, text: str
) -> None:
    kind, within = _figure(library, form, place, key)
    with pytest.raises(Slip):
        typed(kind, text, within)


@pytest.mark.parametrize(("form", "place", "key", "text"), FIGURES_TAKEN)
def test_a_gap_a_drop_or_a_difference_is_never_asked_about(
    library: Library, form: str, place: str, key: str, text: str
) -> None:
    kind, within = _figure(library, form, place, key)
    assert typed(kind, text, within) == read(kind, text)


# --- jobs that were kept ------------------------------------------------------------------------------------------


def _entries() -> Iterator[tuple[str, dict[str, Any]]]:
    for file in sorted((Path(__file__).parent / "old_jobs").glob("*.json")):
        whole = json.loads(file.read_text(encoding="utf-8"))
        for entry in whole["entries"].values():
            yield file.name, entry


def test_no_figure_of_a_kept_job_would_be_asked_about(library: Library) -> None:
    """What whole jobs of every form were typed with, put through the table again without its units."""
    asked, seen = [], 0
    forms: dict[tuple[str, str], str] = {}
    for file, entry in _entries():
        value = entry.get("value") or {}
        if entry["act"] == "part":
            forms[file, value["id"]] = value["form"]
        form = forms.get((file, entry.get("part", "")), "job")
        for kind, within, figure, name in _figures_of(library, form, entry):
            seen += 1
            text = ",".join(f"{one:.6g}" for one in figure) if isinstance(figure, list) else f"{figure:.6g}"
            text = f"1:{1 / figure:.6g}" if kind == "fall" else text
            try:
                question(kind, text, within, name=name)
            except Refusal as refusal:
                asked.append(f"{file} {entry['check']} {refusal.message}")
    assert not asked, "\n".join(asked)
    assert seen > 400


def _figures_of(library: Library, form: str, entry: dict[str, Any]) -> Iterator[tuple[Kind, Usual | None, Any, str]]:
    listed, value = library.lists[form], entry.get("value") or {}
    if entry["act"] == "drawn":
        for fact in listed.facts:
            if fact.name in value and fact.kind in ("length", "pitch", "fall"):
                yield fact.kind, of_fact(fact), value[fact.name], fact.name
    stages = {stage.id: stage for stage in library.stages(form)} if entry["act"] == "answer" else {}
    stage, _, check_id = entry.get("check", "").partition(".")
    check = stages[stage].check(check_id) if stage in stages else None
    for figure in check.figures if check else ():
        if figure.key in value and figure.kind in ("length", "lengths", "pitch", "fall"):
            yield figure.kind, of_figure(library, form, check, figure), value[figure.key], figure.key  # type: ignore[arg-type]

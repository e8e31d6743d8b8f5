"""What every calculator keeps to, whoever wrote it."""

import json
import math
import re
import shlex
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path

import pytest
from _pytest.mark import ParameterSet

from sitelog.calculators import formula, index, sheet
from sitelog.calculators.ask import as_json, ask
from sitelog.calculators.catalogue import Answer, Calculator, Input, Output, Result
from sitelog.calculators.index import calculators, find
from sitelog.quantities.quantity import Cut, Section, Tie, Units
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working

CALCULATORS = list(calculators().values())
by_name = pytest.mark.parametrize("one", CALCULATORS, ids=lambda one: one.name)
KEYS = ["calculator", "inputs", "results", "units", "verdict", "cautions", "basis"]
NUMBERS = ("length", "offset", "angle", "pitch", "fall", "count", "number", "fraction", "share")
READ = (*NUMBERS, "section", "choice", "lengths", "offsets", "ties", "cuts", "prices")


def pairs(one: Calculator) -> dict[str, str]:
    return dict(part.split("=", 1) for part in shlex.split(one.example))


# What can't be asked for together with the rest of a calculator's example.
MORE = {
    "eyebrow": "width=3000 rise=600 pitch=55 spacing=250 deck=18 inside=60 below=180",
    "sticks": "kind=hip pitch=35 run=3000 common_height_above_plate=122 jacks=400,800",
}


def worked_more(one: Calculator) -> Answer:
    return ask(one.name, dict(part.split("=", 1) for part in MORE[one.name].split()))


def worked(one: Calculator) -> Answer:
    if one.name == "stock":
        solver()
    return ask(one.name, pairs(one))


def solver() -> None:
    pytest.importorskip("highspy", reason="highspy is not installed (extra `order`)", exc_type=ImportError)


def figures(result: Result) -> Iterator[float | int | str | None]:
    rows = result if isinstance(result, list) else [result] if isinstance(result, dict) else [{"": result}]
    for row in rows:
        yield from row.values()


def outputs(one: Calculator) -> Iterator[Output]:
    for output in one.results:
        yield output
        yield from output.columns


def test_every_calculator_is_found_by_its_own_name_once() -> None:
    assert [one.name for one in CALCULATORS] == list(calculators())
    for one in CALCULATORS:
        assert find(one.name) is one


@by_name
def test_the_names_are_plain_and_the_words_fit_their_places(one: Calculator) -> None:
    assert re.fullmatch(r"[a-z][a-z0-9-]*", one.name)
    for name in [i.name for i in one.inputs] + [o.name for o in outputs(one)]:
        assert re.fullmatch(r"[a-z][a-z0-9_]*", name), name
    assert len({i.name for i in one.inputs}) == len(one.inputs)
    assert len({o.name for o in one.results}) == len(one.results)
    for output in outputs(one):
        assert output.says, output.name
        assert len(output.says) <= 40, output.says
    assert one.does and one.basis and one.definition
    assert "\n" not in one.does


@by_name
def test_the_example_works_and_gives_what_is_declared(one: Calculator) -> None:
    results = {**worked(one).results, **(worked_more(one).results if one.name in MORE else {})}
    assert set(results) == {o.name for o in one.results}
    for output in one.results:
        result = results[output.name]
        rows = result if isinstance(result, list) else [result] if isinstance(result, dict) else []
        assert bool(output.columns) == isinstance(result, (list, dict)), output.name
        for row in rows:
            assert set(row) == {c.name for c in output.columns}, output.name


@by_name
def test_no_result_is_anything_but_a_finite_number_or_a_word(one: Calculator) -> None:
    for name, result in worked(one).results.items():
        for value in figures(result):
            assert value is None or isinstance(value, (int, float, str)), name
            assert not isinstance(value, float) or math.isfinite(value), name


@by_name
def test_the_working_shows_the_sum_that_was_done(one: Calculator) -> None:
    """Each formula, worked apart from the program, comes to the step's value; and it can be told in words."""
    answer = worked(one)
    assert answer.working
    prove_working(answer)
    assert all(formula.in_words(step.formula) for step in answer.working if step.formula)


@by_name
def test_the_working_arrives_at_results(one: Calculator) -> None:
    answer = worked(one)
    for step in answer.working:
        given = answer.results.get(step.name)
        if isinstance(given, (int, float)):
            assert step.value == pytest.approx(given, rel=1e-12), step.name


@by_name
def test_json_has_its_seven_keys_and_only_plain_values(one: Calculator) -> None:
    told = as_json(worked(one))
    assert list(told) == KEYS
    assert json.loads(json.dumps(told, allow_nan=False)) == told


@by_name
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_the_sheet_shows_every_result_in_80_columns(one: Calculator, units: Units) -> None:
    answer = worked(one)
    shown = {line.name for line in sheet.lines(answer, units)} | {t.name for t in sheet.tables(answer, units)}
    for_scripts = {output.name for output in one.results if not output.shown}
    assert shown == {name for name, result in answer.results.items() if result != []} - for_scripts
    for line in sheet.text(answer, units, working=True):
        assert len(line) <= 80, line
        assert line.isprintable()
    assert all(line.isascii() for row in sheet.working(answer, units, ascii=True) for line in row)


def inputs(*kinds: str) -> list[ParameterSet]:
    return [
        pytest.param(one, given, id=f"{one.name}-{given.name}")
        for one in CALCULATORS
        for given in one.inputs
        if given.kind in kinds
    ]


def refusal_of(one: Calculator, what: object, work: Callable[[], Answer]) -> str:
    """What is said of something that can't be."""
    try:
        work()
    except Refusal as refusal:
        return refusal.message
    pytest.fail(f"{one.name} took {what!r}")


@pytest.mark.parametrize(("one", "given"), inputs(*READ))
def test_an_input_that_can_not_be_is_refused_in_one_line_that_names_it(one: Calculator, given: Input) -> None:
    for text in ("nan", "inf", "-1e12", "banana", "", "1,,2", "9" * 400):
        message = refusal_of(one, text, lambda text=text: ask(one.name, {**pairs(one), given.name: text}))  # type: ignore[misc]
        assert given.name in message, text
        assert "\n" not in message
        assert len(message) < 300


@pytest.mark.parametrize(("one", "given"), inputs(*NUMBERS))
def test_a_number_that_can_not_be_is_refused_from_python_too(one: Calculator, given: Input) -> None:
    values = {key: value for key, value in worked(one).inputs.items() if key != given.name}
    for number in (math.nan, math.inf, -math.inf, -1e12, 1e12):
        message = refusal_of(one, number, lambda number=number: one(**values, **{given.name: number}))  # type: ignore[misc]
        assert given.name in message, number


@pytest.mark.parametrize(("one", "given"), inputs("section"))
@pytest.mark.parametrize(
    "section", [Section(0, 150), Section(47, -150), Section(math.nan, 150), Section(47, math.inf), Section(47, 1e9)]
)
def test_a_section_that_no_timber_has_is_refused_from_python_too(
    one: Calculator, given: Input, section: Section
) -> None:
    values = {key: value for key, value in worked(one).inputs.items() if key != given.name}
    with pytest.raises(Refusal, match=f"{one.name}: {given.name}'s (thickness|depth) is"):
        one(**values, **{given.name: section})


@pytest.mark.parametrize(("one", "given"), inputs("ties"))
@pytest.mark.parametrize("length", [0, -4510, math.nan, math.inf, 1e9])
def test_a_tie_that_no_tape_reads_is_refused_from_python_too(one: Calculator, given: Input, length: float) -> None:
    values = {key: value for key, value in worked(one).inputs.items() if key != given.name}
    with pytest.raises(Refusal, match=f"{one.name}: {given.name}, A-M, is"):
        one(**values, **{given.name: (Tie("A", "M", length),)})


@pytest.mark.parametrize(("one", "given"), inputs("cuts"))
@pytest.mark.parametrize(
    ("section", "length", "count", "called"),
    [
        (Section(math.nan, 150), 3600, 1, "thickness"),
        (Section(47, 0), 3600, 1, "depth"),
        (Section(47, 150), math.inf, 1, "length"),
        (Section(47, 150), -3600, 1, "length"),
        (Section(47, 150), 3600, 0, "count"),
    ],
)
def test_a_cut_that_no_saw_makes_is_refused_from_python_too(
    one: Calculator, given: Input, section: Section, length: float, count: int, called: str
) -> None:
    values = {key: value for key, value in worked(one).inputs.items() if key != given.name}
    with pytest.raises(Refusal, match=f"{one.name}: {given.name}, .*{called} is"):
        one(**values, **{given.name: (Cut(section, length, count),)})


@pytest.mark.parametrize(("one", "given"), inputs("count"))
def test_a_count_is_whole_however_it_is_handed_in(one: Calculator, given: Input) -> None:
    values = {key: value for key, value in worked(one).inputs.items() if key != given.name}
    with pytest.raises(Refusal, match=f"{given.name} is 1.5; it must be a whole number"):
        one(**values, **{given.name: 1.5})


def test_a_whole_count_may_come_as_a_float() -> None:
    """As it does out of JSON that another program wrote."""
    count = find("arc")(chord=2400, rise=600, count=8.0).inputs["count"]
    assert (count, type(count)) == (8, int)


@by_name
def test_an_unknown_input_is_refused_with_the_nearest_name(one: Calculator) -> None:
    nearly = f"{one.inputs[0].name}x"
    with pytest.raises(Refusal, match=f"did you mean {one.inputs[0].name}"):
        ask(one.name, {**pairs(one), nearly: "1"})


def test_an_unknown_calculator_is_refused_with_the_nearest_name() -> None:
    with pytest.raises(Refusal, match="did you mean squareness"):
        ask("squarenes", {})


def test_every_calculator_of_every_module_can_be_found() -> None:
    solver()
    folder = Path(index.__file__).parent
    made = {
        value.name: ".".join(path)
        for module in folder.rglob("*.py")
        for path in [module.relative_to(folder).with_suffix("").parts]
        for found in [import_module(".".join(("sitelog", "calculators", *path)))]
        for value in vars(found).values()
        if isinstance(value, Calculator) and value.function.__module__ == found.__name__
    }
    assert made == index.WHERE

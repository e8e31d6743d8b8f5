"""What a calculator is: its inputs, its results, its rule, and the answer it gives.

One entry a calculator drives the command line, the form on the screen, the help and the tests.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Literal, TypedDict, TypeVar, Unpack

import msgspec
from msgspec import Struct

from sitelog.calculators.inputs import LIMITS as LIMITS
from sitelog.calculators.inputs import MOST_ROWS as MOST_ROWS
from sitelog.calculators.inputs import Input as Input
from sitelog.calculators.inputs import Inputs as Inputs
from sitelog.calculators.inputs import field as field
from sitelog.quantities.quantity import Value as Value
from sitelog.refusal import Refusal

Branch = Literal["setting-out", "rafters", "curves", "decks", "coverings", "timber"]
Verdict = Literal["pass", "fail", "unsure"]
Row = dict[str, float | int | str | None]
Result = float | int | str | None | Row | list[Row]
Shape = list[dict[str, Any]] | dict[str, list[float]]  # rows with points in them, for scripts and drawings
Given = TypeVar("Given", bound=Inputs)


class Output(Struct, frozen=True):
    """One result: its unit ("mm", "deg", "m2", "kg", "l/s", "" for a count or a word), and its columns if rows.

    One that is not `shown` is for scripts alone: no sheet has it.
    """

    name: str
    unit: str
    says: str
    columns: tuple["Output", ...] = ()
    shown: bool = True


class Step(Struct, frozen=True):
    """One line of the working: `name = formula = value`, with the numbers that were put in.

    `formula` is plain arithmetic over the keys of `numbers`: + - * / **, sqrt and hypot, and sin cos tan asin acos
    atan atan2 in DEGREES. A step told in words has formula "" and a `note`.
    """

    name: str
    formula: str
    value: float
    unit: str = "mm"
    numbers: Mapping[str, float] = msgspec.field(default_factory=dict)
    note: str = ""


class Working:
    """Collects steps while the sum is done: the formula that is shown is the one that is worked."""

    def __init__(self) -> None:
        self.steps: list[Step] = []

    def step(self, name: str, formula: str, unit: str = "mm", /, **numbers: float) -> float:
        """Work the formula with these numbers and keep it as a step; gives its value, in `unit`.

        ValueError for a formula that is more than plain arithmetic over these numbers.
        """
        from sitelog.calculators.formula import value_of  # takes formulas apart: loaded where one is worked

        value = value_of(formula, numbers)
        self.steps.append(Step(name, formula, value, unit, numbers))
        return value

    def note(self, name: str, note: str, value: float, unit: str = "mm") -> float:
        """Keep a value that no formula gives, told in words; gives the value back."""
        self.steps.append(Step(name, "", value, unit, {}, note))
        return value


class Outcome(Struct, frozen=True):
    """What the function of a calculator returns."""

    results: Mapping[str, Result]
    working: Working
    verdict: Verdict | None = None
    cautions: tuple[str, ...] = ()  # ids in checklists/cautions.toml
    notes: tuple[str, ...] = ()  # one line each, for the person
    basis: str = ""  # only where it differs from the calculator's own
    shapes: Mapping[str, Shape] = msgspec.field(default_factory=dict)


class Answer(Struct, frozen=True):
    """A calculator's answer, whole and unrounded.

    A result that has points in it is told twice: its rows without them in `results`, whole in `shapes`, plain lists.
    """

    calculator: str
    inputs: Mapping[str, Value]
    results: Mapping[str, Result]
    units: Mapping[str, str | Mapping[str, str]]
    verdict: Verdict | None
    cautions: tuple[str, ...]
    basis: str
    working: tuple[Step, ...] = ()
    notes: tuple[str, ...] = ()
    shapes: Mapping[str, Shape] = msgspec.field(default_factory=dict)


class Calculator(Struct, frozen=True):
    """A calculator: called by name with its inputs, it gives an Answer.

    `takes` is the struct of its inputs, and `function` works an Outcome from one.
    """

    name: str
    takes: type[Inputs]
    branch: Branch
    does: str
    results: tuple[Output, ...]
    basis: str
    definition: str
    example: str
    function: Callable[[Any], Outcome]

    @property
    def inputs(self) -> tuple[Input, ...]:
        """Each input with its kind, limits and words, in the order in which it is asked."""
        return self.takes.rows

    def __call__(self, given: Inputs | None = None, /, **values: Value) -> Answer:
        """Answer for inputs in mm, degrees, kg and counts, as keywords or as the calculator's own struct.

        Raises Refusal when an input is missing, unknown or can't be, or when the figures break a rule of the trade.
        """
        filled = self.takes.filled(self.name, {**(given.given() if given else {}), **values})
        outcome = self.function(filled)
        answer = Answer(
            calculator=self.name,
            inputs=filled.given(),
            results=dict(outcome.results),
            units={o.name: _unit(o) for o in self.results if o.name in outcome.results},
            verdict=outcome.verdict,
            cautions=outcome.cautions,
            basis=outcome.basis or self.basis,
            working=tuple(outcome.working.steps),
            notes=outcome.notes,
            shapes=outcome.shapes,
        )
        self._prove(answer)
        return answer

    def input(self, name: str) -> Input:
        """The input of that name; Refusal if there is none."""
        return self.takes.row(self.name, name)

    def _prove(self, answer: Answer) -> None:
        """No answer leaves with a number that is not one: that is the inputs' fault, told in one line."""
        for name, result in answer.results.items():
            for row in _rows(name, result):
                for value in row.values():
                    if isinstance(value, float) and not math.isfinite(value):
                        raise Refusal(f"{self.name}: can't work out {name} from these figures. Check them")


def _rows(name: str, result: Result) -> Sequence[Mapping[str, object]]:
    """A result as rows: a table's own, or one of what it gives."""
    if isinstance(result, list):
        return result
    if isinstance(result, dict):
        return [result]
    return [{name: result}]


def _unit(output: Output) -> str | Mapping[str, str]:
    if output.columns:
        return {c.name: c.unit for c in output.columns}
    return output.unit


class About(TypedDict):
    """What an entry says of a calculator. `example` is the `key=value ...` of a call that a test runs."""

    branch: Branch
    does: str
    results: tuple[Output, ...]
    basis: str
    definition: str
    example: str


def calculator(
    name: str, takes: type[Given], **about: Unpack[About]
) -> Callable[[Callable[[Given], Outcome]], Calculator]:
    """Make a function of the inputs `takes` a calculator of that name."""

    def wrap(function: Callable[[Given], Outcome]) -> Calculator:
        return Calculator(name, takes, **about, function=function)

    return wrap

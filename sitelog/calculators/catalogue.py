"""What a calculator is: its inputs, its results, its rule, and the answer it gives.

One entry a calculator drives the command line, the form on the screen, the help and the tests.
"""

import keyword
import math
from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.calculators.formula import value_of
from sitelog.quantities.quantity import Cut, Item, Price, Section, Tie
from sitelog.quantities.quantity import Kind as Kind
from sitelog.quantities.quantity import Value as Value
from sitelog.quantities.rounding import as_typed
from sitelog.refusal import Refusal

Branch = Literal["setting-out", "rafters", "curves", "decks", "coverings", "timber"]
Verdict = Literal["pass", "fail", "unsure"]
Row = dict[str, float | int | str | None]
Result = float | int | str | None | Row | list[Row]

# Inclusive limits by kind, before an input's own. 200 m is longer than any roof a gang pitches by hand.
LIMITS: dict[Kind, tuple[float, float]] = {
    "length": (0.0, 200_000.0),
    "offset": (-200_000.0, 200_000.0),
    "lengths": (0.0, 200_000.0),
    "offsets": (-200_000.0, 200_000.0),
    "angle": (0.0, 360.0),
    "count": (0, 10_000),
    "number": (-1e9, 1e9),
    "fraction": (0.0, 1.0),
    "fall": (0.0, 1.0),
    "section": (0.0, 2_000.0),
    "ties": (0.0, 200_000.0),
    "cuts": (0.0, 200_000.0),
    "prices": (0.0, 1e9),
}
# What is over nought whatever an input says: a pitch, a side of timber, a length between two points, a price.
OVER_NOUGHT = ("pitch", "section", "ties", "cuts", "prices")
MOST_ROWS = 2_000


class Input(Struct, frozen=True):
    """One input of a calculator. `low` and `high` are inclusive; `over` and `under` are exclusive."""

    name: str
    kind: Kind
    says: str
    default: Value = None
    optional: bool = False
    low: float | None = None
    high: float | None = None
    over: float | None = None
    under: float | None = None
    choices: tuple[str, ...] = ()
    unit: str = ""
    unsaid: str = ""  # what a check gives for it while nobody has said

    @property
    def required(self) -> bool:
        return self.default is None and not self.optional

    @property
    def parameter(self) -> str:
        """The name in Python, where `class` can't be one."""
        return f"{self.name}_" if keyword.iskeyword(self.name) else self.name


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
    numbers: Mapping[str, float] = field(default_factory=dict)
    note: str = ""


class Working:
    """Collects steps while the sum is done: the formula that is shown is the one that is worked."""

    def __init__(self) -> None:
        self.steps: list[Step] = []

    def step(self, name: str, formula: str, unit: str = "mm", /, **numbers: float) -> float:
        """Work the formula with these numbers and keep it as a step; gives its value, in `unit`.

        ValueError for a formula that is more than plain arithmetic over these numbers.
        """
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


class Answer(Struct, frozen=True):
    """A calculator's answer, whole and unrounded."""

    calculator: str
    inputs: Mapping[str, Value]
    results: Mapping[str, Result]
    units: Mapping[str, str | Mapping[str, str]]
    verdict: Verdict | None
    cautions: tuple[str, ...]
    basis: str
    working: tuple[Step, ...] = ()
    notes: tuple[str, ...] = ()


class Calculator(Struct, frozen=True):
    name: str
    branch: Branch
    does: str
    inputs: tuple[Input, ...]
    results: tuple[Output, ...]
    basis: str
    definition: str
    example: str
    function: Callable[..., Outcome]

    def __call__(self, **given: Value) -> Answer:
        """Answer for inputs in mm, degrees, kg and counts.

        Raises Refusal when an input is missing, unknown or can't be, or when the figures break a rule of the trade.
        """
        values = self._filled(given)
        outcome = self.function(**{i.parameter: values[i.name] for i in self.inputs})
        answer = Answer(
            calculator=self.name,
            inputs={k: v for k, v in values.items() if v is not None},
            results=dict(outcome.results),
            units={o.name: _unit(o) for o in self.results if o.name in outcome.results},
            verdict=outcome.verdict,
            cautions=outcome.cautions,
            basis=outcome.basis or self.basis,
            working=tuple(outcome.working.steps),
            notes=outcome.notes,
        )
        return self._proved(answer)

    def input(self, name: str) -> Input:
        for one in self.inputs:
            if one.name == name:
                return one
        names = ", ".join(i.name for i in self.inputs)
        raise Refusal(f"{self.name} doesn't have a figure called {name!r}; choose from: {names}")

    def _filled(self, given: Mapping[str, Value]) -> dict[str, Value]:
        named = {name.rstrip("_"): value for name, value in given.items()}
        for name in named:
            self.input(name)
        values: dict[str, Value] = {}
        for one in self.inputs:
            value = named.get(one.name)
            if value is None:
                value = one.default
            if value is None and one.required:
                raise Refusal(f"{self.name} needs {one.name}: {one.says}")
            if value is not None:
                self._within(one, value)
            values[one.name] = int(value) if one.kind == "count" and isinstance(value, float) else value
        return values

    def _within(self, one: Input, value: Value) -> None:
        if one.kind == "choice" and value not in one.choices:
            raise Refusal(f"{self.name}: {one.name} is {value!r}; it must be one of {', '.join(one.choices)}")
        numbers = value if isinstance(value, tuple) else (value,)
        if len(numbers) > MOST_ROWS:
            raise Refusal(f"{self.name}: {one.name} has {len(numbers)} figures; give at most {MOST_ROWS}")
        for number in numbers:
            for called, figure in _figures(one.name, number):
                self._number_within(one, called, figure)

    def _number_within(self, one: Input, called: str, number: float) -> None:
        kind_low, kind_high = LIMITS.get(one.kind, (-math.inf, math.inf))
        low = one.low if one.low is not None else kind_low
        high = one.high if one.high is not None else kind_high
        over = 0.0 if one.kind in OVER_NOUGHT and one.over is None else one.over
        under = 90.0 if one.kind == "pitch" and one.under is None else one.under
        rules = (
            (math.isfinite(number), "must be a finite number"),
            (one.kind != "count" or number % 1 == 0, "must be a whole number"),
            (number >= low, f"must be at least {as_typed(low)}"),
            (number <= high, f"must be at most {as_typed(high)}"),
            (over is None or number > over, f"must be over {as_typed(over)}" if over is not None else ""),
            (under is None or number < under, f"must be under {as_typed(under)}" if under is not None else ""),
        )
        for holds, rule in rules:
            if not holds:
                raise Refusal(f"{self.name}: {called} is {as_typed(number)}; it {rule}")

    def _proved(self, answer: Answer) -> Answer:
        """No answer leaves with a number that is not one: that is the inputs' fault, told in one line."""
        for name, result in answer.results.items():
            rows: Sequence[Mapping[str, object]]
            rows = result if isinstance(result, list) else [result] if isinstance(result, dict) else [{name: result}]
            for row in rows:
                for value in row.values():
                    if isinstance(value, float) and not math.isfinite(value):
                        raise Refusal(f"{self.name}: can't work out {name} from these figures. Check them")
        return replace(answer)


def _figures(name: str, value: Value | Item) -> tuple[tuple[str, float], ...]:
    """The figures of a value that its limits are held to, and what each is called."""
    match value:
        case Section():
            return (f"{name}'s thickness", value.thickness), (f"{name}'s depth", value.depth)
        case Tie():
            return ((f"{name}, {value.start}-{value.end},", value.length),)
        case Cut(section, length, number) | Price(section, length, number):
            last = "count" if isinstance(value, Cut) else "price"
            said = f"{name}, {section},"
            return *_figures(said, section), (f"{said} length", length), (f"{said} {last}", number)
        case int() | float():
            return ((name, float(value)),)
    return ()


def _unit(output: Output) -> str | Mapping[str, str]:
    return {c.name: c.unit for c in output.columns} if output.columns else output.unit


def calculator(
    name: str,
    *,
    branch: Branch,
    does: str,
    inputs: Sequence[Input],
    results: Sequence[Output],
    basis: str,
    definition: str,
    example: str,
) -> Callable[[Callable[..., Outcome]], Calculator]:
    """Make a function a calculator. `example` is the `key=value ...` of a call that a test runs."""

    def wrap(function: Callable[..., Outcome]) -> Calculator:
        return Calculator(name, branch, does, tuple(inputs), tuple(results), basis, definition, example, function)

    return wrap

"""What a calculator gives another program: its results as attributes, and the answer behind them."""

from collections.abc import Callable
from textwrap import indent, wrap

from sitelog.calculators.catalogue import Answer, Calculator, Input, Output, Result, Shape, Value
from sitelog.calculators.index import WHERE, find
from sitelog.refusal import Refusal

Function = Callable[..., "Worked"]
MAY_BE_NONE = frozenset(
    {("squareness", "suspect"), ("building", "misclosure"), ("stock", "cost")}
)  # where None says: none found, nothing to tell, no price

# The unit that a figure of a kind is given in, where its input doesn't say another.
UNITS = {
    **dict.fromkeys(("length", "offset", "lengths", "offsets", "section", "ties", "cuts", "prices"), "mm"),
    **dict.fromkeys(("angle", "pitch"), "degrees"),
    "fall": "rise over run",
}
RAISES = (
    "Raises Refusal where an input is missing, unknown or can't be, where the figures break a rule of the trade, and "
    "for a result that these figures don't give."
)
WIDTH = 100


class Worked:
    """The answer of a calculator. Each result is an attribute, not rounded: mm, degrees, m2, kg, l/s or a count.

    `answer` has the working, the cautions, the verdict and the units. Raises Refusal for a result that these figures
    don't give, AttributeError for a name that is none of the calculator's.
    """

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __getattr__(self, name: str) -> Result | Shape:
        answer: Answer = vars(self)["answer"]
        found = {**answer.results, **answer.shapes}.get(name)
        if found is not None or (answer.calculator, name) in MAY_BE_NONE:
            return found
        if name in {output.name for output in find(answer.calculator).results}:
            raise Refusal(f"{answer.calculator}: {name} can't be worked out from these figures")
        raise AttributeError(f"{answer.calculator} doesn't give {name}")


def function_named(name: str) -> Function:
    """The function of a calculator, by its name with _ for -. AttributeError where none has it."""
    known = name.replace("_", "-")
    if known not in WHERE:
        raise AttributeError(f"no calculator called {known}")
    calculator = find(known)

    def work(**values: Value) -> Worked:
        given = {key.rstrip("_"): value for key, value in values.items()}
        return Worked(calculator(**given))

    work.__name__ = name
    work.__doc__ = docstring(calculator)
    return work


def unit_of(given: Input) -> str:
    """The unit that an input is given in; "" for a word, a count or a plain number."""
    return given.unit or UNITS.get(given.kind, "")


def docstring(calculator: Calculator) -> str:
    """What it does, what it takes and gives, each with its unit, what it refuses, and where it comes from."""
    takes = "\n".join(_said(given.attribute, unit_of(given), given.says) for given in calculator.inputs)
    gives = "\n".join(_said(output.name, _unit(output), output.says) for output in calculator.results)
    about = "\n".join(wrap(calculator.definition, WIDTH))
    source = "\n".join(wrap(f"Source: {calculator.basis}", WIDTH))
    raises = "\n".join(wrap(RAISES, WIDTH))
    return f"{calculator.does}.\n\n{about}\n\nTakes:\n{takes}\n\nGives:\n{gives}\n\n{raises}\n\n{source}\n"


def _said(name: str, unit: str, says: str) -> str:
    told = f"{name} [{unit}]: {says}" if unit else f"{name}: {says}"
    return indent("\n".join(wrap(told, WIDTH - 8, subsequent_indent="    ")), "    ")


def _unit(output: Output) -> str:
    """Of rows, each column's."""
    if not output.columns:
        return output.unit
    return ", ".join(f"{column.name} {column.unit}".strip() for column in output.columns)

"""What a calculator gives another program: its results as attributes, and the answer behind them."""

from collections.abc import Callable

from sitelog.calculators.catalogue import Answer, Result, Shape, Value
from sitelog.calculators.index import WHERE, find
from sitelog.refusal import Refusal

Function = Callable[..., "Worked"]
MAY_BE_NONE = frozenset(
    {("squareness", "suspect"), ("building", "misclosure"), ("stock", "cost")}
)  # where None says: none found, nothing to tell, no price


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
    work.__doc__ = calculator.definition
    return work

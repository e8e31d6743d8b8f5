"""What the job knows of the inputs of a calculator that is worked by itself."""

from dataclasses import dataclass

from sitelog.calculators.catalogue import Calculator, Value
from sitelog.calculators.catalogue import Input as Wanted
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import CheckView, State

LEFT_OUT = "-"  # typed to leave out a figure that the job would give
ALIKE = {"length": "length", "offset": "length", "angle": "angle", "pitch": "angle"}


@dataclass(frozen=True)
class KnownInputs:
    """A figure of the job that an input starts from; `words` is "built" or "drawn", `typed` that no sum gave it."""

    value: Value
    words: str
    typed: bool = False


def known_of(calculator: Calculator, state: State, part: str) -> dict[str, KnownInputs]:
    """What the job knows of the inputs, by their names: as a check of the part in hand feeds the same sum, else a
    fact of the same name and kind. One that such a check feeds under another name is not taken by its own."""
    named = _named(calculator, state, part)
    same = (view for view in state.checks() if view.part == part and view.check.calculator == calculator.name)
    view = next(same, None)
    if view is None:
        return named
    used = {fed.fact.rpartition(".")[2] for fed in view.inputs if fed.fact}
    return {name: known for name, known in named.items() if name not in used} | _fed(view)


def _named(calculator: Calculator, state: State, part: str) -> dict[str, KnownInputs]:
    """What facts of the part have the names and the kinds of the inputs."""
    found = {}
    for wanted in calculator.inputs:
        fact = state.facts.get(f"{part}.{wanted.name}")
        if fact and fact.now is not None and _stands_for(fact, wanted):
            found[wanted.name] = KnownInputs(fact.now, fact.origin, fact.typed)
    return found


def _fed(view: CheckView) -> dict[str, KnownInputs]:
    """What a check feeds its sum from the facts of the job."""
    return {
        fed.name: KnownInputs(fed.value, fed.origin, fed.typed)
        for fed in view.inputs
        if fed.fact and fed.value is not None
    }


def _stands_for(fact: Fact, wanted: Wanted) -> bool:
    alike = fact.kind == wanted.kind or (fact.kind in ALIKE and ALIKE[fact.kind] == ALIKE.get(wanted.kind))
    return alike and (wanted.kind != "choice" or fact.now in wanted.choices)

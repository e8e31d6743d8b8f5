"""What the job knows of the inputs of a calculator that is worked by itself."""

from dataclasses import dataclass

from sitelog.calculators.catalogue import Calculator, Value
from sitelog.calculators.catalogue import Input as Wanted
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import State

LEFT_OUT = "-"  # typed to leave out a figure that the job would give
ALIKE = {"length": "length", "offset": "length", "angle": "angle", "pitch": "angle"}


@dataclass(frozen=True)
class KnownInputs:
    """A figure of the job that an input starts from; `words` is "built" or "drawn", `typed` that no sum gave it."""

    value: Value
    words: str
    typed: bool = False


def known_of(one: Calculator, state: State, part: str) -> dict[str, KnownInputs]:
    """What the job knows of the inputs, by their names: as a check of the part in hand feeds the same sum, else a
    fact of the same name and kind."""
    found = {
        wanted.name: KnownInputs(fact.now, fact.origin, fact.typed)
        for wanted in one.inputs
        if (fact := state.facts.get(f"{part}.{wanted.name}")) and fact.now is not None and _stands_for(fact, wanted)
    }
    for view in state.checks():
        if view.part == part and view.check.calculator == one.name:
            fed = {
                i.name: KnownInputs(i.value, i.origin, i.typed) for i in view.inputs if i.fact and i.value is not None
            }
            return found | fed
    return found


def _stands_for(fact: Fact, wanted: Wanted) -> bool:
    alike = fact.kind == wanted.kind or (fact.kind in ALIKE and ALIKE[fact.kind] == ALIKE.get(wanted.kind))
    return alike and (wanted.kind != "choice" or fact.now in wanted.choices)

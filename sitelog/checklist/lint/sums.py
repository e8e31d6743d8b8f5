"""Every calculator named must be there, have its inputs filled by what suits them, and give what is taken."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitelog.calculators.catalogue import Calculator, Input
from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import output, suits, told, unsuited
from sitelog.checklist.schema.model import Check, MemberSpec, Operand, Sum
from sitelog.checklist.schema.table import hint
from sitelog.quantities.quantity import Kind, read
from sitelog.refusal import Refusal


@dataclass(frozen=True)
class Run:
    """A calculator as a check, a sum or a member runs it."""

    spot: Spot
    listed: Listed
    calculator: Calculator
    inputs: Mapping[str, Operand]
    check: Check | None = None

    @property
    def figures(self) -> dict[str, Kind]:
        return {figure.key: figure.kind for figure in self.check.figures} if self.check else {}

    @property
    def takes(self) -> list[str]:
        return [one.name for one in self.calculator.inputs]


def runs(context: LintContext) -> Iterator[Run]:
    """Every check, sum and member whose calculator is there."""
    known = calculators()
    for spot, listed, one in _named(context):
        if one.calculator in known:
            check = one if isinstance(one, Check) else None
            yield Run(spot, listed, known[one.calculator], one.inputs, check)


def _named(context: LintContext) -> Iterator[tuple[Spot, Listed, Check | Sum | MemberSpec]]:
    for listed in context.lists:
        for place, one in enumerate(listed.checklist.sums):
            yield listed.spot.at("sum", place), listed, one
        for spot, member in listed.members():
            if member.calculator:
                yield spot, listed, member
        for spot, _, check in listed.checks():
            if check.calculator:
                yield spot, listed, check


def calculators_are_known(context: LintContext) -> Iterator[Fault]:
    known = calculators()
    for spot, _, one in _named(context):
        if one.calculator and one.calculator not in known:
            near = hint(one.calculator, [*known])
            yield spot.at("calculator").fault(f"unknown calculator {one.calculator}; {near}")
    for listed in context.lists:
        for spot, _, check in listed.checks():
            for key in ("inputs", "shows"):
                if getattr(check, key) and not check.calculator:
                    yield spot.at(key).fault(f"{key} without a calculator; name the calculator that it runs")


def inputs_are_known(context: LintContext) -> Iterator[Fault]:
    for run in runs(context):
        for name in run.inputs:
            if name not in run.takes:
                what = f"{run.calculator.name} doesn't have a figure called {name}; {hint(name, run.takes)}"
                yield run.spot.at("inputs", name).fault(what)
            elif name in run.figures:
                yield run.spot.at("inputs", name).fault(f"{name} is a figure of this check already; give it once")


def inputs_are_filled(context: LintContext) -> Iterator[Fault]:
    for run in runs(context):
        limit = run.check is not None and run.check.limit is not None
        filled = {*run.inputs, *run.figures, *(["tolerance"] if limit else [])}
        missing = [one.name for one in run.calculator.inputs if one.required and one.name not in filled]
        if missing:
            right = "fill them from facts or figures" if len(missing) > 1 else "fill it from a fact or a figure"
            yield run.spot.at("inputs").fault(f"{run.calculator.name} needs {', '.join(missing)}; {right}")


def inputs_are_suited(context: LintContext) -> Iterator[Fault]:
    for run in runs(context):
        known = context.known(run.listed)
        for one in run.calculator.inputs:
            if one.name in run.figures and not suits(run.figures[one.name], one.kind):
                what = f"{one.name} of {run.calculator.name} is {told(one.kind)}, not {told(run.figures[one.name])}"
                yield run.spot.fault(f"{what}; make the figure's kind {one.kind}")
            if one.name in run.inputs:
                for wrong in _unsuited(one, run.inputs[one.name], {**known, **_keyed(run.figures)}):
                    yield run.spot.at("inputs", one.name).fault(wrong)


def _keyed(figures: Mapping[str, Kind]) -> dict[str, Kind | None]:
    return {f"={key}": kind for key, kind in figures.items()}


def _unsuited(one: Input, operand: Operand, kinds: Mapping[str, Kind | None]) -> Iterator[str]:
    for term in operand.terms:
        if term.kind == "value" and operand.word == "is":
            yield from _misread(one, term.value)
    for name, kind, right in unsuited(operand, one.kind, kinds):
        yield f"{one.name} takes {right}, and {name} is {kind}; give what suits it"


def _misread(one: Input, value: float | str) -> Iterator[str]:
    text = value if isinstance(value, str) else f"{value:.12g}"
    if one.kind == "choice":
        if text not in one.choices:
            yield f"{one.name} can't be {text!r}; {hint(text, one.choices)}"
        return
    try:
        read(one.kind, text, name=one.name)
    except Refusal as refusal:
        # A plain ratio is what a fall is inside; only text must be typed as 1:60.
        if not (one.kind == "fall" and isinstance(value, float)):
            yield refusal.message


def results_are_known(context: LintContext) -> Iterator[Fault]:
    for run in runs(context):
        for place, name in enumerate(run.check.shows if run.check else ()):
            held = place == 0 and run.check is not None and run.check.limit is not None
            wrong = _result(run.calculator, name, one_number=held)
            if wrong:
                yield run.spot.at("shows", place).fault(wrong)
    for listed in context.lists:
        for place, one in enumerate(listed.checklist.sums):
            yield from _given(listed.spot.at("sum", place, "gives"), one)


def _given(spot: Spot, one: Sum) -> Iterator[Fault]:
    if not one.gives:
        yield spot.fault(f"sum {one.id} doesn't give anything; name a fact and the result for it")
    known = calculators()
    for fact, path in one.gives.items():
        wrong = _result(known[one.calculator], path, one_number=True) if one.calculator in known else ""
        if wrong and path:
            yield spot.at(fact).fault(wrong)


def _result(calculator: Calculator, path: str, *, one_number: bool) -> str:
    """What is wrong with a result's path, or nothing."""
    try:
        found = output(calculator, path)
    except Refusal as refusal:
        return refusal.message
    if found.columns and one_number:
        return f"{path} is rows, but it must be one value; say which, as {path}.ROW.{found.columns[-1].name}"
    return ""


def facts_are_given_once(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        first: dict[str, Sum] = {}
        for place, one in enumerate(listed.checklist.sums):
            for fact in one.gives:
                other = first.setdefault(fact, one)
                if other is not one and not (other.when and one.when):
                    right = "give both a when, so that only one of them runs"
                    spot = listed.spot.at("sum", place, "gives", fact)
                    yield spot.fault(f"the sum {other.id} gives {fact} too; {right}")


RULES: tuple[Rule, ...] = (
    calculators_are_known,
    inputs_are_known,
    inputs_are_filled,
    inputs_are_suited,
    results_are_known,
    facts_are_given_once,
)

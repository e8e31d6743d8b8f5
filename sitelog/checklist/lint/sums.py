"""Every calculator named must be there, have its inputs filled by what suits them, and give what is taken."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sitelog.calculators.catalogue import Calculator, Input
from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import output, suits, told, unsuited
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.model import Check, Sum
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Operand
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
        """The kinds of the check's figures by key: those that are inputs are taken by their names."""
        if not self.check:
            return {}
        return {figure.key: figure.kind for figure in self.check.figures}

    @property
    def takes(self) -> list[str]:
        """The names of the calculator's inputs."""
        return [wanted.name for wanted in self.calculator.inputs]

    @property
    def limited(self) -> bool:
        """Whether a check's limit holds its first result."""
        return self.check is not None and self.check.limit is not None


def runs(context: LintContext) -> Iterator[Run]:
    """Every check, sum and member whose calculator is there."""
    known = calculators()
    for spot, listed, spec in _named(context):
        if spec.calculator in known:
            check = spec if isinstance(spec, Check) else None
            yield Run(spot, listed, known[spec.calculator], spec.inputs, check)


def _named(context: LintContext) -> Iterator[tuple[Spot, Listed, Check | Sum | MemberSpec]]:
    for listed in context.lists:
        for spot, spec in listed.sums():
            yield spot, listed, spec
        for spot, member in listed.members():
            if member.calculator:
                yield spot, listed, member
        for spot, _, check in listed.checks():
            if check.calculator:
                yield spot, listed, check


def calculators_are_known(context: LintContext) -> Iterator[Fault]:
    """Every calculator that is named is there, and inputs or results are given for one alone."""
    known = calculators()
    for spot, _, spec in _named(context):
        if spec.calculator and spec.calculator not in known:
            near = hint(spec.calculator, [*known])
            yield spot.at("calculator").fault(f"unknown calculator {spec.calculator}; {near}")
    for spot, _, check in context.checks():
        for key in ("inputs", "shows", "gives"):
            if getattr(check, key) and not check.calculator:
                yield spot.at(key).fault(f"{key} without a calculator; name the calculator that it runs")


def inputs_are_known(context: LintContext) -> Iterator[Fault]:
    """Every input is one that the calculator has, and is given once: by an operand, or by a figure of its name."""
    for run in runs(context):
        for name in run.inputs:
            if name not in run.takes:
                what = f"{run.calculator.name} doesn't have a figure called {name}; {hint(name, run.takes)}"
                yield run.spot.at("inputs", name).fault(what)
            elif name in run.figures:
                yield run.spot.at("inputs", name).fault(f"{name} is a figure of this check already; give it once")


def inputs_are_filled(context: LintContext) -> Iterator[Fault]:
    """Every input that a calculator can't do without is filled; its tolerance by the check's limit."""
    for run in runs(context):
        filled = {*run.inputs, *run.figures}
        if run.limited:
            filled.add("tolerance")
        required = [wanted.name for wanted in run.calculator.inputs if wanted.required]
        missing = [name for name in required if name not in filled]
        if missing:
            right = "fill them from facts or figures" if len(missing) > 1 else "fill it from a fact or a figure"
            yield run.spot.at("inputs").fault(f"{run.calculator.name} needs {', '.join(missing)}; {right}")


def inputs_are_suited(context: LintContext) -> Iterator[Fault]:
    """What fills an input is of its kind, and one of its choices."""
    for run in runs(context):
        kinds = {**context.known(run.listed), **{f"={key}": kind for key, kind in run.figures.items()}}
        for wanted in run.calculator.inputs:
            name, given = wanted.name, run.figures.get(wanted.name)
            if given and not suits(given, wanted.kind):
                wrong = f"{name} of {run.calculator.name} is {told(wanted.kind)}, not {told(given)}"
                yield run.spot.fault(f"{wrong}; make the figure's kind {wanted.kind}")
            if name in run.inputs:
                yield from map(run.spot.at("inputs", name).fault, _unsuited(wanted, run.inputs[name], kinds))


def _unsuited(wanted: Input, operand: Operand, kinds: Mapping[str, Kind | None]) -> Iterator[str]:
    for term in operand.terms:
        if term.kind == "value" and operand.word == "is":
            yield from _misread(wanted, term.value)
    for name, kind, right in unsuited(operand, wanted.kind, kinds):
        yield f"{wanted.name} takes {right}, and {name} is {kind}; give what suits it"


def _misread(wanted: Input, value: float | str) -> Iterator[str]:
    text = value if isinstance(value, str) else f"{value:.12g}"
    if wanted.kind == "choice":
        if text not in wanted.choices:
            yield f"{wanted.name} can't be {text!r}; {hint(text, wanted.choices)}"
        return
    try:
        read(wanted.kind, text, name=wanted.name)
    except Refusal as refusal:
        # A plain ratio is what a fall is inside; only text must be typed as 1:60.
        if not (wanted.kind == "fall" and isinstance(value, float)):
            yield refusal.message


def results_are_known(context: LintContext) -> Iterator[Fault]:
    """Every result that a check shows or a fact takes is there; what is held to a limit, or a fact, is one value."""
    for run in runs(context):
        for place, name in enumerate(run.check.shows if run.check else ()):
            wrong = _result(run.calculator, name, one_number=place == 0 and run.limited)
            if wrong:
                yield run.spot.at("shows", place).fault(wrong)
        if run.check:
            yield from _given(run.spot.at("gives"), run.check)
    for listed in context.lists:
        for spot, spec in listed.sums():
            if not spec.gives:
                yield spot.at("gives").fault(f"sum {spec.id} doesn't give anything; name a fact and the result for it")
            yield from _given(spot.at("gives"), spec)


def _given(spot: Spot, spec: Sum | Check) -> Iterator[Fault]:
    calculator = calculators().get(spec.calculator)
    for fact, path in spec.gives.items():
        wrong = ""
        if calculator and path:
            wrong = _result(calculator, path, one_number=True)
        if wrong:
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
    """Sums that give one fact each have a condition, so that one of them runs."""
    for listed in context.lists:
        first: dict[str, Sum] = {}
        for spot, run in listed.sums():
            for fact in run.gives:
                other = first.setdefault(fact, run)
                apart = other.each and run.each and not set(other.each) & set(run.each)
                if other is not run and not apart and not (other.when and run.when):
                    right = "give both a when, so that only one of them runs"
                    yield spot.at("gives", fact).fault(f"the sum {other.id} gives {fact} too; {right}")


RULES: tuple[Rule, ...] = (
    calculators_are_known,
    inputs_are_known,
    inputs_are_filled,
    inputs_are_suited,
    results_are_known,
    facts_are_given_once,
)

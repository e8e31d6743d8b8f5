"""A limit that is another figure, and figures that are worked or drawn: each is of the kind that is asked."""

from collections.abc import Iterator, Mapping
from contextlib import suppress

from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.loader.members import operands
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import output, result_kind, unsuited
from sitelog.checklist.schema.model import Check, Figure, Limit
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Operand
from sitelog.quantities.quantity import Kind
from sitelog.refusal import Refusal


def facts_in_operands_are_known(context: LintContext) -> Iterator[Fault]:
    """An operand names facts that its list knows, and other figures of its own check."""
    for listed in context.lists:
        known = context.known(listed)
        for spot, operand, figures in _operands(listed):
            for term in operand.terms:
                if term.kind == "fact" and term.name not in known:
                    yield spot.fault(f"unknown fact @{term.name}; {hint(term.name, [*known])}")
                elif term.kind == "figure" and term.name not in figures:
                    yield spot.fault(f"unknown figure ={term.name}; {hint(term.name, figures)}")


Said = tuple[Spot, Operand, tuple[str, ...]]  # an operand, and the keys of the figures that it may say


def _operands(listed: Listed) -> Iterator[Said]:
    """Every operand of a list."""
    yield from _outside_checks(listed)
    for spot, _, check in listed.checks():
        keys = tuple(figure.key for figure in check.figures)
        for name, operand in check.inputs.items():
            yield spot.at("inputs", name), operand, keys
    for spot, _, check, figure in listed.figures():
        if figure.drawn:
            yield spot.at("drawn"), figure.drawn, _other_keys(check, figure)
    for spot, check, limited, operand in _limits(listed):
        yield spot, operand, _other_keys(check, limited)


def _outside_checks(listed: Listed) -> Iterator[Said]:
    for spot, fact in listed.facts():
        if fact.worked:
            yield spot.at("worked"), fact.worked, ()
    for spot, run in listed.sums():
        for name, operand in run.inputs.items():
            yield spot.at("inputs", name), operand, ()
    for spot, member in listed.members():
        for keys, operand in operands(member):
            yield spot.at(*keys), operand, ()


def _other_keys(check: Check, figure: Figure | None) -> tuple[str, ...]:
    """The keys of the check's figures but for that one."""
    return tuple(other.key for other in check.figures if other is not figure)


def _limits(listed: Listed) -> Iterator[tuple[Spot, Check, Figure | None, Operand]]:
    """The limits that are other figures; the figure that has it for its own, None where it is the check's."""
    for spot, _, check in listed.checks():
        if check.limit and check.limit.of:
            only = None
            if len(check.figures) == 1 and not check.calculator:
                only = check.figures[0]
            yield spot.at("limit", "amount"), check, only, check.limit.of
    for spot, _, check, figure in listed.figures():
        if figure.limit and figure.limit.of:
            yield spot.at("limit", "amount"), check, figure, figure.limit.of


def limits_are_suited(context: LintContext) -> Iterator[Fault]:
    """A limit that is another figure is at most or at least that figure, and of the kind of what it limits."""
    for listed in context.lists:
        for spot, check, figure, operand in _limits(listed):
            limit = figure.limit if figure and figure.limit else check.limit
            if limit:
                yield from _another_figure(spot, limit)
            kinds = {**context.known(listed), **{f"={other.key}": other.kind for other in check.figures}}
            for wanted in (figure.kind,) if figure else _limited(check):
                for name, kind, right in _unsuited(operand, wanted, kinds):
                    yield spot.fault(f"{name} is {kind}, but it must be {right}; use one that suits")


def _another_figure(spot: Spot, limit: Limit) -> Iterator[Fault]:
    if limit.rule == "within":
        yield spot.fault("within takes a number; a limit that is another figure is at most it, or at least it")
    if not limit.says:
        yield spot.fault("the limit is another figure; says names it, as the roof's pitch")


def _unsuited(operand: Operand, wanted: Kind, kinds: Mapping[str, Kind | None]) -> Iterator[tuple[str, str, str]]:
    """As `unsuited`; a bare number may be of any kind."""
    if wanted != "number":
        yield from unsuited(operand, wanted, kinds)


def _limited(check: Check) -> Iterator[Kind]:
    """The kinds of what the check's own limit is for: its sum's first result where it has one, else its figures."""
    if not check.calculator:
        yield from {figure.kind for figure in check.figures}
    elif check.shows and check.calculator in calculators():
        with suppress(Refusal):
            kind = result_kind(output(calculators()[check.calculator], check.shows[0]))
            yield from (kind,) if kind else ()


def _worked_and_drawn(listed: Listed) -> Iterator[tuple[Spot, Operand, Kind]]:
    """What facts are worked from and figures are drawn by, with the kind of each."""
    for spot, fact in listed.facts():
        if fact.worked:
            yield spot.at("worked"), fact.worked, fact.kind
    for spot, _, _, figure in listed.figures():
        if figure.drawn:
            yield spot.at("drawn"), figure.drawn, figure.kind


def worked_and_drawn_are_numbers(context: LintContext) -> Iterator[Fault]:
    """What a fact is worked from, a figure is drawn by or a limit is holds no words."""
    for listed in context.lists:
        numbers = [(spot, operand) for spot, operand, _ in _worked_and_drawn(listed)]
        numbers += [(spot, operand) for spot, _, _, operand in _limits(listed)]
        for spot, operand in numbers:
            for term in operand.terms:
                if isinstance(term.value, str):
                    right = "write a number without quotes, or a fact as @length"
                    yield spot.fault(f"{spot.place[-1]} can't be the text {term.value!r}; {right}")


def drawn_and_worked_are_suited(context: LintContext) -> Iterator[Fault]:
    """A length is worked from lengths, an angle from angles."""
    for listed in context.lists:
        known = context.known(listed)
        for spot, operand, wanted in _worked_and_drawn(listed):
            for name, kind, right in _unsuited(operand, wanted, known):
                yield spot.fault(f"@{name} is {kind}, but it must be {right}; use one that suits")

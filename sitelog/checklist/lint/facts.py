"""Every fact that a list says must be one, suit the place where it is said, and get its value one way."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress

from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.loader.members import operands
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import WORDS, output, result_kind, suits, told, unsuited
from sitelog.checklist.schema.model import Check, Clause, Condition, Figure, Operand
from sitelog.checklist.schema.table import hint
from sitelog.quantities.quantity import Kind
from sitelog.refusal import Refusal


def facts_in_operands_are_known(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        known = context.known(listed)
        for spot, operand, figures in _operands(listed):
            for term in operand.terms:
                if term.kind == "fact" and term.name not in known:
                    yield spot.fault(f"unknown fact @{term.name}; {hint(term.name, [*known])}")
                elif term.kind == "figure" and term.name not in figures:
                    yield spot.fault(f"unknown figure ={term.name}; {hint(term.name, figures)}")


def _operands(listed: Listed) -> Iterator[tuple[Spot, Operand, tuple[str, ...]]]:
    """Every operand of a list, and the keys of the figures that it may say."""
    for spot, fact in listed.facts():
        if fact.worked:
            yield spot.at("worked"), fact.worked, ()
    for place, one in enumerate(listed.checklist.sums):
        for name, operand in one.inputs.items():
            yield listed.spot.at("sum", place, "inputs", name), operand, ()
    for spot, member in listed.members():
        yield from ((spot.at(*keys), operand, ()) for keys, operand in operands(member))
    for spot, _, check in listed.checks():
        keys = tuple(figure.key for figure in check.figures)
        for name, operand in check.inputs.items():
            yield spot.at("inputs", name), operand, keys
    for spot, _, check, figure in listed.figures():
        if figure.drawn:
            yield spot.at("drawn"), figure.drawn, tuple(f.key for f in check.figures if f.key != figure.key)
    for spot, check, limited, operand in _limits(listed):
        yield spot, operand, tuple(f.key for f in check.figures if f is not limited)


def _limits(listed: Listed) -> Iterator[tuple[Spot, Check, Figure | None, Operand]]:
    """The limits that are other figures; the figure that has it for its own, None where it is the check's."""
    for spot, _, check in listed.checks():
        if check.limit and check.limit.of:
            only = check.figures[0] if len(check.figures) == 1 and not check.calculator else None
            yield spot.at("limit", "amount"), check, only, check.limit.of
    for spot, _, check, figure in listed.figures():
        if figure.limit and figure.limit.of:
            yield spot.at("limit", "amount"), check, figure, figure.limit.of


def limits_are_suited(context: LintContext) -> Iterator[Fault]:
    """A limit that is another figure is at most or at least that figure, and of the kind of what it limits."""
    for listed in context.lists:
        for spot, check, figure, operand in _limits(listed):
            limit = figure.limit if figure and figure.limit else check.limit
            if limit and limit.rule == "within":
                yield spot.fault("within takes a number; a limit that is another figure is at most it, or at least it")
            if limit and not limit.says:
                yield spot.fault("the limit is another figure; says names it, as the roof's pitch")
            kinds = {**context.known(listed), **{f"={one.key}": one.kind for one in check.figures}}
            for wanted in (figure.kind,) if figure else _limited(check):
                for name, kind, right in unsuited(operand, wanted, kinds) if wanted != "number" else ():
                    yield spot.fault(f"{name} is {kind}, but it must be {right}; use one that suits")


def _limited(check: Check) -> Iterator[Kind]:
    """The kinds of what the check's own limit is for: its sum's first result where it has one, else its figures."""
    if not check.calculator:
        yield from {figure.kind for figure in check.figures}
    elif check.shows and check.calculator in calculators():
        with suppress(Refusal):
            kind = result_kind(output(calculators()[check.calculator], check.shows[0]))
            yield from (kind,) if kind else ()


def worked_and_drawn_are_numbers(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        numbers = [(spot.at("worked"), fact.worked) for spot, fact in listed.facts() if fact.worked]
        numbers += [(spot.at("drawn"), f.drawn) for spot, _, _, f in listed.figures() if f.drawn]
        numbers += [(spot, operand) for spot, _, _, operand in _limits(listed)]
        for spot, operand in numbers:
            for term in operand.terms:
                if isinstance(term.value, str):
                    right = "write a number without quotes, or a fact as @length"
                    yield spot.fault(f"{spot.place[-1]} can't be the text {term.value!r}; {right}")


def drawn_and_worked_are_suited(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        known = context.known(listed)
        numbers = [(spot.at("worked"), fact.worked, fact.kind) for spot, fact in listed.facts() if fact.worked]
        numbers += [(spot.at("drawn"), f.drawn, f.kind) for spot, _, _, f in listed.figures() if f.drawn]
        for spot, operand, wanted in numbers:
            for name, kind, right in unsuited(operand, wanted, known) if wanted != "number" else ():
                yield spot.fault(f"@{name} is {kind}, but it must be {right}; use one that suits")


def facts_in_conditions_are_known(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        known = context.known(listed)
        for spot, condition in _conditions(listed):
            yield from (f for one in condition.clauses for f in _clause(context, (listed,), known, spot, one))
    every = context.everything()
    for spot, caution in context.cautions.values():
        for one in caution.when.clauses if caution.when else ():
            yield from _clause(context, context.lists, every, spot.at("when"), one)


def _conditions(listed: Listed) -> Iterator[tuple[Spot, Condition]]:
    for place, one in enumerate(listed.checklist.sums):
        if one.when:
            yield listed.spot.at("sum", place, "when"), one.when
    for spot, member in listed.members():
        if member.when:
            yield spot.at("when"), member.when
        for place, shown in enumerate(member.shows):
            if shown.when:
                yield spot.at("shows", place, "when"), shown.when
    for place, trade in enumerate(listed.checklist.trades):
        if trade.when:
            yield listed.spot.at("trade", place, "when"), trade.when
    for spot, _, taker in listed.takers():
        if taker.when and taker not in listed.checklist.trades:
            yield spot.at("when"), taker.when
    for spot, stage in listed.stages():
        if stage.when:
            yield spot.at("when"), stage.when
    for spot, _, check in listed.checks():
        if check.when:
            yield spot.at("when"), check.when


def _clause(
    context: LintContext, lists: Iterable[Listed], known: Mapping[str, object], spot: Spot, clause: Clause
) -> Iterator[Fault]:
    if clause.fact not in known:
        yield spot.fault(f"unknown fact {clause.fact}; {hint(clause.fact, [*known])}")
        return
    words = {word for one in lists for word in context.words(clause.fact, context.lists_of(one, clause.fact))}
    kind = known[clause.fact]
    if clause.word in ("over", "under"):
        if kind in WORDS:
            yield spot.fault(f"{clause.fact} is a {kind}; ask with is or in, not {clause.word}")
        return
    if kind is not None and kind not in WORDS:
        yield spot.fault(f"{clause.fact} is {told(kind)}; ask with over or under, not {clause.word}")
    for value in clause.values:
        if words and value not in words:
            yield spot.fault(f"{clause.fact} is never {value}; {hint(value, [*words])}")


def facts_that_are_set_are_there(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        known = {name: kind for name, kind in context.known(listed).items() if "." not in name}
        for one in listed.sets():
            spot, kind = one.spot.at("sets"), known.get(one.fact)
            if one.fact not in known:
                yield spot.fault(f"sets an unknown fact, {one.fact}; {hint(one.fact, [*known])}")
            elif not suits(one.kind, kind or one.kind) or (kind == "text" and one.kind not in WORDS):
                yield spot.fault(f"sets {one.fact}, {told(kind)}, from {told(one.kind)}; set a fact of the same kind")


def choices_that_are_set_are_known(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        choices = {fact.name: fact.choices for _, fact in listed.facts() if fact.choices}
        for one in listed.sets():
            known = choices.get(one.fact)
            for choice in one.check.choices if known else ():
                if known and choice.id not in known:
                    what = f"{one.fact} is never {choice.id}; {hint(choice.id, known)}"
                    yield one.spot.at("choices").fault(what)


def facts_get_a_value_one_way(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        given = {name for one in listed.checklist.sums for name in one.gives}
        set_by = {one.fact for one in listed.sets()}
        finishes = {fact.name for _, finish in context.finishes.values() for fact in finish.facts}
        for spot, fact in listed.facts():
            typed = fact.asked or bool(fact.default)
            if fact.worked and (typed or fact.name in given):
                yield spot.fault(f"{fact.name} is worked out and given as well; give its value one way")
            elif fact.asked and fact.name in given:
                yield spot.fault(f"{fact.name} is asked and given by a sum as well; give its value one way")
            elif not (typed or fact.worked or fact.name in given | set_by | finishes):
                yield spot.fault(f"nothing gives {fact.name} a value; ask it, work it out, or set it in a check")


def branch_questions_have_no_default(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        branches = {c.fact for _, condition in _conditions(listed) for c in condition.clauses if c.word in ("is", "in")}
        branches |= {one.fact for one in listed.sets() if one.kind == "choice"}
        for spot, fact in listed.facts():
            if fact.default and fact.kind in WORDS and fact.name in branches:
                yield spot.at("default").fault(f"{fact.name} decides what is asked; it can't have a default, so ask it")


def least_is_another_figure_asked(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        asked = {fact.name: fact.kind for _, fact in listed.facts() if fact.asked}
        for spot, fact in listed.facts():
            if fact.least and not (fact.asked and fact.least != fact.name and asked.get(fact.least) == fact.kind):
                what = f"{fact.name} can't have least {fact.least}; least must be another {fact.kind} that is asked"
                yield spot.at("least").fault(what)


def facts_that_are_choices_have_choices(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        for spot, fact in listed.facts():
            if fact.kind == "choice" and not context.words(fact.name, (listed,)):
                yield spot.fault(f"{fact.name} is a choice without choices; give choices, or a check that sets it")
            elif fact.choices and fact.kind not in WORDS:
                yield spot.at("choices").fault(f"{fact.name} is {told(fact.kind)}; choices are for a choice")
            elif fact.choices and fact.default and fact.default not in fact.choices:
                yield spot.at("default").fault(
                    f"{fact.name} is never {fact.default}; {hint(fact.default, fact.choices)}"
                )


def finishes_set_a_fact_alike(context: LintContext) -> Iterator[Fault]:
    kinds: dict[str, object] = {}
    for spot, finish in context.finishes.values():
        for place, fact in enumerate(finish.facts):
            first = kinds.setdefault(fact.name, fact.kind)
            if fact.kind != first:
                yield spot.at("fact", place, "kind").fault(
                    f"{fact.name} is {told(first)} in another finish; make it one"
                )


RULES: tuple[Rule, ...] = (
    facts_in_operands_are_known,
    worked_and_drawn_are_numbers,
    facts_in_conditions_are_known,
    drawn_and_worked_are_suited,
    limits_are_suited,
    facts_that_are_set_are_there,
    choices_that_are_set_are_known,
    facts_get_a_value_one_way,
    branch_questions_have_no_default,
    least_is_another_figure_asked,
    facts_that_are_choices_have_choices,
    finishes_set_a_fact_alike,
)

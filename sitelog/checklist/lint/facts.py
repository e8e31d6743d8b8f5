"""Every fact that a list says must be one, suit the place where it is said, and get its value one way."""

from collections.abc import Iterator

from sitelog.checklist.lint.conditions import conditions, facts_in_conditions_are_known
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.limits import (
    drawn_and_worked_are_suited,
    facts_in_operands_are_known,
    limits_are_suited,
    worked_and_drawn_are_numbers,
)
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault
from sitelog.checklist.schema.kinds import WORDS, suits, told
from sitelog.checklist.schema.model import FactSpec
from sitelog.checklist.schema.table import hint
from sitelog.quantities.quantity import Kind


def facts_that_are_set_are_there(context: LintContext) -> Iterator[Fault]:
    """A check sets a fact that its list names, and one of the kind that it asks for."""
    for listed in context.lists:
        known = {name: kind for name, kind in context.known(listed).items() if "." not in name}
        for setting in listed.sets():
            name, given, spot = setting.fact, setting.kind, setting.where
            if name not in known:
                yield spot.fault(f"sets an unknown fact, {name}; {hint(name, [*known])}")
                continue
            if not _may_be_set(known[name], given):
                kinds = told(known[name]), told(given)
                yield spot.fault(f"sets {name}, {kinds[0]}, from {kinds[1]}; set a fact of the same kind")


def _may_be_set(kind: Kind | None, given: Kind | None) -> bool:
    """Whether a fact of the one kind may be set from the other; a result that has no unit may be of any."""
    if kind is None or given is None:
        return True
    return suits(given, kind) and (kind != "text" or given in WORDS)


def choices_that_are_set_are_known(context: LintContext) -> Iterator[Fault]:
    """A choice that sets a fact offers no word that the fact never is."""
    for listed in context.lists:
        choices = {fact.name: fact.choices for _, fact in listed.facts() if fact.choices}
        for setting in listed.sets():
            known = choices.get(setting.fact)
            if known is None:
                continue
            for choice in setting.check.choices:
                if choice.id not in known:
                    wrong = f"{setting.fact} is never {choice.id}; {hint(choice.id, known)}"
                    yield setting.spot.at("choices").fault(wrong)


def facts_get_a_value_one_way(context: LintContext) -> Iterator[Fault]:
    """A fact is asked, worked, given by a sum, or set by a check or a finish: of these one way, and never none."""
    by_finishes = {fact.name for _, fact in context.finish_facts()}
    for listed in context.lists:
        by_sums = {name for _, run in listed.sums() for name in run.gives}
        by_checks = {setting.fact for setting in listed.sets()}
        for spot, fact in listed.facts():
            wrong = _given_wrong(fact, by_sums, by_checks | by_finishes)
            if wrong:
                yield spot.fault(wrong)


def _given_wrong(fact: FactSpec, by_sums: set[str], set_elsewhere: set[str]) -> str:
    """What is wrong with how a fact gets its value, or nothing."""
    typed = fact.asked or bool(fact.default)
    by_sum = fact.name in by_sums
    if fact.worked and (typed or by_sum):
        return f"{fact.name} is worked out and given as well; give its value one way"
    if fact.asked and by_sum:
        return f"{fact.name} is asked and given by a sum as well; give its value one way"
    if any((typed, fact.worked, fact.gathers, by_sum, fact.name in set_elsewhere)):
        return ""
    return f"nothing gives {fact.name} a value; ask it, work it out, or set it in a check"


def branch_questions_have_no_default(context: LintContext) -> Iterator[Fault]:
    """A fact in words that decides what is asked is never taken for granted."""
    for listed in context.lists:
        branches = _branch_questions(listed)
        for spot, fact in listed.facts():
            if fact.default and fact.kind in WORDS and fact.name in branches:
                yield spot.at("default").fault(f"{fact.name} decides what is asked; it can't have a default, so ask it")


def _branch_questions(listed: Listed) -> set[str]:
    """The facts whose words decide what is asked, and those that a choice sets."""
    clauses = [clause for _, condition in conditions(listed) for clause in condition.clauses]
    decide = {clause.fact for clause in clauses if clause.word in ("is", "in")}
    return decide | {setting.fact for setting in listed.sets() if setting.kind == "choice"}


def least_is_another_figure_asked(context: LintContext) -> Iterator[Fault]:
    """What a figure is never less than is asked too, and of its kind."""
    for listed in context.lists:
        asked = {fact.name: fact.kind for _, fact in listed.facts() if fact.asked}
        for spot, fact in listed.facts():
            if not fact.least:
                continue
            is_another = fact.least != fact.name and asked.get(fact.least) == fact.kind
            if not fact.asked or not is_another:
                wrong = f"{fact.name} can't have least {fact.least}; least must be another {fact.kind} that is asked"
                yield spot.at("least").fault(wrong)


def facts_that_are_choices_have_choices(context: LintContext) -> Iterator[Fault]:
    """A choice has words to choose from, a count may have figures, its default is one of them; nothing else has any."""
    for listed in context.lists:
        for spot, fact in listed.facts():
            if fact.kind == "choice" and not context.words(fact.name, (listed,)):
                yield spot.fault(f"{fact.name} is a choice without choices; give choices, or a check that sets it")
            elif fact.choices and fact.kind not in (*WORDS, "count"):
                yield spot.at("choices").fault(f"{fact.name} is {told(fact.kind)}; choices are for a choice or a count")
            elif fact.choices and fact.default and fact.default not in fact.choices:
                near = hint(fact.default, fact.choices)
                yield spot.at("default").fault(f"{fact.name} is never {fact.default}; {near}")


def finishes_set_a_fact_alike(context: LintContext) -> Iterator[Fault]:
    """All finishes that set a fact set it to one kind."""
    kinds: dict[str, object] = {}
    for spot, fact in context.finish_facts():
        first = kinds.setdefault(fact.name, fact.kind)
        if fact.kind != first:
            yield spot.at("kind").fault(f"{fact.name} is {told(first)} in another finish; make it one")


RULES: tuple[Rule, ...] = (
    facts_in_operands_are_known,
    worked_and_drawn_are_numbers,
    drawn_and_worked_are_suited,
    limits_are_suited,
    facts_in_conditions_are_known,
    facts_that_are_set_are_there,
    choices_that_are_set_are_known,
    facts_get_a_value_one_way,
    branch_questions_have_no_default,
    least_is_another_figure_asked,
    facts_that_are_choices_have_choices,
    finishes_set_a_fact_alike,
)

"""Every fact that a list says must be one, suit the place where it is said, and get its value one way."""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress

from sitelog.calculators.index import calculators
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.loader.members import operands
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import WORDS, output, result_kind, suits, told, unsuited
from sitelog.checklist.schema.model import Check, FactSpec, Figure, Limit
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Clause, Condition, Operand
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


def facts_in_conditions_are_known(context: LintContext) -> Iterator[Fault]:
    """A condition asks about facts that are there, with a word and values that suit each."""
    for listed in context.lists:
        known = context.known(listed)
        for spot, condition in _conditions(listed):
            for clause in condition.clauses:
                yield from _clause(context, (listed,), known, spot, clause)
    every = context.everything()
    for spot, caution in context.cautions.values():
        for clause in caution.when.clauses if caution.when else ():
            yield from _clause(context, context.lists, every, spot.at("when"), clause)


def _conditions(listed: Listed) -> Iterator[tuple[Spot, Condition]]:
    """Every condition of a list; that of a trade once, wherever a check names the trade."""
    for spot, when in _whens(listed):
        if when:
            yield spot, when


def _whens(listed: Listed) -> Iterator[tuple[Spot, Condition | None]]:
    yield from ((spot.at("when"), run.when) for spot, run in listed.sums())
    yield from ((spot.at("when"), stage.when) for spot, stage in listed.stages())
    yield from ((spot.at("when"), check.when) for spot, _, check in listed.checks())
    yield from ((spot.at("when"), trade.when) for spot, trade in listed.trades())
    for spot, _, taker in listed.takers():
        if taker not in listed.checklist.trades:
            yield spot.at("when"), taker.when
    for spot, member in listed.members():
        yield spot.at("when"), member.when
        for place, shown in enumerate(member.shows):
            yield spot.at("shows", place, "when"), shown.when


def _clause(
    context: LintContext, lists: Iterable[Listed], known: Mapping[str, object], spot: Spot, clause: Clause
) -> Iterator[Fault]:
    if clause.fact not in known:
        yield spot.fault(f"unknown fact {clause.fact}; {hint(clause.fact, [*known])}")
        return
    words: set[str] = set()
    for listed in lists:
        words |= context.words(clause.fact, context.lists_of(listed, clause.fact))
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
    """A check sets a fact that its list names, and one of the kind that it asks for."""
    for listed in context.lists:
        known = {name: kind for name, kind in context.known(listed).items() if "." not in name}
        for setting in listed.sets():
            name, given, spot = setting.fact, setting.kind, setting.spot.at("sets")
            if name not in known:
                yield spot.fault(f"sets an unknown fact, {name}; {hint(name, [*known])}")
                continue
            kind = known[name]
            if not suits(given, kind or given) or (kind == "text" and given not in WORDS):
                yield spot.fault(f"sets {name}, {told(kind)}, from {told(given)}; set a fact of the same kind")


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
    clauses = [clause for _, condition in _conditions(listed) for clause in condition.clauses]
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
    """A choice has words to choose from, its default is one of them, and nothing else has any."""
    for listed in context.lists:
        for spot, fact in listed.facts():
            if fact.kind == "choice" and not context.words(fact.name, (listed,)):
                yield spot.fault(f"{fact.name} is a choice without choices; give choices, or a check that sets it")
            elif fact.choices and fact.kind not in WORDS:
                yield spot.at("choices").fault(f"{fact.name} is {told(fact.kind)}; choices are for a choice")
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

"""Conditions compare facts that the list knows with what such a fact can be."""

from collections.abc import Iterable, Iterator, Mapping

from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.kinds import WORDS, told
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Clause, Condition


def facts_in_conditions_are_known(context: LintContext) -> Iterator[Fault]:
    """A condition asks about facts that are there, with a word and values that suit each."""
    for listed in context.lists:
        known = context.known(listed)
        for spot, condition in conditions(listed):
            for clause in condition.clauses:
                yield from _clause(context, (listed,), known, spot, clause)
    every = context.everything()
    for spot, caution in context.cautions.values():
        for clause in caution.when.clauses if caution.when else ():
            yield from _clause(context, context.lists, every, spot.at("when"), clause)


def conditions(listed: Listed) -> Iterator[tuple[Spot, Condition]]:
    """Every condition of a list; that of a trade once, wherever a check names the trade."""
    for spot, when in _whens(listed):
        if when:
            yield spot, when


def _whens(listed: Listed) -> Iterator[tuple[Spot, Condition | None]]:
    yield from ((spot.at("when"), run.when) for spot, run in listed.sums())
    yield from ((spot.at("when"), stage.when) for spot, stage in listed.stages())
    yield from ((spot.at("when"), check.when) for spot, _, check in listed.checks())
    yield from ((spot.at("when"), figure.when) for spot, _, _, figure in listed.figures())
    yield from ((spot.at("when"), trade.when) for spot, trade in listed.trades())
    for spot, _, taker in listed.takers():
        if taker not in listed.checklist.trades:
            yield spot.at("when"), taker.when
    for spot, member in listed.members():
        yield from _of_member(spot, member)


def _of_member(spot: Spot, member: MemberSpec) -> Iterator[tuple[Spot, Condition | None]]:
    yield spot.at("when"), member.when
    yield spot.at("joint", "when"), member.joint.when if member.joint else None
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

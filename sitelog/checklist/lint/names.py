"""Every source and caution that is named must be there, and every check names a source."""

from collections.abc import Iterable, Iterator

from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.table import hint


def checks_have_sources(context: LintContext) -> Iterator[Fault]:
    """Every check says where it comes from."""
    for spot, _, check in context.checks():
        if not check.sources:
            yield spot.fault(f"check {check.id} doesn't name a source; give sources, even if only common practice")


def cautions_have_sources(context: LintContext) -> Iterator[Fault]:
    """Every caution gives a figure or a rule with its source."""
    for spot, caution in context.cautions.values():
        if not caution.figures:
            yield spot.fault(f"caution {caution.id} doesn't name a source; give figures, each with its source")


def sources_are_known(context: LintContext) -> Iterator[Fault]:
    """Every source that is named is there: a list's in the list, those of cautions and finishes in any file."""
    for spot, source, known in _cited(context):
        if source and source not in known:
            yield spot.fault(f"unknown source {source}; {hint(source, [*known])}")


def _cited(context: LintContext) -> Iterator[tuple[Spot, str, Iterable[str]]]:
    for listed in context.lists:
        known = listed.checklist.sources
        for spot, _, check in listed.checks():
            yield from ((spot.at("sources", place), source, known) for place, source in enumerate(check.sources))
        for spot, limit in listed.limits():
            yield spot.at("source"), limit.source, known
    for spot, caution in context.cautions.values():
        for place, (_, source) in enumerate(caution.figures):
            yield spot.at("figures", place, "source"), source, context.sources
    for spot, fact in context.finish_facts():
        yield spot.at("source"), fact.source, context.sources
    for spot, ask in context.asks():
        yield spot.at("source"), ask.source, context.sources


def cautions_are_known(context: LintContext) -> Iterator[Fault]:
    """Every caution that a stage, a check or a finish names is there."""
    for spot, name in _cautions_named(context):
        if name not in context.cautions:
            yield spot.fault(f"unknown caution {name}; {hint(name, [*context.cautions])}")


def _cautions_named(context: LintContext) -> Iterator[tuple[Spot, str]]:
    named = [(spot, finish.cautions) for spot, finish in context.finishes.values()]
    named += [(spot, stage.cautions) for spot, stage in context.stages()]
    named += [(spot, check.cautions) for spot, _, check in context.checks()]
    for spot, cautions in named:
        yield from ((spot.at("cautions", place), name) for place, name in enumerate(cautions))
    for spot, ask in context.asks():
        if ask.caution:
            yield spot.at("caution"), ask.caution


def trades_take_something_over(context: LintContext) -> Iterator[Fault]:
    """A trade whose condition is told in a list is named by a check of it."""
    for listed in context.lists:
        named = {taker.trade for _, _, taker in listed.takers()}
        for spot, trade in listed.trades():
            if trade.trade not in named:
                right = hint(trade.trade, [*named]) if named else "take it out"
                yield spot.at("id").fault(f"no check hands over to {trade.trade}; {right}")


RULES: tuple[Rule, ...] = (
    checks_have_sources,
    cautions_have_sources,
    sources_are_known,
    cautions_are_known,
    trades_take_something_over,
)

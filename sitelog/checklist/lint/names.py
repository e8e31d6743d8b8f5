"""Every source and caution that is named must be there, and every check names a source."""

from collections.abc import Iterable, Iterator

from sitelog.checklist.lint.context import LintContext
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.table import hint


def checks_have_sources(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        for spot, _, check in listed.checks():
            if not check.sources:
                yield spot.fault(f"check {check.id} doesn't name a source; give sources, even if only common practice")


def cautions_have_sources(context: LintContext) -> Iterator[Fault]:
    for spot, caution in context.cautions.values():
        if not caution.figures:
            yield spot.fault(f"caution {caution.id} doesn't name a source; give figures, each with its source")


def sources_are_known(context: LintContext) -> Iterator[Fault]:
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
    for spot, finish in context.finishes.values():
        for place, fact in enumerate(finish.facts):
            yield spot.at("fact", place, "source"), fact.source, context.sources
        for place, ask in enumerate(finish.asks):
            yield spot.at("asks", place, "source"), ask.source, context.sources


def cautions_are_known(context: LintContext) -> Iterator[Fault]:
    told: list[tuple[Spot, tuple[str, ...]]] = [(spot, one.cautions) for spot, one in context.finishes.values()]
    for listed in context.lists:
        told += [(spot, stage.cautions) for spot, stage in listed.stages()]
        told += [(spot, check.cautions) for spot, _, check in listed.checks()]
    for spot, cautions in told:
        for place, caution in enumerate(cautions):
            if caution not in context.cautions:
                yield spot.at("cautions", place).fault(
                    f"unknown caution {caution}; {hint(caution, [*context.cautions])}"
                )
    for spot, finish in context.finishes.values():
        for place, ask in enumerate(finish.asks):
            if ask.caution and ask.caution not in context.cautions:
                wrong = f"unknown caution {ask.caution}; {hint(ask.caution, [*context.cautions])}"
                yield spot.at("asks", place, "caution").fault(wrong)


def trades_take_something_over(context: LintContext) -> Iterator[Fault]:
    for listed in context.lists:
        named = {taker.trade for _, _, taker in listed.takers()}
        for place, one in enumerate(listed.checklist.trades):
            if one.trade not in named:
                right = hint(one.trade, [*named]) if named else "take it out"
                yield listed.spot.at("trade", place, "id").fault(f"no check hands over to {one.trade}; {right}")


RULES: tuple[Rule, ...] = (
    checks_have_sources,
    cautions_have_sources,
    sources_are_known,
    cautions_are_known,
    trades_take_something_over,
)

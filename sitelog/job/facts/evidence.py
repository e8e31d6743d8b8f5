"""What an answer rests on, kept with it; and which facts have changed since, so that it is stale.

Under "@" keys an answer keeps, plain: "@drawn" what its figures were meant to be, "@inputs" what its sum was worked
from, "@limits" the limits that are other figures, "@results" what an accepted sum gave, "@when" the facts that its
conditions read, "@verdict" what the limit said of it.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from sitelog.calculators.catalogue import Answer, Value
from sitelog.checklist.schema.model import Check, Stage
from sitelog.checklist.schema.terms import Operand
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.feeding import Worked
from sitelog.job.facts.moves import EvidenceUnits, verdict_moved
from sitelog.job.facts.sums import result
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import from_plain, same, to_plain

RESTS_ON = ("@drawn", "@inputs", "@limits", "@when")


def evidence(
    resolver: FactResolver, part: str, stage: Stage, check: Check, drawn: Mapping[str, Value], worked: Worked,
    limits: Mapping[str, float],
) -> dict[str, Any]:  # fmt: skip
    """What an answer to the check would keep as things stand: `drawn` of its figures, its sum as worked, and the
    `limits` that are other figures."""
    found: dict[str, dict[str, Any]] = {
        "@drawn": {key: to_plain(value) for key, value in drawn.items() if value is not None},
        "@inputs": {view.name: to_plain(view.value) for view in worked.inputs if view.name in check.inputs},
        "@limits": dict(limits),
        "@when": {name: to_plain(resolver.now(part, name)) for name in _read_by_conditions(stage, check)},
        "@results": _results(check, worked.answer),
    }
    return {key: kept for key, kept in found.items() if kept}


def verdict_kept(verdict: str | None) -> dict[str, Any]:
    """What the limit says, as an answer keeps it."""
    return {"@verdict": {"word": verdict}} if verdict else {}


def _read_by_conditions(stage: Stage, check: Check) -> Iterator[str]:
    """The facts that decide whether the check and its figures are asked, by name."""
    for when in (stage.when, check.when, *(figure.when for figure in check.figures)):
        if when:
            yield from (clause.fact for clause in when.clauses)


def _results(check: Check, answer: Answer | None) -> dict[str, Any]:
    if answer is None or check.kind != "calculate":
        return {}
    return {path: to_plain(result(answer, path)) for path in shown(check, answer)}


def shown(check: Check, answer: Answer) -> list[str]:
    """The results that stand for a sum: those the check shows, else all that are a single value."""
    single = [name for name, value in answer.results.items() if isinstance(value, (int, float, str))]
    return list(check.shows) or single


def changed(
    resolver: FactResolver, part: str, check: Check, kept: Mapping[str, Any], now: Mapping[str, Any]
) -> tuple[str, ...]:
    """What puts an answer (`kept`) out of date, as the evidence is `now`; nothing where less than a saw's cut moved.

    Full names of facts; the sum, where only its result is another; or "the checklist", where the answer is none to
    what is asked now.
    """
    if not _fits(check, kept):
        return ("the checklist",)
    units = EvidenceUnits(resolver, part, check)
    sum_moved = units.results_moved(kept, now)
    other = list(_other(check, kept, now))
    if not verdict_moved(kept, now):
        other = [row for row in other if units.moved(*row, now) or (sum_moved and row[0] == "@inputs")]
    behind = dict.fromkeys(fact for key, name, _ in other for fact in _facts_behind(resolver, part, check, key, name))
    return tuple(behind) or (check.calculator,) * sum_moved


def _other(check: Check, kept: Mapping[str, Any], now: Mapping[str, Any]) -> Iterator[tuple[str, str, Any]]:
    """What an answer rests on that is another now, by however little: its key, its name, and what it was."""
    for key in RESTS_ON:
        for name, then in mapping(kept.get(key)).items():
            asked_no_longer = key == "@drawn" and check.figure(name) is None
            if not asked_no_longer and not same(then, now.get(key, {}).get(name)):
                yield key, name, then


def _fits(check: Check, kept: Mapping[str, Any]) -> bool:
    """True when what was answered still answers the check: every figure is there, the choice is offered."""
    if check.kind == "choice":
        return kept.get("value") in [choice.id for choice in check.choices]
    return all(figure.optional or from_plain(figure.kind, kept.get(figure.key)) is not None for figure in check.figures)


def _facts_behind(resolver: FactResolver, part: str, check: Check, key: str, name: str) -> list[str]:
    """The full names of the facts that the figure, input or limit comes from; its own name if it comes from none."""
    if key == "@when":
        names = [name]
    else:
        operand = _operand(check, key, name)
        names = [term.name for term in operand.terms if term.kind == "fact"] if operand else []
    return [fact.name for fact in resolver.named(part, names)] or [name]


def _operand(check: Check, key: str, name: str) -> Operand | None:
    """What the checklist takes it from."""
    if key == "@inputs":
        return check.inputs.get(name)
    figure = check.figure(name)
    if key == "@drawn":
        if not figure:
            return None
        return figure.drawn
    limit = (figure and figure.limit) or check.limit
    if not limit:
        return None
    return limit.of

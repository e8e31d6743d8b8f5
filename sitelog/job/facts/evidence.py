"""What an answer rests on, kept with it; and which facts have changed since, so that it is stale.

Under "@" keys an answer keeps, plain: "@drawn" what its figures were meant to be, "@inputs" what its sum was worked
from, "@limits" the limits that are other figures, "@results" what an accepted sum gave, "@when" the facts that its
conditions read.
"""

from collections.abc import Mapping
from typing import Any

from sitelog.calculators.catalogue import Answer, Value
from sitelog.checklist.schema.model import Check, Stage
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.feeding import Worked
from sitelog.job.facts.sums import result
from sitelog.job.log.values import from_plain, same, to_plain

RESTS_ON = ("@drawn", "@inputs", "@limits", "@when")


def evidence(
    resolver: FactResolver, part: str, stage: Stage, check: Check, drawn: Mapping[str, Value], worked: Worked,
    limits: Mapping[str, float],
) -> dict[str, Any]:  # fmt: skip
    """What an answer to the check would keep as things stand: `drawn` of its figures, its sum as worked, and the
    `limits` that are other figures."""
    conditions = [clause.fact for when in (stage.when, check.when) if when for clause in when.clauses]
    found: dict[str, dict[str, Any]] = {
        "@drawn": {key: to_plain(value) for key, value in drawn.items() if value is not None},
        "@inputs": {i.name: to_plain(i.value) for i in worked.inputs if i.name in check.inputs},
        "@limits": dict(limits),
        "@when": {name: to_plain(resolver.now(part, name)) for name in conditions},
    }
    if worked.answer and check.kind == "calculate":
        found["@results"] = {path: to_plain(result(worked.answer, path)) for path in shown(check, worked.answer)}
    return {key: kept for key, kept in found.items() if kept}


def shown(check: Check, answer: Answer) -> list[str]:
    """The results that stand for a sum: those the check shows, else all that are a single value."""
    return list(check.shows) or [k for k, v in answer.results.items() if isinstance(v, (int, float, str))]


def changed(
    resolver: FactResolver, part: str, check: Check, kept: Mapping[str, Any], now: Mapping[str, Any]
) -> tuple[str, ...]:
    """What has changed between an answer (`kept`) and the evidence as it is now.

    Full names of facts; the sum, where only its result is another; or "the checklist", where the answer is none to
    what is asked now.
    """
    found = [] if _fits(check, kept) else ["the checklist"]
    for key in RESTS_ON:
        for name, then in mapping(kept.get(key)).items():
            if key == "@drawn" and check.figure(name) is None:
                continue  # it is asked no longer
            if not same(then, now.get(key, {}).get(name)):
                found += [one for one in _facts_behind(resolver, part, check, key, name) if one not in found]
    results = mapping(kept.get("@results")) if check.kind == "calculate" and not found else {}
    if any(not same(then, now.get("@results", {}).get(path)) for path, then in results.items()):
        found.append(check.calculator)
    return tuple(found)


def _fits(check: Check, kept: Mapping[str, Any]) -> bool:
    """True when what was answered still answers the check: every figure is there, the choice is offered."""
    if check.kind == "choice":
        return kept.get("value") in [choice.id for choice in check.choices]
    return all(f.optional or from_plain(f.kind, kept.get(f.key)) is not None for f in check.figures)


def _facts_behind(resolver: FactResolver, part: str, check: Check, key: str, name: str) -> list[str]:
    if key == "@when":
        names = [name]
    else:
        figure = check.figure(name)
        limit = (figure and figure.limit) or check.limit
        operands = {
            "@inputs": check.inputs.get(name),
            "@limits": limit.of if limit else None,
            "@drawn": figure.drawn if figure else None,
        }
        operand = operands[key]
        names = [term.name for term in operand.terms if term.kind == "fact"] if operand else []
    return [fact.name for fact in resolver.named(part, names)] or [name]


def mapping(value: Any) -> Mapping[str, Any]:
    """The value if it is a mapping; none of it if it is not: a file may hold anything under a key."""
    return value if isinstance(value, Mapping) else {}

"""What newer lists would change in a job: the checks that are new, that ask otherwise, and that go."""

from collections.abc import Iterator, Mapping

from msgspec import Struct

from sitelog.calculators.index import WHERE, find
from sitelog.checklist.schema.model import Check, Figure, Library, Limit
from sitelog.job.facts.schema import JOB, stages_of
from sitelog.job.facts.sums import unit_of
from sitelog.job.state.views import State
from sitelog.quantities.quantity import Units, show

RULES = {"within": "within", "most": "at most", "least": "at least", "over": "more than"}


class Row(Struct, frozen=True):
    """A check that is new, changed or gone; `what` says how a changed one asks otherwise."""

    path: str
    ask: str
    what: tuple[str, ...] = ()


class News(Struct, frozen=True):
    """What newer lists would bring to a job: checks that are new, changed or gone, and what else has changed."""

    new: tuple[Row, ...]
    changed: tuple[Row, ...]
    gone: tuple[Row, ...]
    beside: tuple[tuple[str, str, str], ...]  # new, changed or gone; fact, sum, caution or finish; its name


def news(state: State, own: Library, newest: Library) -> News:
    """A part whose form has no newer list keeps its own, and is left out."""
    forms = {part.id: part.form for part in state.parts if part.form == JOB or part.form in newest.lists}
    before, now = dict(_checks(forms, own)), dict(_checks(forms, newest))
    return News(
        new=tuple(Row(path, check.ask) for path, check in now.items() if path not in before),
        changed=tuple(
            Row(path, check.ask, tuple(_changes(before[path], check, state.units)))
            for path, check in now.items()
            if before.get(path, check) != check
        ),
        gone=tuple(Row(path, check.ask) for path, check in before.items() if path not in now),
        beside=tuple(_beside({JOB, *forms.values()}, own, newest)),
    )


def _checks(forms: dict[str, str], library: Library) -> Iterator[tuple[str, Check]]:
    for part, form in forms.items():
        for stage in stages_of(library, form):
            yield from ((f"{part}.{stage.id}.{check.id}", check) for check in stage.checks)


# -- how a check asks otherwise --


def _changes(was: Check, now: Check, units: Units) -> Iterator[str]:
    told = [*_ask(was, now), *_limits(was, now, units), *_sum(was, now)]
    told += _names("choice", _labels(was), _labels(now))
    told += _names("figure", _figures(was), _figures(now))
    yield from told or ["it asks the same; its reason, source or condition has changed"]


def _labels(check: Check) -> dict[str, str]:
    return {choice.id: choice.label for choice in check.choices}


def _figures(check: Check) -> dict[str, str]:
    return {figure.key: _says(figure) for figure in check.figures}


def _ask(was: Check, now: Check) -> Iterator[str]:
    if was.ask != now.ask:
        yield f"it asked before: {was.ask}"


def _limits(was: Check, now: Check, units: Units) -> Iterator[str]:
    if _of(was.limit) != _of(now.limit):
        yield f"limit {_limit(now.limit, _unit(now), units)}, before {_limit(was.limit, _unit(was), units)}"
    for figure in now.figures:
        before = was.figure(figure.key)
        if before and _of(before.limit) != _of(figure.limit):
            limit, old = (_limit(version.limit, version.unit, units) for version in (figure, before))
            yield f"{_says(figure)}: limit {limit}, before {old}"


def _sum(was: Check, now: Check) -> Iterator[str]:
    if was.calculator != now.calculator:
        yield f"calculator {now.calculator or 'none'}, before {was.calculator or 'none'}"
    elif was.inputs != now.inputs:
        yield f"{now.calculator} uses different figures"


def _names(word: str, was: Mapping[str, str], now: Mapping[str, str]) -> Iterator[str]:
    yield from (f"new {word}: {says}" for key, says in now.items() if key not in was)
    yield from (f"{word} removed: {says}" for key, says in was.items() if key not in now)
    both = [(was[key], says) for key, says in now.items() if key in was]
    yield from (f"{word} {says}, before {old}" for old, says in both if old != says)


def _says(figure: Figure) -> str:
    return figure.says or figure.key


def _of(limit: Limit | None) -> object:
    """What makes a limit another one; where it stands in print does not."""
    return limit and (limit.rule, limit.amount, limit.says if limit.of else "", limit.of)


def _limit(limit: Limit | None, unit: str, units: Units) -> str:
    if limit is None:
        return "none"
    return f"{RULES[limit.rule]} {limit.says if limit.amount is None else show(unit, limit.amount, units)}"


def _unit(check: Check) -> str:
    if check.figures:
        return check.figures[0].unit
    if check.calculator in WHERE and check.shows:
        return unit_of(find(check.calculator), check.shows[0])[0]
    return ""


# -- what stands beside the checks --


def _beside(forms: set[str], own: Library, newest: Library) -> Iterator[tuple[str, str, str]]:
    for kind, was, now in zip(
        ("fact", "sum", "caution", "finish"), _named(forms, own), _named(forms, newest), strict=True
    ):
        rows = [("new", name) for key, (name, _) in now.items() if key not in was]
        rows += [("changed", name) for key, (name, spec) in now.items() if key in was and was[key][1] != spec]
        rows += [("gone", name) for key, (name, _) in was.items() if key not in now]
        yield from ((word, kind, name) for word, name in dict.fromkeys(rows))


def _named(forms: set[str], library: Library) -> Iterator[dict[str, tuple[str, object]]]:
    """Facts, sums, cautions and finishes: each by its key, with its name."""
    lists = [library.lists[form] for form in sorted(forms) if form in library.lists]
    yield {f"{listed.form}.{spec.name}": (spec.says, spec) for listed in lists for spec in listed.facts}
    yield {f"{listed.form}.{each.id}": (each.id, each) for listed in lists for each in listed.sums}
    yield {name: (caution.title, caution) for name, caution in library.cautions.items()}
    yield {name: (finish.label, finish) for name, finish in library.finishes.items()}

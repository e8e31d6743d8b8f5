"""Nothing in a list may wait for itself: checks by their needs, facts by what they are worked from."""

from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter

from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.model import Check, Sum
from sitelog.checklist.schema.table import hint
from sitelog.checklist.schema.terms import Operand

Graph = dict[str, set[str]]
MOST_CIRCLES = 20


def needs_are_known(context: LintContext) -> Iterator[Fault]:
    """A check needs checks that are there, of its own stage or of one before it."""
    for listed in context.lists:
        order = _order(context, listed)
        for spot, stage, check in listed.checks():
            for place, need in enumerate(check.needs):
                name = need if "." in need else f"{stage.id}.{need}"
                if name not in order:
                    near = hint(name, [*order]).replace(f"{stage.id}.", "")
                    yield spot.at("needs", place).fault(f"needs a check that is not there, {need}; {near}")
                elif order[name] > order[f"{stage.id}.{check.id}"]:
                    right = "it needs one of this stage or of a stage before"
                    yield spot.at("needs", place).fault(f"needs {need}, of a later stage; {right}")


def _order(context: LintContext, listed: Listed) -> dict[str, int]:
    """Every check that one of the list may need, with the place of its stage in the order of work."""
    job = context.job if context.job is not listed else None
    stages = [stage for _, stage in job.stages() if stage.place == "first"] if job else []
    stages += [*(context.in_part(listed) if job else ()), *listed.checklist.stages]
    if job is None:
        stages.sort(key=lambda stage: ("first", "part", "last").index(stage.place))
    return {f"{stage.id}.{check.id}": place for place, stage in enumerate(stages) for check in stage.checks}


def needs_go_in_no_circle(context: LintContext) -> Iterator[Fault]:
    """No check waits for one that waits for it."""
    for listed in context.lists:
        graph: Graph = {}
        spots: dict[str, Spot] = {}
        for spot, stage, check in listed.checks():
            name = f"{stage.id}.{check.id}"
            graph[name] = {need if "." in need else f"{stage.id}.{need}" for need in check.needs}
            spots[name] = spot.at("needs")
        for circle in _circles(graph):
            told = " needs ".join(circle)
            yield spots[circle[0]].fault(f"these checks need each other: {told}; take one of them out")


def facts_go_in_no_circle(context: LintContext) -> Iterator[Fault]:
    """No fact is worked from one that is worked from it, nor given by a check whose sum is worked from it."""
    for listed in context.lists:
        graph: Graph = {}
        spots: dict[str, Spot] = {}
        for spot, fact in listed.facts():
            if fact.worked:
                graph[fact.name] = _facts(fact.worked)
                spots[fact.name] = spot.at("worked")
        giving: list[tuple[Spot, Sum | Check]] = [*listed.sums()]
        giving += [(spot, check) for spot, _, check in listed.checks()]
        for spot, run in giving:
            wanted = {name for operand in run.inputs.values() for name in _facts(operand)}
            for name in run.gives:
                graph.setdefault(name, set()).update(wanted)
                spots.setdefault(name, spot.at("gives", name))
        for circle in _circles(graph):
            told = " from ".join(circle)
            yield spots[circle[0]].fault(f"these facts depend on each other: {told}; take one of them from elsewhere")


def figures_go_in_no_circle(context: LintContext) -> Iterator[Fault]:
    """No figure of a check is drawn from one that is drawn from it."""
    for spot, _, check in context.checks():
        graph: Graph = {}
        for figure in check.figures:
            if figure.drawn:
                graph[figure.key] = {term.name for term in figure.drawn.terms if term.kind == "figure"}
        for circle in _circles(graph):
            told = " from ".join(circle)
            yield spot.fault(f"these drawing figures depend on each other: {told}; take one of them from a fact")


def _facts(operand: Operand) -> set[str]:
    return {term.name.removeprefix("job.") for term in operand.terms if term.kind == "fact"}


def _circles(graph: Graph) -> Iterator[list[str]]:
    """Each circle, from its first name by the alphabet round to itself; not all, if very many."""
    for _ in range(MOST_CIRCLES):
        try:
            TopologicalSorter(graph).prepare()
            return
        except CycleError as error:
            circle = error.args[1][-2::-1]  # each name followed by one that it waits for
        first = circle.index(min(circle))
        circle = circle[first:] + circle[:first]
        yield [*circle, circle[0]]
        graph[circle[0]] = graph[circle[0]] - {circle[1 % len(circle)]}


RULES: tuple[Rule, ...] = (
    needs_are_known,
    needs_go_in_no_circle,
    facts_go_in_no_circle,
    figures_go_in_no_circle,
)

"""Which figures of a job rest on a check that is out of date, so that no page shows them."""

from dataclasses import dataclass
from functools import cached_property

from sitelog.checklist.schema.model import Figure
from sitelog.checklist.schema.terms import Operand
from sitelog.job.facts.fact import Fact
from sitelog.job.state.views import CheckView, State


@dataclass(frozen=True)
class Staleness:
    """Answers for one state of a job."""

    state: State

    @cached_property
    def stale_paths(self) -> frozenset[str]:
        """Checks whose answer rests on a figure that has since changed, whatever has been said of them after."""
        return frozenset(view.path for view in self.state.checks() if view.state == "stale" or view.stale_because)

    def stale_fact(self, fact: Fact | None) -> bool:
        """Whether a check under the fact is stale, so that its figure is withheld."""
        return fact is not None and not self.stale_paths.isdisjoint(fact.rests_on)

    def stale_under(self, view: CheckView) -> tuple[str, ...]:
        """The stale checks under a check's sum, itself among them."""
        under = {path for fact in self._facts_fed(view) for path in fact.rests_on} | {view.path}
        return tuple(sorted(under & self.stale_paths))

    def facts_under(self, view: CheckView) -> tuple[Fact, ...]:
        """The facts that a check's sum is fed with, and those that its figures are held to."""
        limits = [view.limit, *(figure.limit for figure in view.figures)]
        held = [figure.drawn for figure in view.check.figures] + [limit.of for limit in limits if limit]
        facts = [fact for operand in held if operand for fact in self._facts_of(view.part, operand)]
        return (*facts, *self._facts_fed(view))

    def _facts_fed(self, view: CheckView) -> list[Fact]:
        fed = [self.state.facts.get(given.fact) for given in view.inputs if given.fact]
        return [fact for fact in fed if fact is not None]

    def _facts_of(self, part: str, operand: Operand) -> list[Fact]:
        facts = [self.fact_of(part, term.name) for term in operand.terms if term.kind == "fact"]
        return [fact for fact in facts if fact is not None]

    def stale_drawn(self, view: CheckView, key: str) -> bool:
        """Whether what a figure of the check is held to rests on a stale check."""
        return self._stale_drawn(view, view.check.figure(key))

    def _stale_drawn(self, view: CheckView, figure: Figure | None) -> bool:
        if figure is None or figure.drawn is None:
            return False
        return any(map(self.stale_fact, self._facts_of(view.part, figure.drawn)))

    def fact_of(self, part: str, name: str) -> Fact | None:
        """A fact of the part, or of the job, by its name within it."""
        own = self.state.facts.get(f"{part}.{name}")
        return own or self.state.facts.get(name if name.startswith("job.") else f"job.{name}")

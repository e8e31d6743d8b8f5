"""Which figures of a part there is any use for as things stand: none of a corner or a finish that isn't there."""

from collections.abc import Iterator

from msgspec import Struct, field

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.terms import Condition
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.sums import holds
from sitelog.job.state.views import State


def in_use(library: Library, state: State, part: str) -> tuple[Fact, ...]:
    """The facts of a part that are asked, set, or can still be measured or worked, in the order of its list."""
    look = _Looking(FactResolver.of(library, state), part)
    return tuple(fact for fact in state.facts.values() if fact.key[0] == part and not look.is_idle(fact))


class _Looking(Struct, frozen=True):
    """One part; `seen` holds what was found of each fact."""

    resolver: FactResolver
    part: str
    seen: dict[str, bool] = field(default_factory=dict)

    def is_idle(self, fact: Fact) -> bool:
        """Whether nothing sets it or works it any more, whatever is measured."""
        name = fact.key[1]
        if name not in self.seen:
            self.seen[name] = False
            self.seen[name] = self._is_idle(fact, name)
        return self.seen[name]

    def _is_idle(self, fact: Fact, name: str) -> bool:
        if fact.asked or fact.key[0] != self.part or "." in fact.set_by:
            return False
        ways = list(self._ways(name))
        if ways and all(any(map(self._is_ruled_out, whens)) for whens in ways):
            return True
        return any(self.is_idle(below) for below in self.resolver.below(self.part, name))

    def _ways(self, name: str) -> Iterator[tuple[Condition, ...]]:
        """The conditions of each check that sets it; of a fact without any, those of each sum that gives it."""
        known = self.resolver.known(self.part)
        for path in known.setters.get(name, ()):
            own = known.figure_conditions.get((path, name))
            yield (*known.conditions.get(path, ()), *((own,) if own else ()))
        for listed in known.sums.get(name, ()) if name not in known.setters else ():
            yield (listed.when,) if listed.when else ()

    def _is_ruled_out(self, when: Condition) -> bool:
        """Whether a condition doesn't hold, and all that it asks about is known."""
        known = all(self.resolver.now(self.part, clause.fact) is not None for clause in when.clauses)
        return known and not holds(when, lambda name: self.resolver.now(self.part, name))

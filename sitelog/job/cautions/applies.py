"""Which cautions apply at a stage as the facts stand."""

from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Library, Stage
from sitelog.checklist.schema.terms import Clause, Condition
from sitelog.job.cautions.asked import asked
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import stages_of
from sitelog.job.facts.sums import holds
from sitelog.job.log.values import to_plain
from sitelog.job.state.views import CheckView, State


class StageCautions(Struct, frozen=True):
    """The cautions of one stage of a part.

    `aside` tells whether the check at a path was set aside or let go: what nobody will say is taken for the worse.
    """

    library: Library
    resolver: FactResolver
    part: str
    stage: Stage
    aside: Callable[[str], bool]

    def all(self, checks: Sequence[CheckView]) -> tuple[Caution, ...]:
        """Every caution that applies, once each: the stage's own, its checks', finishes', sums', others'."""
        known = self.library.cautions
        may_apply = [view for view in checks if self._may_hold(view.check.when)]
        names = dict.fromkeys(name for name in self._named(may_apply) if name in known)
        names |= dict.fromkeys(self._of_lost_stages())
        found = {name: known[name] for name in names if self._may_hold(known[name].when)}
        for name in self._of_others():
            found.setdefault(name, known[name])
        return tuple(found.values())

    def _named(self, checks: Sequence[CheckView]) -> Iterator[str]:
        yield from self.stage.cautions
        for view in checks:
            yield from view.check.cautions
        yield from self._of_finishes(checks)
        for view in checks:
            if view.answer:
                yield from view.answer.cautions

    # --- conditions, where what nobody will say is taken for the worse --------------------------------------------

    def _may_hold(self, when: Condition | None) -> bool:
        """Whether it holds if what nobody will say is taken for the worse: the check that would say it was let go."""
        if when is None:
            return True
        found = map(self._may_be_true, when.clauses)
        if when.any:
            return any(found)
        return all(found)

    def _may_be_true(self, clause: Clause) -> bool:
        fact = self.resolver.fact(self.part, clause.fact)
        if fact and fact.now is None and any(map(self.aside, fact.setters)):
            return True
        return holds(Condition((clause,)), lambda _: fact.now if fact else None)

    # --- of stages that are left out ------------------------------------------------------------------------------

    def _of_lost_stages(self) -> Iterator[str]:
        """Where a stage is left out because this one lets go of what would ask for it: what stops there stops here."""
        for lost in stages_of(self.library, self.resolver.forms[self.part]):
            if lost.when is not None and self._loses(lost.when):
                yield from (name for name in self._named_at(lost) if self._stops(name))

    def _loses(self, when: Condition) -> bool:
        """Whether the condition doesn't hold, but would if a check of this stage had not been let go."""
        if not self._may_hold(when) or holds(when, lambda name: self.resolver.now(self.part, name)):
            return False
        own = {f"{self.part}.{self.stage.id}.{check.id}" for check in self.stage.checks}
        facts = self.resolver.named(self.part, (clause.fact for clause in when.clauses))
        return any(own.intersection(fact.setters) for fact in facts if fact.now is None)

    def _named_at(self, stage: Stage) -> Iterator[str]:
        yield from stage.cautions
        for check in stage.checks:
            if self._may_hold(check.when):
                yield from check.cautions

    def _stops(self, name: str) -> bool:
        return name in self.library.cautions and self.library.cautions[name].stops

    # --- of finishes ----------------------------------------------------------------------------------------------

    def _of_others(self) -> Iterator[str]:
        """Where a part chooses its finish, the cautions with what other parts' finishes ask of it, if they hold
        there."""
        if not any(check.finishes for check in self.stage.checks):
            return
        for request in asked(self.library, self.resolver, self.part):
            caution = self.library.cautions.get(request.ask.caution)
            if caution and self._holds_in(request.by, caution.when):
                yield caution.id

    def _holds_in(self, part: str, when: Condition | None) -> bool:
        return holds(when, lambda name: self.resolver.now(part, name))

    def _of_finishes(self, checks: Sequence[CheckView]) -> Iterator[str]:
        """A chosen finish brings its cautions to the stage where it is chosen, and to those that hang on what it sets.

        Where the choice was let go, each finish that it could have been does.
        """
        used = {name for view in checks for name in _facts_used(view)}
        if self.stage.when:
            used |= {clause.fact for clause in self.stage.when.clauses}
        setters = self.resolver.known(self.part).setters
        for choice, path in self._finishes():
            chosen_here = path.startswith(f"{self.part}.{self.stage.id}.")
            if chosen_here or any(path in setters.get(name, ()) for name in used):
                yield from self.library.finishes[choice].cautions

    def _finishes(self) -> Iterator[tuple[str, str]]:
        """Each finish chosen in the part, and each that a choice let go could have been, with the choice's path."""
        chosen = self.resolver.finishes(self.part)
        yield from chosen
        answered = {path for _, path in chosen}
        for path, choices in self.resolver.known(self.part).finishing.items():
            if path not in answered and self.aside(path):
                yield from ((choice, path) for choice in choices)


def _facts_used(view: CheckView) -> Iterator[str]:
    check = view.check
    operands = [*check.inputs.values(), *(figure.drawn for figure in check.figures if figure.drawn)]
    yield from (term.name for operand in operands for term in operand.terms if term.kind == "fact")
    if check.when:
        yield from (clause.fact for clause in check.when.clauses)


def depends_on(caution: Caution, library: Library, resolver: FactResolver) -> dict[str, object]:
    """The facts that are read by the conditions of all that its answer settles, in every part, plain.

    They are kept with a reading of it.
    """
    conditions = [other.when for other in library.cautions.values() if other.subject == caution.subject and other.when]
    names = [clause.fact for when in conditions for clause in when.clauses]
    if not names:
        return {}
    facts = [fact for part in resolver.forms for fact in resolver.named(part, names)]
    return {fact.name: to_plain(fact.now) for fact in facts}


def unsaid(caution: Caution, state: State) -> tuple[str, ...]:
    """The questions that nobody would answer, let go or set aside, without which its condition can't be told."""
    if not caution.when:
        return ()
    names = {clause.fact.removeprefix("job.") for clause in caution.when.clauses}
    unknown = [fact for fact in state.facts.values() if fact.key[1] in names and fact.now is None]
    setters = filter(None, (state.check(path) for fact in unknown for path in fact.setters))
    asks = [view.check.ask_in_full for view in setters if view.state in ("released", "not applicable")]
    return tuple(dict.fromkeys(asks))

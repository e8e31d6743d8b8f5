"""What is tried before the rest of its kind is cut, what that corrected, and what else a list still waits for."""

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from sitelog.calculators.catalogue import Value
from sitelog.checklist.schema.kinds import WORDS
from sitelog.checklist.schema.members import MemberSpec
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.facts import FactResolver
from sitelog.job.log.values import same
from sitelog.job.state.views import CheckState, CheckView

LET_GO: tuple[CheckState, ...] = ("done", "released", "not applicable")
PARTED = ("", "-2", "-3", "-4")  # what a stage with too many checks is called where it was made into several


class Corrected(Struct, frozen=True):
    """A figure that the rest are cut to, as worked out before one was tried and since; mm or degrees."""

    says: str
    unit: str
    was: Value
    now: Value


class Trial(Struct, frozen=True):
    """The check at which the first is tried. While it is `held` no other is cut; then the rest are as `corrected`.

    `of_itself` where one of these is what is tried; else none of them is cut before. `also` are more such checks.
    """

    path: str
    held: bool
    corrected: tuple[Corrected, ...] = ()
    of_itself: bool = True
    also: tuple[str, ...] = ()

    @property
    def word(self) -> str:
        """`held`, `corrected`, or `tried` where it fits as it was cut."""
        if self.held:
            return "held"
        return "corrected" if self.corrected else "tried"


def trial_of(resolver: FactResolver, checks: Mapping[str, CheckView], part: str, spec: MemberSpec) -> Trial | None:
    """What a member waits for; None where nothing is tried. `checks` are those that apply, by path."""
    named = dict.fromkeys((spec.tried,) if spec.tried else spec.after)
    views = [view for name in named if (view := _tried_at(resolver, checks, part, name))]
    if not views:
        return None
    views.sort(key=lambda view: view.state in LET_GO)  # the first that holds it is told
    first, *more = views
    corrected = [one for view in views for one in _corrected(resolver, part, view)]
    also = tuple(view.path for view in more)
    return Trial(first.path, first.state not in LET_GO, tuple(corrected), bool(spec.tried), also)


def _tried_at(resolver: FactResolver, checks: Mapping[str, CheckView], part: str, name: str) -> CheckView | None:
    """The check of that `stage.check`, or that gives that `@fact`; None where it doesn't apply."""
    if name.startswith("@"):
        paths = [path for fact in resolver.named(part, [name[1:]]) for path in fact.setters]
    else:
        stage, _, check = name.partition(".")
        paths = [f"{part}.{stage}{more}.{check}" for more in PARTED]
    return next((checks[path] for path in paths if path in checks), None)


def _corrected(resolver: FactResolver, part: str, view: CheckView) -> Iterator[Corrected]:
    """The figures that its answer gives, where they are others than without it."""
    given = [fact for fact in resolver.named(part, view.check.gives) if fact.set_by == view.path]
    before = resolver.without(view.path) if given else resolver
    for fact in given:
        was = before.now(part, fact.key[1])
        if not same(was, fact.now):
            yield Corrected(fact.says, fact.unit, was, fact.now)


def is_of_trial(fact: Fact, trial: Trial | None) -> bool:
    """Whether nothing but the trial gives the fact."""
    return trial is not None and len(fact.setters) == 1 and fact.setters[0] in (trial.path, *trial.also)


def leaves(
    resolver: FactResolver, part: str, names: Iterable[str], trial: Trial | None = None
) -> tuple[set[str], set[str]]:
    """The facts beneath these that could be measured and are not, by name, and the checks that measured the rest.

    What only the `trial` gives is not waited for: it says of itself whether it is held.
    """
    drawn: set[str] = set()
    checks: set[str] = set()
    seen: set[str] = set()
    waiting = resolver.named(part, names)
    while waiting:
        fact = waiting.pop()
        if fact.name in seen:
            continue
        seen.add(fact.name)
        checks |= fact.rests_on
        if _can_be_measured(resolver, fact) and fact.set_by not in fact.setters and not is_of_trial(fact, trial):
            drawn.add(fact.name.partition(".")[2])
        elif fact.set_by not in fact.setters:
            waiting += resolver.awaited(*fact.key)
    return drawn, checks


def _can_be_measured(resolver: FactResolver, fact: Fact) -> bool:
    """Whether a check that applies as things are asks for it."""
    asked = (resolver.applies(fact.key[0], path) for path in fact.setters)
    return fact.kind not in WORDS and any(asked)

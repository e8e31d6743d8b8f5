"""What is tried before the rest of its kind is cut: whether that is still to come, and what it corrected."""

from collections.abc import Iterator, Mapping

from msgspec import Struct

from sitelog.calculators.catalogue import Value
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
    """The check at which the first is tried. While it is `held` no other is cut; then the rest are as `corrected`."""

    path: str
    held: bool
    corrected: tuple[Corrected, ...] = ()

    @property
    def word(self) -> str:
        """`held`, `corrected`, or `tried` where it fits as it was cut."""
        if self.held:
            return "held"
        return "corrected" if self.corrected else "tried"


def trial_at(resolver: FactResolver, checks: Mapping[str, CheckView], part: str, tried: str) -> Trial | None:
    """The trial at that `stage.check` of a part; None where none is asked. `checks` are those that apply, by path."""
    stage, _, check = tried.partition(".")
    paths = (f"{part}.{stage}{more}.{check}" for more in PARTED)
    view = next((checks[path] for path in paths if path in checks), None) if tried else None
    if view is None:
        return None
    return Trial(view.path, view.state not in LET_GO, tuple(_corrected(resolver, part, view)))


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
    return trial is not None and fact.setters == (trial.path,)

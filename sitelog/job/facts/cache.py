"""The facts, checks and stages of a job as they were last worked: a new entry works only what it can have changed.

With each stand the facts that were read to work it. One cache belongs to one library.
"""

from collections.abc import Iterator, Mapping, Sequence, Set

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.checklist.schema.model import Checklist, Library
from sitelog.job.facts.fact import Fact, Inputs
from sitelog.job.facts.schema import PartSchema
from sitelog.job.state.views import CheckView, StageView
from sitelog.quantities.quantity import Tie

TYPE_CHECKING = False
if TYPE_CHECKING:
    from sitelog.job.facts.facts import FactResolver

Key = tuple[str, str]  # part and name of a fact
AsTaped = tuple[tuple[Tie, ...], str]  # lengths over the plates of a roof, and what was taped of its lean-tos, dormers


class CachedCheck(Struct, frozen=True):
    """A check as it was seen. `cache_key` is what it was judged by besides the facts that were read."""

    cache_key: tuple[object, ...]
    reads: frozenset[Key]
    view: CheckView


class CachedStage(Struct, frozen=True):
    """A stage as it was seen with its checks, before the holds ahead of it; `ids` are of the entries on it."""

    ids: tuple[str, ...]
    reads: frozenset[Key]
    view: StageView


class WrittenList(Struct, frozen=True):
    """A part's list written out, and what it was written from: its form's list, its roof as drawn and as taped."""

    listed: Checklist
    text: str
    taped: AsTaped
    drawn: Checklist
    now: Checklist
    change: str  # what other lines its roof has as measured than as drawn, in words


class EvaluationCache(Struct):
    """Facts, reads, checks and stages are filled as a state is worked; all are good for what was `given` then."""

    own: dict[str, WrittenList] = field(default_factory=dict)  # by part
    known: dict[str, PartSchema] = field(default_factory=dict)  # by the lists alone
    forms: Mapping[str, str] = field(default_factory=dict)
    lists: tuple[Checklist | None, ...] = ()  # of those forms
    library: Library | None = None  # by which what is given was read
    given: Inputs = field(default_factory=lambda: Inputs({}, {}, {}))
    facts: dict[Key, Fact] = field(default_factory=dict)
    reads: dict[Key, frozenset[Key]] = field(default_factory=dict)
    checks: dict[str, CachedCheck] = field(default_factory=dict)  # by path
    stages: dict[str, CachedStage] = field(default_factory=dict)  # by path
    stages_by: tuple[object, ...] = ()  # what all stages were judged by, besides facts and entries of their own

    def copy(self) -> "EvaluationCache":
        """One that can be brought up to date by itself."""
        own, facts, reads = dict(self.own), dict(self.facts), dict(self.reads)
        return replace(self, own=own, facts=facts, reads=reads, checks=dict(self.checks), stages=dict(self.stages))

    def given_by(self, library: Library) -> Inputs | None:
        """What was given when it was last read, by that same library; None where it was another."""
        same, self.library = self.library is library, library
        return self.given if same else None

    def schemas(self, library: Library, forms: Mapping[str, str]) -> dict[str, PartSchema]:
        """What the lists say of each part's facts, where they are those of last time; nothing yet of others."""
        lists = tuple(library.lists.get(form) for form in forms.values())
        return self.known if forms == self.forms and _same(lists, self.lists) else {}

    def resolver(self, library: Library, forms: Mapping[str, str], given: Inputs) -> "FactResolver":
        """The facts from what is given now. Of what was worked before, all that may have changed is dropped."""
        lists = tuple(library.lists.get(form) for form in forms.values())
        if forms != self.forms or not _same(lists, self.lists):
            self.known, self.facts, self.reads, self.checks, self.stages = {}, {}, {}, {}, {}
        self._drop(set(_changed(self.given, given)))
        self.forms, self.lists, self.given = forms, lists, given
        from sitelog.job.facts.facts import FactResolver  # not loaded where nothing is worked again

        return FactResolver(library, forms, given, self.known, self.facts, self.reads)

    def _drop(self, changed: Set[Key]) -> None:
        """Forget what hangs on these facts."""
        for key in [key for key, reads in self.reads.items() if not changed.isdisjoint(reads)]:
            del self.facts[key], self.reads[key]
        for cached in (self.checks, self.stages):
            for path in [path for path, seen in cached.items() if not changed.isdisjoint(seen.reads)]:
                del cached[path]

    def stages_for(self, judged_by: tuple[object, ...]) -> dict[str, CachedStage]:
        """The stages that were looked at, by path; none where all were judged by something else."""
        if judged_by != self.stages_by:
            self.stages, self.stages_by = {}, judged_by
        return self.stages


def _same(lists: Sequence[Checklist | None], before: Sequence[Checklist | None]) -> bool:
    """Whether they say the same; they are mostly the very same, as an equal one is made anew only with a library."""
    return len(lists) == len(before) and all(
        one is other or one == other for one, other in zip(lists, before, strict=True)
    )


def _changed(before: Inputs, now: Inputs) -> Iterator[Key]:
    """The facts that are given another figure, or by another answer."""
    yield from before.usual ^ now.usual
    keys = {*before.drawn, *now.drawn, *before.set, *now.set}
    for key in keys:
        if before.drawn.get(key) != now.drawn.get(key) or before.set.get(key) != now.set.get(key):
            yield key

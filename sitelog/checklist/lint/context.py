"""What is in force while it is proved: each list, caution and finish with the spot where it stands."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from sitelog.calculators.catalogue import Calculator
from sitelog.calculators.index import calculators
from sitelog.checklist.schema.document import Document, Spot
from sitelog.checklist.schema.guidance import Ask, Caution, Finish, FinishFact
from sitelog.checklist.schema.kinds import output, result_kind
from sitelog.checklist.schema.members import MemberSpec
from sitelog.checklist.schema.model import (
    Check,
    Checklist,
    FactSpec,
    Figure,
    Limit,
    ListFile,
    Source,
    Stage,
    Sum,
    Taker,
    lent_stages,
)
from sitelog.quantities.quantity import Kind
from sitelog.refusal import Refusal


@dataclass(frozen=True)
class Setting:
    """A check that makes its answer a fact."""

    spot: Spot
    stage: Stage
    check: Check
    fact: str
    kind: Kind | None  # None where a result is given that may be a count or a word
    where: Spot  # of the fact's name


@dataclass(frozen=True)
class Listed:
    """A list with its file, and the walks over it that the rules share."""

    document: Document
    checklist: Checklist

    @property
    def spot(self) -> Spot:
        """The top of the file."""
        return Spot(self.document)

    def facts(self) -> Iterator[tuple[Spot, FactSpec]]:
        """Every fact that the list names itself."""
        for place, fact in enumerate(self.checklist.facts):
            yield self.spot.at("fact", place), fact

    def sums(self) -> Iterator[tuple[Spot, Sum]]:
        """Every sum whose results are facts."""
        for place, listed in enumerate(self.checklist.sums):
            yield self.spot.at("sum", place), listed

    def trades(self) -> Iterator[tuple[Spot, Taker]]:
        """The trades whose conditions are told once for the list."""
        for place, trade in enumerate(self.checklist.trades):
            yield self.spot.at("trade", place), trade

    def members(self) -> Iterator[tuple[Spot, MemberSpec]]:
        """Every kind of timber of the cutting list."""
        for place, member in enumerate(self.checklist.members):
            yield self.spot.at("member", place), member

    def stages(self) -> Iterator[tuple[Spot, Stage]]:
        """The list's own stages, in the order of work."""
        for place, stage in enumerate(self.checklist.stages):
            yield self.spot.at("stage", place), stage

    def checks(self) -> Iterator[tuple[Spot, Stage, Check]]:
        """Every check, with its stage."""
        for spot, stage in self.stages():
            for place, check in enumerate(stage.checks):
                yield spot.at("check", place), stage, check

    def figures(self) -> Iterator[tuple[Spot, Stage, Check, Figure]]:
        """Every figure; one that the check tells in its own keys stands at the check's spot."""
        for spot, stage, check in self.checks():
            own = len(check.figures) == 1 and check.figures[0].key == "value"
            for place, figure in enumerate(check.figures):
                yield (spot if own else spot.at("figure", place)), stage, check, figure

    @cached_property
    def words(self) -> dict[str, set[str]]:
        """The words that each fact of the list can be, by its own choices and those of the checks that set it."""
        found: dict[str, set[str]] = {}
        for _, fact in self.facts():
            found.setdefault(fact.name, set()).update(fact.choices)
        for setting in self.sets():
            found.setdefault(setting.fact, set()).update(choice.id for choice in setting.check.choices)
        return found

    def takers(self) -> Iterator[tuple[Spot, Check, Taker]]:
        """Who takes a check over, a row each."""
        for spot, _, check in self.checks():
            for place, taker in enumerate(check.hands_over_to):
                yield spot.at("hands_over_to", place), check, taker

    def limits(self) -> Iterator[tuple[Spot, Limit]]:
        """Every limit of a check or of a figure."""
        for spot, _, check in self.checks():
            if check.limit:
                yield spot.at("limit"), check.limit
        for spot, _, _, figure in self.figures():
            if figure.limit:
                yield spot.at("limit"), figure.limit

    def sets(self) -> Iterator[Setting]:
        """What the checks set: a choice or a note one fact, a measure those of its figures and of its sum."""
        known = calculators()
        for spot, stage, check in self.checks():
            if check.sets:
                kind: Kind = "choice" if check.kind == "choice" else "text"
                yield Setting(spot, stage, check, check.sets, kind, spot.at("sets"))
            for fact, path in check.gives.items() if check.calculator in known else ():
                given = _kind(known[check.calculator], path)
                yield Setting(spot, stage, check, fact, given, spot.at("gives", fact))
        for spot, stage, check, figure in self.figures():
            if figure.sets:
                yield Setting(spot, stage, check, figure.sets, figure.kind, spot.at("sets"))


@dataclass(frozen=True)
class LintContext:
    """Everything in force, before it is known to be without fault."""

    lists: tuple[Listed, ...]
    cautions: Mapping[str, tuple[Spot, Caution]]
    finishes: Mapping[str, tuple[Spot, Finish]]
    sources: Mapping[str, Source]
    digests: Mapping[str, str] = field(default_factory=dict)
    files: tuple[ListFile, ...] = ()

    @property
    def job(self) -> Listed | None:
        """The list that wraps all parts; None where no file has it."""
        return next((listed for listed in self.lists if listed.checklist.form == "job"), None)

    def facts(self) -> Iterator[tuple[Spot, FactSpec]]:
        """The facts of every list."""
        for listed in self.lists:
            yield from listed.facts()

    def stages(self) -> Iterator[tuple[Spot, Stage]]:
        """The stages of every list."""
        for listed in self.lists:
            yield from listed.stages()

    def checks(self) -> Iterator[tuple[Spot, Stage, Check]]:
        """The checks of every list, each with its stage."""
        for listed in self.lists:
            yield from listed.checks()

    def figures(self) -> Iterator[tuple[Spot, Stage, Check, Figure]]:
        """The figures of every list, each with its stage and its check."""
        for listed in self.lists:
            yield from listed.figures()

    def finish_facts(self) -> Iterator[tuple[Spot, FinishFact]]:
        """What every finish sets."""
        for spot, finish in self.finishes.values():
            for place, fact in enumerate(finish.facts):
                yield spot.at("fact", place), fact

    def asks(self) -> Iterator[tuple[Spot, Ask]]:
        """What every finish asks of later work."""
        for spot, finish in self.finishes.values():
            for place, ask in enumerate(finish.asks):
                yield spot.at("asks", place), ask

    def known(self, listed: Listed) -> Mapping[str, Kind | None]:
        """Every name that an operand or condition of the list may say, with its kind where it is plain."""
        return self._known[listed.checklist.form]

    @cached_property
    def _known(self) -> dict[str, dict[str, Kind | None]]:
        finish = {fact.name: fact.kind for _, fact in self.finish_facts()}
        return {listed.checklist.form: {**finish, **self._from_job(listed), **_own(listed)} for listed in self.lists}

    def everything(self) -> dict[str, Kind | None]:
        """Every name that the condition of a caution may say: it may show in any list."""
        every: dict[str, Kind | None] = {}
        for listed in self.lists:
            every |= self.known(listed)
        return every

    def _from_job(self, listed: Listed) -> dict[str, Kind | None]:
        if self.job is None:
            return {}
        own = _own(self.job)
        named: dict[str, Kind | None] = {f"job.{name}": kind for name, kind in own.items()}
        if listed.checklist.form != "job":
            stages = {stage.id for stage in self.in_part(listed)}
            in_part = {setting.fact for setting in self.job.sets() if setting.stage.id in stages}
            return named | {name: kind for name, kind in own.items() if name in in_part}
        return named | self._shared()

    def _shared(self) -> dict[str, Kind | None]:
        """What every form that goes through a stage of the job's inside its parts knows, so that it may ask for it."""
        forms = [_own(listed) for listed in self.lists if listed.checklist.form != "job" and self.in_part(listed)]
        if not forms:
            return {}
        return {name: kind for name, kind in forms[0].items() if all(name in known for known in forms)}

    def in_part(self, listed: Listed) -> tuple[Stage, ...]:
        """The stages of the job's list that a part of that form goes through: all but those that it has itself."""
        if not self.job:
            return ()
        return tuple(lent_stages(self.job.checklist, listed.checklist))

    def words(self, name: str, listed: tuple[Listed, ...]) -> frozenset[str]:
        """The words that a fact can be, by its choices, the checks that set it and the finishes; empty if any."""
        bare = name.removeprefix("job.")
        return frozenset(self._of_finishes.get(bare, ())).union(*(known.words.get(bare, ()) for known in listed))

    @cached_property
    def _of_finishes(self) -> dict[str, set[str]]:
        """The words that the finishes set a choice to."""
        found: dict[str, set[str]] = {}
        for _, fact in self.finish_facts():
            if fact.kind == "choice":
                found.setdefault(fact.name, set()).add(str(fact.value))
        return found

    def lists_of(self, listed: Listed, name: str) -> tuple[Listed, ...]:
        """The lists that a name said in that list may come from."""
        job = (self.job,) if self.job else ()
        if name.startswith("job."):
            return job
        return (listed, *job)


def _own(listed: Listed) -> dict[str, Kind | None]:
    """The list's facts, and what its sums give."""
    known = calculators()
    given: dict[str, Kind | None] = {}
    for _, run in listed.sums():
        for name, path in run.gives.items():
            given[name] = _kind(known[run.calculator], path) if run.calculator in known else None
    return {**given, **{fact.name: fact.kind for _, fact in listed.facts()}}


def _kind(calculator: Calculator, path: str) -> Kind | None:
    try:
        return result_kind(output(calculator, path))
    except Refusal:
        return None  # told by the rule on results

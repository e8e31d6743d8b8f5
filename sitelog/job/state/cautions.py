"""Which cautions apply at a stage, which of them a person still has to read, and which reading stops the work."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import NamedTuple

from sitelog.checklist.schema.model import Caution, Clause, Condition, Library, Stage
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import stages_of
from sitelog.job.facts.sums import holds
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import local_day
from sitelog.job.log.values import same, to_plain
from sitelog.job.state.asked import asked
from sitelog.job.state.readings import answer_words, kept_answer, stops
from sitelog.job.state.record_views import Reading
from sitelog.job.state.views import CheckView, StageView, State

Latest = Mapping[tuple[str, str], Reading]  # by what was answered about, and the stage; "" for all stages


class Matter(NamedTuple):
    """A caution that applies, and the stage that wants its own answer; "" where one answer counts for all stages."""

    caution: Caution
    path: str


def matter(caution: Caution, path: str) -> Matter:
    """The caution as it is asked at that stage."""
    return Matter(caution, path if caution.at_each_stage else "")


def matters(stages: Sequence[StageView]) -> tuple[Matter, ...]:
    """All that is asked at these stages, once each, in the order of work."""
    found = (matter(caution, stage.path) for stage in stages for caution in stage.cautions)
    return tuple({(one.caution.id, one.path): one for one in found}.values())


def stage_cautions(
    library: Library,
    resolver: FactResolver,
    part: str,
    stage: Stage,
    checks: Sequence[CheckView],
    aside: Callable[[str], bool],
) -> tuple[Caution, ...]:
    """Every caution that applies at the stage as the facts stand: its own, its checks', finishes', sums', others'.

    `aside` tells whether the check at a path was set aside or let go: what nobody will say is taken for the worse.
    """
    may = partial(_may_hold, resolver=resolver, part=part, aside=aside)
    named = _named(library, resolver, part, stage, [c for c in checks if may(c.check.when)], aside)
    found = {name: library.cautions[name] for name in named if name in library.cautions}
    found |= {one.id: one for one in _of_lost_stages(library, resolver, part, stage, may)}
    found = {name: caution for name, caution in found.items() if may(caution.when)}
    for name in _of_others(library, resolver, part, stage):
        found.setdefault(name, library.cautions[name])
    return tuple(found.values())


def _may_hold(when: Condition | None, *, resolver: FactResolver, part: str, aside: Callable[[str], bool]) -> bool:
    """Whether it holds if what nobody will say is taken for the worse: the check that would say it was let go."""

    def true(clause: Clause) -> bool:
        fact = resolver.fact(part, clause.fact)
        if fact and fact.now is None and any(map(aside, fact.setters)):
            return True
        return holds(Condition((clause,)), lambda _: fact.now if fact else None)

    if when is None:
        return True
    found = map(true, when.clauses)
    return any(found) if when.any else all(found)


def _of_lost_stages(
    library: Library, resolver: FactResolver, part: str, stage: Stage, may: Callable[[Condition | None], bool]
) -> Iterator[Caution]:
    """Where a stage is left out because this one lets go of what would ask for it: what stops there stops here."""
    own = {f"{part}.{stage.id}.{check.id}" for check in stage.checks}
    for lost in stages_of(library, resolver.forms[part]):
        if lost.when is None or not may(lost.when) or holds(lost.when, lambda name: resolver.now(part, name)):
            continue
        facts = resolver.named(part, (clause.fact for clause in lost.when.clauses))
        if any(own.intersection(fact.setters) for fact in facts if fact.now is None):
            names = (*lost.cautions, *(name for c in lost.checks if may(c.when) for name in c.cautions))
            yield from (c for name in names if (c := library.cautions.get(name)) and c.stops)


def _of_others(library: Library, resolver: FactResolver, part: str, stage: Stage) -> Iterator[str]:
    """Where a part chooses its finish, the cautions with what other parts' finishes ask of it, if they hold there."""
    if any(check.finishes for check in stage.checks):
        for one in asked(library, resolver, part):
            caution = library.cautions.get(one.ask.caution)
            if caution and holds(caution.when, lambda fact, by=one.by: resolver.now(by, fact)):  # type: ignore[misc]
                yield caution.id


def _named(
    library: Library,
    resolver: FactResolver,
    part: str,
    stage: Stage,
    checks: Sequence[CheckView],
    aside: Callable[[str], bool],
) -> Iterator[str]:
    yield from stage.cautions
    for one in checks:
        yield from one.check.cautions
    yield from _of_finishes(library, resolver, part, stage, checks, aside)
    for one in checks:
        if one.answer:
            yield from one.answer.cautions


def _of_finishes(
    library: Library,
    resolver: FactResolver,
    part: str,
    stage: Stage,
    checks: Sequence[CheckView],
    aside: Callable[[str], bool],
) -> Iterator[str]:
    """A chosen finish brings its cautions to the stage where it is chosen, and to those that hang on what it sets.

    Where the choice was let go, each finish that it could have been does.
    """
    used = {name for one in checks for name in _facts_used(one)}
    if stage.when:
        used |= {clause.fact for clause in stage.when.clauses}
    setters = resolver.known(part).setters
    for choice, path in _finishes(resolver, part, aside):
        if path.startswith(f"{part}.{stage.id}.") or any(path in setters.get(name, ()) for name in used):
            yield from library.finishes[choice].cautions


def _finishes(resolver: FactResolver, part: str, aside: Callable[[str], bool]) -> Iterator[tuple[str, str]]:
    chosen = resolver.finishes(part)
    yield from chosen
    for path, choices in resolver.known(part).finishing.items():
        if path not in {one for _, one in chosen} and aside(path):
            yield from ((choice, path) for choice in choices)


def _facts_used(view: CheckView) -> Iterator[str]:
    check = view.check
    operands = [*check.inputs.values(), *(f.drawn for f in check.figures if f.drawn)]
    yield from (term.name for operand in operands for term in operand.terms if term.kind == "fact")
    if check.when:
        yield from (clause.fact for clause in check.when.clauses)


def foremost(path: str, stage: Stage, cautions: Sequence[Caution], latest: Latest) -> tuple[Caution, ...]:
    """All of them, what is read first at the front: what stops the stage now, what holds it, its own, the rest."""

    def rank(caution: Caution) -> int:
        if stopping(matter(caution, path), latest):
            return 0
        return 1 if caution.stops else 2 if caution.id in stage.cautions else 3

    return tuple(sorted(cautions, key=rank))


def reading(library: Library, entry: Entry) -> Reading:
    """What an entry says was read, and when by the clock on the wall."""
    name = str(entry.value.get("id", ""))
    caution = library.cautions.get(name)
    answer = kept_answer(entry.value.get("answer"))
    facts = entry.value.get("@facts")
    return Reading(
        caution=name,
        answer=answer,
        by=entry.by,
        at=entry.at,
        stops=caution is not None and stops(caution.question, answer),
        day=local_day(entry),
        facts=facts if isinstance(facts, Mapping) else {},
        subject=caution.subject if caution else name,
        path=entry.path if caution and caution.at_each_stage else "",
    )


def depends_on(caution: Caution, library: Library, resolver: FactResolver) -> dict[str, object]:
    """The facts that are read by the conditions of all that its answer settles, in every part, plain.

    They are kept with a reading of it.
    """
    settled = [one for one in library.cautions.values() if one.subject == caution.subject and one.when]
    names = [clause.fact for one in settled if one.when for clause in one.when.clauses]
    return {f.name: to_plain(f.now) for part in resolver.forms for f in resolver.named(part, names)} if names else {}


def latest(readings: Sequence[Reading]) -> Latest:
    """The last reading of each matter that a caution asks about, whichever caution it was given to."""
    return {(one.subject, one.path): one for one in readings}


def last_read(one: Matter, latest: Latest) -> Reading | None:
    """The last reading of it. One of a time when no stage was named with it counts for every stage."""
    found = [latest[key] for path in ("", one.path) if (key := (one.caution.subject, path)) in latest]
    return max(found, key=lambda reading: reading.at, default=None)


def stopping(one: Matter, latest: Latest) -> Reading | None:
    """The last reading, if the caution's own figures make it one that stops the work."""
    last = last_read(one, latest)
    return last if last and stops(one.caution.question, last.answer) else None


def stopped(path: str, cautions: Sequence[Caution], latest: Latest) -> str:
    """Why work at the stage is stopped: the latest reading of one of its cautions says so. "" if none does."""
    for caution in cautions:
        last = stopping(matter(caution, path), latest)
        if last:
            told = f"{last.by} read {answer_words(caution.question, last.answer)}"
            return f"{caution.title}: STOPPED, {told}. Take a new reading when it changes"
    return ""


def due(stage: StageView, state: State, by: str, today: str) -> tuple[Caution, ...]:
    """The stage's cautions that this person has still to read; `today` is the local day, ISO.

    A daily one: not read today; one that follows a change: not since a fact it depends on changed; else never. One
    whose last reading stops the work is to be read again by whoever would go on. An answer counts for every caution
    that asks about the same.
    """
    last = latest(state.readings)
    return tuple(
        c for c in stage.cautions if stopping(matter(c, stage.path), last) or not _read(c, stage, state, by, today)
    )


def unread(stages: Sequence[StageView], state: State) -> tuple[Matter, ...]:
    """What is asked at these stages and nobody has read, once each."""
    read = latest(state.readings)
    return tuple(one for one in matters(stages) if not last_read(one, read))


def awaited(state: State) -> tuple[Matter, ...]:
    """What the handover waits for, in the order of work: what stops it and is unread, and what stops the work now."""
    read = latest(state.readings)
    return tuple(
        one for one in matters(state.order) if stopping(one, read) or (one.caution.stops and not last_read(one, read))
    )


def unsaid(caution: Caution, state: State) -> tuple[str, ...]:
    """The questions that nobody would answer, let go or set aside, without which its condition can't be told."""
    names = {clause.fact.removeprefix("job.") for clause in caution.when.clauses} if caution.when else set()
    unknown = (fact for fact in state.facts.values() if fact.key[1] in names and fact.now is None)
    checks = (state.check(path) for fact in unknown for path in fact.setters)
    return tuple({one.check.ask: "" for one in checks if one and one.state in ("released", "not applicable")})


def ended(state: State, library: Library) -> tuple[tuple[Caution, Reading], ...]:
    """What was read and applies no more, as the facts stand: each with its last reading, in the order of these."""
    asked = {(one.caution.subject, path) for one in matters(state.order) for path in {"", one.path}}
    gone = {one.subject: one for one in state.readings if (one.subject, one.path) not in asked}
    known = ((library.cautions.get(one.caution), one) for one in gone.values())
    return tuple((caution, one) for caution, one in known if caution)


def wanted_at(caution: Caution, state: State) -> str:
    """The stage that an answer is for where none is named: the one in hand, else the first that waits for it.

    "" where one answer counts for all, or no stage asks it.
    """
    asking = [stage.path for stage in state.order if caution.id in (one.id for one in stage.cautions)]
    in_hand = [path for path in asking if f"{state.next}.".startswith(f"{path}.")]
    read = latest(state.readings)
    waiting = [path for path in asking if stopping(one := matter(caution, path), read) or not last_read(one, read)]
    return next(iter((*in_hand, *waiting, *asking)), "") if caution.at_each_stage else ""


def _read(caution: Caution, stage: StageView, state: State, by: str, today: str) -> bool:
    paths = {"", matter(caution, stage.path).path}
    own = [r for r in state.readings if r.subject == caution.subject and r.by == by and r.path in paths]
    if not own:
        return False
    if caution.repeat == "daily":
        return own[-1].day == today
    if caution.repeat == "change":
        return all(
            same(then, to_plain(state.facts[name].now))
            for name, then in own[-1].facts.items()
            if name in state.facts and name.partition(".")[0] in (stage.part, "job")
        )
    return True

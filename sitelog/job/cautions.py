"""Which cautions apply at a stage, which of them a person still has to read, and which reading stops the work."""

from collections.abc import Iterator, Mapping, Sequence

from sitelog.checklist.model import Caution, Library, Stage
from sitelog.job.asked import asked
from sitelog.job.entry import Entry
from sitelog.job.facts import Book
from sitelog.job.ledger import local_day
from sitelog.job.plain import same, to_plain
from sitelog.job.readings import answer_words, kept_answer, stops
from sitelog.job.sums import holds
from sitelog.job.views import CheckView, Reading, StageView, State

Latest = Mapping[str, Reading]  # by what was answered about


def stage_cautions(
    library: Library, book: Book, part: str, stage: Stage, checks: Sequence[CheckView]
) -> tuple[Caution, ...]:
    """Every caution that applies at the stage as the facts stand: its own, its checks', finishes', sums', others'."""
    found: dict[str, Caution] = {}
    for name in _named(library, book, part, stage, checks):
        caution = library.cautions.get(name)
        if caution and name not in found and holds(caution.when, lambda fact: book.now(part, fact)):
            found[name] = caution
    for name in _of_others(library, book, part, stage):
        found.setdefault(name, library.cautions[name])
    return tuple(found.values())


def _of_others(library: Library, book: Book, part: str, stage: Stage) -> Iterator[str]:
    """Where a part chooses its finish, the cautions with what other parts' finishes ask of it, if they hold there."""
    if any(check.finishes for check in stage.checks):
        for one in asked(library, book, part):
            caution = library.cautions.get(one.ask.caution)
            if caution and holds(caution.when, lambda fact, by=one.by: book.now(by, fact)):  # type: ignore[misc]
                yield caution.id


def _named(library: Library, book: Book, part: str, stage: Stage, checks: Sequence[CheckView]) -> Iterator[str]:
    yield from stage.cautions
    shown = [c for c in checks if c.applies]
    for one in shown:
        yield from one.check.cautions
    yield from _of_finishes(library, book, part, stage, shown)
    for one in shown:
        if one.answer:
            yield from one.answer.cautions


def _of_finishes(library: Library, book: Book, part: str, stage: Stage, shown: Sequence[CheckView]) -> Iterator[str]:
    """A chosen finish brings its cautions to the stage where it is chosen, and to those that hang on what it sets."""
    used = {name for one in shown for name in _facts_used(one)}
    if stage.when:
        used |= {clause.fact for clause in stage.when.clauses}
    setters = book.known(part).setters
    for choice, path in book.finishes(part):
        if path.startswith(f"{part}.{stage.id}.") or any(path in setters.get(name, ()) for name in used):
            yield from library.finishes[choice].cautions


def _facts_used(view: CheckView) -> Iterator[str]:
    check = view.check
    operands = [*check.inputs.values(), *(f.drawn for f in check.figures if f.drawn)]
    yield from (term.name for operand in operands for term in operand.terms if term.kind == "fact")
    if check.when:
        yield from (clause.fact for clause in check.when.clauses)


def foremost(stage: Stage, cautions: Sequence[Caution], latest: Latest) -> tuple[Caution, ...]:
    """All of them, what is read first at the front: what stops the stage now, its own, what the handover waits for."""

    def rank(caution: Caution) -> int:
        if _stopping(caution, latest):
            return 0
        return 1 if caution.id in stage.cautions else 2 if caution.stops else 3

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
    )


def depends_on(caution: Caution, library: Library, book: Book) -> dict[str, object]:
    """The facts that are read by the conditions of all that its answer settles, in every part, plain.

    They are kept with a reading of it.
    """
    settled = [one for one in library.cautions.values() if one.subject == caution.subject and one.when]
    names = [clause.fact for one in settled if one.when for clause in one.when.clauses]
    return {f.name: to_plain(f.now) for part in book.forms for f in book.named(part, names)} if names else {}


def latest(readings: Sequence[Reading]) -> Latest:
    """The last reading of each matter that a caution asks about, whichever caution it was given to."""
    return {one.subject: one for one in readings}


def _stopping(caution: Caution, latest: Latest) -> Reading | None:
    """The last reading, if the caution's own figures make it one that stops the work."""
    last = latest.get(caution.subject)
    return last if last and stops(caution.question, last.answer) else None


def stopped(cautions: Sequence[Caution], latest: Latest) -> str:
    """Why work at a stage is stopped: the latest reading of one of its cautions says so. "" if none does."""
    for caution in cautions:
        last = _stopping(caution, latest)
        if last:
            told = f"stopped at {answer_words(caution.question, last.answer)} by {last.by}'s reading"
            return f"{caution.title}: {told}; read it again when it has changed"
    return ""


def due(stage: StageView, state: State, by: str, today: str) -> tuple[Caution, ...]:
    """The stage's cautions that this person has still to read; `today` is the local day, ISO.

    A daily one: not read today; one that follows a change: not since a fact it depends on changed; else never. One
    whose last reading stops the work is to be read again by whoever would go on. An answer counts for every caution
    that asks about the same.
    """
    last = latest(state.readings)
    return tuple(c for c in stage.cautions if _stopping(c, last) or not _read(c, stage.part, state, by, today))


def unread(stages: Sequence[StageView], state: State) -> tuple[Caution, ...]:
    """The cautions of these stages that nobody has read, once each."""
    read = latest(state.readings)
    return tuple({c.id: c for stage in stages for c in stage.cautions if c.subject not in read}.values())


def unread_stops(state: State) -> tuple[Caution, ...]:
    """The cautions that the handover waits for and nobody has read, in the order of work."""
    return tuple(caution for caution in unread(state.order, state) if caution.stops)


def _read(caution: Caution, part: str, state: State, by: str, today: str) -> bool:
    own = [r for r in state.readings if r.subject == caution.subject and r.by == by]
    if not own:
        return False
    if caution.repeat == "daily":
        return own[-1].day == today
    if caution.repeat == "change":
        return all(
            same(then, to_plain(state.facts[name].now))
            for name, then in own[-1].facts.items()
            if name in state.facts and name.partition(".")[0] in (part, "job")
        )
    return True

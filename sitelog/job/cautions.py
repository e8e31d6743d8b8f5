"""Which cautions apply at a stage, which of them a person still has to read, and which reading stops the work."""

from collections.abc import Iterator, Mapping, Sequence

from sitelog.checklist.model import Caution, Library, Question, Stage
from sitelog.job.asked import asked
from sitelog.job.entry import Entry
from sitelog.job.facts import Book
from sitelog.job.ledger import local_day
from sitelog.job.plain import same, to_plain
from sitelog.job.sums import holds
from sitelog.job.views import CheckView, Reading, StageView, State

MOST = 3  # a stage shows no more: past that nobody reads them


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


def foremost(stage: Stage, cautions: Sequence[Caution], readings: Sequence[Reading]) -> tuple[Caution, ...]:
    """The cautions that a stage shows: what stops it now, its own, then what the handover waits for; MOST in all."""

    def rank(caution: Caution) -> int:
        if stopped((caution,), readings):
            return 0
        return 1 if caution.id in stage.cautions else 2 if caution.stops else 3

    return tuple(sorted(cautions, key=rank)[:MOST])


def stops(question: Question, answer: object) -> bool:
    """True when the answer to a caution is one that stops the work."""
    if isinstance(answer, (int, float)):
        return question.stop_from is not None and answer >= question.stop_from
    return answer in question.stop_on


def reading(library: Library, entry: Entry) -> Reading:
    """What an entry says was read, and when by the clock on the wall."""
    name = str(entry.value.get("id", ""))
    answer = entry.value.get("answer")
    answer = answer if isinstance(answer, (int, float, str)) else None
    caution = library.cautions.get(name)
    facts = entry.value.get("@facts")
    return Reading(
        caution=name,
        answer=answer,
        by=entry.by,
        at=entry.at,
        stops=caution is not None and stops(caution.question, answer),
        day=local_day(entry),
        facts=facts if isinstance(facts, Mapping) else {},
    )


def depends_on(caution: Caution, book: Book) -> dict[str, object]:
    """The facts that a caution's condition reads, in every part, plain: kept with a reading of it."""
    if caution.when is None:
        return {}
    names = [clause.fact for clause in caution.when.clauses]
    return {f.name: to_plain(f.now) for part in book.forms for f in book.named(part, names)}


def stopped(cautions: Sequence[Caution], readings: Sequence[Reading]) -> str:
    """Why work at a stage is stopped: the latest reading of one of its cautions says so. "" if none does."""
    for caution in cautions:
        last = next((r for r in reversed(readings) if r.caution == caution.id), None)
        if last and last.stops:
            return (
                f"{caution.title}: stopped at {_told(last)} by {last.by}'s reading; read it again when it has changed"
            )
    return ""


def _told(reading: Reading) -> str:
    return f"{reading.answer:g}" if isinstance(reading.answer, (int, float)) else str(reading.answer)


def due(stage: StageView, state: State, by: str, today: str) -> tuple[Caution, ...]:
    """The stage's cautions that this person has still to read; `today` is the local day, ISO.

    A daily one: not read today; one that follows a change: not since a fact it depends on changed; else never. One
    whose last reading stops the work is to be read again by whoever would go on.
    """
    return tuple(
        c for c in stage.cautions if stopped((c,), state.readings) or not _read(c, stage.part, state, by, today)
    )


def unread_stops(state: State) -> tuple[Caution, ...]:
    """The cautions that the handover waits for and nobody has read, in the order of work."""
    read = {reading.caution for reading in state.readings}
    found = {c.id: c for s in state.order for c in s.cautions if c.stops and c.id not in read}
    return tuple(found.values())


def _read(caution: Caution, part: str, state: State, by: str, today: str) -> bool:
    own = [r for r in state.readings if r.caution == caution.id and r.by == by]
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

"""Which cautions a person still has to read, and which reading stops the work."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Library, Stage
from sitelog.job.cautions.answers import answer_words, kept_answer, stops
from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import local_day
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import same, to_plain
from sitelog.job.state.record_views import Reading
from sitelog.job.state.views import StageView, State

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
    return tuple({(asked.caution.id, asked.path): asked for asked in found}.values())


def foremost(path: str, stage: Stage, cautions: Sequence[Caution], latest: Latest) -> tuple[Caution, ...]:
    """All of them, what is read first at the front: what stops the stage now, what holds it, its own, the rest."""

    def rank(caution: Caution) -> int:
        if stopping(matter(caution, path), latest):
            return 0
        if caution.stops:
            return 1
        return 2 if caution.id in stage.cautions else 3

    return tuple(sorted(cautions, key=rank))


def reading(library: Library, entry: Entry) -> Reading:
    """What an entry says was read, and when by the clock on the wall."""
    name = str(entry.value.get("id", ""))
    caution = library.cautions.get(name)
    answer = kept_answer(entry.value.get("answer"))
    return Reading(
        caution=name,
        answer=answer,
        by=entry.by,
        at=entry.at,
        stops=caution is not None and stops(caution.question, answer),
        day=local_day(entry),
        facts=mapping(entry.value.get("@facts")),
        subject=caution.subject if caution else name,
        path=entry.path if caution and caution.at_each_stage else "",
    )


def latest(readings: Sequence[Reading]) -> Latest:
    """The last reading of each matter that a caution asks about, whichever caution it was given to."""
    return {(reading.subject, reading.path): reading for reading in readings}


def last_read(asked: Matter, latest: Latest) -> Reading | None:
    """The last reading of it. One of a time when no stage was named with it counts for every stage."""
    subject = asked.caution.subject
    found = [latest[subject, path] for path in ("", asked.path) if (subject, path) in latest]
    return max(found, key=lambda reading: reading.at, default=None)


def stopping(asked: Matter, latest: Latest) -> Reading | None:
    """The last reading, if the caution's own figures make it one that stops the work."""
    last = last_read(asked, latest)
    if last and stops(asked.caution.question, last.answer):
        return last
    return None


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
    whose last reading stops the work is to be read again by whoever would go on; another out of its months is not. An
    answer counts for every caution that asks about the same.
    """
    last = latest(state.readings)
    return tuple(
        caution
        for caution in stage.cautions
        if stopping(matter(caution, stage.path), last)
        or (caution.is_asked_on(today) and not _read(caution, stage, state, by, today))
    )


def unread(stages: Sequence[StageView], state: State) -> tuple[Matter, ...]:
    """What is asked at these stages and nobody has read, once each; one of some months, where they were worked then."""
    read = latest(state.readings)
    wanted = {caution.id for stage in stages for caution in stage.cautions if _worked_in_its_months(stage, caution)}
    return tuple(one for one in matters(stages) if one.caution.id in wanted and not last_read(one, read))


def _worked_in_its_months(stage: StageView, caution: Caution) -> bool:
    """Always so of one that is asked all year."""
    return not caution.months or any(view.at and caution.is_asked_on(view.at) for view in stage.shown)


def awaited(state: State) -> tuple[Matter, ...]:
    """What the handover waits for, in the order of work: what stops it and is unread, and what stops the work now."""
    read = latest(state.readings)
    return tuple(
        asked
        for asked in matters(state.order)
        if stopping(asked, read) or (asked.caution.stops and not last_read(asked, read))
    )


def ended(state: State, library: Library) -> tuple[tuple[Caution, Reading], ...]:
    """What was read and applies no more, as the facts stand: each with its last reading, in the order of these."""
    asked = {(now.caution.subject, path) for now in matters(state.order) for path in {"", now.path}}
    gone = {reading.subject: reading for reading in state.readings if (reading.subject, reading.path) not in asked}
    return tuple(
        (library.cautions[reading.caution], reading) for reading in gone.values() if reading.caution in library.cautions
    )


def wanted_at(caution: Caution, state: State) -> str:
    """The stage that an answer is for where none is named: the one in hand, else the first that waits for it.

    "" where one answer counts for all, or no stage asks it.
    """
    if not caution.at_each_stage:
        return ""
    asking = [stage.path for stage in state.order if caution.id in (asked.id for asked in stage.cautions)]
    in_hand = [path for path in asking if f"{state.next}.".startswith(f"{path}.")]
    read = latest(state.readings)
    waiting = [path for path in asking if _waits(matter(caution, path), read)]
    return next(iter((*in_hand, *waiting, *asking)), "")


def _waits(asked: Matter, read: Latest) -> bool:
    return stopping(asked, read) is not None or last_read(asked, read) is None


def _read(caution: Caution, stage: StageView, state: State, by: str, today: str) -> bool:
    """Whether this person has read it as often as it asks for."""
    paths = {"", matter(caution, stage.path).path}
    own = [
        reading
        for reading in state.readings
        if reading.subject == caution.subject and reading.by == by and reading.path in paths
    ]
    if not own:
        return False
    if caution.repeat == "daily":
        return own[-1].day == today
    return caution.repeat != "change" or _as_then(own[-1], stage.part, state)


def _as_then(reading: Reading, part: str, state: State) -> bool:
    """Whether the facts of that part and of the job stand as they did when it was read."""
    for name, then in reading.facts.items():
        owner, _, _ = name.partition(".")
        if name in state.facts and owner in (part, "job") and not same(then, to_plain(state.facts[name].now)):
            return False
    return True

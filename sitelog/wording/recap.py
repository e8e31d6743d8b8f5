"""Where a job stands: what was done last, by whom, what is next, and who may be going on with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sitelog.job.job import Job
from sitelog.job.log.clocks import when
from sitelog.job.log.entry import Author, Entry, seal
from sitelog.job.session import Session
from sitelog.text import clock, counted, text_between, text_if
from sitelog.wording.prompts.rescuing import copies_settled, copy_told

if TYPE_CHECKING:
    from sitelog.job.state.views import State

MOST_NAMES = 6
MOST_EARLIER = 4  # told where the job stands: the names must stay on the screen beneath them
Line = tuple[str, str, str]  # words, a time of the record or "", and the words after it


def names_in(by: str, entries: Sequence[Entry]) -> list[str]:
    """The name in hand and those in the record, the last to enter first."""
    names = dict.fromkeys([by] if by else [])
    names.update(dict.fromkeys(entry.by for entry in reversed(entries)))
    return list(names)[:MOST_NAMES]


def where_it_stands(job: Job) -> list[str]:
    """The job's name, and where it stands; read without its state where that was told at the last start, or kept."""
    named, lines = job.told("standing", _standing)
    return [named, "", *map(_here, lines)]


def keep_standing(job: Job) -> None:
    """Keep where the job stands for the next start."""
    job.told("standing", _standing)


def _standing(state: State) -> tuple[str, tuple[Line, ...]]:
    return named_job(state), tuple(_lines(state))


def named_job(state: State) -> str:
    """The job by its title and its place."""
    if state.place:
        return f"{state.title}, {state.place}"
    return state.title


def standing(state: State) -> list[str]:
    """What was done last, what is next, and what is open."""
    return list(map(_here, _lines(state)))


def _here(line: Line) -> str:
    """The line, with its time by the clock on site."""
    words, at, after = line
    return f"{words}{at and when(at)}{after}"


def _lines(state: State) -> Iterator[Line]:
    from sitelog.wording.formatting import next_words  # not loaded where what was kept is all that is told

    if state.last:
        yield f"Last   {_what(state.last, state)}", "", ""
        yield f"       {state.last.by}, ", state.last.at, ""
    yield f"Next   {next_words(state)}", "", ""
    yield f"Open   {_outstanding(state)}", "", ""
    if state.changed_lists:
        yield "Lists  there are newer ones: see lists (=) in the job", "", ""
    yield from _earlier(state)
    yield from ((f"Hips   {told}", "", "") for told in state.pointed)
    yield from ((f"Roof   {told}", "", "") for told in state.roof_changes)


def clock_told(job: Job, author: Author) -> list[str]:
    """What the time is after a rest of over a day, or that the clock doesn't go with the record's times."""
    if odd := job.odd_clock(author):
        return [f"Clock  {odd}. Set it if it is wrong"]
    if rested := job.rested(author):
        return [f"Now    {clock(author.now)}, {rested}"]
    return []


def _what(entry: Entry, state: State) -> str:
    from sitelog.wording.entries import what

    return what(entry, state)


def _outstanding(state: State) -> str:
    """How much is not as it should be, kind by kind."""
    snags, later = len(state.open_snags), sum(deferral.open for deferral in state.deferrals)
    kinds = (
        (snags, f"{counted(snags, 'snag')} open"),
        (len(state.releases), f"{len(state.releases)} carried on as it is"),
        (len(state.stale), f"{len(state.stale)} out of date"),
        (later, f"{later} left till later"),
    )
    return ", ".join(words for count, words in kinds if count) or "nothing outstanding"


def _earlier(state: State) -> Iterator[Line]:
    """The first answers to checks that the lists no longer have, and how many more there are."""
    if state.earlier:
        yield "Earlier checks, no longer asked:", "", ""
    for check in state.earlier[:MOST_EARLIER]:
        yield f"       {check.ask}: {check.answer} ({check.by}, ", check.at, ")"
    more = len(state.earlier) - MOST_EARLIER
    if more > 0:
        yield f"       and {more} more: see lists (=) in the job", "", ""


def opened(session: Session) -> list[str]:
    """What is said at opening beside where the job stands: what is missing from it, and what an earlier start left."""
    told = "; ".join(_what(seal(draft, hand, None), session.job.state) for draft, hand in session.came_back)
    came = "Still not saved, from before: " if session.unsaved else "Saved now, from before: "
    lines = brought_back(session.recalled), session.job.file.lacks, text_between(came, told, ".")
    copies = (f"{copy_told(copy)}." for copy in session.copies)
    return [line for line in (*lines, *copies_settled(session.settled), *copies) if line]


def brought_back(count: int) -> str:
    """That an older copy was put right, or ""."""
    again = counted(count, "entry kept on this device was", "entries kept on this device were")
    return text_if(count, f"This was an older copy of the job. {again} brought back in.")


def kept_words(session: Session) -> str:
    """That what could not be saved is not lost by leaving, where it is kept."""
    return text_if(
        session.unsaved and session.kept, "It is kept on this device, and goes in when you next open the job."
    )


def lost(session: Session) -> str:
    """What is lost by leaving a job now, as it could not be saved, or ""."""
    told = "; ".join(_what(seal(draft, hand, None), session.job.state) for draft, hand in session.unsaved)
    return text_between("Not saved: ", told, ".")

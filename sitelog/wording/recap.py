"""Where a job stands: what was done last, by whom, what is next, and who may be going on with it."""

from collections.abc import Sequence

from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Entry, seal
from sitelog.job.session import Session
from sitelog.job.state.views import State
from sitelog.text import clock, counted, text_between, text_if
from sitelog.wording.entries import what
from sitelog.wording.formatting import next_words, when
from sitelog.wording.prompts.rescuing import copies_settled, copy_told

MOST_NAMES = 6
MOST_EARLIER = 4  # told where the job stands: the names must stay on the screen beneath them


def names_in(by: str, entries: Sequence[Entry]) -> list[str]:
    """The name in hand and those in the record, the last to enter first."""
    names = dict.fromkeys([by] if by else [])
    names.update(dict.fromkeys(entry.by for entry in reversed(entries)))
    return list(names)[:MOST_NAMES]


def named_job(state: State) -> str:
    """The job by its title and its place."""
    if state.place:
        return f"{state.title}, {state.place}"
    return state.title


def standing(state: State) -> list[str]:
    """What was done last, what is next, and what is open."""
    lines = []
    if state.last:
        lines.append(f"Last   {what(state.last, state)}")
        lines.append(f"       {state.last.by}, {when(state.last.at)}")
    lines.append(f"Next   {next_words(state)}")
    lines.append(f"Open   {_outstanding(state)}")
    if state.changed_lists:
        lines.append("Lists  there are newer ones: see lists (=) in the job")
    return [
        *lines,
        *_earlier(state),
        *(f"Hips   {told}" for told in state.pointed),
        *(f"Roof   {told}" for told in state.roof_changes),
    ]


def clock_told(job: Job, author: Author) -> list[str]:
    """What the time is after a rest of over a day, or that the clock doesn't go with the record's times."""
    if odd := job.odd_clock(author):
        return [f"Clock  {odd}. Set it if it is wrong"]
    if rested := job.rested(author):
        return [f"Now    {clock(author.now)}, {rested}"]
    return []


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


def _earlier(state: State) -> list[str]:
    """The first answers to checks that the lists no longer have, and how many more there are."""
    if not state.earlier:
        return []
    shown = state.earlier[:MOST_EARLIER]
    lines = [f"       {check.ask}: {check.answer} ({check.by}, {when(check.at)})" for check in shown]
    more = len(state.earlier) - MOST_EARLIER
    if more > 0:
        lines.append(f"       and {more} more: see lists (=) in the job")
    return ["Earlier checks, no longer asked:", *lines]


def opened(session: Session) -> list[str]:
    """What is said at opening beside where the job stands: what is missing from it, and what an earlier start left."""
    told = "; ".join(what(seal(draft, hand, None), session.job.state) for draft, hand in session.came_back)
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
    told = "; ".join(what(seal(draft, hand, None), session.job.state) for draft, hand in session.unsaved)
    return text_between("Not saved: ", told, ".")

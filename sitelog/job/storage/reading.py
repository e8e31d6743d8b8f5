"""The job that a file and its journal hold together, and which copy of a damaged one is good."""

from sitelog.job.storage.disk import beside, named
from sitelog.job.storage.format import Contents, contents
from sitelog.job.storage.journal import Journal, with_journal
from sitelog.job.storage.store import WholeFile, parse
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean, day_and_time


def journal_of(store: WholeFile) -> Journal:
    """The journal in the folder beside the file; it may not exist yet."""
    return Journal(beside(store.path) / "journal")


def read(store: WholeFile, journal: Journal | None = None) -> Contents:
    """The job in a file and its journal; a `Refusal` 3 names the last good copy.

    The journal first: if it is folded in between, the file has what was in it, and nothing is missed.
    """
    name = named(store.path)
    left = (journal or journal_of(store)).read()
    try:
        found = contents(store.read(), name)
    except Refusal as refusal:
        if refusal.code != DAMAGED:
            raise
        raise Refusal(f"{refusal.message} {advice(store)}", code=DAMAGED) from None
    return with_journal(found, left, name)


def advice(store: WholeFile) -> str:
    """Which copy of a damaged job is good, and how to look at it."""
    try:
        copies = store.copies()
    except OSError:
        return "Its backup copies can't be read either."
    for copy in copies:
        try:
            found = contents(parse(copy.read_bytes(), copy.name), copy.name)
        except (Refusal, OSError):
            continue
        last = found.entries[-1]
        return f"The last good copy ends at {day_and_time(last.at)}; look at it with: sitelog open {clean(str(copy))}"
    return "There is no good copy."

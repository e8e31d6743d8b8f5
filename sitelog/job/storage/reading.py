"""The job that a file and its journals hold together, and which copy of a damaged one is good."""

from collections.abc import Sequence

from msgspec.structs import replace

from sitelog.job.log.chains import Link, loose
from sitelog.job.log.entry import Entry
from sitelog.job.log.union import joined, new_in
from sitelog.job.storage.disk import beside, named
from sitelog.job.storage.format import Contents, as_written, contents
from sitelog.job.storage.journals import Beside, Journals
from sitelog.job.storage.store import WholeFile, parse
from sitelog.refusal import DAMAGED, Refusal
from sitelog.text import clean, day_and_time, text_if

KEPT = "It can't be read, and is kept beside the job. If a copy has what it held, join it:"


def journals_of(store: WholeFile) -> Journals:
    """The journals in the folder beside the file; there may be none yet."""
    return Journals(beside(store.path))


def read(store: WholeFile, journals: Journals | None = None) -> Contents:
    """The job in a file and its journals; a `Refusal` 3 names the last good copy.

    The journals first: if one is folded in between, the file has what was in it, and nothing is missed.
    """
    name = named(store.path)
    found = (journals or journals_of(store)).read()
    try:
        raw = store.read_bytes()
        file = as_written(raw) or contents(parse(raw, name), name)
    except Refusal as refusal:
        if refusal.code != DAMAGED:
            raise
        raise Refusal(f"{refusal.message} {advice(store)}", code=DAMAGED) from None
    return with_journals(file, found, name)


def with_journals(file: Contents, found: Sequence[Beside], name: str) -> Contents:
    """A job with what stands beside it; `Refusal` 3 if that is of another job, or says otherwise than the file."""
    if not found:
        return file
    together = file.entries
    for journal in found:
        if journal.left.job and journal.left.job != file.entries[0].id:
            what = f"{name}.files/{journal.name} belongs to another job: move it away, or move this file."
            raise Refusal(what, code=DAMAGED)
        together = joined(together, journal.left.entries)
    mend = next(filter(None, (_mend(journal, file, together, name) for journal in found)), "")
    told = (text_if(journal.left.spoilt, _spoilt(journal, name)) for journal in found)
    strange = (journal.left.strange for journal in found)
    return replace(
        file,
        entries=together,
        since=tuple(new_in(file.entries, together)),
        mend=mend,
        told=next(filter(None, told), ""),
        read_only=file.read_only or next(filter(None, strange), ""),
    )


def _mend(journal: Beside, file: Contents, together: Sequence[Entry], name: str) -> str:
    if journal.left.fault:
        why = f"{name}.files/{journal.name} is damaged: {journal.left.fault}"
    elif not journal.own and _is_older(file, journal, together):
        why = "this looks like an older copy of the job: newer entries are missing from it"
    else:
        return ""
    return f"{why}; join them with: sitelog merge {name} COPY"


def _spoilt(journal: Beside, name: str) -> str:
    return f"{name}.files/{journal.name}: {journal.left.spoilt}. {KEPT} sitelog merge {name} COPY"


def _is_older(file: Contents, journal: Beside, together: Sequence[Entry]) -> bool:
    """Whether the journal goes on from entries that the file doesn't have.

    Where the seals are the file's own it goes on from the file: only elsewhere are digests asked for.
    """
    if journal.left.seals == file.seals:
        return False
    return bool(loose(_links(new_in(file.entries, together)), _links(together)))


def _links(entries: Sequence[Entry]) -> list[Link]:
    return [Link(entry, entry.digest()) for entry in entries]


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

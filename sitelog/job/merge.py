"""Copies of one job that went on apart, brought together: the union of their entries, the same bytes in any order."""

from collections.abc import Sequence
from pathlib import Path

import msgspec

from sitelog.job.disk import named, reason
from sitelog.job.entry import Entry, Hand
from sitelog.job.file import JobFile, read
from sitelog.job.format import tables
from sitelog.job.store import WholeFile
from sitelog.job.union import joined
from sitelog.refusal import NOT_SAVED, USAGE, Refusal


def merge(path: str | Path, copies: Sequence[str | Path], *, hand: Hand | None = None) -> int:
    """Join the entries of the copies to the job at `path`, and what stands beside each; how many were new there.

    A copy is only read. `Refusal` 2 (a copy of another job, or of a newer program), 3 (one is damaged, or they
    contradict each other), 4 (not saved), 5 (held by another).
    """
    with JobFile.open(path, hand=hand, mend=True) as file:
        wanted = file.entries[0].id
        return file.join([entry for copy in copies for entry in _entries(copy, wanted, named(file.path))])


def merge_scratch(ours: str | Path, theirs: str | Path) -> None:
    """The same for a version control's scratch files: the union is written over `ours`, and nothing is put beside it.

    `Refusal` as from `merge`; `ours` is as it was then.
    """
    path = Path(ours)
    held = read(WholeFile(path))
    if held.read_only:
        raise Refusal(f"{named(path)} can't be joined: {held.read_only}.")
    together = joined(held.entries, _entries(theirs, held.entries[0].id, named(path)))
    try:
        path.write_bytes(msgspec.json.encode(tables(together)))
    except OSError as error:
        raise Refusal(f"Not saved: {named(path)}: {reason(error)}.", code=NOT_SAVED) from error


def _entries(copy: str | Path, job: str, name: str) -> list[Entry]:
    store = WholeFile(copy)
    found = read(store)
    if found.entries[0].id != job:
        raise Refusal(
            f"{named(store.path)} is another job than {name}: only copies of one job can be joined.", code=USAGE
        )
    if found.read_only:
        raise Refusal(f"{named(store.path)} can't be joined: {found.read_only}.", code=USAGE)
    return found.entries

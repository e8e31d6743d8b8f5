"""Copies of one job that went on apart, brought together: the union of their entries, the same bytes in any order."""

from collections.abc import Sequence
from pathlib import Path

import msgspec
from msgspec import Struct

from sitelog.job.log.entry import Author, Entry
from sitelog.job.log.union import joined
from sitelog.job.machine.memory import Memory
from sitelog.job.photos.keeping import Picture, folder_of, keep, read_back, stands
from sitelog.job.photos.photo import Photo, photos_of
from sitelog.job.storage.disk import named, reason
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import tables
from sitelog.job.storage.reading import read
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import NOT_SAVED, USAGE, Refusal


class Joined(Struct, frozen=True):
    """How many entries and photos were new to the job."""

    entries: int
    photos: int


def merge(path: str | Path, copies: Sequence[str | Path], *, author: Author | None = None) -> int:
    """Join the entries of the copies to the job at `path`; how many were new there. See `join`."""
    return join(path, copies, author=author).entries


def join(
    path: str | Path, copies: Sequence[str | Path], *, author: Author | None = None, memory: Memory | None = None
) -> Joined:
    """Join the entries of the copies to the job at `path`, and what stands beside each: journal and photos.

    A copy is only read. A photo that is not here and stands whole beside a copy is brought over, before the entry that
    names it; one that stands nowhere stays missing, and `verify` names it. `Refusal` 2 (a copy of another job, or of a
    newer program), 3 (one is damaged, or they contradict each other), 4 (not saved), 5 (held by another).
    """
    with JobFile.open(path, author=author, memory=memory, mend=True) as file:
        wanted = file.entries[0].id
        found = [entry for copy in copies for entry in _entries(copy, wanted, named(file.path))]
        photos = {photo.hash: photo for entry in (*file.entries, *found) for photo in photos_of(entry.value)}
        brought = sum(_bring(photo, file, copies) for photo in photos.values())
        return Joined(file.join(found) + file.recall(), brought)


def _bring(photo: Photo, file: JobFile, copies: Sequence[str | Path]) -> bool:
    """True if the photo was not here and is now."""
    if stands(file.files, photo) == "there":
        return False
    for copy in copies:
        raw = read_back(folder_of(WholeFile(copy).path), photo)
        if raw is not None:
            keep(file.files, [Picture(photo, raw)])
            return True
    return False


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
            f"{named(store.path)} is a different job from {name}: you can only join copies of one job.", code=USAGE
        )
    if found.read_only:
        raise Refusal(f"{named(store.path)} can't be joined: {found.read_only}.", code=USAGE)
    return found.entries

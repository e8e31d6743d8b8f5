"""Copies of a job beside it, whatever a program that brings folders up to date called them: found, joined, put aside.

They are found by the job's id inside them. Of several files beside each other that are one job, those are copies whose
name is made of another's; of the rest that with a folder of its own is the job, or that with the shortest name.
"""

import os
import re
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from sitelog.job.log.entry import Author, Entry
from sitelog.job.log.union import joined
from sitelog.job.machine.lock import Lock
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.disk import Stamp, beside, make_folder, named, reason, stamp
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.reading import journals_of, read
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import Refusal

ASIDE = "joined-"  # what the name of a copy begins with that was put aside, in the folder of kept copies
_HEAD = 4096  # bytes in which a job's id stands
_ID = re.compile(rb'"id":\s*"([0-9A-Za-z_-]+)"')


class Copy(Struct, frozen=True):
    """One copy: how many entries it has that the job lacks, or `why` it can't be joined, in one line."""

    path: Path
    entries: tuple[Entry, ...] = ()
    new: int = 0
    why: str = ""
    stamp: Stamp | None = None
    named_after: bool = False  # is its name made of the job's?

    @property
    def spare(self) -> bool:
        """Is it a copy that another program made and that holds nothing new?"""
        return self.named_after and not self.new and not self.why

    @property
    def name(self) -> str:
        """As it may be shown."""
        return named(self.path)


class Settled(Struct, frozen=True):
    """How many entries and photos came in, the copies that were put aside, and those that were removed."""

    entries: int = 0
    photos: int = 0
    aside: tuple[Copy, ...] = ()
    removed: tuple[Copy, ...] = ()
    stays: tuple[Copy, ...] = ()  # each says why


def by_job(folder: Path) -> dict[str, list[Path]]:
    """By a job's id the files of the folder that hold it: the job itself first, then its copies."""
    found: dict[str, list[Path]] = {}
    try:
        with os.scandir(folder) as rows:
            for row in rows:
                name = row.name.lower()
                if ".json" in name and not name.startswith(".") and row.is_file(follow_symlinks=False):
                    found.setdefault(job_in(Path(row.path)), []).append(Path(row.path))
    except OSError:
        return {}
    found.pop("", None)
    return {id: sorted(paths, key=lambda path: _rank(path, paths)) for id, paths in found.items()}


def found(path: Path, entries: Sequence[Entry]) -> list[Copy]:
    """The copies beside a job that has these entries, in order of their names: what began with the same entry."""
    path = WholeFile(path).path
    copies = (looked_into(copy, entries, path) for copy in _copies_of(path, entries[0].id))
    return [copy for copy in copies if not copy.entries or copy.entries[0] == entries[0]]


def counted(path: Path) -> list[Copy]:
    """The same without their entries, of which little is held where record and copies are sound, however long they are.

    `Refusal` as from `read` where one of them is not.
    """
    path = WholeFile(path).path
    copies = _copies_of(path, job_in(path))
    lacks = _lacks(path, copies) if copies else {}
    told = [Copy(copy, new=new, named_after=_is_named_after(path, copy)) for copy, new in lacks.items()]
    return told if len(told) == len(copies) else found(path, read(WholeFile(path)).entries)


def _lacks(job: Path, copies: Sequence[Path]) -> dict[Path, int]:
    """How many entries of each copy the job lacks, as far as that can be told of sound records."""
    from sitelog.job.storage.sound import Held  # loaded for `verify` alone

    raw = _sound_bytes(job)
    held = Held.of(raw) if raw else None
    new: dict[Path, int] = {}
    for copy in copies:
        raw = b""  # one at a time
        raw = _sound_bytes(copy)
        if held and raw and (count := held.lacks(raw)) is not None:
            new[copy] = count
    return new


def _sound_bytes(path: Path) -> bytes:
    """A record that is sound, with all that its journals hold; b"" of any other."""
    from sitelog.job.storage.verify import in_one_pass

    store = WholeFile(path)
    try:
        journals = journals_of(store).read()
        raw = store.read_bytes()
    except Refusal:
        return b""
    return raw if in_one_pass(raw, journals) else b""


def _copies_of(path: Path, job: str) -> list[Path]:
    """The files beside it that are copies of it, not the other way round."""
    if path.parent.name == "copies":  # kept copies are no business of each other
        return []
    paths = by_job(path.parent).get(job, [])
    if path in paths:
        paths = paths[paths.index(path) :]
    return [copy for copy in paths if copy != path]


def looked_into(copy: Path, entries: Sequence[Entry], job: Path) -> Copy:
    """What a copy has that is not among the entries of the job."""
    try:
        before = stamp(copy)
        there = read(WholeFile(copy))
        new = len(joined(entries, there.entries)) - len(entries)
    except (Refusal, OSError) as error:
        return Copy(copy, why=error.message if isinstance(error, Refusal) else reason(error))
    return Copy(copy, tuple(there.entries), new, there.read_only, before, _is_named_after(job, copy))


def join_beside(path: str | Path, *, author: Author | None = None, memory: Memory | None = None) -> Settled:
    """Join every copy beside the job, and put them out of the way; `Refusal` as from `JobFile.open`, and 4.

    What the job lacks and this machine has kept comes in, too.
    """
    with JobFile.open(path, author=author, memory=memory, mend=True) as file:
        done = settle(file, found(file.path, file.entries))
        return replace(done, entries=done.entries + file.recall())


def settle(file: JobFile, copies: Sequence[Copy]) -> Settled:
    """Join copies of an open job with their photos, and put them out of the way; `Refusal` 4 (read only, not saved).

    One that holds nothing new is removed; any other is kept in the folder of kept copies, and one that has a folder of
    its own goes there with it. One that can't be joined stays, and so does one that was changed since it was read.
    """
    from sitelog.job.photos.keeping import bring_all, folder_of  # not loaded for a job without copies

    file.checkpoint()  # what a copy is held to is in the file
    entries = photos = 0
    aside: list[Copy] = []
    removed: list[Copy] = []
    stays: list[Copy] = []
    for copy in copies:
        if copy.why:
            stays.append(copy)
            continue
        if (theirs := folder_of(copy.path)).is_dir():
            photos += bring_all(theirs, file.files, copy.entries)
        new = file.join(copy.entries) if copy.new else 0
        entries += new
        try:
            where = _put_aside(file, copy, kept=bool(new))
        except (Refusal, OSError) as error:
            why = error.message if isinstance(error, Refusal) else f"{copy.name} can't be moved: {reason(error)}."
            stays.append(Copy(copy.path, why=why))
        else:
            (aside if where else removed).append(copy)
    return Settled(entries, photos, tuple(aside), tuple(removed), tuple(stays))


def _put_aside(file: JobFile, copy: Copy, *, kept: bool) -> Path | None:
    """Where it is put; None where it is removed. It is moved first: what was changed meanwhile is put back."""
    folder, own = file.files / "copies", beside(copy.path)
    make_folder(folder, file.path)
    place = _free(folder, f"{ASIDE}{copy.path.name}")
    has_own = own.is_dir()
    lock = Lock.take(own) if has_own else None  # `Refusal` where somebody has it open
    try:
        copy.path.rename(place)
        if stamp(place) != copy.stamp:
            place.rename(copy.path)
            raise Refusal(f"{copy.name} was changed just now. Try again.")
        if has_own:
            own.rename(beside(place))
        elif not kept:
            place.unlink()
            return None
        return place
    finally:
        if lock:
            lock.release()


def _free(folder: Path, name: str) -> Path:
    """A name in the folder that nothing has."""
    place, number = folder / name, 1
    while os.path.lexists(place) or os.path.lexists(beside(place)):
        number += 1
        place = folder / f"{ASIDE}{number}-{name.removeprefix(ASIDE)}"
    return place


def _rank(path: Path, paths: Sequence[Path]) -> tuple[bool, bool, int, str]:
    """Which of several files of one job is the job: the least."""
    copied = any(_is_named_after(other, path) for other in paths if other != path)
    return copied, not beside(path).is_dir(), len(path.name), path.name


def _is_named_after(job: Path, copy: Path) -> bool:
    """Whether a copy's name has the job's name in it, as a word or some: `barn (1)`, `Kopie von barn`."""
    return re.search(rf"(?<![^\W_]){re.escape(job.stem)}(?![^\W_])", copy.name) is not None


def job_in(path: Path) -> str:
    """The job's id at the head of a file; "" where it has none."""
    with suppress(OSError), path.open("rb") as file:
        head = file.read(_HEAD)
        if b'"job"' in head and (match := _ID.search(head)):
            return match[1].decode()
    return ""

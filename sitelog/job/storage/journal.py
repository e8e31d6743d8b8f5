"""The journal beside an open job: what was entered since its file was written, one line on the disk for each save."""

import hashlib
import os
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from sitelog.job.log.chains import Link, loose
from sitelog.job.log.entry import Entry
from sitelog.job.log.union import joined
from sitelog.job.storage.disk import Stamp, load, named, reason, stamp, sync_folder
from sitelog.job.storage.format import Contents, Seals, entry_of, is_id
from sitelog.refusal import DAMAGED, NOT_SAVED, Refusal
from sitelog.text import text_if

KIND = 1  # of journal: a program that knows only lower ones leaves it alone

_SAVE = msgspec.json.Decoder(list[Entry])
_SUM = 16  # hex digits of a SHA-256


class Left(Struct, frozen=True):
    """What stands in a journal. `job` and `seals` are of the file that it goes on from.

    `fault` says which line is not as it was written; the entries of all others are there. `torn` is a last line that
    was never confirmed, and is not there. `strange` says why this program must not touch it.
    """

    job: str = ""
    seals: Mapping[str, Any] | None = None
    entries: tuple[Entry, ...] = ()
    fault: str = ""
    strange: str = ""
    torn: bool = False


class Journal:
    """NAME.files/journal: a first line that names the file it goes on from, then a line for each save.

    Each line is JSON, a space, and the beginning of a SHA-256 over the sum before it and that JSON. It is begun as a
    new file that takes the name when it is on the disk, so that its first lines are never torn. After a line that
    failed it is begun anew: what an fsync has refused once is not asked for again.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self.size = 0
        self._name = f"{named(path.parent)}/{path.name}"
        self._handle: int | None = None
        self._sum = b""
        self._stamp: Stamp | None = None
        self._damaged = False

    def read(self) -> Left | None:
        """What is in it, None if there is none; `Refusal` 2 or 3 if it can't be read at all."""
        if self._gone():
            return None
        try:
            raw, self._stamp = load(self.path, self._name)
        except Refusal:
            if self._gone():  # folded in between
                return None
            raise
        left = _left(raw)
        self._damaged = bool(left.fault)
        return left

    @property
    def there(self) -> bool:
        """Was there one when it was last looked at?"""
        return self._stamp is not None

    def changed(self) -> bool:
        """Is it another than the one last read or written here, or gone?"""
        return stamp(self.path) != self._stamp

    def add(self, job: str, seals: Seals, since: Sequence[Entry], fresh: Sequence[Entry]) -> None:
        """Bring one save to the disk; `Refusal` 4 if it is not there.

        `since` is what stands in it already, of a job whose file has these seals.
        """
        try:
            if self._handle is None:
                first = {"journal": KIND, "job": job, "seals": seals}
                self._begin([first, since, fresh] if since else [first, fresh])
            else:
                self._put(self._handle, [fresh])
            self._stamp = stamp(self.path)
        except BaseException as error:
            self.close()
            self._mark()  # whatever stands there now is from here
            if isinstance(error, OSError):
                what = f"Not saved: {self._name}: {reason(error)}. Try again: it will go to a new file."
                raise Refusal(what, code=NOT_SAVED) from error
            raise

    def drop(self) -> None:
        """Take it away: all that is in it stands in the file. One that can't be removed does no harm.

        One with a damaged line is kept under another name.
        """
        self.close()
        with suppress(OSError):
            if self._damaged:
                self.path.replace(self.path.with_name("journal.broken"))
            self.path.unlink()
        self._damaged = False
        self._mark()

    def close(self) -> None:
        """Write no more to it; the next line begins it anew."""
        if self._handle is not None:
            with suppress(OSError):
                os.close(self._handle)
        self._handle = None
        self.size = 0

    def sweep(self) -> None:
        """Remove a beginning that was killed. Only for who holds the lock."""
        with suppress(OSError):
            self._new.unlink()

    @property
    def _new(self) -> Path:
        return self.path.with_name("journal.new")

    def _mark(self) -> None:
        self._stamp = None
        with suppress(OSError):
            self._stamp = stamp(self.path)

    def _gone(self) -> bool:
        """Is there surely none?"""
        try:
            self._stamp = stamp(self.path)
        except OSError:
            return False
        return self._stamp is None

    def _begin(self, what: Sequence[object]) -> None:
        self.path.parent.mkdir(exist_ok=True)
        self._new.unlink(missing_ok=True)
        self._sum = b""
        handle = os.open(self._new, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
        try:
            self._put(handle, what)
            self._new.replace(self.path)
            sync_folder(self.path.parent)
            sync_folder(self.path.parent.parent)  # the folder itself may be new
        except BaseException:
            os.close(handle)
            self.sweep()
            raise
        self._handle = handle

    def _put(self, handle: int, what: Sequence[object]) -> None:
        lines, before = b"", self._sum
        for text in map(msgspec.json.encode, what):
            before = _sum(before, text)
            lines += b"%s %s\n" % (text, before)
        left = memoryview(lines)
        while left:
            left = left[os.write(handle, left) :]
        os.fsync(handle)
        self._sum = before
        self.size += len(lines)


def _sum(before: bytes, text: bytes) -> bytes:
    return hashlib.sha256(before + text).hexdigest()[:_SUM].encode()


def _left(raw: bytes) -> Left:
    """The bytes of a journal, understood as far as they can be."""
    rows = list(_rows(raw))
    first = _first(rows)
    if type(first.get("journal")) is not int:
        return Left(fault="its first line has been changed since it was written")
    left = Left(str(first.get("job")), first.get("seals"))
    if first["journal"] > KIND:
        return replace(left, strange="its newest entries were written by a newer sitelog")
    saves = [_save(text) for text, whole in rows[1:] if whole]
    entries = tuple(entry for entries, _ in saves for entry in entries)
    left = replace(left, entries=entries, strange=next((strange for _, strange in saves if strange), ""))
    return _damaged(left, [whole for _, whole in rows])


def _damaged(left: Left, whole: Sequence[bool]) -> Left:
    """The same, with the line that was changed; or torn, where a crash broke off the last. `whole` tells of each."""
    if all(whole):
        return left
    broken = whole.index(False)
    if any(whole[broken:]):  # no line follows one that a crash has torn
        return replace(left, fault=f"its line {broken + 1} has been changed since it was written")
    return replace(left, torn=True)


def _rows(raw: bytes) -> Iterator[tuple[bytes, bool]]:
    """Each line's JSON, and whether it is as it was written; of those too short to be one, the first."""
    *lines, rest = raw.split(b"\n")
    before, short = b"", False
    for line in lines:
        if len(line) > _SUM:
            text, _, said = line.rpartition(b" ")
            yield text, said == _sum(before, text)
            before = said
        elif not short:
            short = True
            yield line, False
    if rest:
        yield rest, False


def _first(rows: Sequence[tuple[bytes, bool]]) -> dict[str, Any]:
    """The first line of a journal, which tells whose it is; nothing where it isn't as it was written."""
    if not rows or not rows[0][1]:
        return {}
    try:
        found = msgspec.json.decode(rows[0][0])
    except (ValueError, RecursionError):
        return {}
    if not isinstance(found, dict):
        return {}
    return found


def _save(text: bytes) -> tuple[list[Entry], str]:
    """The entries of one save, and why this program must not touch them ("" if it may)."""
    unknown = "its newest entries have something this sitelog doesn't know"
    try:
        entries = _SAVE.decode(text)
        if all(is_id(entry.id) for entry in entries):
            return entries, "" if msgspec.json.encode(entries) == text else unknown
        return [], unknown
    except (ValueError, RecursionError):
        return _newer(text), unknown


def _newer(text: bytes) -> list[Entry]:
    """Entries with acts of a newer program; none if they are not even that."""
    try:
        docs = msgspec.json.decode(text, type=list[dict[str, Any]])
        return [entry_of(doc) for doc in docs]
    except (Refusal, ValueError, RecursionError):
        return []


def with_journal(found: Contents, left: Left | None, name: str) -> Contents:
    """A job with what stands beside it; `Refusal` 3 if that is of another job, or says otherwise than the file."""
    if left is None:
        return found
    if left.job and left.job != found.entries[0].id:
        raise Refusal(f"{name}.files/journal belongs to another job: move it away, or move this file.", code=DAMAGED)
    together = joined(found.entries, left.entries)
    mend = text_if(left.fault, f"{name}.files/journal is damaged: {left.fault}")
    if not mend and _is_older(found, left, together):
        mend = "this looks like an older copy of the job: newer entries are missing from it"
    if mend:
        mend += f"; join them with: sitelog merge {name} COPY"
    # Those that stand in the file too: whoever put them there may have gone before its new name was on the disk.
    since = tuple(joined((), left.entries))
    return replace(found, entries=together, since=since, mend=mend, read_only=found.read_only or left.strange)


def _is_older(found: Contents, left: Left, together: Sequence[Entry]) -> bool:
    """Whether the journal goes on from entries that the file doesn't have.

    Where the seals are the file's own it goes on from the file: only elsewhere are digests asked for.
    """
    if left.seals == found.seals:
        return False
    in_file = {entry.id for entry in found.entries}
    beside = [entry for entry in together if entry.id not in in_file]
    return bool(loose(_links(beside), _links(together)))


def _links(entries: Sequence[Entry]) -> list[Link]:
    return [Link(entry, entry.digest()) for entry in entries]

"""What this machine keeps of jobs in its user's own folder: where each ended when it was written here, what waits.

None of it is record. It stands outside the jobs' folders: an older copy of a job that is put back puts none of it back.
What can't be kept or read is done without.
"""

import hashlib
import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import TypeVar

import msgspec
from msgspec import Struct

from sitelog.job.log.entry import Author, Draft, Entry
from sitelog.job.storage.disk import load, named, put
from sitelog.job.storage.format import as_written, contents
from sitelog.job.storage.store import parse
from sitelog.refusal import Refusal

LONG = 64 * 1024  # bytes of a job's ends: past them only the last line of each place is kept

Act = tuple[Draft, Author]


What = TypeVar("What")


class End(Struct, frozen=True):
    """The last entry of a device's chain, as it was when the job was written here."""

    device: str
    seq: int
    digest: str
    at: str
    by: str


class Saved(Struct, frozen=True):
    """One line of a job's ends: the file that was written, and every end in it."""

    place: str
    ends: list[End]
    entries: list[Entry] = []  # those that were new


class Memory:
    """`folder` is made when there is something to keep in it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    # -- where a job ended --

    def ends(self, job: str, place: Path) -> list[End]:
        """Every end that was last written to the job of that id there, or in a place where it no longer stands."""
        return [end for saved in _meant(self._saved(job), place) for end in saved]

    def wrote(self, job: str, place: Path, ends: Iterable[End], fresh: Sequence[Entry] = ()) -> None:
        """Remember them, and what was new; no sync is waited for, as the entries themselves are on the disk."""
        line = msgspec.json.encode(Saved(str(place), list(ends), list(fresh))) + b"\n"
        with suppress(OSError):
            try:
                handle = os.open(self._ends(job), os.O_WRONLY | os.O_APPEND | getattr(os, "O_NOFOLLOW", 0))
            except FileNotFoundError:
                self._put(self._ends(job), line)
                return
            try:
                os.write(handle, line)
            finally:
                os.close(handle)

    def keep_copy(self, job: str, place: Path) -> None:
        """Keep the file as it stands there now, for when an older one is put in its place."""
        with suppress(OSError, Refusal):
            self._put(self._copy(job, place), load(place)[0], synced=False)
            if self._ends(job).stat().st_size > LONG:
                here = Saved(str(place), self._saved(job).get(str(place), []))
                rows = [*(line for line in self._lines(job) if line.place != here.place), here]
                self._put(self._ends(job), b"".join(msgspec.json.encode(row) + b"\n" for row in rows), synced=False)

    def entries(self, job: str, place: Path) -> list[Entry]:
        """All entries that are known here of the job there: its kept copy, and what was entered since."""
        found: list[Entry] = []
        places = {str(place), *(where for where in self._saved(job) if not os.path.lexists(where))}
        for where in sorted(places):
            with suppress(Refusal):
                copy = self._copy(job, Path(where))
                raw = load(copy)[0]
                found += (as_written(raw) or contents(parse(raw, copy.name), copy.name)).entries
        for line in self._lines(job):
            if line.place in places:
                found += line.entries
        return list({entry.id: entry for entry in found}.values())

    def forget(self, job: str, place: Path) -> None:
        """Forget how far the job got there and in places where it no longer stands: it is begun from its first copy."""
        places = {str(place), *(where for where in self._saved(job) if not os.path.lexists(where))}
        with suppress(OSError):
            for where in places:
                self._copy(job, Path(where)).unlink(missing_ok=True)
            kept = [msgspec.json.encode(line) + b"\n" for line in self._lines(job) if line.place not in places]
            self._put(self._ends(job), b"".join(kept))

    def _copy(self, job: str, place: Path) -> Path:
        return self.folder / f"{job}-{hashlib.sha256(os.fsencode(place)).hexdigest()[:12]}.json"

    def _ends(self, job: str) -> Path:
        return self.folder / f"{job}.ends"

    def _saved(self, job: str) -> dict[str, list[End]]:
        """By place, the last line of each; a line that can't be read is passed over."""
        return {saved.place: saved.ends for saved in self._lines(job)}

    def _lines(self, job: str) -> Iterator[Saved]:
        for line in self._read(self._ends(job)).split(b"\n"):
            with suppress(msgspec.MsgspecError, UnicodeDecodeError):
                yield msgspec.json.decode(line, type=Saved)

    # -- what waits to be saved --

    def waiting(self, job: str, place: Path) -> list[Act]:
        """What could not be saved in the job there, or in a place where it no longer stands."""
        return [act for acts in _meant(self._acts(job), place) for act in acts]

    def keep_waiting(self, job: str, place: Path, acts: Sequence[Act]) -> bool:
        """Keep them, in place of what waited in the job there; False if they can't be kept."""
        file, others = self._waiting(job), self._acts(job)
        held = {where: kept for where, kept in others.items() if where != str(place) and os.path.lexists(where)}
        if acts:
            held[str(place)] = list(acts)
        try:
            if held:
                self._put(file, msgspec.json.encode(held))
            else:
                file.unlink(missing_ok=True)
        except OSError:
            return False
        return True

    def _waiting(self, job: str) -> Path:
        return self.folder / f"{job}.unsaved"

    def _acts(self, job: str) -> dict[str, list[Act]]:
        try:
            return msgspec.json.decode(self._read(self._waiting(job)), type=dict[str, list[Act]])
        except (msgspec.MsgspecError, UnicodeDecodeError):
            return {}

    # -- a job whose file is gone --

    def rescue(self, path: Path, raw: bytes) -> Path | None:
        """Keep a job whose file is gone; where, or None if that can't be done either."""
        with suppress(OSError, Refusal):
            place = self.folder / "kept" / named(path)
            number = 1
            while os.path.lexists(place):
                number += 1
                place = place.with_name(f"{path.stem}-{number}.json")
            self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            put(place, raw)
            return place
        return None

    def _put(self, file: Path, raw: bytes, *, synced: bool = True) -> None:
        self.folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        try:
            put(file, raw, synced=synced)
        except OSError:
            put(file, raw, synced=False)  # then it outlives at least the program

    def _read(self, file: Path) -> bytes:
        try:
            return load(file)[0]
        except Refusal:
            return b""


def _meant(kept: Mapping[str, list[What]], place: Path) -> list[list[What]]:
    """What is kept of that place, and of each where nothing stands any more: from there it may have been moved here."""
    return [found for where, found in kept.items() if where == str(place) or not os.path.lexists(where)]


def machines_own(environ: Mapping[str, str] = os.environ) -> Memory:
    """The folder of this user on this machine: XDG_STATE_HOME, or what the system has for it."""
    given = environ.get("XDG_STATE_HOME", "")
    if given and Path(given).is_absolute():
        return Memory(Path(given) / "sitelog")
    if sys.platform == "win32":  # pragma: no cover - asked of the tests' own system only
        return Memory(Path(environ.get("LOCALAPPDATA") or Path.home() / "AppData/Local") / "sitelog")
    if sys.platform == "darwin":  # pragma: no cover - the same
        return Memory(Path.home() / "Library/Application Support/sitelog")
    return Memory(Path.home() / ".local/state/sitelog")


def end_of(entry: Entry) -> End:
    """An entry as the end of its device's chain."""
    return End(entry.device, entry.seq, entry.digest(), entry.at, entry.by)

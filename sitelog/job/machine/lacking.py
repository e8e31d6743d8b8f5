"""What a job lacks of what was saved on this machine: an older copy was put back, or a journal was cut or deleted."""

from collections.abc import Iterable, Sequence
from pathlib import Path

from sitelog.job.log.entry import Draft, Ends, Entry, ends, ends_with
from sitelog.job.log.parts import items
from sitelog.job.log.union import new_in
from sitelog.job.machine.memory import End, Memory, end_of
from sitelog.refusal import Refusal
from sitelog.text import clean, counted, day_and_time, text_between

WITHOUT = "@without"  # in the value of a note: the digests of the ends that somebody goes on without


class Remembered:
    """What this machine's memory has of one open job. Without a memory it knows nothing."""

    def __init__(self, memory: Memory | None, path: Path) -> None:
        self._memory, self._path = memory, path
        self._ends: Ends = {}
        self._known: Sequence[End] = ()
        self.missing: tuple[End, ...] = ()
        self.has_written = False  # has anything been saved since it was opened?

    def take(self, entries: Sequence[Entry]) -> None:
        """These are the entries now."""
        if self._memory is None or not entries:
            return
        self._ends = ends(entries)
        self._known = self._known or self._memory.ends(entries[0].id, self._path)
        self.missing = lacking(entries, self._known)

    def wrote(self, entries: Sequence[Entry], fresh: Sequence[Entry] = ()) -> None:
        """These entries are on the disk, the fresh ones since `take`; what was missing and still is stays known."""
        self.has_written = True
        if self._memory is None:
            return
        for entry in fresh:
            self._ends[entry.device] = ends_with(self._ends.get(entry.device, ()), entry)
        if self.missing:
            self.missing = lacking(entries, self.missing)
        here = [end_of(entry) for last in self._ends.values() for entry in last]
        self._memory.wrote(entries[0].id, self._path, [*here, *self.missing], fresh)

    def lost(self, entries: Sequence[Entry]) -> list[Entry]:
        """Those that are kept on this machine of the job and not among these; Refusal where they contradict them."""
        if self._memory is None:
            return []
        return new_in(entries, self._memory.entries(entries[0].id, self._path))

    def closed(self, job: str) -> None:
        """The file holds all that is known now: it is kept, as long as nothing of it is missing."""
        if self._memory and not self.missing:
            self._memory.keep_copy(job, self._path)

    def rescue(self, raw: bytes) -> str:
        """Keep the job in the machine's own folder, as its file is gone; where, in a sentence, or ""."""
        if self._memory is None:
            return ""
        return text_between(" All of it is kept in ", clean(str(self._memory.rescue(self._path, raw) or "")), ".")


def lacking(entries: Sequence[Entry], remembered: Iterable[End]) -> tuple[End, ...]:
    """Which of the remembered ends are not among the entries, and nobody has accepted to go on without."""
    missing = [end for end in dict.fromkeys(remembered) if not _holds(entries, end)]
    if not missing:
        return ()
    accepted = {digest for entry in entries if entry.act == "note" for digest in items(entry.value.get(WITHOUT))}
    return tuple(end for end in missing if end.digest not in accepted)


def how_many(entries: Sequence[Entry], missing: Sequence[End]) -> int:
    """How many entries are missing, at the least: by device, the numbers past those that are there."""
    most: dict[str, int] = {}
    for end in missing:
        most[end.device] = max(most.get(end.device, 0), end.seq)
    there = dict.fromkeys(most, 0)
    for entry in entries:
        if entry.device in there:
            there[entry.device] = max(there[entry.device], entry.seq)
    return sum(max(1, number - there[device]) for device, number in most.items())


def told(entries: Sequence[Entry], missing: Sequence[End]) -> str:
    """The same in one line; "" where nothing is missing."""
    if not missing:
        return ""
    last = max(missing, key=lambda end: end.at)
    count = counted(how_many(entries, missing), "entry", "entries")
    return (
        f"This is an older copy of the job. {count} saved on this device can't be found in it, the last by "
        f"{clean(last.by, most=60)} on {day_and_time(last.at)}."
    )


def going_on(entries: Sequence[Entry], missing: Sequence[End], reason: str) -> Draft:
    """The act of going on without them, which the record keeps under a name. Refusal without a reason."""
    count = counted(how_many(entries, missing), "entry", "entries")
    last = max(missing, key=lambda end: end.at)
    reason = clean(reason).strip()
    if not reason:
        raise Refusal("Say why you go on without them.")
    words = f"Going on without {count} that can't be found, the last of {last.at}: {reason}"
    return Draft(act="note", value={WITHOUT: [end.digest for end in missing]}, note=words)


def _holds(entries: Sequence[Entry], end: End) -> bool:
    """From the end, as a job goes on from its last entries."""
    of_number = (entry for entry in reversed(entries) if entry.seq == end.seq and entry.device == end.device)
    return any(entry.digest() == end.digest for entry in of_number)

"""The entries sorted by what they are about, in one pass: what was voided is left out, nothing is judged yet."""

from bisect import bisect_left
from collections.abc import Iterable
from datetime import datetime, timedelta
from operator import attrgetter
from typing import Any

from msgspec import Struct, field
from msgspec.structs import replace

from sitelog.job.log.entry import Ends, Entry, ends, ends_with, in_order, said
from sitelog.job.log.parts import items, mapping
from sitelog.job.log.twins import told_apart

KEPT = ("start", "pin", "part", "void")  # never taken back
NUMBERED = ("instruct",)  # taken back, it keeps its number: its sheet may be out
DECIDES = ("answer", "skip", "defer", "release")  # the last of these says how a check stands

USUAL = "@usual"  # of a `drawn` entry: the names of those that are as the list has them, and nobody gave
DICTS = ("pins", "texts", "parts", "drawn", "usual", "about", "acts", "days", "ends", "before", "replaced", "_latest")


class EntryIndex(Struct):
    """Filled in order of id; read by the fold. `about` has every entry on a check, a stage or a part by its path."""

    count: int = 0
    last: Entry | None = None
    voided: frozenset[str] = frozenset()
    start: Entry | None = None
    pins: dict[str, str] = field(default_factory=dict)  # list id -> digest, of the lists in force
    pinned: tuple[Entry, ...] = ()  # every list act, the one in force at the end
    texts: dict[str, str] = field(default_factory=dict)  # digest -> text of a file of the lists, as kept in the job
    parts: dict[str, Entry] = field(default_factory=dict)
    drawn: dict[str, dict[str, Any]] = field(default_factory=dict)
    usual: dict[str, frozenset[str]] = field(default_factory=dict)  # of those drawn, the list's own that nobody gave
    about: dict[str, list[Entry]] = field(default_factory=dict)
    acts: dict[str, list[Entry]] = field(default_factory=dict)
    days: dict[str, list[Entry]] = field(default_factory=dict)
    ends: Ends = field(default_factory=dict)  # where each device's chain ends
    before: dict[str, Entry] = field(default_factory=dict)  # answer's id -> same person's answer before it
    replaced: dict[str, list[str]] = field(default_factory=dict)  # answer's id -> the answers it knew of
    _latest: dict[str, Entry] = field(default_factory=dict)  # person -> last answer

    @classmethod
    def of(cls, entries: Iterable[Entry]) -> "EntryIndex":
        """The entries, in whatever order they come."""
        told = in_order(entries)
        rows = told_apart(told)
        entry_index = cls()
        targets = [entry.value.get("id") for entry in rows if entry.act == "void"]
        entry_index.voided = frozenset(target for target in targets if isinstance(target, str))
        for entry in rows:
            entry_index.add(entry)
        if rows is not told:
            entry_index.ends = ends(told)
        return entry_index

    def add(self, entry: Entry) -> None:
        """Take one more entry, later by id than all before it."""
        self.count += 1
        self.last = entry
        self.ends[entry.device] = ends_with(self.ends.get(entry.device, ()), entry)
        if entry.act == "answer" and isinstance(was := entry.value.get("@was"), list):
            self.replaced[entry.id] = list(map(str, was))
        if entry.id in self.voided and entry.act not in KEPT:
            if entry.act in NUMBERED:
                self.acts.setdefault(entry.act, []).append(entry)
            return
        self.days.setdefault(local_day(entry), []).append(entry)
        if entry.part and entry.act != "void":
            self.about.setdefault(entry.path, []).append(entry)
        if entry.act == "answer":
            self._answered(entry)
        else:
            self._sort(entry)

    def take(self, entry: Entry) -> bool:
        """One more entry, which may take an earlier one back. False if that asks for all to be sorted anew."""
        if entry.act == "void":
            target = str(entry.value.get("id"))
            rows = self.about.get(entry.path, [])
            gone = next((entered for entered in reversed(rows) if entered.id == target), None)
            if gone is None or gone.act in ("drawn", *NUMBERED, *KEPT):
                return False
            self._take_back(gone)
        self.add(entry)
        return True

    def _take_back(self, gone: Entry) -> None:
        """As if it had never been entered, but for the count and the chains."""
        self.voided |= {gone.id}
        places = [(self.about, gone.path), (self.days, local_day(gone))]
        if gone.act == "answer":
            self._forget(gone)
        else:
            places.append((self.acts, gone.act))
        for rows, key in places:
            del rows[key][bisect_left(rows[key], gone.id, key=attrgetter("id"))]
            if not rows[key]:
                del rows[key]

    def _forget(self, gone: Entry) -> None:
        """The same person's next answer then has the one before this as the one before it."""
        earlier = self.before.pop(gone.id, None)
        if self._latest[gone.by].id == gone.id:
            if earlier is not None:
                self._latest[gone.by] = earlier
            else:
                del self._latest[gone.by]
            return
        later = next(id for id, before in reversed(self.before.items()) if before.id == gone.id)
        if earlier is not None:
            self.before[later] = earlier
        else:
            del self.before[later]

    def _answered(self, entry: Entry) -> None:
        before = self._latest.get(entry.by)
        if before is not None:
            self.before[entry.id] = before
        self._latest[entry.by] = entry

    def _sort(self, entry: Entry) -> None:
        if entry.act == "start":
            self.start = self.start or entry
        elif entry.act == "pin":
            self._pinned(entry)
        elif entry.act == "part":
            self.parts.setdefault(str(entry.value.get("id", entry.part)), entry)
        elif entry.act == "drawn":
            given = {name: value for name, value in entry.value.items() if name != USUAL}
            usual = frozenset(map(str, items(entry.value.get(USUAL))))
            self.drawn.setdefault(entry.part, {}).update(given)
            self.usual[entry.part] = (self.usual.get(entry.part, frozenset()) - given.keys()) | usual
        self.acts.setdefault(entry.act, []).append(entry)

    def _pinned(self, entry: Entry) -> None:
        self.pinned = (*self.pinned, entry)
        self.pins = {key: str(value) for key, value in said(entry.value).items()}
        for digest, text in mapping(entry.value.get("@texts")).items():
            if isinstance(text, str):
                self.texts.setdefault(str(digest), text)

    def copy(self) -> "EntryIndex":
        """One that can be added to by itself."""
        other = replace(self)
        for name in DICTS:
            setattr(other, name, dict(getattr(self, name)))
        for rows in (other.about, other.acts, other.days):
            rows.update({key: list(entries) for key, entries in rows.items()})
        other.drawn.update({part: dict(facts) for part, facts in self.drawn.items()})
        return other

    def on(self, path: str) -> list[Entry]:
        """What was entered on a check, a stage or a part."""
        return self.about.get(path, [])

    def all(self, act: str) -> list[Entry]:
        """What was entered of one act, in order of id, without what was taken back; none of answers."""
        return self.acts.get(act, [])

    def rivals(self, current: Entry, answers: Iterable[Entry]) -> tuple[Entry, ...]:
        """Answers to the same check that say something else, and that the one in force did not know of."""
        known: set[str] = set()
        look_at = [current.id]
        while look_at:
            id = look_at.pop()
            if id not in known:
                known.add(id)
                look_at += self.replaced.get(id, [])
        unknown = [answer for answer in answers if answer.id not in known and said(answer.value) != said(current.value)]
        return tuple(answer for answer in unknown if answer.device != current.device or self.parted(answer.device))

    def parted(self, device: str) -> bool:
        """Did copies go on apart on this one device?"""
        return len(self.ends.get(device, ())) > 1

    def all_parted(self) -> tuple[str, ...]:
        """The devices on which they did."""
        return tuple(device for device in self.ends if self.parted(device))


def local_day(entry: Entry) -> str:
    """The day of an entry by the clock on the wall, as an ISO date; of the event where that was told."""
    if entry.done:
        return entry.done[:10]
    day, hour, minute = entry.at[:10], entry.at[11:13], entry.at[14:16]
    if not (hour.isdecimal() and minute.isdecimal()):
        return day
    minutes = int(hour) * 60 + int(minute) + entry.offset
    if 0 <= minutes < 1440:
        return day
    moment = on_the_wall(entry)
    if moment:
        return moment.date().isoformat()
    return day


def on_the_wall(entry: Entry) -> datetime | None:
    """When it was entered, by the clock of the device that did; None if that is no time, or beyond reason."""
    moment = timed(entry.at)
    try:
        if not moment:
            return None
        return moment + timedelta(minutes=entry.offset)
    except OverflowError:
        return None


def timed(text: str) -> datetime | None:
    """The moment that an ISO date and time with its offset names; None if it names none."""
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    if not moment.tzinfo:
        return None
    return moment

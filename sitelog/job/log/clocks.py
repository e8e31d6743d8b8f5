"""Whether clocks agree with what the record knows of the time. What doesn't is told, and bars nothing."""

from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import UTC, datetime, timedelta

from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import timed
from sitelog.text import clean, clock, counted, day_and_time

MUCH = timedelta(days=1)  # back from what another device knows, or a rest that is shown
FAR = timedelta(days=60)  # ahead of what is known: longer than a site shuts for a holiday or a storm
LITTLE = timedelta(minutes=1)  # back: less is a clock being put right by itself
MOST = 20  # lines told of one record


def when(at: str) -> str:
    """A time of the record (ISO, UTC) as the clock on site has it."""
    moment = timed(at)
    if not moment:
        return at
    here = moment.astimezone()
    return f"{here:%a} {here.day} {here:%b %H:%M}"


def odd_clock(now: datetime, device: str, entries: Sequence[Entry]) -> str:
    """What is odd about this machine's clock, in a line without an end, "" for nothing: it went back since the device's
    last entry, it is over a day before the latest of the job, or so long after it that the year may be wrong.
    """
    if not entries:
        return ""
    here = f"{clock(now)} here"
    last = next((entry for entry in reversed(entries) if entry.device == device), None)
    own = timed(last.at) if last else None
    if own and now < own - LITTLE:
        return f"{here}, before this machine's last entry ({clock(own.astimezone(now.tzinfo))})"
    latest = _stamp(entries[-1])
    if latest is None:
        return ""
    if now < latest - MUCH:
        return f"{here}, more than a day before an entry in this job ({clock(latest.astimezone(now.tzinfo))})"
    if now > latest + FAR:
        return f"{here}, {rested(now, entries)}"
    return ""


def rested(now: datetime, entries: Sequence[Entry]) -> str:
    """How long the job has rested, such as "3 days after the last entry"; "" for a day or less.

    It is as it should be after a weekend, and shows whoever looks a clock that is a day or a week ahead.
    """
    latest = _stamp(entries[-1]) if entries else None
    if latest is None or now <= latest + MUCH:
        return ""
    return f"{counted((now - latest).days, 'day')} after the last entry"


def odd_times(entries: Iterable[Entry], now: datetime) -> list[str]:
    """Where the record itself shows a clock that was wrong, one line each: none of it is a fault of the file."""
    times = OddTimes(now)
    for entry in entries:
        times.take(entry)
    return times.lines()


class OddTimes:
    """The same, told of the entries one by one, in order of id; by the time that it is now, if that is given."""

    def __init__(self, now: datetime | None) -> None:
        self._limit = "~"  # after every time
        if now:
            self._limit = (now.astimezone(UTC) + MUCH).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        self._set_back: list[str] = []
        self._last: dict[str, Entry] = {}
        self._latest: Entry | None = None
        self._count: Counter[tuple[str, str]] = Counter()  # by device and the one that was ahead; "" of what is to come
        self._first: dict[tuple[str, str], Entry] = {}

    def take(self, entry: Entry) -> None:
        """One more entry."""
        before = self._last.get(entry.device)
        self._last[entry.device] = entry
        if before and entry.seq > before.seq and _is_before(entry, before, LITTLE):
            self._set_back.append(_went_back(entry, before))
        if entry.at > self._limit and timed(entry.at):
            self._note("", "", entry)
        latest = self._latest
        if latest is None or entry.at >= latest.at:
            self._latest = entry
        elif entry.device != latest.device and _is_before(entry, latest, MUCH):
            self._note(entry.device, latest.device, entry)

    def _note(self, device: str, other: str, entry: Entry) -> None:
        self._count[device, other] += 1
        self._first.setdefault((device, other), entry)

    def lines(self) -> list[str]:
        """What was odd about them."""
        told = [
            *self._set_back,
            *(_told(self._count[devices], first, *devices) for devices, first in self._first.items()),
        ]
        if len(told) > MOST:
            told[MOST:] = [f"{counted(len(told) - MOST, 'more odd time')} of entries."]
        return told


def _went_back(entry: Entry, before: Entry) -> str:
    earlier, later = day_and_time(entry.at), day_and_time(before.at)
    return f"Entry {clean(entry.id, most=60)} is dated {earlier}, the one before it {later}: the clock went back."


def _told(count: int, first: Entry, device: str, other: str) -> str:
    some = f"{counted(count, 'entry', 'entries')} from {clean(first.id, most=60)} on, dated {day_and_time(first.at)}"
    if not device:
        return f"{some}: more than a day after this machine's clock. Check the date here, and there."
    return (
        f"{some} from device {clean(device, most=40)}: more than a day before what was entered already "
        f"on device {clean(other, most=40)}. One of the clocks was wrong."
    )


def _is_before(entry: Entry, other: Entry, least: timedelta) -> bool:
    """Is it dated before the other, by more than that? Not where either has no time."""
    if entry.at >= other.at:
        return False
    first, later = timed(entry.at), timed(other.at)
    if first is None or later is None:
        return False
    return later - first > least


def _stamp(entry: Entry) -> datetime | None:
    """The time that an entry's id begins with: that of the latest entry known when it was made, if not its own."""
    stamp = entry.id.partition("-")[0]
    try:
        return datetime.fromtimestamp(int(stamp) / 1000, UTC)
    except (ValueError, OverflowError, OSError):
        return None

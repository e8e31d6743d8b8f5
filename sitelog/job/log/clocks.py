"""Whether clocks agree with what the record knows of the time. What doesn't is told, and bars nothing."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta

from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import timed
from sitelog.text import clean, clock, counted, day_and_time

MUCH = timedelta(days=1)  # ahead of what is known
LITTLE = timedelta(minutes=1)  # back: less is a clock being put right by itself
MOST = 20  # lines told of one record


def odd_clock(now: datetime, device: str, entries: Sequence[Entry]) -> str:
    """What is odd about this machine's clock, in a line without an end, "" for nothing: it went back since the device's
    last entry, or it is over a day before or after the latest of the job. Over a weekend that is as it should be.
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
    if now > latest + MUCH:
        return f"{here}, {counted((now - latest).days, 'day')} after the last entry"
    return ""


def odd_times(entries: Sequence[Entry], now: datetime) -> Iterator[str]:
    """Where the record itself shows a clock that was wrong, one line each: none of it is a fault of the file."""
    told = 0
    for line in (*_set_back(entries), *_ahead_of_others(entries), *_to_come(entries, now)):
        if told < MOST:
            yield line
        told += 1
    if told > MOST:
        yield f"{counted(told - MOST, 'more odd time')} of entries."


def _set_back(entries: Sequence[Entry]) -> Iterator[str]:
    """Where a device's clock went back from one entry to its next."""
    last: dict[str, Entry] = {}
    for entry in entries:
        before = last.get(entry.device)
        if before and entry.at < before.at and entry.seq > before.seq and _apart(entry, before) > LITTLE:
            earlier, later = day_and_time(entry.at), day_and_time(before.at)
            named = clean(entry.id, most=60)
            yield f"Entry {named} is dated {earlier}, the one before it {later}: the clock went back."
        last[entry.device] = entry


def _ahead_of_others(entries: Sequence[Entry]) -> Iterator[str]:
    """Of two devices whose times are over a day apart: one entered after it knew of the other's entries."""
    latest: Entry | None = None
    found: dict[tuple[str, str], list[Entry]] = {}
    for entry in entries:
        if latest is None or entry.at >= latest.at:
            latest = entry
        elif entry.device != latest.device and _apart(entry, latest) > MUCH:
            found.setdefault((entry.device, latest.device), []).append(entry)
    for (device, other), rows in found.items():
        yield (
            f"{_listed(rows)} from device {clean(device, most=40)}: more than a day before what was entered already "
            f"on device {clean(other, most=40)}. One of the clocks was wrong."
        )


def _to_come(entries: Sequence[Entry], now: datetime) -> Iterator[str]:
    """What is dated more than a day after today."""
    limit = (now.astimezone(UTC) + MUCH).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    rows = [entry for entry in entries if entry.at > limit and timed(entry.at)]
    if rows:
        yield f"{_listed(rows)}: more than a day after this machine's clock. Check the date here, and there."


def _listed(rows: Sequence[Entry]) -> str:
    """How many they are, and the first."""
    first = rows[0]
    return (
        f"{counted(len(rows), 'entry', 'entries')} from {clean(first.id, most=60)} on, dated {day_and_time(first.at)}"
    )


def _apart(entry: Entry, later: Entry) -> timedelta:
    """How far one is dated before the other; none where either has no time."""
    first, other = timed(entry.at), timed(later.at)
    if first is None or other is None:
        return timedelta(0)
    return other - first


def _stamp(entry: Entry) -> datetime | None:
    """The time that an entry's id begins with: that of the latest entry known when it was made, if not its own."""
    stamp = entry.id.partition("-")[0]
    try:
        return datetime.fromtimestamp(int(stamp) / 1000, UTC)
    except (ValueError, OverflowError, OSError):
        return None

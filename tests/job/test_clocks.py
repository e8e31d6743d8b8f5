"""A wrong clock is told where somebody enters and where the record is proved; one that no file can keep is refused."""

from datetime import UTC, datetime, timedelta

import pytest

from sitelog.job.log.clocks import MOST, odd_clock, odd_times, rested
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.storage.format import is_id
from sitelog.refusal import USAGE, Refusal
from sitelog.text import day_and_time
from tests.job.logs import SEVEN, START, log

ENTRIES = log(4, "tablet01", "phone-02")  # the last at 7:03
HOURS_AHEAD = SEVEN + timedelta(hours=26)


def went_on(entries: list[Entry], *acts: tuple[str, datetime]) -> list[Entry]:
    """The entries, and a note by each device at that time."""
    made = list(entries)
    for device, now in acts:
        before = [entry for entry in made if entry.device == device]
        author = Author("A. Foreman", device, now)
        made.append(seal(Draft(act="note", note="x"), author, before[-1] if before else None, made[-1].id))
    return made


def test_a_time_that_no_file_can_keep_is_refused_and_the_last_that_one_can_is_not() -> None:
    late = datetime(2128, 1, 1, tzinfo=UTC)
    with pytest.raises(Refusal) as refused:
        seal(START, Author("A. Foreman", "tablet01", late), None)
    assert (refused.value.message, refused.value.code) == (
        "This machine's clock says 1 Jan 2128 00:00. Set its date, then enter it again.",
        USAGE,
    )
    last = seal(START, Author("A. Foreman", "tablet01", late - timedelta(seconds=1)), None)
    assert is_id(last.id)
    assert is_id(seal(START, Author("A. Foreman", "tablet01", SEVEN), None, last.id).id), "and one after it"


@pytest.mark.parametrize(
    ("now", "says"),
    [
        (SEVEN + timedelta(minutes=5), ""),
        (SEVEN + timedelta(minutes=1, seconds=30), ""),
        (SEVEN, "2 Mar 2026 07:00 here, before this machine's last entry (2 Mar 2026 07:02)"),
        (SEVEN - timedelta(days=900), "14 Sep 2023 07:00 here, before this machine's last entry (2 Mar 2026 07:02)"),
        (SEVEN + timedelta(days=3, hours=1), ""),
        (SEVEN + timedelta(days=365), "2 Mar 2027 07:00 here, 364 days after the last entry"),
    ],
)
def test_a_clock_that_went_back_or_far_ahead_of_what_is_known_is_told_where_somebody_enters(
    now: datetime, says: str
) -> None:
    assert odd_clock(now, "tablet01", ENTRIES) == says


@pytest.mark.parametrize(
    ("days", "says"), [(0.9, ""), (2, "1 day after the last entry"), (4, "3 days after the last entry")]
)
def test_how_long_a_job_has_rested_is_given_from_a_day_on(days: float, says: str) -> None:
    assert rested(SEVEN + timedelta(days=days), ENTRIES) == says


def test_another_devices_entry_a_day_ahead_is_told_to_one_that_is_not() -> None:
    entries = went_on(ENTRIES, ("phone-02", HOURS_AHEAD))
    says = "2 Mar 2026 07:05 here, more than a day before an entry in this job (3 Mar 2026 09:00)"
    now = SEVEN + timedelta(minutes=5)
    assert odd_clock(now, "tablet01", entries) == says
    assert odd_clock(now, "laptop-3", entries) == says


def test_where_nothing_is_known_nothing_is_odd() -> None:
    assert odd_clock(SEVEN, "tablet01", []) == rested(SEVEN, []) == ""
    no_time = Entry(id="x", at="x", offset=0, by="A", device="tablet01", seq=1, prev="", act="note")
    assert odd_clock(SEVEN, "tablet01", [no_time]) == ""


def test_the_record_shows_where_a_clock_went_back() -> None:
    back = went_on(ENTRIES, ("tablet01", SEVEN + timedelta(hours=2)), ("tablet01", SEVEN), ("phone-02", SEVEN))
    set_back, phone = odd_times(back, SEVEN)
    seven, nine = day_and_time(back[5].at), day_and_time(back[4].at)
    assert set_back == f"Entry {back[5].id} is dated {seven}, the one before it {nine}: the clock went back."
    assert phone.startswith(f"Entry {back[6].id} is dated {seven}, the one before it {day_and_time(back[3].at)}:")
    assert list(odd_times(ENTRIES, SEVEN)) == []


def test_the_record_shows_where_a_device_was_a_day_ahead_of_another() -> None:
    entries = went_on(ENTRIES, ("phone-02", HOURS_AHEAD), ("tablet01", SEVEN + timedelta(minutes=9)))
    (line,) = odd_times(entries, HOURS_AHEAD)
    assert line == (
        f"1 entry from {entries[5].id} on, dated {day_and_time(entries[5].at)} from device tablet01: more than a day "
        "before what was entered already on device phone-02. One of the clocks was wrong."
    )


def test_what_is_dated_after_today_is_told() -> None:
    (line,) = odd_times(ENTRIES, SEVEN - timedelta(days=2))
    assert line == (
        f"4 entries from {ENTRIES[0].id} on, dated {day_and_time(ENTRIES[0].at)}: more than a day after this machine's "
        "clock. Check the date here, and there."
    )


def test_of_many_odd_times_some_are_told_and_how_many_more() -> None:
    swinging = went_on(ENTRIES, *(("tablet01", SEVEN + timedelta(hours=2 - number % 2)) for number in range(60)))
    lines = list(odd_times(swinging, HOURS_AHEAD))
    assert (len(lines), lines[-1]) == (MOST + 1, "10 more odd times of entries.")
    assert all(line.isprintable() for line in lines)


def test_a_time_that_is_none_is_passed_over() -> None:
    from msgspec.structs import replace

    assert list(odd_times([ENTRIES[0], replace(ENTRIES[2], at="x"), replace(ENTRIES[2], seq=3, at="a")], SEVEN)) == []

"""An entry is fixed for ever, follows the one before it, and sorts by time."""

import hashlib
import json
from datetime import UTC, datetime, timedelta, timezone
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.job.log.entry import FIRST, Author, Draft, Entry, ends, seal
from sitelog.job.log.record_code import record_code as head
from sitelog.refusal import Refusal
from tests.job.logs import SEVEN, author, log

NOTE = Draft(act="note", note="dry")

plain = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**70), 2**70) | st.floats(allow_nan=False) | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


def test_the_first_entry_of_a_device_follows_nothing() -> None:
    entry = seal(NOTE, author(), None)
    assert (entry.seq, entry.prev) == (1, FIRST)


def test_what_was_written_once_is_read_alike_for_ever() -> None:
    """Pinned: another digest or head code would call every job kept so far damaged."""
    first, second, other = log(3, "tablet01", "phone-02")
    assert FIRST == first.prev == "0" * 64
    assert first.digest() == "ba8ee2ee919f05a9547e74f76caafa2ec46fa8ba884d04133591f4f3d6341ae2"
    assert (second.prev, other.prev) == (FIRST, first.digest())
    assert head(ends([first, second, other])) == "a4931f421e23508474d2"


def test_an_entry_can_not_be_changed() -> None:
    with pytest.raises(AttributeError):
        log(1)[0].note = "other"  # type: ignore[misc]


def test_an_id_begins_with_the_milliseconds_since_1970_by_the_clock() -> None:
    entry = seal(NOTE, Author("A. Foreman", "tablet01", datetime(2026, 3, 2, 7, 0, 0, 123_000, UTC)), None)
    assert entry.id == "1772434800123-tablet01-000001"
    assert entry.at == "2026-03-02T07:00:00.123Z"


def test_a_chain_with_a_hole_in_it_has_one_end() -> None:
    entries = log(4)
    assert ends([*entries[:1], *entries[2:]]) == {"tablet01": (entries[3],)}


def test_an_entry_carries_the_digest_of_its_devices_last() -> None:
    first = seal(NOTE, author(), None)
    second = seal(NOTE, author(minutes=1), first, first.id)
    assert (second.seq, second.prev) == (2, first.digest())


def test_a_digest_is_the_sha_256_of_the_json_with_its_keys_in_order() -> None:
    entry = seal(Draft(act="answer", value={"b": 1.5, "a": "½"}), author(), None)
    text = json.dumps(msgspec.to_builtins(entry), sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert entry.digest() == hashlib.sha256(text.encode()).hexdigest()


@pytest.mark.parametrize(
    ("part", "check", "path"), [("main", "plates.level", "main.plates.level"), ("main", "", "main"), ("", "", "")]
)
def test_an_entry_says_what_it_is_of(part: str, check: str, path: str) -> None:
    assert seal(Draft(act="note", part=part, check=check), author(), None).path == path


def test_an_entry_is_dated_in_utc_and_keeps_the_clock_on_the_wall() -> None:
    summer = datetime(2026, 7, 1, 7, 30, tzinfo=timezone(timedelta(hours=2)))
    entry = seal(NOTE, Author("A. Foreman", "tablet01", summer), None)
    assert (entry.at, entry.offset) == ("2026-07-01T05:30:00.000Z", 120)


@pytest.mark.parametrize("back", [timedelta(0), timedelta(seconds=1), timedelta(days=400), timedelta(days=40_000)])
@pytest.mark.parametrize("device", ["aaaaaaaa", "tablet01", "zzzzzzzz"])
def test_a_clock_set_back_puts_no_entry_before_one_it_follows(back: timedelta, device: str) -> None:
    latest = log(5)[-1]
    entry = seal(NOTE, Author("A. Foreman", device, SEVEN + timedelta(minutes=4) - back), None, latest.id)
    assert entry.id > latest.id


def test_the_id_of_the_last_entry_is_not_given_again_though_device_number_and_instant_are_the_same() -> None:
    latest = seal(NOTE, author(), None)
    assert latest.id == "1772434800000-tablet01-000001"
    assert seal(NOTE, author(), None, latest.id).id == "1772434800001-tablet01-000001"


@given(st.lists(st.tuples(st.sampled_from(["aaaaaaaa", "tablet01", "zzzzzzzz"]), st.integers(-99, 99)), max_size=9))
def test_entries_sort_in_the_order_in_which_they_were_made_whatever_the_clocks_say(
    acts: list[tuple[str, int]],
) -> None:
    last: dict[str, Entry] = {}
    ids = [""]
    for device, minutes in acts:
        last[device] = seal(NOTE, author(device, minutes), last.get(device), ids[-1])
        ids.append(last[device].id)
    assert ids == sorted(set(ids))


@given(st.dictionaries(st.text(max_size=5), plain, max_size=4), st.text(max_size=20))
def test_an_entry_read_back_from_json_is_the_one_that_was_made(value: dict[str, Any], note: str) -> None:
    entry = seal(Draft(act="answer", value=value, note=note), author(), None)
    again = msgspec.json.decode(msgspec.json.encode(entry), type=Entry)
    assert (again, again.digest()) == (entry, entry.digest())


def test_what_json_can_not_tell_apart_is_the_same_before_and_after_a_save() -> None:
    entry = seal(Draft(act="answer", value={"ties": (("A", "M", 4510.0),), "gap": float("inf")}), author(), None)
    assert entry.value == {"ties": [["A", "M", 4510.0]], "gap": None}


@pytest.mark.parametrize("draft", [Draft(act="note", note="\ud800"), Draft(act="answer", value={"a": ["\udfff"]})])
def test_half_a_character_is_refused_before_it_is_entered(draft: Draft) -> None:
    with pytest.raises(Refusal, match="half a character"):
        seal(draft, author(), None)


def test_the_head_code_depends_on_the_last_entry_of_each_device_and_on_no_order() -> None:
    entries = log(8, "tablet01", "phone-02")
    assert len(head(ends(entries))) == 20
    assert head(ends(entries)) == head(ends(entries[::-1]))
    assert len({head(ends(entries[:n])) for n in range(1, 9)}) == 8


def test_the_year_is_utc_at_new_year() -> None:
    late = datetime(2026, 12, 31, 23, 59, tzinfo=timezone(timedelta(hours=-5)))
    assert seal(NOTE, Author("A. Foreman", "tablet01", late), None).at.startswith("2027-01-01T04:59")
    assert seal(NOTE, Author("A. Foreman", "tablet01", datetime(1960, 1, 1, tzinfo=UTC)), None).id.startswith("0000")

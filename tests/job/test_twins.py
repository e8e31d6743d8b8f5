"""Two copies of a job on one device never give one id twice; where they once did, both are kept and told apart."""

import random
from datetime import timedelta
from itertools import permutations
from pathlib import Path

import msgspec
import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.sealing import sealed
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft, Entry, ends, is_named, seal
from sitelog.job.log.record_code import record_code
from sitelog.job.log.twins import told_apart
from sitelog.job.log.union import joined
from sitelog.job.state.replay import replay
from sitelog.job.storage.device import chance
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import is_id, tables
from sitelog.job.storage.merge import merge
from sitelog.job.storage.verify import verify
from sitelog.refusal import Refusal
from tests.job.logs import SEVEN, author, log, saved
from tests.job.roof import LIBRARY, SIDES, Desk, anew

START = log(5)
BACK = SEVEN - timedelta(days=3)  # a clock set back: each id is the one after the latest


def went_on(start: list[Entry], words: str, count: int = 3, by_chance: str = "") -> list[Entry]:
    """A copy that went on by itself, on the same device and with its clock set back."""
    made = list(start)
    for number in range(count):
        hand = Author("A. Foreman", "tablet01", BACK, by_chance)
        made.append(seal(Draft(act="note", part="main", note=f"{words} {number}"), hand, made[-1], made[-1].id))
    return made


ONE, OTHER, THIRD = (went_on(START, words) for words in ("one", "other", "third"))


def test_an_id_with_chance_says_device_and_number_and_sorts_after_the_entry_before_it() -> None:
    entries = went_on(START, "x", 40, "0f3a9c21")
    ids = [entry.id for entry in entries]
    assert ids == sorted(ids)
    assert all(is_id(id) for id in ids) and all(map(is_named, entries))
    assert entries[-1].id.endswith("-tablet01-0f3a9c21-000045")
    for wrong in (
        "-tablet02-0f3a9c21-000045",
        "-tablet01-0f3a9c21-000044",
        "-tablet01--000045",
        "-tablet01-a-b-000045",
    ):
        assert not is_named(msgspec.structs.replace(entries[-1], id=entries[-1].id[:13] + wrong))


def test_two_copies_on_one_device_never_give_one_id_twice_whatever_the_clock() -> None:
    rolls = random.Random(4)
    moments = [BACK, SEVEN, SEVEN + timedelta(hours=1)]
    copies: list[list[Entry]] = [list(START), list(START)]
    for _ in range(200):
        made = rolls.choice(copies)
        hand = Author("A. Foreman", "tablet01", rolls.choice(moments), chance())
        made.append(seal(Draft(act="note", note="x"), hand, made[-1], made[-1].id))
    ids = [entry.id for made in copies for entry in made[len(START) :]]
    assert len(set(ids)) == len(ids)
    assert len(joined(*copies)) == len(START) + len(ids)


def test_of_old_copies_that_gave_one_id_to_two_entries_both_are_kept_in_whatever_order(tmp_path: Path) -> None:
    assert [entry.id for entry in ONE] == [entry.id for entry in OTHER] == [entry.id for entry in THIRD]
    seen = set()
    for number, order in enumerate(permutations((ONE, OTHER, THIRD))):
        job, *copies = (saved(tmp_path / f"{number}-{place}.json", rows) for place, rows in enumerate(order))
        assert [merge(job, [copy]) for copy in (*copies, *copies)] == [3, 3, 0, 0]
        assert verify(job) == []
        with JobFile.open(job) as file:
            assert (len(file.entries), file.why_read_only) == (14, "")
            after = [entry for entry in file.entries if entry.device == "tablet01"][-1]
            hand = author("tablet01", 99)
            next_one = seal(Draft(act="note", note="next"), hand, after, file.entries[-1].id)
            seen.add(job.read_bytes())
            file.append([next_one])
            file.append([next_one])
            assert len(file.entries) == 15
        assert verify(job) == []
    assert len(seen) == 1


def test_a_changed_entry_is_still_refused_and_not_taken_for_another_of_its_id() -> None:
    changed = [*ONE[:6], msgspec.structs.replace(ONE[6], note="changed"), ONE[7]]
    for held, added in ((ONE, changed), (changed, ONE), (changed, OTHER), (OTHER, changed)):
        with pytest.raises(Refusal, match=f"Two different entries have the id {ONE[6].id}: one was changed"):
            joined(held, added)


def test_a_file_that_holds_both_names_a_changed_entry_and_takes_no_third_of_their_id(tmp_path: Path) -> None:
    job = tmp_path / "barn.json"
    together = joined(ONE, OTHER)
    good = msgspec.json.encode(tables(together))
    for number, entry in enumerate(together, 1):
        found = msgspec.json.decode(good)
        found["entries"][str(number)]["note"] = "changed"
        job.write_bytes(msgspec.json.encode(found))
        faults = verify(job)
        assert any(fault.startswith(f"Entry {entry.id} (") and "has been changed" in fault for fault in faults), faults
    job.write_bytes(good)
    with JobFile.open(job) as file, pytest.raises(Refusal, match="Two different entries have the id"):
        file.append([msgspec.structs.replace(THIRD[5], note="third")])


def test_a_journal_beside_the_file_of_another_copy_of_the_device_is_joined_with_it(tmp_path: Path) -> None:
    job, copy = saved(tmp_path / "barn.json", START), saved(tmp_path / "copy.json", OTHER)
    file = JobFile.open(job)
    file.append(ONE[5:])
    job.write_bytes(copy.read_bytes())
    assert JobFile.open(job, read_only=True).entries == joined(ONE, OTHER)
    assert verify(job) == []
    file.close()
    assert verify(job) == []


# --- what follows from both ---


def two_answers() -> tuple[list[Entry], list[Entry]]:
    """Two copies of a roof on one device, with the clock set back: the plates taped in each, with other figures."""
    desk = Desk().to_plates()
    hand = msgspec.structs.replace(author("tablet1"), now=BACK)
    copies = []
    for ab in ("9000", "9004"):
        draft = actions.answer(desk.state, LIBRARY, "main.plates.sides", SIDES | {"ab": ab})
        copies.append([*desk.entries, *sealed([draft], hand, desk.entries)])
    return copies[0], copies[1]


def test_two_answers_of_one_id_are_both_kept_and_flagged_until_a_new_one_knows_both() -> None:
    one, other = two_answers()
    assert one[-1].id == other[-1].id
    together = joined(one, other)
    state = replay(LIBRARY, together)
    assert state == replay(LIBRARY, joined(other, one)) == replay(LIBRARY, together[::-1])
    assert state.head == record_code(ends(together))
    view = state.check("main.plates.sides")
    assert view is not None
    assert len(view.history) == 2
    assert {entry.value["ab"] for entry in (*view.history, *view.rivals)} == {9000.0, 9004.0}
    assert len(view.rivals) == 1
    draft = anew(state, LIBRARY, "main.plates.sides", SIDES | {"ab": "9002"})
    settled = replay(LIBRARY, [*together, *sealed([draft], author("tablet1", 200), together)])
    view = settled.check("main.plates.sides")
    assert view is not None
    assert (view.rivals, len(view.history)) == ((), 3)


def undone(entries: list[Entry], device: str = "tablet1", minutes: float = 300) -> Entry:
    """The last entry taken back, on that device."""
    draft = actions.undo(replay(LIBRARY, entries), entries)
    return sealed([draft], author(device, minutes), entries)[0]


def test_an_undo_takes_back_the_one_of_its_own_chain_and_leaves_the_other() -> None:
    one, other = two_answers()
    for taken, stays in ((one, 9004.0), (other, 9000.0)):
        left = other if taken is one else one
        state = replay(LIBRARY, joined([*taken, undone(taken)], left))
        view = state.check("main.plates.sides")
        assert view is not None
        assert [entry.value["ab"] for entry in view.history if entry.act == "answer"] == [stays]


def test_an_undo_on_another_device_is_of_the_one_that_is_like_it_and_of_none_where_both_are() -> None:
    one, other = two_answers()
    note = seal(Draft(act="note", part="main", note="x"), author("tablet1"), one[-2], one[-2].id)
    note = msgspec.structs.replace(note, id=one[-1].id)
    like = joined([*one, undone(one, "phone")], [*one[:-1], note])
    view = replay(LIBRARY, like).check("main.plates.sides")
    assert view is not None
    assert [entry for entry in view.history if entry.act == "answer"] == []
    both = replay(LIBRARY, joined([*one, undone(one, "phone")], other)).check("main.plates.sides")
    assert both is not None
    assert len([entry for entry in both.history if entry.act == "answer"]) == 2


def test_where_no_id_is_shared_nothing_is_told_apart() -> None:
    assert told_apart(ONE) is ONE


def test_a_job_with_both_is_worked_on_as_any_other(tmp_path: Path) -> None:
    one, other = two_answers()
    job = saved(tmp_path / "roof.json", joined(one, other))
    with Job.open(job, LIBRARY) as opened:
        opened.do(actions.note(opened.state, "main", "joined"), author("tablet1", 400))
        opened.do(actions.undo(opened.state, opened.entries), author("tablet1", 401))
        opened.do(actions.undo(opened.state, opened.entries), author("tablet1", 402))
        assert opened.state == replay(LIBRARY, opened.entries)
        view = opened.state.check("main.plates.sides")
        assert view is not None
        assert len([entry for entry in view.history if entry.act == "answer"]) == 1
    assert verify(job) == []

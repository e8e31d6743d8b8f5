"""A job in hand, on the disk."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.state.replay import replay
from sitelog.job.storage.verify import verify
from sitelog.refusal import HELD, NOT_SAVED, Refusal
from tests.job.roof import LIBRARY, OUT_OF_SQUARE, SEVEN, Desk

FIGURES = {"length": "9000", "width": "6000", "pitch": "35"}
HAND = Author("A. Foreman", "tablet1", SEVEN)
SETUP: dict[str, Any] = {
    "title": "Long barn", "place": "Upper field", "units": "metric",
    "parts": [("main", "Main roof", "hipped", FIGURES)],
}  # fmt: skip


def later(minutes: float) -> Author:
    return Author("A. Foreman", "tablet1", SEVEN + timedelta(minutes=minutes))


def test_a_job_is_made_in_one_save_and_opens_at_the_first_thing_to_do(tmp_path: Path) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        assert [entry.act for entry in job.entries] == ["start", "pin", "part", "drawn"]
        assert job.state.next == "job.start.drawings"
    with Job.open(tmp_path / "barn.json", LIBRARY) as again:
        assert again.state == job.state
        assert (again.state.title, again.state.place, again.state.units) == ("Long barn", "Upper field", "metric")
    assert verify(tmp_path / "barn.json") == []


def test_what_is_done_is_saved_and_the_state_is_that_of_the_file(tmp_path: Path) -> None:
    path = tmp_path / "barn.json"
    with Job.create(path, LIBRARY, HAND, JobSetup(**SETUP)) as job:
        job.do(actions.answer(job.state, LIBRARY, "job.start.drawings", {"value": "A-101"}), later(1))
        job.do(actions.answer(job.state, LIBRARY, "job.start.moisture", {"value": "17"}), later(2))
        job.do(actions.sign(job.state, "job.start"), later(3))
        job.do(actions.undo(job.state, job.entries), later(4))
        assert job.state.next == "job.start"
        state = job.state
        assert state == replay(LIBRARY, job.entries)
    with Job.open(path, LIBRARY, read_only=True) as again:
        assert again.state == state


def test_what_would_follow_is_seen_before_it_is_entered(tmp_path: Path) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        before = job.state
        draft = actions.answer(job.state, LIBRARY, "job.start.moisture", {"value": "31"})
        seen = job.would_be(draft, later(1)).check("job.start.moisture")
        assert seen is not None
        assert seen.state == "out"
        assert job.state is before
        assert replay(LIBRARY, job.entries) == before


def test_two_acts_at_once_are_entered_together(tmp_path: Path) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        job.do(actions.accept(job.state, "main.plates", False, "out of level"), later(1))
        assert [entry.act for entry in job.entries[-2:]] == ["accept", "snag"]


def test_a_second_opener_may_only_read(tmp_path: Path) -> None:
    path = tmp_path / "barn.json"
    with Job.create(path, LIBRARY, HAND, JobSetup(**SETUP)):
        with pytest.raises(Refusal) as held:
            Job.open(path, LIBRARY)
        assert held.value.code == HELD
        with Job.open(path, LIBRARY, read_only=True) as reader, pytest.raises(Refusal) as kept:
            reader.do(actions.note(reader.state, "main", "hello"), later(1))
        assert kept.value.code == NOT_SAVED


def test_what_is_not_saved_is_not_in_the_state(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        before = job.state

        def full(*_: object) -> None:
            raise Refusal("Not saved: the disk is full.", code=NOT_SAVED)

        with monkeypatch.context() as patched:
            patched.setattr(job.file, "append", full)
            with pytest.raises(Refusal):
                job.do(actions.note(job.state, "main", "hello"), later(1))
        assert job.state == before == replay(LIBRARY, job.entries)


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"title": " "}, "Give the job a name"),
        ({"units": "cubits"}, "'cubits' isn't a way to measure"),
        ({"parts": []}, "add at least one part. Roof types are hipped"),
        ({"parts": [("main", "Main", "hiped", {})]}, r"'hiped' isn't on the list; did you mean hipped"),
        ({"parts": [("Main roof", "Main", "hipped", {})]}, "'Main roof' can't be a short name: use small letters"),
        ({"parts": [("job", "Main", "hipped", {})]}, "and not 'job'"),
        ({"parts": [("a.b", "Main", "hipped", {})]}, r"'a.b'"),
        ({"parts": [("main", "Main", "hipped", {}), ("main", "Again", "hipped", {})]}, "'main' is already used"),
        ({"parts": [("main", "Main", "hipped", {"lenght": "9"})]}, (
            "figure 'lenght' isn't on the list; did you mean length"
        )),
        ({"parts": [("main", "Main", "hipped", {"length": "9 or so"})]}, r"\(Plate AB as drawn\): '9 or so'"),
    ],
)  # fmt: skip
def test_a_job_that_cannot_be_is_refused_and_no_file_is_made(tmp_path: Path, change: dict[str, Any], line: str) -> None:
    with pytest.raises(Refusal, match=line):
        Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP | change))
    assert list(tmp_path.iterdir()) == []


def test_what_is_not_given_is_as_the_checklist_has_it_and_kept_with_the_job(tmp_path: Path) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        given = {"length": 9000.0, "width": 6000.0, "pitch": 35.0}
        assert job.entries[-1].value == {**given, "section": "47x225", "@usual": ["section"]}


def test_what_happened_later_than_now_is_refused(tmp_path: Path) -> None:
    with Job.create(tmp_path / "barn.json", LIBRARY, HAND, JobSetup(**SETUP)) as job:
        answer = actions.answer(job.state, LIBRARY, "job.start.drawings", {"value": "A-101"})
        draft = actions.done_at(answer, "2026-03-02T09:00+00:00")
        with pytest.raises(Refusal, match="is in the future"):
            job.do(draft, later(1))


def test_entries_of_two_devices_keep_a_chain_each(tmp_path: Path) -> None:
    path = tmp_path / "barn.json"
    with Job.create(path, LIBRARY, HAND, JobSetup(**SETUP)) as job:
        job.do(actions.note(job.state, "main", "one"), Author("B. Mate", "phone", SEVEN + timedelta(minutes=1)))
        job.do(actions.note(job.state, "main", "two"), later(2))
        assert [(e.device, e.seq) for e in job.entries[-2:]] == [("phone", 1), ("tablet1", 5)]
    assert verify(path) == []


def test_a_job_in_memory_and_one_from_the_disk_are_the_same(tmp_path: Path) -> None:
    desk = Desk().to_hips(sides=OUT_OF_SQUARE)
    from sitelog.job.storage.file import JobFile

    with JobFile.create(tmp_path / "barn.json", desk.entries):
        pass
    with Job.open(tmp_path / "barn.json", LIBRARY, read_only=True) as job:
        assert job.state == desk.state

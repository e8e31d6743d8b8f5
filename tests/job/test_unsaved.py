"""What stands as not saved lives through a kill, goes in once, and moves with the job."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.machine.memory import Memory
from sitelog.job.photos.keeping import keep, look, stands
from sitelog.job.session import Session
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from sitelog.wording.recap import kept_words, lost, opened
from tests.job.pictures import png
from tests.job.roof import LIBRARY
from tests.job.test_job import HAND, SETUP, later


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(tmp_path / "state")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "desk").mkdir()
    place = tmp_path / "desk" / "barn.json"
    Job.create(place, LIBRARY, HAND, JobSetup(**SETUP)).close()
    return place


@contextmanager
def full() -> Iterator[None]:
    def fails(_: int) -> None:
        raise OSError(28, "No space left on device")

    with pytest.MonkeyPatch.context() as disk:
        disk.setattr(os, "fsync", fails)
        yield


def note(session: Session, words: str, minutes: float) -> None:
    """Entered, and not saved."""
    with full(), pytest.raises(Refusal) as refused:
        session.enter(actions.note(session.job.state, "main", words), later(minutes))
    assert refused.value.code == NOT_SAVED


def notes(job: Path) -> list[tuple[str, str]]:
    entries = JobFile.open(job, read_only=True).entries
    return [(entry.note, entry.at) for entry in entries if entry.act == "note"]


def killed(session: Session) -> None:
    session.job.file._journals.close()
    assert session.job.file._lock
    session.job.file._lock.release()


def test_what_was_not_saved_goes_in_at_the_next_start_under_its_own_name_and_time(job: Path, memory: Memory) -> None:
    session = Session.open(job, LIBRARY, HAND, memory)
    note(session, "scaffold lifted", 1)
    note(session, "sheeted for the night", 2)
    assert session.kept
    killed(session)
    assert notes(job) == []
    again = Session.open(job, LIBRARY, later(60), memory)
    assert again.unsaved == []
    (told,) = opened(again)
    assert told.startswith("Saved now, from before: ")
    assert "scaffold lifted; " in told and told.endswith("sheeted for the night.")
    assert notes(job) == [
        ("scaffold lifted", "2026-03-02T07:01:00.000Z"),
        ("sheeted for the night", "2026-03-02T07:02:00.000Z"),
    ]
    again.close()
    assert opened(Session.open(job, LIBRARY, later(90), memory)) == []
    assert verify(job) == []


def test_while_the_disk_is_still_full_it_waits_on(job: Path, memory: Memory) -> None:
    session = Session.open(job, LIBRARY, HAND, memory)
    note(session, "scaffold lifted", 1)
    assert kept_words(session) == "It is kept on this device, and goes in when you next open the job."
    killed(session)
    with full():
        again = Session.open(job, LIBRARY, later(60), memory)
        assert len(again.unsaved) == 1
        assert opened(again)[0].startswith("Still not saved, from before: ")
        killed(again)
    third = Session.open(job, LIBRARY, later(90), memory)
    assert third.unsaved == []
    third.close()
    assert len(notes(job)) == 1


def test_a_kill_between_the_save_and_forgetting_enters_nothing_twice(job: Path, memory: Memory) -> None:
    session = Session.open(job, LIBRARY, HAND, memory)
    note(session, "scaffold lifted", 1)
    waited = list(session.unsaved)
    assert session.save_waiting()
    memory.keep_waiting(session.job.entries[0].id, job, waited)
    session.close()
    again = Session.open(job, LIBRARY, later(60), memory)
    assert (again.came_back, again.unsaved) == ([], [])
    again.close()
    assert len(notes(job)) == 1


def test_only_who_may_write_the_job_takes_it_up(job: Path, memory: Memory) -> None:
    session = Session.open(job, LIBRARY, HAND, memory)
    note(session, "scaffold lifted", 1)
    reader = Session.open(job, LIBRARY, later(2), memory)
    assert (reader.read_only != "", reader.unsaved) == (True, [])
    session.close()


def test_nothing_is_said_to_be_kept_that_is_not(job: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    for memory in (None, Memory(tmp_path / "file")):
        session = Session.open(job, LIBRARY, HAND, memory)
        note(session, "scaffold lifted", 1)
        assert (session.kept, kept_words(session), bool(lost(session))) == (False, "", True)
        session.close()


# --- a job whose file is gone ---


def test_a_job_that_was_deleted_is_gone_on_with_in_another_place(job: Path, tmp_path: Path, memory: Memory) -> None:
    (tmp_path / "strap.png").write_bytes(png())
    picture = look(tmp_path / "strap.png")
    session = Session.open(job, LIBRARY, HAND, memory)
    keep(session.job.file.files, [picture])
    session.enter(actions.note(session.job.state, "main", "as found", photos=[picture.photo]), later(1))
    job.unlink()
    with pytest.raises(Refusal, match=r"^Not saved: barn.json was moved, renamed or deleted\.$"):
        session.enter(actions.note(session.job.state, "main", "sheeted"), later(2))
    (tmp_path / "van").mkdir()
    session.carry_on(tmp_path / "van", later(3))
    place = tmp_path / "van" / "barn.json"
    assert (session.job.file.path, session.unsaved) == (place, [])
    session.enter(actions.note(session.job.state, "main", "and on"), later(4))
    assert session.close() == ""
    assert [words for words, _ in notes(place)] == ["as found", "sheeted", "and on"]
    assert stands(beside(place), picture.photo) == "there"
    assert verify(place) == []
    assert Session.open(place, LIBRARY, later(5), memory).unsaved == []


def test_a_job_that_was_moved_is_joined_where_it_is_now(job: Path, tmp_path: Path, memory: Memory) -> None:
    session = Session.open(job, LIBRARY, HAND, memory)
    session.enter(actions.note(session.job.state, "main", "before"), later(1))
    job.parent.rename(tmp_path / "van")
    with pytest.raises(Refusal, match="The folder desk was moved"):
        session.enter(actions.note(session.job.state, "main", "after"), later(2))
    session.carry_on(tmp_path / "van" / "barn.json", later(3))
    session.close()
    assert [words for words, _ in notes(tmp_path / "van" / "barn.json")] == ["before", "after"]
    assert verify(tmp_path / "van" / "barn.json") == []


def test_another_job_or_no_folder_is_refused_and_what_waits_still_waits(
    job: Path, tmp_path: Path, memory: Memory
) -> None:
    Job.create(tmp_path / "shed.json", LIBRARY, later(-5), JobSetup(**SETUP)).close()
    session = Session.open(job, LIBRARY, HAND, memory)
    job.unlink()
    with pytest.raises(Refusal):
        session.enter(actions.note(session.job.state, "main", "sheeted"), later(2))
    with pytest.raises(Refusal, match=r"^shed.json is a different job\. Choose another name\.$") as refused:
        session.carry_on(tmp_path / "shed.json", later(3))
    assert refused.value.code == USAGE
    with pytest.raises(Refusal, match="No folder called"):
        session.carry_on(tmp_path / "nowhere" / "barn.json", later(3))
    assert len(session.unsaved) == 1
    JobFile.open(tmp_path / "shed.json").close()
    session.carry_on(tmp_path / "barn.json", later(3))
    assert session.unsaved == []
    session.close()

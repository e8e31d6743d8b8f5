"""One writer at a time on a machine, named to the second; no dead writer bars the job, and its folder has no lock."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sitelog.job.machine import lock as module
from sitelog.job.machine.lock import Lock
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.merge import merge
from sitelog.job.storage.verify import verify
from sitelog.refusal import HELD, NOT_SAVED, Refusal
from sitelog.text import day_and_time
from tests.job.logs import after, author, log, saved, tree

HOLD = """
import sys
from pathlib import Path
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.file import JobFile
from tests.job.logs import author
JobFile.open(sys.argv[1], author=author(), memory=Memory(Path(sys.argv[2])))
print("held", flush=True)
sys.stdin.read()
"""
NAMED = rf"already open in A. Foreman on tablet01 since {day_and_time('2026-03-02 07:00+00:00')} "


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "site").mkdir()
    return saved(tmp_path / "site" / "barn.json", log(3))


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(tmp_path / "state")


@contextmanager
def held_by_another(job: Path, state: Path) -> Iterator["subprocess.Popen[str]"]:
    """A process of its own has the job open."""
    words = [sys.executable, "-c", HOLD, str(job), str(state)]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        yield holder


def next_handle() -> int:
    """The lowest that is free: the system gives it to whoever opens next."""
    handle = os.dup(0)
    os.close(handle)
    return handle


def no_locks(*_: object) -> None:
    raise OSError(95, "Operation not supported")


def the_machines(memory: Memory) -> Path:
    """The one file that says who has a job."""
    (place,) = (memory.folder / "locks").iterdir()
    return place


# --- who has it ---


def test_a_second_writer_is_told_who_has_the_job(job: Path, memory: Memory) -> None:
    with JobFile.open(job, author=author(), memory=memory), pytest.raises(Refusal) as refused:
        JobFile.open(job, memory=memory)
    assert refused.value.code == HELD
    assert refused.value.message == (
        f"barn.json is {NAMED}(process {os.getpid()}). Close it there first, or open it read-only."
    )


def test_a_holder_that_gave_no_name_is_told_by_its_process(job: Path, memory: Memory) -> None:
    with (
        JobFile.open(job, memory=memory),
        pytest.raises(Refusal, match=rf"already open in another program \(process {os.getpid()}\)\. Close"),
    ):
        JobFile.open(job, memory=memory)


def test_the_machine_says_who_holds_it_and_not_the_jobs_folder(job: Path, memory: Memory) -> None:
    with JobFile.open(job, author=author(), memory=memory) as writer:
        said = json.loads(the_machines(memory).read_text())
        assert not list(writer.files.rglob("*lock*"))
    assert said == {
        "pid": os.getpid(),
        "by": "A. Foreman",
        "device": "tablet01",
        "since": "2026-03-02 07:00+00:00",
    }
    assert the_machines(memory).read_text() == ""


def test_a_second_writer_can_read_and_sees_what_is_saved_so_far(job: Path) -> None:
    with JobFile.open(job) as writer:
        writer.append([after(writer.entries)])
        with JobFile.open(job, read_only=True) as reader:
            assert reader.entries == writer.entries
            with pytest.raises(Refusal, match="read-only") as refused:
                reader.append([after(reader.entries)])
            assert refused.value.code == NOT_SAVED


def test_a_closed_job_is_free_and_takes_no_more(job: Path) -> None:
    first = JobFile.open(job)
    first.close()
    first.close()
    with JobFile.open(job), pytest.raises(Refusal, match="closed"):
        first.append([after(first.entries)])


def test_a_killed_writer_holds_nothing(job: Path, memory: Memory) -> None:
    with held_by_another(job, memory.folder) as holder:
        with pytest.raises(Refusal, match=rf"{NAMED}\(process {holder.pid}\)"):
            JobFile.open(job, memory=memory)
        holder.send_signal(signal.SIGKILL)
        holder.wait()
        JobFile.open(job, memory=memory).close()


@pytest.mark.parametrize("text", ["", "{", '{"pid":', "\x00\xff", '{"pid": 3, "by": 4}', "[" * 5000])
def test_a_lock_that_says_nothing_clear_still_holds(job: Path, memory: Memory, text: str) -> None:
    lock = Lock.take(beside(job), None, memory.folder)
    the_machines(memory).write_text(text)
    with pytest.raises(Refusal, match="another program") as refused:
        Lock.take(beside(job), None, memory.folder)
    assert refused.value.code == HELD
    lock.release()


def test_what_a_dead_holder_left_does_not_hide_the_next(job: Path, memory: Memory) -> None:
    Lock.take(beside(job), None, memory.folder).release()
    long = {"pid": 3, "by": "Somebody with a long name " * 9, "device": "d" * 8, "since": "t"}
    the_machines(memory).write_text(json.dumps(long))
    lock = Lock.take(beside(job), author(), memory.folder)
    with pytest.raises(Refusal, match=r"A. Foreman on tablet01 since") as refused:
        Lock.take(beside(job), None, memory.folder)
    assert "Somebody" not in refused.value.message
    lock.release()


def test_a_holders_name_reaches_no_terminal_uncleaned(job: Path, memory: Memory) -> None:
    lock = Lock.take(beside(job), None, memory.folder)
    hostile = {"pid": 3, "by": "\x1b]0;x\x07\u202eA\nB", "device": "\x9b2J"}
    the_machines(memory).write_text(json.dumps(hostile))
    with pytest.raises(Refusal) as refused:
        Lock.take(beside(job), None, memory.folder)
    assert refused.value.message.isprintable()
    lock.release()


# --- which job it is ---


def test_it_is_one_job_by_whatever_path_it_is_reached(job: Path, memory: Memory, tmp_path: Path) -> None:
    (tmp_path / "desk").symlink_to(job.parent)
    (tmp_path / "roof.json").symlink_to(job)
    with held_by_another(job, memory.folder):
        for path in (tmp_path / "desk" / "barn.json", tmp_path / "roof.json", job.parent / ".." / "site" / "barn.json"):
            with pytest.raises(Refusal, match=NAMED) as refused:
                JobFile.open(path, memory=memory)
            assert refused.value.code == HELD


def test_it_is_held_where_its_folder_is_moved_to(job: Path, memory: Memory, tmp_path: Path) -> None:
    with held_by_another(job, memory.folder):
        job.parent.rename(tmp_path / "moved")
        with pytest.raises(Refusal, match=r"^barn.json is already open in another program\. Close") as refused:
            JobFile.open(tmp_path / "moved" / "barn.json", memory=memory)
        assert refused.value.code == HELD


def test_it_is_held_where_another_folder_is_put_in_place_of_its_own(job: Path, memory: Memory) -> None:
    with held_by_another(job, memory.folder):
        beside(job).rename(job.parent / "away")
        beside(job).mkdir()
        with pytest.raises(Refusal, match=NAMED):
            JobFile.open(job, memory=memory)


def test_it_is_held_for_another_user_of_the_machine(job: Path, tmp_path: Path) -> None:
    """Each has a state folder of their own; the job's folder is one."""
    with (
        held_by_another(job, tmp_path / "hers"),
        pytest.raises(Refusal, match=r"already open in another program\. Close") as refused,
    ):
        JobFile.open(job, memory=Memory(tmp_path / "his"))
    assert refused.value.code == HELD


def test_a_state_folder_that_can_not_be_written_bars_no_work_and_no_second_writer_gets_in(
    job: Path, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("")
    nowhere = Memory(tmp_path / "file")
    with JobFile.open(job, author=author(), memory=nowhere) as writer:
        writer.append([after(writer.entries)])
        with pytest.raises(Refusal, match=r"already open in another program\. Close"):
            JobFile.open(job, memory=nowhere)
    assert len(JobFile.open(job, read_only=True).entries) == 4


def test_a_hard_link_is_a_copy_with_a_folder_of_its_own(job: Path, memory: Memory) -> None:
    other = job.with_name("other.json")
    os.link(job, other)
    with JobFile.open(job, memory=memory) as first, JobFile.open(other, memory=memory) as second:
        first.append([after(first.entries, "one")])
        second.append([after(second.entries, "two")])
    assert merge(job, [other]) == 1
    assert verify(job) == []


# --- what else stands in its way ---


def test_an_earlier_programs_lock_is_swept(job: Path, memory: Memory) -> None:
    (beside(job) / "lock").write_text(json.dumps({"pid": 3}))
    JobFile.open(job, read_only=True, memory=memory).close()
    assert (beside(job) / "lock").exists(), "who only reads removes nothing"
    JobFile.open(job, memory=memory).close()
    assert not (beside(job) / "lock").exists()


def test_an_earlier_program_that_has_the_job_open_is_heeded(job: Path, memory: Memory) -> None:
    handle = os.open(beside(job) / "lock", os.O_RDWR | os.O_CREAT)
    module._seize(handle)
    with pytest.raises(Refusal, match="already open in") as refused:
        JobFile.open(job, memory=memory)
    assert refused.value.code == HELD
    os.close(handle)
    JobFile.open(job, memory=memory).close()


def test_a_link_in_place_of_an_earlier_programs_lock_is_not_followed(job: Path, tmp_path: Path) -> None:
    victim = tmp_path / "diary"
    victim.write_text("kept")
    (beside(job) / "lock").symlink_to(victim)
    JobFile.open(job).close()
    assert victim.read_text() == "kept"
    assert sorted(path.name for path in beside(job).iterdir()) == []


def test_a_disk_that_locks_no_folders_leaves_the_lock_to_the_machine(
    job: Path, memory: Memory, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A network drive, or Windows: no folder can be opened there."""
    real = os.open

    def no_folders(path: Path, flags: int, *more: int) -> int:
        if Path(path).is_dir():
            raise PermissionError(13, "Permission denied")
        return real(path, flags, *more)

    monkeypatch.setattr("sitelog.job.machine.lock.os.open", no_folders)
    lock = Lock.take(beside(job), author(), memory.folder)
    with pytest.raises(Refusal, match=NAMED):
        Lock.take(beside(job), author(), memory.folder)
    lock.release()
    with pytest.raises(Refusal, match=r"^barn.json can't be locked here: you don't have permission\.$"):
        Lock.take(beside(job))


def test_a_disk_that_knows_no_locks_is_named(job: Path, memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sitelog.job.machine.lock.fcntl.flock", no_locks)
    before = next_handle()
    with pytest.raises(Refusal, match=r"^barn.json can't be locked here: operation not supported\.$") as refused:
        JobFile.open(job, memory=memory)
    assert refused.value.code == NOT_SAVED
    assert next_handle() == before, "nothing is left open"


def test_who_is_refused_leaves_nothing_open(job: Path, memory: Memory) -> None:
    with JobFile.open(job, memory=memory):
        before = next_handle()
        with pytest.raises(Refusal):
            JobFile.open(job, memory=memory)
        assert next_handle() == before


def test_a_job_whose_folder_can_not_be_made_is_named(job: Path) -> None:
    beside(job).rmdir()
    beside(job).write_text("")
    with pytest.raises(Refusal, match=r"^barn.json can't be written: file exists\.$") as refused:
        JobFile.open(job)
    assert refused.value.code == NOT_SAVED


def test_a_lock_is_let_go_on_a_disk_that_fails(job: Path, memory: Memory, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as patch:
        patch.setattr("sitelog.job.machine.lock.os.ftruncate", broken)
        Lock.take(beside(job), author(), memory.folder).release()
    Lock.take(beside(job), author(), memory.folder).release()


def test_a_lock_is_not_put_where_a_link_leads(job: Path, memory: Memory, tmp_path: Path) -> None:
    victim = tmp_path / "diary"
    victim.write_text("kept")
    Lock.take(beside(job), None, memory.folder).release()
    place = the_machines(memory)
    place.unlink()
    place.symlink_to(victim)
    Lock.take(beside(job), author(), memory.folder).release()
    assert victim.read_text() == "kept"


def test_opening_leaves_nothing_in_the_jobs_folder(job: Path, memory: Memory) -> None:
    before = tree(job.parent)
    JobFile.open(job, author=author(), memory=memory).close()
    assert tree(job.parent) == before

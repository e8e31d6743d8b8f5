"""One writer at a time, named to the second, and no dead writer bars the job."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from sitelog.job.storage.file import JobFile
from sitelog.job.storage.lock import Lock
from sitelog.refusal import HELD, NOT_SAVED, Refusal
from sitelog.text import day_and_time
from tests.job.logs import after, author, log, saved

HOLD = """
import sys
from sitelog.job.storage.file import JobFile
from tests.job.logs import author
JobFile.open(sys.argv[1], author=author())
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return saved(tmp_path / "barn.json", log(3))


def held_by_another(job: Path) -> "subprocess.Popen[str]":
    holder = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(job)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert holder.stdout is not None
    assert holder.stdout.readline() == "held\n"
    return holder


def next_handle() -> int:
    """The lowest that is free: the system gives it to whoever opens next."""
    handle = os.dup(0)
    os.close(handle)
    return handle


def test_a_second_writer_is_told_who_has_the_job(job: Path) -> None:
    with JobFile.open(job, author=author()), pytest.raises(Refusal) as refused:
        JobFile.open(job)
    assert refused.value.code == HELD
    assert refused.value.message == (
        f"barn.json is already open in A. Foreman on tablet01 since {day_and_time('2026-03-02 07:00+00:00')} "
        f"(process {os.getpid()}"
        "). Close it there first, or open it read-only."
    )


def test_a_holder_that_gave_no_name_is_told_by_its_process(job: Path) -> None:
    with (
        JobFile.open(job),
        pytest.raises(Refusal, match=rf"already open in another program \(process {os.getpid()}\)\. Close"),
    ):
        JobFile.open(job)


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


def test_a_killed_writer_holds_nothing(job: Path) -> None:
    holder = held_by_another(job)
    with holder:
        with pytest.raises(Refusal, match=rf"already open in A. Foreman on tablet01 since .*\(process {holder.pid}\)"):
            JobFile.open(job)
        holder.send_signal(signal.SIGKILL)
        holder.wait()
        JobFile.open(job).close()


def test_the_lock_says_who_holds_it(job: Path) -> None:
    with JobFile.open(job, author=author()) as writer:
        said = json.loads((writer.files / "lock").read_text())
    assert said == {
        "pid": os.getpid(),
        "by": "A. Foreman",
        "device": "tablet01",
        "since": "2026-03-02 07:00+00:00",
    }


@pytest.mark.parametrize("text", ["", "{", '{"pid":', "\x00\xff", '{"pid": 3, "by": 4}', "[" * 5000])
def test_a_lock_that_says_nothing_clear_still_holds(tmp_path: Path, text: str) -> None:
    lock = Lock.take(tmp_path / "barn.json.files" / "lock")
    (tmp_path / "barn.json.files" / "lock").write_text(text)
    with pytest.raises(Refusal, match="another program") as refused:
        Lock.take(tmp_path / "barn.json.files" / "lock")
    assert refused.value.code == HELD
    lock.release()


def test_what_a_dead_holder_left_in_the_lock_does_not_hide_the_next(tmp_path: Path) -> None:
    place = tmp_path / "lock"
    place.write_text(json.dumps({"pid": 3, "by": "Somebody with a long name " * 9, "device": "d" * 8, "since": "t"}))
    lock = Lock.take(place, author())
    with pytest.raises(Refusal, match=r"A. Foreman on tablet01 since") as refused:
        Lock.take(place)
    assert "Somebody" not in refused.value.message
    lock.release()


def test_a_holders_name_reaches_no_terminal_uncleaned(tmp_path: Path) -> None:
    lock = Lock.take(tmp_path / "lock")
    (tmp_path / "lock").write_text(json.dumps({"pid": 3, "by": "\x1b]0;x\x07\u202eA\nB", "device": "\x9b2J"}))
    with pytest.raises(Refusal) as refused:
        Lock.take(tmp_path / "lock")
    assert refused.value.message.isprintable()
    lock.release()


def test_a_disk_that_knows_no_locks_is_named(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr("sitelog.job.storage.lock.fcntl.flock", none)
    before = next_handle()
    with pytest.raises(Refusal, match=r"^barn.json can't be locked here: operation not supported\.$") as refused:
        JobFile.open(job)
    assert refused.value.code == NOT_SAVED
    assert next_handle() == before, "nothing is left open"


def test_a_lock_is_let_go_on_a_disk_that_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise OSError(5, "Input/output error")

    lock = Lock.take(tmp_path / "lock")
    with monkeypatch.context() as patch:
        patch.setattr("sitelog.job.storage.lock.os.ftruncate", broken)
        lock.release()
    Lock.take(tmp_path / "lock").release()


def test_a_lock_is_not_put_where_a_link_leads(tmp_path: Path) -> None:
    victim = tmp_path / "diary"
    victim.write_text("kept")
    (tmp_path / "lock").symlink_to(victim)
    with pytest.raises(Refusal, match="can't be written"):
        Lock.take(tmp_path / "lock")
    assert victim.read_text() == "kept"

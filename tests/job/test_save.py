"""A save is old or new, never between: killed anywhere, or with any of its steps failing once or for ever."""

import errno
import os
import resource
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from types import FrameType
from typing import Any

import msgspec
import pytest
from tinydb import TinyDB

from sitelog.job.storage.disk import reason
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import tables
from sitelog.job.storage.store import WholeFile
from sitelog.job.storage.verify import verify
from sitelog.refusal import NOT_SAVED, Refusal
from tests.job.logs import after, log, saved, tree

# A forked child only saves and ends; it takes no lock that another thread might hold.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")

STEPS = {
    "open",
    "write",
    "flush",
    "fsync",
    "close",
    "stat",
    "link",
    "replace",
    "unlink",
    "chmod",
    "mkdir",
    "scandir",
}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    job = saved(tmp_path / "barn.json", log(4))
    with JobFile.open(job) as file:
        for _ in range(4):  # every copy there is room for, so that a save also drops one
            file.append([after(file.entries)])
            file.checkpoint()
    return job


def in_a_child(act: Callable[[], object]) -> int:
    """What ended the child: 0, or the signal."""
    child = os.fork()
    if child == 0:
        try:
            act()
            os._exit(0)
        finally:
            os._exit(1)
    return os.waitpid(child, 0)[1]


def is_sound(job: Path, old: int) -> bool:
    """The job has its old entries or one more, for us and for plain TinyDB, and can be gone on with."""
    with JobFile.open(job) as file:
        with TinyDB(job) as db:
            count = len(db.table("entries"))
        assert count in (old, old + 1)
        assert len(file.entries) == count
        assert not [*job.parent.glob(".*"), *file.files.glob(".*")]
        file.append([after(file.entries, "went on")])
    assert len(WholeFile(job).copies()) == 3
    return verify(job) == []


def kill_at(step: int) -> Callable[[FrameType, str, Any], None]:
    """A profile hook that kills its own process before or after the given system call."""
    seen = 0

    def hook(_: FrameType, event: str, call: Any) -> None:
        nonlocal seen
        if event in ("c_call", "c_return") and getattr(call, "__name__", "") in STEPS:
            seen += 1
            if seen == step:
                os.kill(os.getpid(), signal.SIGKILL)

    return hook


def test_a_save_killed_before_or_after_any_of_its_steps_is_old_or_new(job: Path) -> None:
    start = {path: path.read_bytes() for path in job.parent.rglob("*") if path.is_file()}

    def save(step: int) -> None:
        file = JobFile.open(job)
        sys.setprofile(kill_at(step))
        file.append([after(file.entries)])
        file.checkpoint()
        sys.setprofile(None)

    outcomes = set()
    for step in range(1, 200):
        for path, raw in start.items():
            path.write_bytes(raw)
        ended = in_a_child(partial(save, step))
        outcomes.add(len(JobFile.open(job, read_only=True).entries))
        assert is_sound(job, 8), step
        for path in [path for path in job.parent.rglob("*") if path.is_file() and path not in start]:
            path.unlink()
        if ended == 0:
            break
        assert ended == signal.SIGKILL
    assert step > 20
    assert outcomes == {8, 9}


@pytest.mark.parametrize("part", [0, 1, 4096, 65_536, 1_000_000, -1])
def test_a_save_killed_inside_a_large_write_leaves_the_old_file(tmp_path: Path, part: int) -> None:
    job = saved(tmp_path / "barn.json", log(60, text="x" * 30_000))
    before = job.read_bytes()

    def save() -> None:
        file = JobFile.open(job)
        signal.signal(signal.SIGXFSZ, signal.SIG_DFL)
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_FSIZE, (part if part >= 0 else len(before), resource.RLIM_INFINITY))
        file.join([after(file.entries)])

    assert in_a_child(save) == signal.SIGXFSZ
    assert job.read_bytes() == before
    (left,) = tmp_path.glob(".barn.json.*.saving")
    assert left.stat().st_size == (part if part >= 0 else len(before))
    with JobFile.open(job) as file:
        assert file.entries == log(60, text="x" * 30_000)
    assert not left.exists()


def test_any_beginning_of_a_save_that_was_killed_is_swept_away(tmp_path: Path) -> None:
    job = saved(tmp_path / "barn.json", log(2))
    before = tree(tmp_path)
    new = msgspec.json.encode(tables(log(3)))
    for cut in range(len(new) + 1):
        (tmp_path / f".barn.json.{cut:08x}.saving").write_bytes(new[:cut])
        with JobFile.open(job) as file:
            assert len(file.entries) == 2
        assert tree(tmp_path) == before
    (tmp_path / ".barn.json.saving").write_bytes(new)
    with JobFile.open(job) as file:
        file.append(log(3))
    assert job.read_bytes() == new


@contextmanager
def failing(monkeypatch: pytest.MonkeyPatch, target: str, error: int, good: int) -> Iterator[None]:
    """After so many good calls every call raises."""
    owner: Any = {"os": os, "Path": Path}[target.partition(".")[0]]
    name = target.partition(".")[2]
    real = getattr(owner, name)
    left = good

    def call(*args: Any, **more: Any) -> Any:
        nonlocal left
        left -= 1
        if left < 0:
            raise OSError(error, os.strerror(error))
        return real(*args, **more)

    with monkeypatch.context() as patch:
        patch.setattr(owner, name, call)
        yield


@pytest.mark.parametrize(
    ("target", "good", "error", "says"),
    [
        ("os.open", 0, errno.EACCES, "you don't have permission"),
        ("os.open", 0, errno.ENOSPC, "the disk is full"),
        ("os.open", 0, errno.EROFS, "the disk is write-protected"),
        ("Path.chmod", 0, errno.EPERM, "you don't have permission"),
        ("Path.stat", 0, errno.EIO, "the disk reports an error"),
        ("Path.stat", 1, errno.EIO, "the disk reports an error"),
        ("Path.stat", 2, errno.EIO, "the disk reports an error"),
        ("os.fsync", 0, errno.EIO, "the disk reports an error"),
        ("os.fsync", 0, errno.ENOSPC, "the disk is full"),
        ("os.fsync", 0, errno.EDQUOT, "your share of the disk is full"),
        ("Path.replace", 0, errno.EIO, "the disk reports an error"),
        ("Path.replace", 0, errno.EACCES, "you don't have permission"),
        ("Path.replace", 0, errno.EBUSY, "device or resource busy"),
        ("Path.iterdir", 0, errno.EIO, "the disk reports an error"),
    ],
)
def test_a_save_with_a_failing_step_says_so_changes_nothing_and_can_be_tried_again(
    job: Path, monkeypatch: pytest.MonkeyPatch, target: str, good: int, error: int, says: str
) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        held, before = file.entries, tree(job.parent)
        for _ in range(4):
            with failing(monkeypatch, target, error, good), pytest.raises(Refusal) as refused:
                file.checkpoint()
            assert refused.value.message == f"Not saved: barn.json: {says}. The file has not changed. Try again."
            assert refused.value.code == NOT_SAVED
            # A state that was kept as a copy before the step that failed is kept under two names: that is harmless.
            assert {name: raw for name, raw in tree(job.parent).items() if "copies" not in name} == {
                name: raw for name, raw in before.items() if "copies" not in name
            }
            assert file.entries == held
        file.checkpoint()
        assert file.entries == held
    assert verify(job) == []
    kept = [msgspec.json.decode(copy.read_bytes()) for copy in WholeFile(job).copies()]
    assert [len(copy["entries"]) for copy in kept] == [8, 7, 6]


def test_a_save_whose_folder_does_not_reach_the_disk_is_not_called_saved(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.open

    def open_none(path: Any, flags: int, *more: Any, **named: Any) -> int:
        if Path(path) == job.parent:
            raise OSError(errno.EIO, "Input/output error")
        return real(path, flags, *more, **named)

    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        with monkeypatch.context() as patch:
            patch.setattr("os.open", open_none)
            with pytest.raises(Refusal, match=r"Not safely saved: barn.json may be lost in a power cut") as refused:
                file.checkpoint()
        assert refused.value.code == NOT_SAVED
        assert (file.files / "journal.tablet01").exists()
        file.checkpoint()
        assert len(file.entries) == 9
    assert verify(job) == []


def test_a_copy_that_can_not_be_kept_whole_is_not_kept_and_nothing_is_saved(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = tree(job.parent)

    def no_link(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    def half(source: Path, target: Path) -> None:
        Path(target).write_bytes(Path(source).read_bytes()[:100])
        raise OSError(errno.ENOSPC, "No space left on device")

    with JobFile.open(job) as file, monkeypatch.context() as patch:
        patch.setattr("os.link", no_link)
        patch.setattr("shutil.copy2", half)
        with pytest.raises(Refusal, match="the disk is full"):
            file.join([after(file.entries)])
        file.close()
    assert tree(job.parent) == before


def test_a_copy_of_which_nothing_could_be_written_is_not_kept_either(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        with monkeypatch.context() as patch:
            patch.setattr("os.link", none)
            patch.setattr("shutil.copy2", none)
            with pytest.raises(Refusal, match="the disk is full"):
                file.checkpoint()


def test_a_beginning_that_could_not_be_swept_away_bars_no_save(job: Path) -> None:
    with JobFile.open(job) as file:
        job.with_name(".barn.json.saving").write_text("half a job")
        (file.files / "journal.new").write_text("half a journal")
        file.append([after(file.entries)])
        file.checkpoint()
    assert len(WholeFile(job).read()["entries"]) == 9


@pytest.mark.parametrize(
    ("error", "says"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), "the disk is full"),
        (OSError(errno.EDQUOT, "Disk quota exceeded"), "your share of the disk is full"),
        (OSError(errno.EFBIG, "File too large"), "the file can't be that large here"),
        (OSError(errno.EIO, "Input/output error"), "the disk reports an error"),
        (OSError(errno.EROFS, "Read-only file system"), "the disk is write-protected"),
        (OSError(errno.EACCES, "Permission denied"), "you don't have permission"),
        (OSError(errno.EPERM, "Operation not permitted"), "you don't have permission"),
        (OSError(errno.ENAMETOOLONG, "File name too long"), "the name is too long: use a shorter one"),
        (OSError(errno.ELOOP, "Too many levels of symbolic links"), "its shortcuts go round in a circle"),
        (OSError(errno.EBUSY, "Device or resource busy"), "device or resource busy"),
        (OSError("Odd"), "odd"),
    ],
)
def test_why_a_disk_says_no_is_told_in_plain_words(error: OSError, says: str) -> None:
    assert reason(error) == says


def test_an_old_copy_that_can_not_be_removed_costs_no_entry(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with JobFile.open(job) as file:
        with failing(monkeypatch, "Path.unlink", errno.EIO, good=0):
            file.join([after(file.entries)])
        assert len(WholeFile(job).copies()) == 4
        file.join([after(file.entries)])
        assert len(WholeFile(job).copies()) == 3


def test_a_file_that_may_not_grow_is_left_as_it_was(job: Path) -> None:
    before = tree(job.parent)
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    with JobFile.open(job) as file:
        added = after(file.entries, "x" * 50_000)
        resource.setrlimit(resource.RLIMIT_FSIZE, (job.stat().st_size, hard))
        try:
            with pytest.raises(Refusal, match="the file can't be that large here") as refused:
                file.append([added])
            assert file.entries[-1] != added
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
        assert refused.value.code == NOT_SAVED
        beside = {
            "barn.json.files/journal.tablet01": before["barn.json.files/journal.tablet01"],
        }
        assert {**tree(job.parent), **beside} == before
        file.append([added])
        assert file.entries[-1] == added


def test_a_fold_is_on_the_disk_before_it_takes_the_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = saved(tmp_path / "barn.json", log(4))
    told: list[str] = []
    for owner, name in ((os, "fsync"), (os, "link"), (Path, "replace")):
        real = getattr(owner, name)

        def call(*args: Any, real: Any = real, name: str = name) -> Any:
            told.append(name)
            return real(*args)

        monkeypatch.setattr(owner, name, call)
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        assert told == ["fsync", "replace", "fsync", "fsync"]  # the journal begun: itself, its folder, the job's folder
        file.append([after(file.entries)])
        assert told[4:] == ["fsync"]
        file.checkpoint()
        assert told[5:] == ["fsync", "link", "replace", "fsync"]

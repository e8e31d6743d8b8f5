"""A crash at any step leaves the old state or the new one, and never takes back what was said to be saved."""

import errno
import os
import random
import signal
import time
from collections import Counter
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

import msgspec
import pytest

from sitelog.job.log.entry import Draft, Entry, seal
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.refusal import NOT_SAVED, Refusal
from tests.job.logs import after, author, log, saved, tree
from tests.job.powercut import Recorder, _no_fault, recorded
from tests.length import LONG, grows

# A forked child only saves and ends; it takes no lock that another thread might hold.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")

ENTRIES = log(14)
SAVES = [
    ENTRIES[:2],
    ENTRIES[2:3],
    ENTRIES[3:6],
    ENTRIES[6:7],
    ENTRIES[7:8],
    ENTRIES[8:10],
    ENTRIES[10:11],
    ENTRIES[11:],
]
STATES = [ENTRIES[: sum(map(len, SAVES[:n]))] for n in range(len(SAVES) + 1)]


def a_day(job: Path, confirm: Callable[[int], None]) -> None:
    """The job made, added to, folded, closed, opened, and added to again; each save is confirmed by its number."""
    with JobFile.create(job, SAVES[0]) as file:
        confirm(1)
        for number in (1, 2):
            file.append(SAVES[number])
            confirm(number + 1)
        file.checkpoint()
        for number in (3, 4):
            file.append(SAVES[number])
            confirm(number + 1)
    with JobFile.open(job) as file:
        for number in (5, 6, 7):
            file.append(SAVES[number])
            confirm(number + 1)


def put(folder: Path, job: Path, left: dict[Path, bytes]) -> Path:
    """The files as a power cut left them, in another folder."""
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    for path, raw in left.items():
        place = folder / path.relative_to(job.parent)
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(raw)
    return folder / job.name


@grows
def test_a_power_cut_after_any_step_leaves_the_old_state_or_the_new(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "desk").mkdir()
    (tmp_path / "after").mkdir()
    job = tmp_path / "desk" / "barn.json"
    with recorded(monkeypatch, Recorder(_no_fault)) as recorder:
        a_day(job, recorder.confirm)
    monkeypatch.setattr(os, "fsync", lambda _: None)  # what is looked at now needs no disk
    seen = Counter[int]()
    for steps, left in recorder.states(seed=7, each=100 if LONG else 3):
        confirmed = max((number for at, number in recorder.marks if at <= steps), default=0)
        found = put(tmp_path / "after", job, left)
        if not found.exists():
            assert confirmed == 0
            continue
        if confirmed == 0 and found.read_bytes() == b"":
            continue
        read_only = JobFile.open(found, read_only=True).entries
        with JobFile.open(found) as file:
            assert file.why_read_only == ""
            assert file.entries == read_only
            assert file.entries in STATES[confirmed : confirmed + 2], (steps, confirmed, len(file.entries))
            seen[len(file.entries)] += 1
            file.append([after(file.entries, "went on")])
        assert verify(found) == []
        assert not list(file.files.glob(".*"))
    assert set(seen) == {len(state) for state in STATES[1:]}
    assert len(recorder.steps) > 60


def test_what_is_written_is_never_written_over_in_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with recorded(monkeypatch, Recorder(_no_fault)) as recorder:
        a_day(tmp_path / "barn.json", recorder.confirm)
    disk = recorder.disk_after(len(recorder.steps))
    for inode in disk.inodes.values():
        assert inode.written.startswith(inode.synced)
    assert all(held[-1] is None for path, held in disk.names.items() if path.name.endswith(".saving"))


# --- steps that fail ---


class Failing:
    """The steps of one kind fail from the given one on: once, or for ever."""

    def __init__(self, kind: str, first: int, for_ever: bool, error: int) -> None:
        self.kind, self.first, self.for_ever, self.error = kind, first, for_ever, error
        self.count = Counter[str]()
        self.off = False

    def __call__(self, kind: str) -> None:
        self.count[kind] += 1
        late = self.count[kind] - self.first
        if not self.off and kind == self.kind and (late == 0 or (self.for_ever and late > 0)):
            raise OSError(self.error, os.strerror(self.error))


def a_day_with_trouble(job: Path, confirmed: list[Entry]) -> list[str]:
    """The same day by someone who goes on after each refusal; what was refused, in words."""
    told: list[str] = []

    def attempt(act: Callable[[], object], entries: list[Entry]) -> bool:
        try:
            act()
        except Refusal as refusal:
            told.append(refusal.message)
            assert refusal.message.isprintable()
            assert refusal.code == NOT_SAVED or "can't be read" in refusal.message
            return False
        confirmed.extend(entries)
        return True

    opened: list[JobFile] = []
    if not attempt(lambda: opened.append(JobFile.create(job, SAVES[0])), SAVES[0]):
        return told
    for number in range(1, 8):
        file = opened[-1]
        before, entries = file.entries, SAVES[number]
        if not attempt(lambda file=file, entries=entries: file.append(entries), entries):  # type: ignore[misc]
            assert file.entries == before
            attempt(lambda file=file, entries=entries: file.append(entries), entries)  # type: ignore[misc]
        if number in (2, 5):
            attempt(file.checkpoint, [])
        if number == 4:
            file.close()
            if file.left_beside:
                told.append(file.left_beside)
            if not attempt(lambda: opened.append(JobFile.open(job)), []):
                break
    opened[-1].close()
    return [*told, *filter(None, [opened[-1].left_beside])]


ERRORS = (errno.EIO, errno.ENOSPC, errno.EACCES, errno.EROFS)
KINDS = ("open", "read", "write", "fsync", "rename", "link", "unlink", "mkdir", "stat")


@pytest.mark.parametrize("for_ever", [False, True], ids=["once", "for ever"])
@pytest.mark.parametrize("kind", KINDS)
def test_a_step_that_fails_is_told_and_loses_nothing_that_was_confirmed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str, for_ever: bool
) -> None:
    first, ended = 0, False
    while not ended:
        first += 1
        folder = tmp_path / str(first)
        folder.mkdir()
        job, confirmed = folder / "barn.json", list[Entry]()
        fault = Failing(kind, first, for_ever, ERRORS[first % len(ERRORS)])
        with recorded(monkeypatch, Recorder(fault)):
            told = a_day_with_trouble(job, confirmed)
        ended = fault.count[kind] < first
        if kind in ("fsync", "write", "rename", "open") and not ended:
            assert told, "it failed and nobody was told"
        if not confirmed:
            if kind != "unlink" and not (kind == "stat" and for_ever):  # what can't be removed stays
                assert tree(folder) == {}, "a job that could not be made leaves its name free"
            continue
        with JobFile.open(job) as file:
            assert file.why_read_only == ""
            held = file.entries
            assert all(entry in held for entry in confirmed)
            assert held in STATES or not_in_a_row(held)
        assert verify(job) == [] or not_in_a_row(held)
    assert first > 1


@pytest.mark.parametrize("kind", ["fsync", "write", "rename", "unlink", "link"])
@grows
def test_a_power_cut_after_a_step_that_failed_takes_back_nothing_that_was_confirmed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    (tmp_path / "after").mkdir()
    runs = []
    for first in range(1, 80) if LONG else range(4, 30, 13):
        job = tmp_path / str(first) / "barn.json"
        job.parent.mkdir()
        recorder = Recorder(Failing(kind, first, False, errno.EIO))
        confirmed = Confirmed(recorder)
        with recorded(monkeypatch, recorder):
            a_day_with_trouble(job, confirmed)
        runs.append((job, recorder))
    monkeypatch.setattr(os, "fsync", lambda _: None)
    for job, recorder in runs:
        for steps, left in recorder.states(seed=3, each=1 if LONG else 0):
            wanted: list[Entry] = next((held for at, held in reversed(recorder.marks) if at <= steps), [])
            found = put(tmp_path / "after", job, left)
            if wanted:
                with JobFile.open(found) as file:
                    assert file.why_read_only == ""
                    assert {entry.id for entry in wanted} <= {entry.id for entry in file.entries}
                    assert not_in_a_row(file.entries)


def test_a_fold_that_may_not_outlast_a_power_cut_costs_nothing_when_the_job_is_opened_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The file had its new state, but not for sure its name: the journal is needed until another fold is through."""
    (tmp_path / "after").mkdir()
    job = tmp_path / "desk" / "barn.json"
    job.parent.mkdir()
    with recorded(monkeypatch, Recorder(_no_fault)) as recorder:
        with monkeypatch.context() as patch, JobFile.create(job, SAVES[0]) as file:
            file.append(SAVES[1])
            recorder.confirm(3)
            patch.setattr("sitelog.job.storage.store.sync_folder", fails)
        assert "may be lost in a power cut" in file.left_beside
        with JobFile.open(job) as file:
            file.append(SAVES[2])
            recorder.confirm(6)
    monkeypatch.setattr(os, "fsync", lambda _: None)
    for steps, left in recorder.states(seed=5, each=3):
        confirmed = max((number for at, number in recorder.marks if at <= steps), default=0)
        if confirmed:
            with JobFile.open(put(tmp_path / "after", job, left)) as file:
                assert file.entries == ENTRIES[: len(file.entries)]
                assert len(file.entries) >= confirmed, (steps, left.keys())


def fails(_: object) -> None:
    raise OSError(errno.EIO, "Input/output error")


class Confirmed(list[Entry]):
    """What was confirmed, told to the recorder as it grows."""

    def __init__(self, recorder: Recorder) -> None:
        super().__init__()
        self._recorder = recorder

    def extend(self, entries: Iterable[Entry]) -> None:
        super().extend(entries)
        self._recorder.confirm(list(self))


def not_in_a_row(entries: list[Entry]) -> bool:
    """Some save was given up by the person, and a later one was made: its entries are missing, and whole saves only."""
    ids = {entry.id for entry in entries}
    return all({e.id for e in save} <= ids or not {e.id for e in save} & ids for save in SAVES)


# --- killed ---


def write_till_killed(job: Path, say: int) -> None:
    """Enter, fold now and then, open anew now and then; the number of entries is said after each is saved."""
    chance = random.Random()
    while True:
        with JobFile.open(job) as file:
            for _ in range(chance.randrange(1, 12)):
                entries = [after(file.entries, "x" * chance.randrange(3_000))]
                if chance.random() < 0.3:
                    entries.append(
                        seal(Draft(act="note"), author(minutes=len(file.entries) + 61), entries[-1], entries[-1].id)
                    )
                file.append(entries)
                os.write(say, b"%d\n" % len(file.entries))
                if chance.random() < 0.2:
                    file.checkpoint()


def killed_once(job: Path, chance: random.Random) -> int:
    """The number of entries that was confirmed last before the kill."""
    hear, say = os.pipe()
    child = os.fork()
    if child == 0:
        with suppress(BaseException):
            write_till_killed(job, say)
        os._exit(1)
    os.close(say)
    said = os.read(hear, 10)
    time.sleep(chance.random() * 0.012)
    os.kill(child, signal.SIGKILL)
    assert os.waitpid(child, 0)[1] == signal.SIGKILL
    while more := os.read(hear, 65_536):
        said += more
    os.close(hear)
    return int(said.split()[-1])


@grows
def test_a_writer_killed_at_random_times_has_lost_nothing_it_confirmed(tmp_path: Path) -> None:
    chance = random.Random(11)
    beside = 0
    job = saved(tmp_path / "barn.json", log(3))
    for _ in range(1_000 if LONG else 40):
        confirmed = killed_once(job, chance)
        beside += (tmp_path / "barn.json.files" / "journal.tablet01").exists()
        with JobFile.open(job) as file:
            assert file.why_read_only == ""
            # The kill may have come between the disk and the word: then there is one save more.
            assert confirmed <= len(file.entries) <= confirmed + 2
            assert verify(job) == []
            if len(file.entries) > 400:
                file.close()
                for path in sorted(tmp_path.rglob("*"), reverse=True):
                    path.rmdir() if path.is_dir() else path.unlink()
                saved(job, log(3))
    assert beside > 5, "some were killed with their journal open"


def test_a_copy_taken_at_any_instant_opens(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file alone, or first the file and a step later its folder: as a program that copies them would."""
    job = tmp_path / "desk" / "barn.json"
    job.parent.mkdir()
    (tmp_path / "after").mkdir()
    with recorded(monkeypatch, Recorder(_no_fault)) as recorder:
        a_day(job, recorder.confirm)
    monkeypatch.setattr(os, "fsync", lambda _: None)
    before: dict[Path, bytes] = {}
    for steps in range(len(recorder.steps) + 1):
        now = recorder.disk_after(steps).left(random.Random(), "all")
        for left in ({job: now.get(job, b"")}, now, now | {job: before.get(job, b"")}):
            if left.get(job):
                copy = put(tmp_path / "after", job, left)
                with JobFile.open(copy) as file:
                    assert file.entries == sorted(file.entries, key=lambda e: e.id)
                    assert file.entries[:2] == ENTRIES[:2]
        before = now


def test_the_entries_are_as_they_were_entered(tmp_path: Path) -> None:
    a_day(tmp_path / "barn.json", lambda _: None)
    raw = (tmp_path / "barn.json").read_bytes()
    assert list(msgspec.json.decode(raw)["entries"].values()) == [msgspec.to_builtins(entry) for entry in ENTRIES]

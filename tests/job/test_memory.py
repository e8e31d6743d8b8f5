"""What a machine remembers outside a job's folder: an older copy that is put back is said, what waits lives on."""

import shutil
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest

from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.machine.lacking import going_on, lacking
from sitelog.job.machine.memory import LONG, End, Memory, end_of, machines_own
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.text import day_and_time
from tests.job.logs import SEVEN, after, author, log, saved
from tests.job.test_merge import went_on

ENTRIES = log(3)
JOB = ENTRIES[0].id


@pytest.fixture
def memory(tmp_path: Path) -> Memory:
    return Memory(tmp_path / "state")


@pytest.fixture
def job(tmp_path: Path, memory: Memory) -> Path:
    """As it was left a while ago, and two entries on; the older copy stands beside it."""
    (tmp_path / "desk").mkdir()
    place = tmp_path / "desk" / "barn.json"
    with JobFile.create(place, ENTRIES, memory=memory):
        pass
    shutil.copytree(tmp_path / "desk", tmp_path / "backup")
    with JobFile.open(place, memory=memory) as file:
        for _ in range(2):
            file.append([after(file.entries)])
    return place


def put_back(job: Path) -> None:
    shutil.rmtree(job.parent)
    shutil.copytree(job.parents[1] / "backup", job.parent)


def says(job: Path, memory: Memory) -> str:
    return JobFile.open(job, read_only=True, memory=memory).lacks


def test_a_job_that_is_as_it_was_left_says_nothing(job: Path, memory: Memory) -> None:
    assert says(job, memory) == ""


def test_an_older_copy_that_is_put_back_is_said(job: Path, memory: Memory) -> None:
    last = JobFile.open(job, read_only=True).entries[-1]
    put_back(job)
    assert says(job, memory) == (
        "This is an older copy of the job. 2 entries saved on this device can't be found in it, the last by "
        f"A. Foreman on {day_and_time(last.at)}."
    )
    assert JobFile.open(job, read_only=True).lacks == "", "where nothing is remembered nothing is known"


def test_what_is_missing_stays_said_though_the_job_is_gone_on_with(job: Path, memory: Memory) -> None:
    put_back(job)
    with JobFile.open(job, memory=memory) as file:
        file.append([after(file.entries, "another way")])
    assert "saved on this device can't be found in it" in says(job, memory)
    assert len(JobFile.open(job, read_only=True, memory=memory).missing) == 1


def test_it_is_silent_once_the_newer_copy_is_joined(job: Path, memory: Memory) -> None:
    newer = JobFile.open(job, read_only=True).entries
    put_back(job)
    with JobFile.open(job, memory=memory) as file:
        assert file.missing
        file.join(newer)
        assert file.missing == ()
    assert says(job, memory) == ""


def test_it_is_silent_once_somebody_goes_on_without_by_name(job: Path, memory: Memory) -> None:
    put_back(job)
    with JobFile.open(job, memory=memory) as file:
        draft = going_on(file.entries, file.missing, "the tablet fell off the roof")
        file.append([seal(draft, author(minutes=90), file.entries[-1], file.entries[-1].id)])
        assert file.missing == ()
    assert says(job, memory) == ""
    note = JobFile.open(job, read_only=True).entries[-1]
    assert note.note.startswith("Going on without 2 entries that can't be found, the last of 2026-03-02T")
    assert note.note.endswith(": the tablet fell off the roof")


def test_a_journal_that_is_cut_or_deleted_after_a_kill_is_said(job: Path, memory: Memory) -> None:
    held = JobFile.open(job, memory=memory)
    for _ in range(2):
        held.append([after(held.entries)])
    held.let_go()  # as a kill would
    journal = beside(job) / "journal.tablet01"
    whole = journal.read_bytes()
    assert says(job, memory) == ""
    journal.write_bytes(b"".join(whole.splitlines(keepends=True)[:-1]))
    assert "1 entry saved on this device can't be found in it" in says(job, memory)
    journal.unlink()
    assert "2 entries saved on this device can't be found in it" in says(job, memory)


def test_an_entry_that_was_rewritten_is_missed_though_its_number_is_there(job: Path) -> None:
    entries = JobFile.open(job, read_only=True).entries
    changed = msgspec.structs.replace(entries[-1], note="never said")
    assert lacking([*entries[:-1], changed], [end_of(entries[-1])]) == (end_of(entries[-1]),)


def test_another_copy_of_the_job_on_the_same_machine_is_none_that_was_put_back(
    job: Path, tmp_path: Path, memory: Memory
) -> None:
    assert says(tmp_path / "backup" / "barn.json", memory) == ""


def test_a_job_that_was_moved_is_still_known(job: Path, tmp_path: Path, memory: Memory) -> None:
    job.parent.rename(tmp_path / "van")
    assert says(tmp_path / "van" / "barn.json", memory) == ""
    assert "2 entries" in says(tmp_path / "backup" / "barn.json", memory), "it is the only copy that is left"


def test_what_is_begun_from_its_first_copy_is_no_older_one(job: Path, tmp_path: Path, memory: Memory) -> None:
    """As the sample is, that somebody played with and threw away. Another copy that stands is still known."""
    shutil.copytree(job.parent, tmp_path / "van")
    with JobFile.open(tmp_path / "van" / "barn.json", memory=memory) as file:
        file.append([after(file.entries, "in the van")])
    put_back(job)
    assert "2 entries" in says(job, memory)
    memory.forget(JOB, job)
    assert says(job, memory) == ""
    assert memory.entries(JOB, job) == []
    with JobFile.open(tmp_path / "van" / "barn.json", read_only=True) as file:
        assert memory.ends(JOB, tmp_path / "van" / "barn.json")[-1] == end_of(file.entries[-1])


def test_each_devices_end_is_remembered(tmp_path: Path, memory: Memory) -> None:
    entries = went_on(ENTRIES, 2, "phone-02")
    place = saved(tmp_path / "barn.json", ENTRIES)
    with JobFile.open(place, memory=memory) as file:
        file.join(entries)
    place.write_bytes(saved(tmp_path / "older.json", ENTRIES).read_bytes())
    assert [end.device for end in JobFile.open(place, read_only=True, memory=memory).missing] == ["phone-02"]


@pytest.mark.parametrize("spoilt", [b"", b"{", b"\xff\xfe\n", b'{"place":1}\n', b"[" * 10_000])
def test_a_memory_that_is_spoilt_is_done_without(job: Path, memory: Memory, spoilt: bytes) -> None:
    (memory.folder / f"{JOB}.ends").write_bytes(spoilt)
    (memory.folder / f"{JOB}.unsaved").write_bytes(spoilt)
    put_back(job)
    assert says(job, memory) == ""
    assert memory.waiting(JOB, job) == []
    with JobFile.open(job, memory=memory) as file:
        file.append([after(file.entries)])


def test_where_nothing_can_be_kept_a_job_is_written_all_the_same(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    nowhere = Memory(tmp_path / "file")
    with JobFile.create(tmp_path / "barn.json", ENTRIES, memory=nowhere) as file:
        file.append([after(file.entries)])
    assert not nowhere.keep_waiting(JOB, tmp_path / "barn.json", [(Draft(act="note"), author())])
    assert (file.lacks, nowhere.waiting(JOB, tmp_path / "barn.json")) == ("", [])


def test_what_is_remembered_of_a_job_stays_short(job: Path, tmp_path: Path, memory: Memory) -> None:
    ends = [end_of(entry) for entry in ENTRIES]
    for number in range(600):
        memory.wrote(JOB, tmp_path / str(number % 3), ends[: 1 + number % 2], ENTRIES)
    assert (memory.folder / f"{JOB}.ends").stat().st_size > LONG
    memory.wrote(JOB, job, ends)
    before = memory.entries(JOB, tmp_path / "0")
    memory.keep_copy(JOB, job)
    assert memory.ends(JOB, job)[-3:] == ends
    assert memory.entries(JOB, tmp_path / "0") == before
    assert len(memory.entries(JOB, job)) == 5


def test_what_is_missing_is_brought_back_from_what_this_machine_has_kept(job: Path, memory: Memory) -> None:
    whole = JobFile.open(job, read_only=True).entries
    put_back(job)
    held = JobFile.open(job, memory=memory)
    assert held.recall() == 2
    assert (held.entries, held.missing, held.recall()) == (whole, (), 0)
    held.append([after(held.entries, "before a kill")])
    last = held.entries
    held.let_go()
    put_back(job)
    with JobFile.open(job, memory=memory) as file:
        assert file.recall() == 3
        assert file.entries == last
    assert says(job, memory) == ""


def test_a_kept_copy_that_is_spoilt_is_done_without(job: Path, memory: Memory) -> None:
    for copy in memory.folder.glob("*.json"):
        copy.write_bytes(b"{")
    (memory.folder / f"{JOB}.ends").write_bytes(b"")
    assert memory.entries(JOB, job) == []


def test_what_is_kept_is_for_its_user_alone(job: Path, memory: Memory) -> None:
    assert memory.folder.stat().st_mode & 0o077 == 0


# --- what waits to be saved ---


def acts(*words: str) -> list[tuple[Draft, Author]]:
    return [
        (Draft(act="note", part="main", value={"@n": [1, 2.5, None]}, note=word), author(minutes=number))
        for number, word in enumerate(words)
    ]


def test_what_waits_comes_back_as_it_was(job: Path, memory: Memory) -> None:
    assert memory.keep_waiting(JOB, job, acts("one", "two"))
    back = Memory(memory.folder).waiting(JOB, job)
    assert back == acts("one", "two")
    assert [hand.now.utcoffset() for _, hand in back] == [timedelta(0)] * 2
    assert memory.keep_waiting(JOB, job, [])
    assert memory.waiting(JOB, job) == []
    assert not (memory.folder / f"{JOB}.unsaved").exists()


def test_what_waits_in_one_copy_goes_into_no_other_unless_it_was_moved(
    job: Path, tmp_path: Path, memory: Memory
) -> None:
    other = tmp_path / "backup" / "barn.json"
    memory.keep_waiting(JOB, job, acts("one"))
    memory.keep_waiting(JOB, other, acts("two"))
    assert memory.waiting(JOB, other) == acts("two")
    job.unlink()
    assert memory.waiting(JOB, other) == [*acts("one"), *acts("two")]


def test_what_waits_is_kept_though_the_disk_brings_nothing_to_rest(
    job: Path, memory: Memory, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    assert memory.keep_waiting(JOB, job, acts("one"))
    assert memory.waiting(JOB, job) == acts("one")


# --- where it is kept ---


def test_the_folder_is_the_users_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert machines_own({"XDG_STATE_HOME": str(tmp_path)}).folder == tmp_path / "sitelog"
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    monkeypatch.setattr("sys.platform", "linux")
    for none in ({}, {"XDG_STATE_HOME": ""}, {"XDG_STATE_HOME": "relative/path"}):
        assert machines_own(none).folder == tmp_path / ".local/state/sitelog"


def test_an_end_says_who_and_when() -> None:
    entry: Entry = ENTRIES[-1]
    assert end_of(entry) == End("tablet01", 3, entry.digest(), "2026-03-02T07:02:00.000Z", "A. Foreman")
    assert SEVEN.isoformat() < entry.at.replace("Z", "+00:00")

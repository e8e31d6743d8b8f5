"""Saved means in the file that stands there now: what is replaced meanwhile is joined, what is gone is said."""

import os
from pathlib import Path

import pytest

from sitelog.job.log.entry import Entry
from sitelog.job.machine.memory import Memory
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.journal import Journal
from sitelog.job.storage.store import Tables, WholeFile
from sitelog.job.storage.verify import verify
from sitelog.refusal import NOT_SAVED, Refusal
from tests.job.logs import after, log, saved
from tests.job.test_merge import went_on

ENTRIES = log(3)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    (tmp_path / "desk").mkdir()
    return saved(tmp_path / "desk" / "barn.json", ENTRIES)


def on_the_disk(job: Path) -> list[Entry]:
    """What anybody finds who opens it now."""
    return JobFile.open(job, read_only=True).entries


def by_another_device(folder: Path, count: int) -> list[Entry]:
    """A copy of the job that another device went on with and did not close: its journal stands."""
    other = saved(folder / "barn.json", ENTRIES)
    file = JobFile.open(other)
    theirs = went_on(ENTRIES, count, "phone-02")[len(ENTRIES) :]
    file.append(theirs)
    return theirs


@pytest.mark.parametrize("when", ["before the line", "with the line"])
def test_a_journal_that_is_replaced_by_another_devices_takes_no_entry_with_it(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, when: str
) -> None:
    """As a program does that brings a folder up to date: it renames its file over ours, and ours is in no folder."""
    (tmp_path / "phone").mkdir()
    theirs = by_another_device(tmp_path / "phone", 2)
    place, new = beside(job) / "journal.tablet01", beside(tmp_path / "phone" / "barn.json") / "journal.phone-02"
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        if when == "before the line":
            new.replace(place)
        else:
            real = Journal._put

            def meanwhile(journal: Journal, handle: int, what: list[object]) -> None:
                real(journal, handle, what)
                if new.exists():
                    new.replace(place)

            monkeypatch.setattr(Journal, "_put", meanwhile)
        for _ in range(4):
            file.append([after(file.entries)])
            assert all(entry in on_the_disk(job) for entry in (*file.entries, *theirs)), "what is called saved is there"
    assert len(on_the_disk(job)) == 3 + 5 + 2
    assert verify(job) == []


def test_another_devices_journal_that_comes_at_the_close_is_not_dropped(
    job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "phone").mkdir()
    theirs = by_another_device(tmp_path / "phone", 2)
    new = beside(tmp_path / "phone" / "barn.json") / "journal.phone-02"
    write = WholeFile.write

    def late(store: WholeFile, data: Tables) -> None:
        new.replace(beside(job) / "journal.tablet01")
        write(store, data)

    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        monkeypatch.setattr(WholeFile, "write", late)
        file.close()
    monkeypatch.undo()
    assert all(entry in on_the_disk(job) for entry in theirs)
    with JobFile.open(job) as file:
        assert len(file.entries) == 3 + 1 + 2
    assert verify(job) == []


def test_a_disk_that_can_not_be_asked_what_stands_there_has_not_saved(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        real, put = Journal.changed, Journal._put

        def barred(journal: Journal) -> bool:
            raise OSError(5, "Input/output error")

        def then(journal: Journal, handle: int, what: list[object]) -> None:
            put(journal, handle, what)
            monkeypatch.setattr(Journal, "changed", barred)

        monkeypatch.setattr(Journal, "_put", then)
        with pytest.raises(Refusal, match="Not saved") as refused:
            file.append([after(file.entries)])
        assert refused.value.code == NOT_SAVED
        monkeypatch.setattr(Journal, "changed", real)
        monkeypatch.setattr(Journal, "_put", put)
        file.append([after(file.entries)])
    assert verify(job) == []


def test_the_same_file_under_its_name_is_no_other(job: Path) -> None:
    """Saved by another device, put back: what tells is the file, not its name, size or time."""
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        place = beside(job) / "journal.tablet01"
        found = place.stat()
        place.with_name("copy").write_bytes(place.read_bytes())
        os.utime(place.with_name("copy"), ns=(found.st_atime_ns, found.st_mtime_ns))
        place.with_name("copy").replace(place)
        file.append([after(file.entries)])
        assert on_the_disk(job) == file.entries


@pytest.mark.parametrize(("what", "says"), [("file", "barn.json"), ("folder", "The folder desk")])
def test_a_job_that_is_moved_away_says_so_and_is_not_called_saved(job: Path, what: str, says: str) -> None:
    with JobFile.open(job) as file:
        assert file.gone() == ""
        file.append([after(file.entries)])
        (job if what == "file" else job.parent).rename(job.parents[1] / "away")
        assert file.gone() == f"{says} was moved, renamed or deleted"
        with pytest.raises(Refusal) as refused:
            file.append([after(file.entries)])
        assert (refused.value.message, refused.value.code) == (
            f"Not saved: {says} was moved, renamed or deleted.",
            NOT_SAVED,
        )
        file.close()
        assert file.left_beside == f"{says} was moved, renamed or deleted."


def test_a_job_that_is_gone_at_the_close_is_kept_in_the_machines_own_folder(job: Path, tmp_path: Path) -> None:
    memory = Memory(tmp_path / "state")
    for number in (1, 2):
        with JobFile.open(job, memory=memory) as file:
            file.append([after(file.entries)])
            raw = job.read_bytes()
            job.unlink()
        kept = tmp_path / "state" / "kept" / ("barn.json" if number == 1 else "barn-2.json")
        assert file.left_beside == f"barn.json was moved, renamed or deleted. All of it is kept in {kept}."
        assert on_the_disk(kept) == file.entries
        job.write_bytes(raw)
    (tmp_path / "file").write_bytes(b"")
    with JobFile.open(job, memory=Memory(tmp_path / "file")) as file:
        file.append([after(file.entries)])
        job.unlink()
    assert file.left_beside == "barn.json was moved, renamed or deleted."


def test_nothing_is_said_of_a_gone_job_into_which_nothing_was_entered(job: Path) -> None:
    with JobFile.open(job) as file:
        job.unlink()
    assert file.left_beside == ""

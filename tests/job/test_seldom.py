"""What comes seldom: a journal that goes between two looks, another's put in its place, a memory that isn't there."""

from pathlib import Path

import pytest

from sitelog.job.log.entry import Entry
from sitelog.job.machine.lacking import Remembered, going_on, how_many
from sitelog.job.machine.memory import end_of
from sitelog.job.storage import journal as module
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.journal import Journal
from sitelog.job.storage.journals import Beside, Journals
from sitelog.job.storage.lines import Left
from sitelog.job.storage.verify import verify
from sitelog.refusal import NOT_SAVED, Refusal
from tests.job.logs import log, saved

ENTRIES = log(6)


def begun(folder: Path, entries: list[Entry]) -> Journal:
    """A journal of these, one save each."""
    made = Journal(folder / "barn.json.files" / "journal.tablet01")
    for number, entry in enumerate(entries):
        made.add(ENTRIES[0].id, {}, entries[:number], [entry])
    return made


def test_without_a_memory_nothing_is_known_or_kept(tmp_path: Path) -> None:
    remembered = Remembered(None, tmp_path / "barn.json")
    remembered.take(ENTRIES)
    remembered.wrote(ENTRIES, ENTRIES[-1:])
    assert (remembered.lost(ENTRIES[:3]), remembered.missing, remembered.rescue(b"")) == ([], (), "")


def test_nobody_goes_on_without_entries_and_without_a_reason() -> None:
    missing = [end_of(ENTRIES[-1])]
    with pytest.raises(Refusal, match="Say why"):
        going_on(ENTRIES[:3], missing, "  ")
    assert going_on(ENTRIES[:3], missing, "tablet lost").note.endswith("tablet lost")


def test_what_another_device_has_entered_makes_nothing_up_for_what_is_missing() -> None:
    other = log(3, "phone001")
    assert how_many([*ENTRIES[:3], *other], [end_of(ENTRIES[-1])]) == 3


def test_a_job_that_another_program_replaces_at_every_save_is_not_saved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = JobFile.create(tmp_path / "barn.json", ENTRIES[:3])
    monkeypatch.setattr(Journals, "replaced", lambda _: True)
    with pytest.raises(Refusal, match="all the time") as refused:
        file.append(ENTRIES[3:4])
    assert refused.value.code == NOT_SAVED
    monkeypatch.undo()
    file.close()


def test_a_journal_that_is_not_there_is_none_and_one_that_can_not_be_read_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert Journal(tmp_path / "journal.tablet01").read() is None
    (tmp_path / "journal.phone001").mkdir()
    with pytest.raises(Refusal):
        Journal(tmp_path / "journal.phone001").read()

    def hidden(path: Path) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(module, "stamp", hidden)
    with pytest.raises(Refusal):
        Journal(tmp_path / "journal.phone001").read()


def test_a_journal_that_is_folded_in_while_it_is_read_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    mine = begun(tmp_path, ENTRIES[:2])

    def folded(path: Path, name: str) -> None:
        path.unlink()
        raise Refusal(f"{name} is gone")

    monkeypatch.setattr(module, "load", folded)
    assert Journal(mine.path).read() is None


def test_a_journal_with_a_damaged_line_is_kept_under_another_name_when_it_is_begun_anew(tmp_path: Path) -> None:
    mine = begun(tmp_path, ENTRIES[:2])
    mine.close()
    raw = bytearray(mine.path.read_bytes())
    raw[-30] ^= 1
    mine.path.write_bytes(raw)
    again = Journal(mine.path)
    left = again.read()
    assert left is not None and not left.as_written
    again.add(ENTRIES[0].id, {}, left.entries, ENTRIES[2:3])
    assert (mine.path.parent / "journal.broken").read_bytes() == bytes(raw)


def test_a_journal_that_another_put_there_is_not_taken_away(tmp_path: Path) -> None:
    mine = begun(tmp_path, ENTRIES[:2])
    mine.path.unlink()
    mine.path.write_bytes(b"another's\n")
    mine.drop()
    assert mine.path.read_bytes() == b"another's\n"


def test_a_journal_put_there_since_it_was_read_is_begun_anew(tmp_path: Path) -> None:
    begun(tmp_path, ENTRIES[:2]).close()
    mine = Journal(tmp_path / "barn.json.files" / "journal.tablet01")
    left = mine.read()
    assert left is not None and left.entries == tuple(ENTRIES[:2])
    raw = mine.path.read_bytes()
    mine.path.unlink()
    mine.path.write_bytes(raw)
    mine.add(ENTRIES[0].id, {}, ENTRIES[:2], ENTRIES[2:3])
    again = Journal(mine.path).read()
    assert again is not None and again.entries == tuple(ENTRIES[:3])


def test_a_journal_that_goes_while_the_folder_is_read_is_left_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = saved(tmp_path / "barn.json", ENTRIES[:3])
    begun(tmp_path, ENTRIES[:2]).close()
    monkeypatch.setattr(Journal, "read", lambda _: None)
    with JobFile.open(job, read_only=True) as file:
        assert file.count == 3


def test_a_journal_of_another_job_is_proved_by_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = saved(tmp_path / "barn.json", ENTRIES[:3])
    beside = Beside(Journal(tmp_path / "journal.phone001"), Left(job="another", seals={}))
    monkeypatch.setattr(Journals, "read", lambda _: [beside])
    (fault,) = verify(job)
    assert "journal.phone001" in fault

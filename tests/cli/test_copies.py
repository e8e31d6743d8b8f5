"""A copy of a job in its folder, as commands show it: what it has, how to join it, and what became of it."""

import json
import shutil
from pathlib import Path

import pytest
from tinydb import TinyDB

from sitelog.job.log.entry import Entry
from sitelog.job.storage.disk import beside
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.format import seals
from sitelog.job.storage.journal import Journal
from tests.cli.conftest import Say
from tests.cli.test_keep import BY
from tests.job.logs import after, author


@pytest.fixture
def copy(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy beside the job in which another tablet has entered two notes."""
    path = Path(job).with_name(f"{Path(job).stem} (conflicted copy of tablet).json")
    shutil.copy(job, path)
    with monkeypatch.context() as patch:
        patch.setenv("SITELOG_DEVICE", "phone001")
        for note in ("dry", "windy"):
            assert say("note", str(path), "main", note, *BY).code == 0
    shutil.rmtree(beside(path))
    return path


def test_show_and_verify_say_what_a_copy_has_and_change_nothing(say: Say, job: str, copy: Path) -> None:
    line = (
        f"A copy from another tablet has 2 entries that aren't in this job: {copy.name}. "
        f"To join it: sitelog merge {job}"
    )
    assert say("show", job).out.splitlines()[-1] == line
    verified = say("verify", job)
    assert (verified.code, verified.out.splitlines()[0]) == (0, line)
    assert json.loads(say("show", job, "--json").out)["copies"] == [line]
    assert json.loads(say("verify", job, "--json").out)["beside"] == [line]
    assert copy.exists()
    shutil.copy(job, copy)
    spare = f"{copy.name} is a copy of this job with nothing new in it. To remove it: sitelog merge {job}"
    assert say("show", job).out.splitlines()[-1] == spare


def test_merge_without_a_copy_joins_those_beside_the_job(say: Say, job: str, copy: Path) -> None:
    said = say("merge", job)
    assert said.code == 0
    first, joined, *_ = said.out.splitlines()
    assert first.startswith(f"{job}: 2 entries added, ")
    assert joined == (f"Joined {copy.name}: 2 entries added. The copy is now in the job's own folder, under copies.")
    assert not copy.exists()
    shutil.copy(job, copy)
    found = json.loads(say("merge", job, "--json").out)
    assert (found["added"], found["aside"], found["removed"]) == (0, [], [copy.name])
    assert f"Removed {copy.name}: a copy of this job with nothing new in it." in found["said"]
    assert say("verify", job).code == 0


def test_a_copy_that_is_named_is_only_read(say: Say, job: str, copy: Path) -> None:
    before = copy.read_bytes()
    assert say("merge", job, str(copy)).out.startswith(f"{job}: 2 entries added")
    assert copy.read_bytes() == before


@pytest.mark.parametrize("words", [("show",), ("order",), ("verify",), ("note", "main", "wet", *BY), ("merge",)])
def test_when_a_command_has_ended_the_file_alone_holds_all_that_is_known(
    say: Say, job: str, copy: Path, words: tuple[str, ...]
) -> None:
    """Another tablet's journal was brought beside the job, and nothing else of it."""
    (copy.parent / "away").mkdir()
    away = copy.rename(copy.parent / "away" / copy.name)
    entries = JobFile.open(away, read_only=True).entries
    with JobFile.open(job) as file:
        own = file.entries
    notes = [entry for entry in entries if entry not in own]
    Journal(beside(Path(job)) / "journal.phone001").add(own[0].id, seals(own), (), notes)
    say(words[0], job, *words[1:])
    with TinyDB(job) as plain:
        assert {doc["id"] for doc in plain.table("entries")} >= {entry.id for entry in entries}


def test_a_record_with_a_fault_stays_as_verify_found_it(say: Say, job: str) -> None:
    before_it = Path(job).read_text()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
    Path(job).write_text(before_it.replace("Test roof", "Best roof"))  # and the note is in the journal alone
    before = {path: path.read_bytes() for path in (Path(job), *beside(Path(job)).glob("journal*"))}
    assert say("verify", job).code == 1
    assert {path: path.read_bytes() for path in before} == before


def broken_off(job: str, count: int = 2) -> tuple[Path, list[Entry]]:
    """The journal of a writer that lost its power in the middle of the last of so many saves, and the whole ones.

    The file has none of them.
    """
    before = Path(job).read_bytes()
    with JobFile.open(job) as file:
        held = len(file.entries)
        for _ in range(count):
            file.append([after(file.entries)])
        (journal,) = (path for path in file.files.iterdir() if b"the next" in path.read_bytes())
        raw, entries = journal.read_bytes(), file.entries[held:-1]
    Path(job).write_bytes(before)
    journal.write_bytes(raw[:-20])
    return journal, entries


def test_what_was_saved_before_a_line_that_broke_off_goes_into_the_file_once_verify_has_told_it(
    say: Say, job: str
) -> None:
    _, (whole,) = broken_off(job)
    said = say("verify", job)
    assert (said.code, "stops part-way through its last line" in said.out) == (1, True)
    assert whole.id in Path(job).read_text()
    assert say("verify", job).code == 0, "what was never confirmed is gone"


@pytest.mark.parametrize(("words", "code"), [("show", 0), ("verify", 1)])
def test_the_journal_of_another_device_is_not_written_for_its_last_line(
    say: Say, job: str, monkeypatch: pytest.MonkeyPatch, words: str, code: int
) -> None:
    """A program that copies folders may have brought only a part of it yet."""
    monkeypatch.setenv("SITELOG_DEVICE", "phone001")
    journal, (whole,) = broken_off(job)
    before = journal.read_bytes()
    assert say(words, job).code == code
    assert whole.id in Path(job).read_text()
    assert journal.read_bytes() == before


def test_a_line_that_broke_off_and_was_confirmed_here_stays_as_verify_found_it(say: Say, job: str) -> None:
    """This machine remembers that the last save was on the disk: its journal was cut since."""
    before = Path(job).read_bytes()
    assert say("note", job, "main", "dry", *BY).code == 0
    (journal,) = beside(Path(job)).glob("journal*")
    Path(job).write_bytes(before)
    cut = journal.read_bytes()[:-20]
    journal.write_bytes(cut)
    said = say("verify", job)
    assert said.code == 1 and "stops part-way through its last line" in said.out
    assert (Path(job).read_bytes(), journal.read_bytes()) == (before, cut)


@pytest.mark.parametrize("words", ["show", "verify"])
def test_a_job_that_is_open_on_a_screen_is_left_to_it(say: Say, job: str, words: str) -> None:
    with JobFile.open(job, author=author()) as file:
        file.append([after(file.entries)])
        before = Path(job).read_bytes()
        assert say(words, job).code == 0
        assert Path(job).read_bytes() == before

"""What the program's number at the end means to a script: each has its one meaning, for ever."""

from pathlib import Path

import pytest

from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.file import JobFile
from tests.cli.conftest import Say
from tests.job.logs import after, author

BY = ("--by", "M. Reed")
DONE, PROBLEM, USAGE, DAMAGED, NOT_SAVED, HELD, INTERRUPTED = 0, 1, 2, 3, 4, 5, 130


def test_0_what_was_asked_is_done(say: Say, job: str) -> None:
    for words in (("verify", job), ("show", job), ("note", job, "main", "dry", *BY), ("calc", "common", "--help")):
        assert say(*words).code == DONE


def test_1_a_problem_was_found_and_told(say: Say, job: str) -> None:
    raw = Path(job).read_bytes()
    Path(job).write_bytes(raw.replace(b"Test roof", b"Best roof"))
    said = say("verify", job)
    assert (said.code, bool(said.out), said.err) == (PROBLEM, True, "")


def test_1_the_job_is_not_ready_for_it(say: Say, job: str) -> None:
    """A hold not signed, a stage not done, an answer that is out, a reading that stops the work."""
    for words in (
        ("record", job, "main.plates.sides", "ab=1", *BY),
        ("sign", job, "job.before", *BY),
        ("sign", job, "main.plates", *BY),
    ):
        said = say(*words)
        assert (said.code, said.refused_in_one_line) == (PROBLEM, True), words
    for stage in ("job.before", "main.finish"):
        assert say("release", job, stage, "--reason", "not looked at in this test", *BY).code == DONE
    figures = ("ab=8996", "bc=6003", "cd=9007", "da=6002", "ac=10826", "bd=10813")
    said = say("record", job, "main.plates.sides", *figures, *BY)
    assert (said.code, said.err) == (PROBLEM, ""), "it is entered, and out"
    assert "OUT" in said.out


def test_2_it_was_asked_for_in_a_way_that_is_not_known_or_not_possible(say: Say, job: str) -> None:
    for words in (
        ("nonsense",),
        ("show", f"{job}.none"),
        ("note", job, "main", "x"),
    ):
        said = say(*words)
        assert (said.code, said.refused_in_one_line) == (USAGE, True), words


def test_3_the_file_is_damaged(say: Say, job: str) -> None:
    Path(job).write_bytes(Path(job).read_bytes()[:-1])
    for words in (("show", job), ("note", job, "main", "dry", *BY), ("merge", job)):
        said = say(*words)
        assert (said.code, said.refused_in_one_line) == (DAMAGED, True), words


def test_4_it_is_not_saved(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    said = say("note", job, "main", "dry", *BY)
    assert (said.code, said.refused_in_one_line) == (NOT_SAVED, True)


def test_5_another_holds_it(say: Say, job: str) -> None:
    with JobFile.open(job, author=author(), memory=machines_own()):
        for words in (("note", job, "main", "dry", *BY), ("merge", job), ("handover", job, "--to", "tiler", *BY)):
            said = say(*words)
            assert (said.code, said.refused_in_one_line) == (HELD, True), words
            assert "A. Foreman" in said.err
        assert say("show", job).code == DONE, "it can be read all the same"


def test_130_it_was_interrupted(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    before = Path(job).read_bytes()
    monkeypatch.setattr("sitelog.job.storage.file.Lock.take", interrupted)
    said = say("note", job, "main", "dry", *BY)
    assert (said.code, said.out, said.err) == (INTERRUPTED, "", "")
    assert Path(job).read_bytes() == before


def test_what_can_not_be_read_beside_the_job_is_told_at_every_opening_and_stops_no_work(say: Say, job: str) -> None:
    """One changed byte in the last line of the journal of a job whose writer was killed."""
    before = Path(job).read_bytes()
    with JobFile.open(job) as file:
        file.append([after(file.entries)])
        (journal,) = (path for path in file.files.iterdir() if b"the next" in path.read_bytes())
        raw = journal.read_bytes()
    Path(job).write_bytes(before)
    journal.write_bytes(raw.replace(b"the next", b"the text"))
    for words in (("show", job), ("note", job, "main", "dry", *BY)):
        said = say(*words)
        assert (said.code, said.err.count("\n")) == (DONE, 1)
        assert "its line 2 has been changed since it was written. It can't be read, and is kept" in said.err
    said = say("verify", job)
    assert (said.code, "journal.broken has 1 entry that can't be read or found in the record" in said.out) == (1, True)

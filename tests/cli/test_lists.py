"""`sitelog lists` as a command: what it says, what it enters, and what it refuses."""

import shutil
from pathlib import Path

import pytest

from sitelog.cli.run import run
from sitelog.job.storage.file import JobFile

OLD = Path(__file__).parent.parent / "old_jobs" / "kiln-lane.json"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return Path(shutil.copy(OLD, tmp_path))


def entries(job: Path) -> list[str]:
    with JobFile.open(job, read_only=True) as file:
        return [entry.act for entry in file.entries]


def test_what_newer_lists_change_is_told_and_nothing_is_entered(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = entries(job)
    assert run(["lists", str(job)]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[-1].startswith("newer checklists: ") and told[-1].endswith("To use them add --update --by NAME")
    assert all(line.partition(": ")[0] in ("new", "changed", "removed") for line in told[:-1])
    assert all("; " in line for line in told if line.startswith("changed: main."))
    assert entries(job) == before


def test_a_job_is_brought_to_them_once_by_name(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = entries(job)
    assert run(["lists", str(job), "--update", "--by", "M. Reed"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "the job uses the newest checklists from here on"
    assert entries(job) == [*before, "pin"]
    assert run(["lists", str(job), "--update", "--by", "M. Reed"]) == 2
    assert capsys.readouterr().err == "sitelog: This job uses the newest checklists already\n"
    assert run(["lists", str(job)]) == 0
    assert capsys.readouterr().out == "the job uses the newest checklists\n"
    assert entries(job) == [*before, "pin"]


def test_nobody_brings_a_job_to_them_without_a_name(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("SITELOG_BY", raising=False)
    before = entries(job)
    assert run(["lists", str(job), "--update"]) == 2
    assert capsys.readouterr().err == 'sitelog: Add your name: --by "M. Reed"\n'
    assert entries(job) == before

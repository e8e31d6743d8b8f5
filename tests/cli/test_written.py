"""Every file that a command makes: for those who may read the job, through no link, under a name that nobody had."""

import os
import shutil
import stat
from pathlib import Path

import pytest

from sitelog.checklist.schema.shipped import sample_folder
from tests.cli.conftest import Say

BY = ("--by", "M. Reed")
COMMANDS = {
    "handover": ("handover", "--to", "tiler", "--out", "out", *BY),
    "order": ("order", "--out", "out"),
    "templates": ("templates", "main", "1", "--out", "out"),
    "templates --svg": ("templates", "main", "1", "--svg", "--out", "out"),
    "drawings --svg": ("drawings", "main", "--svg", "out"),
    "drawings --sticks": ("drawings", "main", "--sticks", "--out", "out"),
    "instruct": ("instruct", "main", "trim for a rooflight", "--who", "P. Vale", *BY),
}
pytestmark = pytest.mark.skipif(os.name == "nt", reason="links and rights of POSIX")


@pytest.fixture
def sample(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    job = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path / "kiln-lane.json"))
    job.chmod(0o640)
    return job


def made(say: Say, job: Path, name: str) -> list[Path]:
    before = {path for path in job.parent.rglob("*") if path.is_file()}
    command, *more = COMMANDS[name]
    file = [str(job)]
    said = say(command, *file, *more)
    assert said.code in (0, 1), said.err
    beside = job.with_name(f"{job.name}.files")
    new = {path for path in job.parent.rglob("*") if path.is_file()} - before
    return sorted(path for path in new if beside not in path.parents)


@pytest.mark.parametrize("name", COMMANDS)
def test_a_file_is_for_those_who_may_read_the_job_and_goes_through_no_link(say: Say, sample: Path, name: str) -> None:
    files = made(say, sample, name)
    assert files
    assert {stat.S_IMODE(file.stat().st_mode) for file in files} == {0o640}
    theirs = sample.with_name("theirs")
    theirs.write_bytes(b"theirs")
    for file in files:
        file.unlink()
        file.symlink_to(theirs)
    made(say, sample, name)
    assert theirs.read_bytes() == b"theirs"
    if name != "instruct":  # which has a number more
        assert all(file.is_file() and not file.is_symlink() for file in files)
    assert not list(sample.parent.rglob(".*.saving"))


def test_a_sample_is_copied_through_no_link(say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("site").mkdir()
    shutil.copy(sample_folder() / "mill-yard.json", "site")
    Path("site/kiln-lane.json").symlink_to(tmp_path / "away.json")
    assert say("sample", "site").code == 0
    assert not Path("away.json").exists() and not Path("site/kiln-lane.json").is_symlink()

"""What is opened: a job, or the jobs of a folder, under a name that may come before the command or without one."""

from io import StringIO
from pathlib import Path

import pytest

from sitelog.job.storage.file import JobFile
from tests.cli.conftest import Say


@pytest.fixture
def empty_stdin(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", StringIO(""))


@pytest.mark.usefixtures("empty_stdin")
def test_open_with_a_folder_lists_its_jobs(say: Say, job: str) -> None:
    folder = str(Path(job).parent)
    listed = say("--plain", "open", folder)
    assert (listed.code, listed.err) == (0, "")
    assert f"Jobs in {Path(folder).name}." in listed.out
    assert "Test roof" in listed.out


def test_a_job_begun_from_a_folder_s_list_goes_into_that_folder(
    say: Say, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    site = tmp_path / "site"
    site.mkdir()
    begun: list[Path] = []

    def set_up(_talk: object, folder: Path, *_rest: object, **_named: object) -> None:
        begun.append(folder)
        raise EOFError

    monkeypatch.setattr("sys.stdin", StringIO("1\n"))
    monkeypatch.setattr("sitelog.lines.new_job.new_job", set_up)
    assert say("--plain", "open", str(site)).code == 0
    assert begun == [site]


def test_the_screens_over_a_folder_say_that_they_need_a_terminal(say: Say, tmp_path: Path) -> None:
    refused = say("open", str(tmp_path))
    assert refused.refused_in_one_line
    assert "Run this in a terminal" in refused.err


def test_a_folder_where_a_job_is_meant_is_refused(say: Say, tmp_path: Path) -> None:
    refused = say("show", str(tmp_path))
    assert refused.refused_in_one_line
    assert "is a folder: name the job file" in refused.err


@pytest.mark.usefixtures("empty_stdin")
def test_a_name_alone_opens_the_jobs_of_this_folder(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(Path(job).parent)
    assert "Test roof" in say("--plain", "--by", "M. Reed").out


def test_a_name_may_come_before_the_command(say: Say, job: str) -> None:
    assert say("--by", "M. Reed", "note", job, "main", "Rain at 10").code == 0
    assert say("--by", "M. Reed", "note", job, "main", "Dry at 11", "--by", "K. Holm").code == 0
    with JobFile.open(Path(job), read_only=True) as file:
        assert [entry.by for entry in file.entries[-2:]] == ["M. Reed", "K. Holm"]


def test_a_name_that_is_left_out_is_asked_for(say: Say) -> None:
    refused = say("--by")
    assert refused.refused_in_one_line
    assert "--by needs a value after it" in refused.err

"""`sitelog handover`: the pack by script, read only without a name, entered in the job with one."""

from pathlib import Path

import pytest

from sitelog.cli.run import run
from sitelog.job.actions.setup import JobSetup
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.replies.points import numbered
from tests.reports.site import BEGIN
from tests.shipped import library


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    path = tmp_path / "kiln-lane.json"
    figures = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}
    author = Author(by="M. Reed", device="d1", now=BEGIN)
    parts = [("main", "Main roof", "hipped", figures)]
    setup = JobSetup(title="Kiln Lane", place="", units="metric", parts=parts)
    Job.create(path, library(), author, setup).close()
    return path


def test_without_a_name_the_pack_is_made_and_the_job_is_left_as_it_was(
    job_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = job_file.read_bytes()
    assert run(["handover", str(job_file), "--to", "tiler", "--out", str(tmp_path / "pack")]) == 1, "not signed"
    said = capsys.readouterr().out.splitlines()
    briefs = [f"brief-tiler.{one}" for one in ("pdf", "html", "txt")]
    names = [*briefs, "record.pdf", "record.html", "record.txt", "members.csv", "batches.csv", "order.csv"]
    assert said[:9] == [str(tmp_path / "pack" / f"kiln-lane-{name}") for name in names]
    assert said[9].startswith("NOT SIGNED: not checked ")
    assert said[10].startswith("first page: cautions not read ")
    assert "NOT SIGNED" in (tmp_path / "pack" / "kiln-lane-brief-tiler.txt").read_text(encoding="utf-8")
    assert job_file.read_bytes() == before


def test_with_a_name_the_handover_is_entered_at_the_head_code_that_the_pack_shows(
    job_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Job.open(job_file, library(), read_only=True) as job:
        head = job.state.head
    assert run(["handover", str(job_file), "--to", "tiler", "--by", "M. Reed"]) == 1, "not signed"
    assert f"entered by M. Reed: handed over to the tiler, record code {head}" in capsys.readouterr().out
    assert f"Record code {head}" in (job_file.parent / "kiln-lane-record.txt").read_text(encoding="utf-8")
    with Job.open(job_file, library(), read_only=True) as job:
        last = job.entries[-1]
        assert (last.act, last.value["to"], last.value["head"]) == ("handover", "tiler", head)
        assert [path for path, _ in last.value["points"]] == [view.path for view in numbered(job.state, "tiler")]


def test_a_trade_that_takes_nothing_over_is_refused_in_one_line_and_nothing_is_written(
    job_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["handover", str(job_file), "--to", "plumber", "--by", "M. Reed"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == "sitelog: 'plumber' isn't a trade on this job. Type one of: tiler\n"
    assert not list(job_file.parent.glob("*.html"))


def test_a_pack_that_can_not_be_saved_enters_nothing(job_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (job_file.parent / "taken").write_text("")
    before = job_file.read_bytes()
    assert (
        run(["handover", str(job_file), "--to", "tiler", "--by", "M. Reed", "--out", str(job_file.parent / "taken")])
        == 4
    )
    assert capsys.readouterr().err.startswith("sitelog: Not saved: ")
    assert job_file.read_bytes() == before

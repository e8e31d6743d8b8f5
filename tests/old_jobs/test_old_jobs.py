"""A job of an earlier day opens, shows every answer with its question, and is proved, whatever is asked today."""

import hashlib
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import shipped_folder, toml_files
from sitelog.cli.run import run
from sitelog.job.state.replay import replay
from sitelog.job.state.views import CheckView
from sitelog.job.storage.file import JobFile

HERE = Path(__file__).parent
JOBS = sorted(HERE.glob("*.json"))
LISTS_THEN = shipped_folder() / "earlier" / "2026-11-25"


@cache
def then() -> Library:
    return load(shipped=LISTS_THEN)


def answered(job: Path) -> list[CheckView]:
    """The answers that stood on that day, by the lists of that day."""
    with JobFile.open(job, read_only=True) as file:
        state = replay(then(), file.entries)
    return [view for view in state.checks() if any(entry.act == "answer" for entry in view.history)]


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    assert run(words) == 0, capsys.readouterr().err
    return capsys.readouterr().out


def asked(found: Any) -> Iterator[str]:
    """Every question that stands anywhere in what a job tells as data."""
    if isinstance(found, dict):
        yield from [found["ask"]] if isinstance(found.get("ask"), str) else []
        found = list(found.values())
    for one in found if isinstance(found, list) else ():
        yield from asked(one)


def test_there_is_a_job_of_every_form_of_that_day() -> None:
    assert {job.stem for job in JOBS} == {"kiln-lane", *then().forms()}
    assert all(len(answered(job)) > 20 for job in JOBS)


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.stem)
def test_an_old_job_shows_every_answer_with_its_question(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asks = {view.check.ask for view in answered(job)}
    page = said(capsys, "show", str(job))
    assert [ask for ask in asks if ask not in page] == []
    assert asks <= set(asked(json.loads(said(capsys, "show", str(job), "--json"))))


@pytest.mark.parametrize("job", JOBS, ids=lambda job: job.stem)
def test_an_old_job_is_proved_whole(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert "all entries and photos are as they were saved" in said(capsys, "verify", str(job))


def test_the_lists_of_that_day_are_as_they_were() -> None:
    """Their digests stand in old jobs: a text that was put right would no longer be found by any."""
    texts = b"".join(path.read_bytes() for path in toml_files(LISTS_THEN))
    assert hashlib.sha256(texts).hexdigest() == "ed5f49066cc057cfc51b9f7156ae915970de1b673128a17826ecc804d72c0f4b"
    for job in JOBS:
        with JobFile.open(job, read_only=True) as file:
            pins = next(entry.value for entry in file.entries if entry.act == "pin")
        assert dict(then().digests) == pins

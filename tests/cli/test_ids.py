"""Whatever enters an act gives it an id that no other copy of the job can give."""

import re
import sys
from pathlib import Path

import pytest

from sitelog.cli.run import run
from sitelog.job.storage.file import JobFile
from sitelog.tui.app import SitelogApp
from tests.cli.conftest import Say

BY = ("--by", "M. Reed")
BY_CHANCE = re.compile(r"[0-9]{13}-testdev1-[0-9a-f]{8}-[0-9]{6}")


def entries_by_chance(job: str) -> int:
    """How many entries the job has, once each has been seen to have an id by chance."""
    ids = [entry.id for entry in JobFile.open(job, read_only=True).entries]
    assert [id for id in ids if not BY_CHANCE.fullmatch(id)] == []
    return len(ids)


def test_a_command_and_a_line_give_ids_by_chance(say: Say, job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    before = entries_by_chance(job)
    assert say("note", job, "main", "dry", *BY).code == 0
    words = iter(["note\n", "bedded first\n", "quit\n"])
    monkeypatch.setattr(sys.stdin, "readline", lambda _: next(words, ""))
    assert say("--plain", "open", job, *BY).code == 0
    assert entries_by_chance(job) == before + 2


def test_two_copies_that_a_command_went_on_with_are_joined_whatever_the_clock(
    say: Say, job: str, tmp_path: Path
) -> None:
    copy = tmp_path / "copy.json"
    copy.write_bytes(Path(job).read_bytes())
    for file, words in ((job, "here"), (str(copy), "there")):
        for number in range(3):
            assert say("note", file, "main", f"{words} {number}", *BY).code == 0
    said = say("merge", job, str(copy))
    assert (said.code, "3 entries added" in said.out) == (0, True)


def test_the_screens_give_ids_by_chance(job: str, monkeypatch: pytest.MonkeyPatch) -> None:
    seen: list[str] = []
    monkeypatch.setenv("SITELOG_DEVICE", "testdev1")
    monkeypatch.setattr(SitelogApp, "run", lambda app: seen.extend(app.author().chance for _ in range(2)))
    monkeypatch.setattr("sitelog.cli.screen._terminal", lambda: True)
    assert run(["open", job, *BY]) == 0
    assert len(set(seen)) == 2
    assert all(re.fullmatch("[0-9a-f]{8}", chance) for chance in seen)

"""Where a terminal, a locale or a flag has only plain letters, every command says the same in them: no `?` for one."""

import os
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sitelog.calculators.index import WHERE, find
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.cli.words import COMMANDS
from sitelog.wording.letters import in_plain_letters
from tests.cli.conftest import Say

BY = ("--by", "M. Reed")


@pytest.fixture
def sample(tmp_path: Path) -> str:
    return str(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path / "kiln-lane.json"))


def both(say: Say, monkeypatch: pytest.MonkeyPatch, *words: str) -> str:
    """What a command says under LANG=C, which has no more question marks in it than it has anywhere."""
    usual = say(*words)
    with monkeypatch.context() as patch:
        patch.delenv("LC_ALL")
        patch.setenv("LANG", "C")
        plain = say(*words)
    told = plain.out + plain.err
    assert told.isascii(), words
    assert told.count("?") == (usual.out + usual.err).count("?"), words
    assert say("--ascii", *words).out == plain.out
    return told


@pytest.mark.parametrize("command", ["", *(command.name for command in COMMANDS)])
def test_help_is_told_in_plain_letters(say: Say, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    assert both(say, monkeypatch, *filter(None, [command]), "--help")


@pytest.mark.parametrize("command", ["show", "order", "templates", "drawings", "read", "verify", "lists"])
def test_a_job_is_told_in_plain_letters(say: Say, sample: str, monkeypatch: pytest.MonkeyPatch, command: str) -> None:
    told = both(say, monkeypatch, command, sample)
    if command in ("show", "order", "drawings"):
        assert " deg" in told


def test_every_calculator_is_told_in_plain_letters(say: Say, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LC_ALL", "POSIX")
    for name in WHERE:
        said = say("calc", name, *shlex.split(find(name).example)).out + say("calc", name, "--help").out
        assert said.isascii(), name
    assert " 9.00 m2" in say("calc", "surface", *shlex.split(find("surface").example)).out


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("35.5° · 12 m² – 3½ × 2 ≥ ±1", "35.5 deg - 12 m2 - 3 1/2 x 2 >= +/-1"),
        ("José Müller, Łódź", "Jose Muller, Lodz"),
        ("√ × Δ » › ■ ~ … ─", "v x * / > # ~ ... -"),
        ("木", "?"),
    ],
)
def test_a_letter_is_told_by_what_is_nearest_to_it(typed: str, told: str) -> None:
    assert in_plain_letters(typed) == told


def test_a_coding_keeps_the_letters_that_it_has() -> None:
    assert in_plain_letters("35° … José", "latin-1") == "35° ... José"


@pytest.mark.parametrize("env", [{"LANG": "C"}, {"LC_ALL": "C", "LANG": "en_GB.UTF-8"}, {"PYTHONIOENCODING": "ascii"}])
def test_the_installed_command_says_no_other_letter_and_never_fails(sample: str, env: dict[str, str]) -> None:
    bare = {name: value for name, value in os.environ.items() if not name.startswith(("LC_", "LANG", "PYTHONUTF8"))}
    run = [sys.executable, "-m", "sitelog"]
    given = {"capture_output": True, "env": bare | env, "check": False}
    note = subprocess.run([*run, "note", sample, "day", "3½ m – dry, 35°", *BY], **given)  # type: ignore[call-overload]
    assert note.returncode == 0 and note.stderr.isascii()
    told = subprocess.run([*run, "--plain", "open", sample, *BY], input=b"quit\n", **given)  # type: ignore[call-overload]
    assert (told.returncode, told.stderr) == (0, b"")
    assert told.stdout.isascii() and b"3 1/2 m - dry, 35 deg" in told.stdout

"""A job on disk and the command line over it, in this process."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from sitelog.cli.run import run

NEW = ["--title", "Test roof", "--part", "main:hipped", "main.length=9000", "main.width=6000", "main.pitch=35"]


@dataclass(frozen=True)
class Said:
    code: int
    out: str
    err: str

    @property
    def refused_in_one_line(self) -> bool:
        return self.out == "" and self.err.count("\n") == 1 and self.err.startswith("sitelog: ")


Say = Callable[..., Said]


@pytest.fixture
def say(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Say:
    monkeypatch.setenv("SITELOG_DEVICE", "testdev1")

    def said(*words: str) -> Said:
        capsys.readouterr()
        try:
            code = run(words)
        except SystemExit as stop:  # argparse's --help
            code = int(stop.code or 0)
        told = capsys.readouterr()
        return Said(code, told.out, told.err)

    return said


@pytest.fixture
def job(say: Say, tmp_path: Path) -> str:
    file = str(tmp_path / "roof.json")
    assert say("new", file, *NEW, "main.design_mass=40", "--by", "M. Reed").code == 0
    return file

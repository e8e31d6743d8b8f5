"""Commands from a standing start, against a bare interpreter."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.jobs import sample_copy
from tests.bench.row import Row, against

ROUNDS = 15
HELP, RECORD = 3.0, 5.0
SCRIPT = "from sitelog.cli.run import main; main()"  # what the installed command does


def rows() -> list[Row]:
    """`sitelog --help`, a sum, and an answer recorded."""
    with TemporaryDirectory() as folder:
        job = str(sample_copy(Path(folder)))
        # Each round records the same answer again: a new entry every time.
        record = ["record", job, "main.hip-lines.meeting", "p=2", "q=0", "--by", "M. Reed", "--note", "again"]
        return [
            _row("sitelog --help", ["--help"], HELP),
            _row("sitelog calc common", ["calc", "common", "run=3000", "pitch=35"], 0),
            _row("sitelog record", record, RECORD),
        ]


def _row(what: str, words: list[str], allowed: float) -> Row:
    command = [sys.executable, "-c", SCRIPT, *words]
    return against(what, _run(command), _run([sys.executable, "-c", "pass"]), rounds=ROUNDS, allowed=allowed)


def _run(command: list[str]) -> Callable[[], None]:
    # As it is installed, compiled once: a setting of this machine must not have every start compile it anew.
    env = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def run() -> None:
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=env)

    return run

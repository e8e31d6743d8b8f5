"""Commands from a standing start, in the processor's time: against a bare interpreter, then against `show`."""

import sys
from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.jobs import sample_copy
from tests.bench.row import Row, started

ROUNDS = 9
HELP, SHOW, OTHERS = 3.0, 6.0, 2.0
RECORD, SHOW_ANEW = 9.0, 9.5  # as far as they have come: what `record` imports is six already
BARE = [sys.executable, "-c", "pass"]
SCRIPT = "from sitelog.cli.run import main; main()"  # what the installed command does
# The least that entering costs: the words read, the job opened, a line added and folded in, and nothing judged.
ENTERED = """
import gc, os, sys
gc.set_threshold(200_000, 20, 50)
from datetime import datetime
from sitelog.cli import run
run.read(["note", sys.argv[1], "main", "seen", "--by", "M. Reed"])
run._load_msgspec()
from sitelog.job.actions.sealing import sealed
from sitelog.job.log.entry import Author, Draft
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.file import JobFile
file = JobFile.open(sys.argv[1], memory=machines_own())
author = Author("M. Reed", "tablet09", datetime.now().astimezone(), "a1")
file.append(sealed([Draft(act="note", part="main", note="seen")], author, file.entries))
file.close()
os._exit(0)
"""
# What a start is made of, each with all that comes before it.
STEPS = {
    "the command line read": "import sitelog.cli.run, sitelog.cli.parser",
    "msgspec loaded": "import sitelog.cli.run as run, sitelog.cli.parser; run._load_msgspec()",
    "the modules of `show`": "import sitelog.cli.run as run, sitelog.cli.parser; run._load_msgspec(); "
    "import sitelog.cli.keep.show, sitelog.job.replies.beside",
    "the modules of `record`": "import sitelog.cli.run as run, sitelog.cli.parser; run._load_msgspec(); "
    "import sitelog.cli.keep.record, sitelog.job.state.replay, sitelog.job.facts.facts",
}


def rows() -> list[Row]:
    """`sitelog --help`, a sum, an answer recorded, the job shown; what is ordered and drawn of it; where it goes."""
    with TemporaryDirectory() as folder:
        job = str(sample_copy(Path(folder)))
        # Each round records the same answer again: a new entry every time.
        record = ["record", job, "main.hip-lines.meeting", "p=2", "q=0", "--by", "M. Reed", "--note", "again"]
        return [
            _row("sitelog --help", ["--help"], HELP),
            _row("sitelog calc common", ["calc", "common", "run=3000", "pitch=35"], 0),
            _row("sitelog record", record, RECORD),
            started("the same, nothing judged", [sys.executable, "-c", ENTERED, job], BARE, rounds=ROUNDS, allowed=0),
            _row("sitelog show", ["show", job], SHOW),
            _row("sitelog show, of a job that has a new entry", ["show", job], SHOW_ANEW, before=record),
            *(_beside_show(name, job) for name in ("order", "drawings")),
            *(
                started(what, [sys.executable, "-c", code], BARE, rounds=ROUNDS, allowed=0)
                for what, code in STEPS.items()
            ),
        ]


def _row(what: str, words: list[str], allowed: float, before: Sequence[str] = ()) -> Row:
    first = _sitelog(*before) if before else ()
    return started(what, _sitelog(*words), BARE, rounds=ROUNDS, allowed=allowed, before=first)


def _beside_show(name: str, job: str) -> Row:
    return started(
        f"sitelog {name}, against show", _sitelog(name, job), _sitelog("show", job), rounds=ROUNDS, allowed=OTHERS
    )


def _sitelog(*words: str) -> list[str]:
    return [sys.executable, "-c", SCRIPT, *words]

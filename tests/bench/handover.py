"""The brief and the record of the sample in every format, against showing the job as JSON."""

import shutil
import tempfile
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.cli.run import run
from sitelog.job.facts import sums
from tests.bench.row import Row, against

ROUNDS = 5
ALLOWED = 5.0


def rows() -> list[Row]:
    """Both with every kept sum forgotten, as at a fresh start, after the job was written to once."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "kiln-lane.json"
        shutil.copy(sample_folder() / "kiln-lane.json", file)

        def say(*words: str) -> object:
            sums._worked.cache_clear()
            with redirect_stdout(StringIO()):
                return run(list(words))

        say("note", str(file), "main.plates", "seen", "--by", "M. Reed")
        return [
            against(
                "the handover of the sample, all formats",
                lambda: say("handover", str(file), "--to", "tiler", "--out", folder),
                lambda: say("show", str(file), "--json"),
                rounds=ROUNDS,
                allowed=ALLOWED,
            )
        ]

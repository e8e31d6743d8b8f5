"""Entries folded into a state, against reading and parsing the same bytes."""

import json
from pathlib import Path
from tempfile import TemporaryDirectory

from sitelog.job.entry import Entry
from sitelog.job.fold import fold
from tests.bench.jobs import entries, grown, library
from tests.bench.row import Row, against

ROUNDS = 7


def rows() -> list[Row]:
    """The fold at each size, and a whole job opened: read, proved, folded."""
    from sitelog.job.job import Job

    found = []
    with TemporaryDirectory() as folder:
        for count in (100, 1_000, 10_000):
            file = grown(Path(folder), count)
            log = list(entries(count))

            def parse(file: Path = file) -> object:
                return json.loads(file.read_bytes())

            def folded(log: list[Entry] = log) -> object:
                return fold(library(), log)

            def opened(file: Path = file) -> object:
                return Job.open(file, library(), read_only=True)

            found.append(
                against(f"{count:,} entries folded, against json.loads", folded, parse, rounds=ROUNDS, allowed=0)
            )
            found.append(
                against(f"a job of {count:,} opened, against json.loads", opened, parse, rounds=ROUNDS, allowed=0)
            )
    return found

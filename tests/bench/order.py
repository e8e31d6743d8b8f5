"""The whole cutting list of the sample and the order for it, against opening the job that they are made of."""

import shutil
import tempfile
from pathlib import Path

from sitelog.checklist.load import load
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.buying import buy
from sitelog.job.facts import sums
from sitelog.job.job import Job
from sitelog.reports.timber.entries import all_lines
from tests.bench.row import Row, against

ROUNDS = 15
LIST, ORDER = 1.0, 6.0  # the list costs no more than opening the job; the order is a linear programme


def rows() -> list[Row]:
    """Both with every kept sum forgotten, as at a fresh start."""
    library = load()
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "kiln-lane.json"
        shutil.copy(sample_folder() / "kiln-lane.json", file)

        def opened() -> Job:
            sums._worked.cache_clear()
            with Job.open(file, library, read_only=True) as job:
                return job

        job = opened()

        def listed() -> object:
            sums._worked.cache_clear()
            return all_lines(job.state, library)

        def ordered() -> object:
            sums._worked.cache_clear()
            return buy(all_lines(job.state, library))

        return [
            against("the cutting list of the sample", listed, opened, rounds=ROUNDS, allowed=LIST),
            against("the list and the order of the sample", ordered, opened, rounds=ROUNDS, allowed=ORDER),
        ]

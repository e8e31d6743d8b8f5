"""An entry saved, and a job opened and proved, against the bare disk: the same bytes written, synced, renamed."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from sitelog.job.file import JobFile
from sitelog.job.verify import verify
from tests.bench.row import Row, against
from tests.job.logs import after, log

COUNTS = (100, 1_000, 10_000)
ROUNDS = 15
SAVE = 4.0  # a whole file written: at most four times the same bytes
OPEN = 0.0  # no limit: the floor is the standard library's reading of the same JSON


def rows() -> list[Row]:
    """Saving, opening and verifying at each size. Beside this file, so on the disk that holds the project."""
    found = []
    for count in COUNTS:
        with TemporaryDirectory(dir=Path(__file__).parent) as folder:
            found += _rows(Path(folder), count)
    return found


def _rows(folder: Path, count: int) -> list[Row]:
    job = folder / "barn.json"
    with JobFile.create(job, log(count)) as file:
        raw = job.read_bytes()
        floor = _bare(folder, raw)
        save = against(f"an entry saved at {count:,}", _save(file), floor, rounds=ROUNDS, allowed=SAVE)

    def read() -> object:
        return json.loads(job.read_bytes())

    def look() -> object:
        return JobFile.open(job, read_only=True)

    def prove() -> object:
        return verify(job)

    opened = against(f"a job opened at {count:,}, against json.loads", look, read, rounds=ROUNDS, allowed=OPEN)
    proved = against(f"a job verified at {count:,}, against json.loads", prove, read, rounds=ROUNDS, allowed=OPEN)
    return [save, opened, proved]


def _save(file: JobFile) -> Callable[[], None]:
    entries = file.entries

    def save() -> None:
        entries.append(after(entries))
        file.append(entries[-1:])

    return save


def _bare(folder: Path, raw: bytes) -> Callable[[], None]:
    def write() -> None:
        with (folder / "new").open("wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        (folder / "new").replace(folder / "bare")

    return write

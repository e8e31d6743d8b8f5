"""A job on the disk against the bare disk: an entry saved, and a job folded, opened, verified and joined."""

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

import msgspec

from sitelog.job.log.entry import Entry
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.merge import merge
from sitelog.job.storage.verify import verify
from tests.bench.row import Row, against
from tests.job.logs import after, log

COUNTS = (100, 1_000, 10_000, 50_000)
SAVE = 2.0  # of a line of the same length appended and synced
FOLD = 4.0  # of the same bytes written, synced and renamed, up to 10,000 entries
READ = 0.0  # no limit: the floor is the standard library's reading of the same JSON


def rows() -> list[Row]:
    """Each at each size. Beside this file, so on the disk that holds the project."""
    found = []
    for count in COUNTS:
        with TemporaryDirectory(dir=Path(__file__).parent) as folder:
            found += _rows(Path(folder), count)
    return found


def _rows(folder: Path, count: int) -> list[Row]:
    entries = log(count)
    rounds = 5 if count > 10_000 else 15
    fold = FOLD if count <= 10_000 else 0
    job, other = folder / "barn.json", folder / "other.json"
    JobFile.create(job, entries).close()
    shutil.copy(job, other)
    with JobFile.open(other) as file:
        file.join(_more(entries, 10))
    with JobFile.open(job) as file:
        saved = against(f"an entry saved at {count:,}", _save(file), _line(folder), rounds=100, allowed=SAVE)
        folded = against(f"a job of {count:,} folded", _fold(file), _bare(folder, job), rounds=rounds, allowed=fold)

    def read() -> object:
        return json.loads(job.read_bytes())

    def against_reading(what: str, act: Callable[[], object]) -> Row:
        return against(f"a job of {count:,} {what}, against json.loads", act, read, rounds=rounds, allowed=READ)

    return [
        saved,
        folded,
        against_reading("opened", lambda: JobFile.open(job, read_only=True)),
        against_reading("opened from its journal", _from_journal(folder / "j.json", entries)),
        against_reading("verified", lambda: verify(job)),
        against_reading("joined with a copy", lambda: merge(job, [other])),
    ]


def _more(entries: list[Entry], count: int) -> list[Entry]:
    made = entries[-1:]
    for _ in range(count):
        made.append(after(made))
    return [*entries, *made[1:]]


def _save(file: JobFile) -> Callable[[], None]:
    last = file.entries[-1:]

    def save() -> None:
        last.append(after(last))
        file.append(last[-1:])

    return save


def _fold(file: JobFile) -> Callable[[], None]:
    """With one entry in the journal each time, which takes little beside the file."""
    save = _save(file)

    def fold() -> None:
        save()
        file.checkpoint()

    return fold


def _line(folder: Path) -> Callable[[], None]:
    """A line of the length of a save, appended and synced."""
    handle = os.open(folder / "lines", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    line = msgspec.json.encode([after(log(1))]) + b" 0123456789abcdef\n"

    def append() -> None:
        os.write(handle, line)
        os.fsync(handle)

    return append


def _bare(folder: Path, job: Path) -> Callable[[], None]:
    raw = job.read_bytes()

    def write() -> None:
        with (folder / "new").open("wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        (folder / "new").replace(folder / "bare")

    return write


def _from_journal(job: Path, entries: list[Entry]) -> Callable[[], object]:
    """The job as a crash would leave it that came before the first fold, one line an entry."""
    with JobFile.create(job, entries[:1]) as file:
        with patch("os.fsync"):
            for entry in entries[1:]:
                file.append([entry])
        (journal,) = file.files.glob("journal.*")
        left = journal.read_bytes(), job.read_bytes()
    journal.write_bytes(left[0])
    job.write_bytes(left[1])
    return lambda: JobFile.open(job, read_only=True)

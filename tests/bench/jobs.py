"""A sample job grown to any number of entries: the same roof, measured again and again, as a long job would be."""

import shutil
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.storage.file import JobFile

SAMPLE = "kiln-lane.json"


@cache
def library() -> Library:
    return load()


def sample_copy(folder: Path) -> Path:
    """A copy of the sample job in that folder."""
    return Path(shutil.copy(sample_folder() / SAMPLE, folder / SAMPLE))


@cache
def entries(count: int) -> tuple[Entry, ...]:
    """The sample's entries, then its own answers entered again, each a minute after the one before."""
    with JobFile.open(sample_copy(Path(mkdtemp())), read_only=True) as file:
        made = list(file.entries)
    answers = [entry for entry in made if entry.act == "answer"]
    when = datetime.fromisoformat(made[-1].at)
    for number in range(count - len(made)):
        old = answers[number % len(answers)]
        when += timedelta(minutes=1)
        draft = Draft(act="answer", part=old.part, check=old.check, value=old.value)
        made.append(seal(draft, Author(old.by, old.device, when), made[-1], made[-1].id))
    return tuple(made)


def grown(folder: Path, count: int) -> Path:
    """A job file of that many entries."""
    file = folder / f"grown-{count}.json"
    JobFile.create(file, list(entries(count))).close()
    return file

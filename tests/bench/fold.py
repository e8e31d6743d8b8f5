"""Entries folded into a state, against reading and parsing the same bytes; one more entry, against what it may take."""

import gc
import json
from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from sitelog.job.facts.cache import EvaluationCache
from sitelog.job.log.entry import Author, Draft, Entry, seal
from sitelog.job.log.entry_index import EntryIndex
from sitelog.job.state.replay import replay, state_of
from tests.bench.jobs import entries, grown, library
from tests.bench.row import Row, against

ROUNDS = 7
MOST_MS = 5.0  # that an entry may cost in memory in a job of 10,000


def rows() -> list[Row]:
    """The fold at each size, and a whole job opened: read, proved, folded."""
    from sitelog.job.job import Job

    found = in_memory()
    with TemporaryDirectory() as folder:
        for count in (100, 1_000, 10_000):
            file = grown(Path(folder), count)
            log = list(entries(count))

            def parse(file: Path = file) -> object:
                return json.loads(file.read_bytes())

            def folded(log: list[Entry] = log) -> object:
                return replay(library(), log)

            def opened(file: Path = file) -> object:
                return Job.open(file, library(), read_only=True)

            found.append(
                against(f"{count:,} entries folded, against json.loads", folded, parse, rounds=ROUNDS, allowed=0)
            )
            found.append(
                against(f"a job of {count:,} opened, against json.loads", opened, parse, rounds=ROUNDS, allowed=0)
            )
    return found


def in_memory() -> list[Row]:
    """The sample's answers entered once more in a job of 10,000, each then taken back."""
    log = list(entries(10_000))
    entry_index, kept = EntryIndex.of(log), EvaluationCache()
    state_of(library(), entry_index, kept)
    answered, undone = [], []
    for old in {(e.part, e.check): e for e in log if e.act == "answer"}.values():
        answer = _next(log, Draft(act="answer", part=old.part, check=old.check, value=old.value))
        answered.append(_taken(entry_index, kept, answer))
        undo = _next([*log, answer], Draft(act="void", part=old.part, check=old.check, value={"id": answer.id}))
        undone.append(_taken(entry_index, kept, undo))
        log += [answer, undo]
    return [
        Row(f"{what} in memory at 10,000, against {MOST_MS:g} ms", cost, MOST_MS, cost / MOST_MS, 1.0)
        for what, cost in (("an answer", median(answered)), ("an undo", median(undone)))
    ]


def _taken(entry_index: EntryIndex, kept: EvaluationCache, entry: Entry) -> float:
    gc.collect()
    start = perf_counter()
    assert entry_index.take(entry)
    state_of(library(), entry_index, kept)
    return (perf_counter() - start) * 1000


def _next(log: Sequence[Entry], draft: Draft) -> Entry:
    last = log[-1]
    return seal(
        draft, Author(last.by, last.device, datetime.fromisoformat(last.at) + timedelta(minutes=1)), last, last.id
    )

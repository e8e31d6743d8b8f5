"""`sitelog merge`: copies of one job that went on apart, joined; and what they say differently, told."""

import argparse
from pathlib import Path

from sitelog.cli.keep.job_file import opened
from sitelog.cli.page import two_answers
from sitelog.job.storage.merge import join, merge_scratch
from sitelog.job.storage.verify import verify
from sitelog.refusal import Refusal
from sitelog.text import counted


def merge(options: argparse.Namespace) -> int:
    """Exit 1 when the joined job is not sound."""
    if options.driver:
        return _drive(options.file, options.copies)
    joined = join(options.file, options.copies)
    count, photos = joined.entries, joined.photos
    options.entered.append(lambda: bool(count or photos))
    with opened(options, read_only=True) as job:
        state = job.state
    print(f"{options.file}: {counted(count, 'entry', 'entries')} added, {state.entries} in total")
    if photos:
        print(f"{counted(photos, 'photo')} brought over")
    for line in two_answers(state):
        print(line)
    print(f"record code {state.head}")
    faults = verify(Path(options.file))
    for fault in faults:
        print(fault)
    return 1 if faults else 0


def _drive(_: str, scratch: list[str]) -> int:
    """For git, which hands over the common ancestor, ours and theirs. Nothing is ever taken out, so two are enough."""
    if len(scratch) != 2:
        raise Refusal("--driver needs the three files git gives it: merge --driver %O %A %B")
    merge_scratch(*scratch)
    return 0

"""The job that a command names: opened with its lists, entered into under a name, and what is next in it."""

import argparse
import sys
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.shipped import firm_folders
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.state.views import State
from sitelog.job.storage.device import device_id
from sitelog.refusal import Refusal

Options = argparse.Namespace


def lists_for(job_file: Path, extra: Sequence[str]) -> Lists:
    """The shipped checklists, then those beside the job, then those named."""
    return Lists([*firm_folders(job_file), *(Path(folder) for folder in extra)])


def author(options: Options) -> Author:
    """Who acts, on what, now. Raises Refusal without a name."""
    if not options.by or not options.by.strip():
        raise Refusal('Add your name: --by "M. Reed"')
    return Author(by=options.by.strip(), device=device_id(), now=datetime.now().astimezone())


def opened(options: Options, *, read_only: bool = False, who: Author | None = None) -> Job:
    """The job of the command, open. Raises Refusal as `Job.open` does, and without a name unless it is only read."""
    file = Path(options.file)
    if not read_only:
        who = who or author(options)
    job = Job.open(file, lists_for(file, options.checklists), read_only=read_only, author=who)
    if job.file.damage and (read_only or not job.file.read_only):  # else the act is refused with these words
        print(f"sitelog: {job.file.damage}", file=sys.stderr)
    watched(options, job)
    return job


def watched(options: Options, job: Job, before: int | None = None) -> None:
    """Let whoever ran the command know if it has entered anything in the job, which held so many entries `before`."""
    held = job.file.count if before is None else before
    options.entered.append(lambda: job.file.count > held)


def enter(options: Options, draft_of: Callable[[Job], Draft | Sequence[Draft]], said: Callable[[State], str]) -> int:
    """Open, make the draft from the job, enter it, and say in one line what was done and in another what is next."""
    who = author(options)
    with opened(options) as job:
        odd = job.odd_clock(who)
        state = job.do(draft_of(job), who)
    if job.file.left_beside:
        print(f"sitelog: {job.file.left_beside}", file=sys.stderr)
    if odd:
        print(f"sitelog: {odd}. Set the clock if it is wrong", file=sys.stderr)
    print(said(state))
    say_next(state)
    return 0


def say_next(state: State) -> None:
    """What is next in the job, in a line."""
    print(f"next: {state.next}" if state.next else "next: all done")

"""The job that a command names: opened with its lists, entered into under a name, and what is next in it."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from sitelog.checklist.proved import Lists
from sitelog.checklist.schema.shipped import firm_folders
from sitelog.cli.script.tell import tell
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.device import chance, device_id
from sitelog.job.storage.file import JobFile
from sitelog.refusal import DONE, Refusal
from sitelog.text import clock

TYPE_CHECKING = False
if TYPE_CHECKING:
    from sitelog.job.state.views import State

Options = argparse.Namespace


def lists_for(job_file: Path, extra: Sequence[str]) -> Lists:
    """The shipped checklists, then those beside the job, then those named."""
    return Lists([*firm_folders(job_file), *(Path(folder) for folder in extra)])


def author(options: Options) -> Author:
    """Who acts, on what, now: --by, or else SITELOG_BY of the environment. Raises Refusal without a name."""
    by = named_by(options)
    if not by:
        raise Refusal('Add your name: --by "M. Reed"')
    return Author(by=by, device=device_id(), now=datetime.now().astimezone(), chance=chance())


def named_by(options: Options) -> str:
    """The name that was given, or ""."""
    return (options.by or os.environ.get("SITELOG_BY", "")).strip()


def opened(options: Options, *, read_only: bool = False, who: Author | None = None) -> Job:
    """The job of the command, open. Raises Refusal as `Job.open` does, and without a name unless it is only read."""
    file = Path(options.file)
    if not read_only:
        who = who or author(options)
    lists = lists_for(file, options.checklists)
    job = Job.open(file, lists, read_only=read_only, author=who, memory=machines_own())
    if job.file.damage and (read_only or not job.file.read_only):  # else the act is refused with these words
        print(f"sitelog: {job.file.damage}", file=sys.stderr)
    if not job.file.read_only and (recalled := job.recall()):
        from sitelog.wording.recap import brought_back

        print(f"sitelog: {brought_back(recalled)}", file=sys.stderr)
    if job.file.lacks:
        print(f"sitelog: {job.file.lacks}", file=sys.stderr)
    watched(options, job)
    _bring_up_to_date(job)
    return job


def _bring_up_to_date(job: Job) -> None:
    """What stands beside a job that is only read, from a killed program or another device, into its file if it can."""
    if job.file.read_only and job.file.since and not job.file.damage:
        with suppress(Refusal):
            fold_in(job.file.path)


def fold_in(file: Path) -> None:
    """What stands in the journals, into the job's file. Another device's journal stays as it is. Refusal as `open`."""
    here = Author(by="", device=device_id(), now=datetime.now().astimezone())
    JobFile.open(file, author=here, memory=machines_own()).close()


def watched(options: Options, job: Job, before: int | None = None) -> None:
    """Let whoever ran the command know if it has entered anything in the job, which held so many entries `before`."""
    held = job.file.count if before is None else before
    options.entered.append(lambda: job.file.count > held)


def enter(options: Options, draft_of: Callable[[Job], Draft | Sequence[Draft]], said: Callable[[State], str]) -> int:
    """Open, make the draft from the job, enter it, and say in one line what was done and in another what is next."""
    state = entered(options, draft_of)
    tell_entered(options, state, [said(state)])
    return DONE


def entered(options: Options, draft_of: Callable[[Job], Draft | Sequence[Draft]]) -> State:
    """Open, make the draft from the job, enter it, and give the state that follows."""
    who = author(options)
    with opened(options) as job:
        odd, rested = job.odd_clock(who), job.rested(who)
        state = job.do(draft_of(job), who)
    if job.file.left_beside:
        print(f"sitelog: {job.file.left_beside}", file=sys.stderr)
    if odd:
        print(f"sitelog: {odd}. Set the clock if it is wrong", file=sys.stderr)
    elif rested:
        print(f"sitelog: dated {clock(who.now)}, {rested}", file=sys.stderr)
    return state


def tell_entered(options: Options, state: State, said: Sequence[str]) -> None:
    """What was entered and what is next; with --json what `Entered` has."""

    def data(lines: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Entered

        return Entered(said=lines, entries=state.entries, head=state.head, next=state.next)

    tell(options, [*said, next_line(state)], data)


def next_line(state: State) -> str:
    """What is next in the job, in a line."""
    return f"next: {state.next}" if state.next else "next: all done"

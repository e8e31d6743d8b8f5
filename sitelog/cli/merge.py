"""`sitelog merge`: copies of one job, those named or those beside it, joined; what they say differently, told."""

import argparse
from pathlib import Path

from msgspec import Struct

from sitelog.cli.keep.job_file import enter, opened
from sitelog.cli.page import two_answers
from sitelog.cli.script.tell import tell
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.copies import Settled, join_beside
from sitelog.job.storage.merge import Joined as Added
from sitelog.job.storage.merge import join, merge_scratch
from sitelog.job.storage.verify import verify
from sitelog.refusal import DONE, PROBLEM, Refusal
from sitelog.text import counted
from sitelog.wording.prompts.rescuing import copies_settled, without


def merge(options: argparse.Namespace) -> int:
    """Exit 1 when the joined job is not sound."""
    if options.driver:
        return _drive(options.file, options.copies)
    if options.without:
        return enter(options, lambda job: without(job).make([options.without]), lambda _: "you go on without them")
    beside, joined = Settled(), Added(0, 0)
    if options.copies:
        joined = join(options.file, options.copies, memory=machines_own())
    else:
        beside = join_beside(options.file, memory=machines_own())
    count, photos = joined.entries + beside.entries, joined.photos + beside.photos
    options.entered.append(lambda: bool(count or photos))
    with opened(options, read_only=True) as job:
        state = job.state
    faults, differ = verify(Path(options.file)), list(two_answers(state))
    lines = [
        f"{options.file}: {counted(count, 'entry', 'entries')} added, {state.entries} in total",
        *([f"{counted(photos, 'photo')} brought over"] if photos else []),
        *copies_settled(beside),
        *differ,
        f"record code {state.head}",
        *faults,
    ]

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Joined

        return Joined(
            said=said, added=count, photos=photos, entries=state.entries, head=state.head, two_answers=differ,
            faults=faults, aside=[copy.name for copy in beside.aside], removed=[copy.name for copy in beside.removed],
        )  # fmt: skip

    tell(options, lines, data)
    return PROBLEM if faults else DONE


def _drive(_: str, scratch: list[str]) -> int:
    """For git, which hands over the common ancestor, ours and theirs. Nothing is ever taken out, so two are enough."""
    if len(scratch) != 2:
        raise Refusal("--driver needs the three files git gives it: merge --driver %O %A %B")
    merge_scratch(*scratch)
    return 0

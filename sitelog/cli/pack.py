"""`sitelog handover`: the pack for the next trade, made from a job and put on the disk."""

import argparse
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import author, opened
from sitelog.job.actions import actions
from sitelog.refusal import Refusal
from sitelog.reports.model import Pack
from sitelog.reports.pack import make, trades, write


def handover(options: argparse.Namespace) -> int:
    """Make the pack; with a name (--by) enter in the job as well that it was handed over, and at which head code.

    A job that can't be signed yet gives a pack all the same, headed by the reasons.
    """
    file = Path(options.file)
    who = author(options) if options.by else None
    with opened(options, read_only=who is None) as job:
        if not options.to.strip():
            raise Refusal(f"Say who the pack is for: --to {next(iter(trades(job.state)), 'tiler')}")
        pack = make(job.state, job.library, options.to, datetime.now().astimezone(), job.file.files)
        made = write(pack, Path(options.out) if options.out else file.parent, file.stem)
        if who is not None:
            job.do(actions.handover(job.state, pack.to, pack.head), who)
    for path in made:
        print(path)
    print(_said(pack))
    if who is not None:
        print(f"entered by {who.by}: handed over to the {pack.to}, record code {pack.head}")
    return 0


def _said(pack: Pack) -> str:
    counts = ", ".join(f"{what} {count}" for what, count in pack.counts if count)
    return f"{pack.standing}\nfirst page: {counts or 'nothing open'}\nrecord code {pack.head}"

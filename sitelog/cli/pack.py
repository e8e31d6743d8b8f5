"""`sitelog handover`: the pack for the next trade, made from a job and put on the disk."""

import argparse
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import author, opened
from sitelog.job.actions import actions
from sitelog.refusal import Refusal
from sitelog.reports.model import Pack
from sitelog.reports.pack import formats, make, trades, write

NO_PDF = "No PDF was made: install its library with pip install 'sitelog[sheets]'"


def handover(options: argparse.Namespace) -> int:
    """Make the brief and the record; with a name (--by) enter in the job as well that they were handed over.

    A job that can't be signed yet gives them all the same, headed by the reasons, and the code is 1.
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
    if "pdf" not in formats():
        print(NO_PDF)
    return 0 if pack.signed else 1


def _said(pack: Pack) -> str:
    counts = ", ".join(f"{what} {count}" for what, count in pack.counts if count)
    return f"{pack.standing}\nfirst page: {counts or 'nothing open'}\nrecord code {pack.head}"

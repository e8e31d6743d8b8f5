"""`sitelog handover`: the pack for the next trade, made from a job and put on the disk."""

import argparse
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import author, opened
from sitelog.job.actions import actions
from sitelog.job.log.entry import Draft
from sitelog.job.photos.photo import Photo
from sitelog.refusal import Refusal
from sitelog.reports.formats.pdf import NO_PDF
from sitelog.reports.model import Pack
from sitelog.reports.pack import formats, make, trades, write, write_sheet


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
            job.do(actions.handover(job.state, pack.to, pack.head, pack.points, pack.ends), who)
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


def instruct(options: argparse.Namespace) -> int:
    """Enter work that was asked beyond the drawing, and write its sheet for the signature."""
    from sitelog.job.photos.choosing import choose
    from sitelog.wording.prompts.attaching import with_photos

    file, who = Path(options.file), author(options)
    now = datetime.now().astimezone()
    asked = {key: getattr(options, key) for key in ("text", "who", "hours", "timber")}
    asked["day"] = options.day or now.date().isoformat()
    path = "" if options.path == "job" else options.path
    with opened(options) as job:

        def draft(photos: Sequence[Photo], name: str) -> Draft:
            return actions.instruct(job.state, path, asked, photos=photos, photo=name)

        folders = [Path(), file.parent]
        job.do(with_photos(job, choose(options.photo, folders), options.whole, draft), who)
        instruction = job.state.instructions[-1]
        pack = make(job.state, job.library, "", now, job.file.files)
        folder = Path(options.out) if options.out else file.parent
        leaf = pack.instructions[-1]
        paths = write_sheet(pack, leaf.title, (leaf,), folder, file.stem)
    for path_made in paths:
        print(path_made)
    print(f"instruction {instruction.id}: entered by {who.by}. Have {instruction.who} sign the sheet")
    return 0

"""`sitelog handover`: the pack for the next trade, made from a job and put on the disk."""

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from msgspec import Struct

from sitelog.cli.keep.job_file import author, opened
from sitelog.cli.script.tell import tell
from sitelog.job.actions import actions
from sitelog.job.log.entry import Author, Draft
from sitelog.job.photos.photo import Photo
from sitelog.refusal import DONE, PROBLEM, Refusal
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
    files = [str(path) for path in made]

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import HandedOver

        return HandedOver(
            said=said, files=files, to=pack.to, signed=pack.signed, standing=pack.standing,
            counts=dict(pack.counts), head=pack.head,
        )  # fmt: skip

    tell(options, [*files, *_said(pack, who)], data)
    return DONE if pack.signed else PROBLEM


def _said(pack: Pack, who: Author | None) -> Iterator[str]:
    counts = ", ".join(f"{what} {count}" for what, count in pack.counts if count)
    yield pack.standing
    yield f"first page: {counts or 'nothing open'}"
    yield f"record code {pack.head}"
    if who is not None:
        yield f"entered by {who.by}: handed over to the {pack.to}, record code {pack.head}"
    if "pdf" not in formats():
        yield NO_PDF


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
    files = [str(path_made) for path_made in paths]

    def data(said: list[str]) -> Struct:
        from sitelog.cli.script.shapes import Instructed

        return Instructed(said=said, files=files, id=instruction.id)

    entered = f"instruction {instruction.id}: entered by {who.by}. Have {instruction.who} sign the sheet"
    tell(options, [*files, entered], data)
    return DONE

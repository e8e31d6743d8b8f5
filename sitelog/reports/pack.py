"""The handover pack: made from a job's state for one trade, and put on the disk as a page and as plain text."""

import os
import re
import tempfile
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.schema import JOB
from sitelog.job.photos.keeping import album, read_back
from sitelog.job.photos.photo import Photo
from sitelog.job.state.views import State
from sitelog.job.storage.disk import named, put, reason, sync_folder
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.reports.cutting import cutting
from sitelog.reports.cutting import files as lists
from sitelog.reports.first_page import first_page
from sitelog.reports.formatting import Formatter, clock
from sitelog.reports.model import PHOTOS
from sitelog.reports.model import Pack as Pack
from sitelog.reports.photos import kept_whole
from sitelog.reports.record import LOCAL_FIRST, record
from sitelog.reports.sizes import sizes
from sitelog.text import clean

UNITS = {"metric": "Lengths are in mm unless shown otherwise.", "imperial": "Lengths are in feet and inches."}


def trades(state: State) -> tuple[str, ...]:
    """The trades that the parts of this job hand over to as the facts stand, in the order of work.

    Those of its own stages if none do.
    """
    views = [view for view in state.checks() if view.trades]
    named = [view for view in views if view.part != JOB] or views
    return tuple(dict.fromkeys(trade for view in named for trade in view.trades))


def make(state: State, library: Library, to: str, now: datetime, files: Path | None = None) -> Pack:
    """The pack for a trade, as the job stands; `now` (aware) is when it is made, `files` the job's own folder.

    Its photos are looked for there, and without it are told as missing.
    A job that can't be signed yet gives a pack that says so at its head. Refusal for a trade that no check names.
    """
    known = trades(state)
    to = next((trade for trade in known if trade.casefold() == to.strip().casefold()), to)
    if to not in known:
        there = f"Type one of: {', '.join(known)}" if known else "This job has nothing to hand over yet"
        raise Refusal(f"{clean(to, most=40)!r} isn't a trade on this job. {there}")
    tell = Formatter(state, library, now.tzinfo or UTC, album(state, files))
    page = first_page(tell)
    return Pack(
        title=state.title,
        place=state.place,
        to=to,
        made=clock(now),
        head=state.head,
        entries=state.entries,
        standing=page.standing,
        signed=page.signed,
        counts=page.counts,
        first=page.sections,
        rest=(*sizes(tell, to), *record(tell, to), *cutting(state, library)),
        notice=f"{LOCAL_FIRST} {UNITS[state.units]}",
        files=tuple(lists(state, library)),
        photos=kept_whole(tell.album),
        kept_in=files,
    )


def write(pack: Pack, folder: Path, stem: str) -> list[Path]:
    """The pack as STEM-TRADE.html and STEM-TRADE.txt in the folder, and its lists beside them as STEM-TRADE-*.csv; each
    whole or not at all. Its photos come first, into a folder of their own, which stands last in what is given back.

    Refusal (code 4) if the folder can't be made or a file can't be brought to the disk.
    """
    from sitelog.reports.html import html
    from sitelog.reports.text import text

    name = _file_name(f"{stem}-{pack.to}")
    made = [(folder / f"{name}.html", html(pack)), (folder / f"{name}.txt", text(pack))]
    made += [(folder / f"{name}-{end}", words) for end, words in pack.files]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for photo in pack.photos:
            put(folder / PHOTOS / photo.file, _bytes(pack, photo))
        for path, words in made:
            _replace(path, words.encode("utf-8"))
        sync_folder(folder)
    except OSError as error:
        raise Refusal(
            f"Not saved: {named(folder / name)}: {reason(error)}. Try another folder with --out.", code=NOT_SAVED
        ) from error
    return [*(path for path, _ in made), *([folder / PHOTOS] if pack.photos else [])]


def _bytes(pack: Pack, photo: Photo) -> bytes:
    raw = read_back(pack.kept_in, photo) if pack.kept_in else None
    if raw is None:
        raise Refusal(f"Photo {photo.name} was changed while the pack was made: make it again.", code=NOT_SAVED)
    return raw


def _file_name(text: str) -> str:
    """Letters, digits, dots, hyphens and underscores only, so that no trade's or job's name leads out of the folder."""
    return re.sub(r"[^\w.-]+", "-", clean(text, most=120)).lstrip(".-") or "pack"


def _replace(path: Path, raw: bytes) -> None:
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        with suppress(OSError):
            Path(beside).unlink(missing_ok=True)
        raise

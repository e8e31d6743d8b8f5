"""The handover pack: made from a job's state for one trade, and put on the disk as a page and as plain text."""

import os
import re
import tempfile
from collections.abc import Sequence
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
from sitelog.reports.brief.pages import NOT_CHECKED, leaves
from sitelog.reports.cutting import cutting
from sitelog.reports.cutting import files as lists
from sitelog.reports.first_page import first_page
from sitelog.reports.formatting import Formatter
from sitelog.reports.model import PHOTOS, Leaf
from sitelog.reports.model import Pack as Pack
from sitelog.reports.photos import kept_whole
from sitelog.reports.record import LOCAL_FIRST, record
from sitelog.reports.sizes import sizes
from sitelog.text import clean, clock

LONGEST = 120  # letters of a file's name
FORMATS = ("pdf", "html", "txt")
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

    Its photos are looked for there, and without it are told as missing. `to` "" is for the record alone.
    A job that can't be signed yet gives a pack that says so at its head. Refusal for a trade that no check names.
    """
    known = trades(state)
    to = next((trade for trade in known if trade.casefold() == to.strip().casefold()), to)
    if to and to not in known:
        there = f"Type one of: {', '.join(known)}" if known else "This job has nothing to hand over yet"
        raise Refusal(f"{clean(to, most=40)!r} isn't a trade on this job. {there}")
    tell = Formatter(state, library, now.tzinfo or UTC, album(state, files))
    page = first_page(tell)
    return Pack(
        title=state.title,
        parts=tuple(part.title for part in state.parts if part.id != JOB),
        job=state.id,
        place=state.place,
        to=to,
        made=clock(now),
        head=state.head,
        entries=state.entries,
        standing=page.standing,
        signed=page.signed,
        counts=page.counts,
        first=page.sections,
        rest=(*sizes(tell, ""), *cutting(state, library), *record(tell, known)),
        brief=leaves(tell, to, page, NOT_CHECKED),
        notice=f"{LOCAL_FIRST} {UNITS[state.units]}",
        files=tuple(lists(state, library)),
        photos=kept_whole(tell.album),
        kept_in=files,
    )


def write(pack: Pack, folder: Path, stem: str, forms: Sequence[str] = ()) -> list[Path]:
    """STEM-brief-TRADE and STEM-record in each format (pdf, html, txt) in the folder, with their lists as STEM-*.csv.

    Everything is made before anything is written, and each file is written whole or not at all. Photos come first, into
    a folder of their own, which is last in what is given back.
    Refusal (code 4) if the folder can't be made or a file can't be brought to the disk.
    """
    name = _file_name(stem)
    brief = _file_name(f"{stem}-brief-{pack.to}")
    pages = {one: _pages(pack, one) for one in forms or formats()}
    made = [(folder / f"{brief}.{one}", first) for one, (first, _) in pages.items()]
    made += [(folder / f"{name}-record.{one}", second) for one, (_, second) in pages.items()]
    made += [(folder / f"{name}-{end}", words.encode("utf-8")) for end, words in pack.files]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for photo in pack.photos:
            put(folder / PHOTOS / photo.file, _bytes(pack, photo))
        for path, raw in made:
            _replace(path, raw)
        sync_folder(folder)
    except OSError as error:
        raise Refusal(
            f"Not saved: {named(folder / brief)}: {reason(error)}. Try another folder with --out.", code=NOT_SAVED
        ) from error
    return [*(path for path, _ in made), *([folder / PHOTOS] if pack.photos else [])]


def write_instruction(pack: Pack, leaf: Leaf, folder: Path, stem: str) -> list[Path]:
    """The sheet of an instruction as STEM-instruction-N in each format; each file whole or not at all.

    Refusal (code 4) if a file can't be brought to the disk.
    """
    from sitelog.reports.formats import html, text

    name = _file_name(f"{stem}-{leaf.title.lower().replace(' ', '-')}")
    made = {"html": html.leaf_html(pack, leaf).encode(), "txt": text.leaf_text(pack, leaf).encode()}
    if "pdf" in formats():
        from sitelog.reports.formats import paper, pdf, sheets

        page = sheets.leaf_page(pack, leaf, paper.measure())
        foot = sheets.foot(pack, leaf.title)
        photos = {photo.file: _bytes(pack, photo) for photo in pack.photos}
        made["pdf"] = pdf.pdf([page], title=f"{pack.title}: {leaf.title}", subject="", foot=foot, photos=photos)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for end, raw in made.items():
            _replace(folder / f"{name}.{end}", raw)
        sync_folder(folder)
    except OSError as error:
        raise Refusal(
            f"Not saved: {named(folder / name)}: {reason(error)}. Try another folder with --out.", code=NOT_SAVED
        ) from error
    return [folder / f"{name}.{end}" for end in sorted(made)]


def in_short(paths: Sequence[Path]) -> str:
    """The files of a handover in one line: `roof-brief-tiler.pdf .html .txt, roof-record.pdf ...`."""
    ends: dict[str, list[str]] = {}
    for path in paths:
        ends.setdefault(path.stem, []).append(path.suffix)
    return ", ".join(f"{stem}{' '.join(suffixes)}" for stem, suffixes in ends.items())


def formats() -> tuple[str, ...]:
    """The formats that can be made here: a PDF only where its library is installed."""
    from importlib.util import find_spec

    there = find_spec("reportlab") is not None and find_spec("segno") is not None
    return FORMATS if there else FORMATS[1:]


def _pages(pack: Pack, form: str) -> tuple[bytes, bytes]:
    """The brief and the record in one format. Refusal where that needs a library that is not installed."""
    from sitelog.reports.formats import html, text

    if form == "html":
        return html.brief_html(pack).encode(), html.html(pack).encode()
    if form == "txt":
        return text.brief_text(pack).encode(), text.text(pack).encode()
    from sitelog.reports.formats import paper, pdf, sheets

    measure = paper.measure()
    record = sheets.record_pages(pack, measure)
    brief = sheets.brief_pages(pack, measure, record)
    photos = {photo.file: _bytes(pack, photo) for photo in pack.photos}
    made = []
    for what, sheet in ((f"brief for the {pack.to}", brief), ("record", record)):
        title, foot = f"{pack.title}: {what}", sheets.foot(pack, what)
        made.append(pdf.pdf(sheet, title=title, subject=pack.standing, foot=foot, photos=photos))
    return made[0], made[1]


def _bytes(pack: Pack, photo: Photo) -> bytes:
    raw = read_back(pack.kept_in, photo) if pack.kept_in else None
    if raw is None:
        raise Refusal(f"Photo {photo.name} was changed while the pack was made: make it again.", code=NOT_SAVED)
    return raw


def _file_name(text: str) -> str:
    """Letters, digits, dots, hyphens and underscores only, so that no trade's or job's name leads out of the folder.

    A long one ends with a whole word.
    """
    name = re.sub(r"[^\w.-]+", "-", clean(text)).lstrip(".-") or "pack"
    return name if len(name) <= LONGEST else name[: LONGEST + 1].rpartition("-")[0] or name[:LONGEST]


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

"""What is handed over: made from a job's state for one trade, and put on the disk in every format."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.schema import JOB
from sitelog.job.photos.keeping import album, read_back
from sitelog.job.photos.photo import Photo
from sitelog.job.replies.points import marked
from sitelog.job.sources import Terms
from sitelog.job.state.views import State
from sitelog.job.storage.disk import job_of, put
from sitelog.job.yard import yard_for
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.reports.brief.pages import NOT_CHECKED, leaves
from sitelog.reports.files import saving, write_all
from sitelog.reports.formats import html, lettering, marks, pdf, sheets, text
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.first_page import first_page
from sitelog.reports.instructions import sheet
from sitelog.reports.model import PHOTOS, Leaf, Shots
from sitelog.reports.model import Pack as Pack
from sitelog.reports.photos import kept_whole
from sitelog.reports.record import LOCAL_FIRST, record
from sitelog.reports.sizes import sizes
from sitelog.reports.timber.entries import all_lines
from sitelog.reports.timber.sheets import cutting
from sitelog.reports.timber.sheets import files as lists
from sitelog.text import clean, clock

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
    to = _trade_of(known, to)
    tell = Formatter(state, library, now.tzinfo or UTC, album(state, files))
    page = first_page(tell)
    lines, terms = all_lines(state, library), Terms(yard=yard_for(files))
    return Pack(
        title=state.title,
        parts=tuple(part.title for part in state.parts if part.id != JOB),
        job=state.id,
        place=state.place,
        to=to,
        made=clock(now),
        head=state.head,
        ends=state.ends,
        entries=state.entries,
        standing=page.standing,
        signed=page.signed,
        counts=page.counts,
        first=page.sections,
        rest=(*sizes(tell, ""), *cutting(state, lines, terms), *record(tell, known)),
        brief=leaves(tell, to, page, NOT_CHECKED),
        instructions=tuple(sheet(tell, instruction) for instruction in state.instructions if not instruction.undone),
        notice=f"{LOCAL_FIRST} {UNITS[state.units]}",
        files=tuple(lists(lines, state, terms)),
        photos=kept_whole(tell.album),
        points=marked(state, to),
        kept_in=files,
    )


def _trade_of(known: Sequence[str], to: str) -> str:
    """The trade as the job spells it; "" stays. Refusal for one that it doesn't have."""
    found = next((trade for trade in known if trade.casefold() == to.strip().casefold()), to)
    if found and found not in known:
        there = "This job has nothing to hand over yet"
        if known:
            there = f"Type one of: {', '.join(known)}"
        raise Refusal(f"{clean(found, most=40)!r} isn't a trade on this job. {there}")
    return found


def write(pack: Pack, folder: Path, stem: str, forms: Sequence[str] = ()) -> list[Path]:
    """STEM-brief-TRADE, STEM-record, each STEM-instruction-N in each format (pdf, html, txt), and lists as STEM-*.csv.

    Everything is made before anything is written, and each file is written whole or not at all. Photos come first, into
    a folder of their own, which is last in what is given back.
    Refusal (code 4) if the folder can't be made or a file can't be brought to the disk.
    """
    pages = {form: _pages(pack, form) for form in forms or formats()}
    made = {f"{stem}-brief-{pack.to}.{form}": brief for form, (brief, _) in pages.items()}
    made |= {f"{stem}-record.{form}": record for form, (_, record) in pages.items()}
    for leaf in pack.instructions:
        made |= {f"{_stem(stem, leaf.title)}.{form}": _sheet(pack, leaf.title, (leaf,), form) for form in pages}
    made |= {f"{stem}-{end}": words.encode("utf-8") for end, words in pack.files}
    return _written(pack, made, pack.photos, folder)


def write_sheet(
    pack: Pack, name: str, leaves: Sequence[Leaf], folder: Path, stem: str, *, bench: bool = False
) -> list[Path]:
    """Leaves as STEM-NAME in each format, with their photos, as `write` has them: an instruction, the cutting list.

    For the `bench` each leaf is made to fit on one page, its drawing as large as it goes.
    """
    shown = {shot.file for leaf in leaves for block in leaf.blocks if isinstance(block, Shots) for shot in block.rows}
    photos = tuple(photo for photo in pack.photos if photo.file in shown)
    made = {f"{_stem(stem, name)}.{form}": _sheet(pack, name, leaves, form, bench=bench) for form in formats()}
    return _written(pack, made, photos, folder)


def _stem(stem: str, name: str) -> str:
    return f"{stem}-{name.lower().replace(' ', '-')}"


def _written(pack: Pack, made: Mapping[str, bytes], photos: Sequence[Photo], folder: Path) -> list[Path]:
    job = job_of(pack.kept_in) if pack.kept_in else None
    for photo in photos:
        with saving(folder / next(iter(made))):
            folder.mkdir(parents=True, exist_ok=True)
            put(folder / PHOTOS / photo.file, _bytes(pack, photo), job)
    paths = write_all(made, folder, job)
    return [*paths, *([folder / PHOTOS] if photos else [])]


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
    if there:
        return FORMATS
    return FORMATS[1:]


def _pages(pack: Pack, form: str) -> tuple[bytes, bytes]:
    """The brief and the record in one format. Refusal where that needs a library that is not installed."""
    if form == "html":
        return html.brief_html(pack).encode(), html.html(pack).encode()
    if form == "txt":
        return text.brief_text(pack).encode(), text.text(pack).encode()
    measure = lettering.measure()
    record = sheets.record_pages(pack, measure)
    brief = sheets.brief_pages(pack, measure, record)
    return _pdf(pack, f"brief for the {pack.to}", brief), _pdf(pack, "record", record)


def _sheet(pack: Pack, name: str, leaves: Sequence[Leaf], form: str, *, bench: bool = False) -> bytes:
    """A sheet by itself in one format."""
    if form == "html":
        return html.sheet_html(pack, name, leaves).encode()
    if form == "txt":
        return text.sheet_text(pack, name, leaves).encode()
    lay = sheets.bench_pages if bench else sheets.leaf_pages
    return _pdf(pack, name, [page for leaf in leaves for page in lay(pack, leaf, lettering.measure())])


def _pdf(pack: Pack, what: str, pages: Sequence[marks.Page]) -> bytes:
    shown = {mark.file for page in pages for mark in page.marks if isinstance(mark, marks.Photo)}
    photos = {photo.file: _bytes(pack, photo) for photo in pack.photos if photo.file in shown}
    title = f"{pack.title}: {what}"
    return pdf.pdf(pages, title=title, subject=pack.standing, foot=sheets.foot(pack, what), photos=photos)


def _bytes(pack: Pack, photo: Photo) -> bytes:
    raw = read_back(pack.kept_in, photo) if pack.kept_in else None
    if raw is None:
        raise Refusal(f"Photo {photo.name} was changed while the pack was made: make it again.", code=NOT_SAVED)
    return raw

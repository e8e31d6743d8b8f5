"""Photos beside a job: looked at, copied into its folder under their hash before an entry names them, and found again.

    pictures = [look(path) for path in paths]                       # reads, refuses, writes nothing
    draft = acts.answer(..., photos=[p.photo for p in pictures])    # refuses, writes nothing
    keep(job.file.files, pictures)                                  # on the disk, or refused
    job.do(draft, hand)                                             # the entry

In that order a kill leaves at most a file that no entry names.
"""

import hashlib
import re
import stat
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Literal

from msgspec import Struct

from sitelog.job.log.entry import Entry
from sitelog.job.photos.photo import Photo, bare_name, faults_of, is_device, name_only, photos_of
from sitelog.job.photos.picture.names import EXTENSION
from sitelog.job.state.views import State
from sitelog.job.storage.disk import beside, job_of, named, put, reason
from sitelog.refusal import NOT_SAVED, USAGE, Refusal
from sitelog.text import clean

LARGEST = 20 << 20  # bytes of one picture
FOLDER = "photos"  # beside the job: where pictures are looked for too
# What else stands in the job's folder; what begins with a dot was being written when something ended.
OWN = r"\.|journal|(lock|copies|typed\.(json|new)|(own-)?lists\.json(\.\d+)?)$"
ENDINGS = (*(f".{ending}" for ending in EXTENSION.values()), ".jpeg")

Stand = Literal["there", "missing", "changed", "unreadable", "name only"]


class Picture(Struct, frozen=True):
    """A picture that was looked at and not yet kept: what an entry will say of it, and the bytes that will be kept."""

    photo: Photo
    raw: bytes


class Taken(Struct, frozen=True):
    """A photo that an entry names; `photo` is None where only a name was typed."""

    path: str  # of the check, stage or part; "" for the diary
    photo: Photo | None
    name: str
    by: str
    at: str
    entry: str


class Shown(Struct, frozen=True):
    """A photo as it stands on the disk."""

    taken: Taken
    stand: Stand


# --- looking and keeping ---


def look(source: str | Path, *, whole: bool = False) -> Picture:
    """The picture in a file, without its time and place unless it is to be kept `whole`.

    Refusal: no file or no plain one, a link, empty, over 20 MiB, unreadable, no JPEG, PNG or WebP, broken off.
    """
    from sitelog.job.photos.picture.broken import Broken  # what takes pictures apart is loaded for a picture alone
    from sitelog.job.photos.picture.kinds import bare

    name = bare_name(str(source))
    called = name or clean(str(source), most=60) or "nothing"
    if not name or is_device(name):
        raise Refusal(f"{called} isn't a name a photo can have: rename it.")
    raw = _read(Path(source), name)
    try:
        kind, without = bare(raw)
    except Broken as broken:
        raise Refusal(f"{name} {broken}.") from None
    kept = raw if whole else without
    digest = hashlib.sha256(kept).hexdigest()
    return Picture(Photo(hash=digest, type=kind, size=len(kept), name=name, whole=whole), kept)


def keep(files: Path, pictures: Sequence[Picture]) -> None:
    """Bring the pictures to the disk, into the job's folder. Refusal 4 if one can't be: then enter nothing of them."""
    for picture in pictures:
        try:
            put(files / picture.photo.file, picture.raw, job_of(files))
        except OSError as error:
            what = f"Not saved: {picture.photo.name}: {reason(error)}. Nothing was entered. Try again."
            raise Refusal(what, code=NOT_SAVED) from error


def _read(path: Path, name: str) -> bytes:
    try:
        _must_be_plain(path, name)
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except (FileNotFoundError, NotADirectoryError, ValueError):
        raise Refusal(f"No file called {clean(str(path), most=200)}.", code=USAGE) from None
    except OSError as error:
        raise Refusal(f"{name} can't be read: {reason(error)}.", code=USAGE) from None
    if not raw:
        raise Refusal(f"{name} is empty: copy it again from the camera.")
    if len(raw) > LARGEST:
        raise Refusal(f"{name} is over {LARGEST >> 20} MB. Save a smaller copy and try again.")
    return raw


def _must_be_plain(path: Path, name: str) -> None:
    """Asked before it is opened: to open a pipe would wait, to open a device may do something."""
    mode = path.lstat().st_mode
    if stat.S_ISLNK(mode):
        raise Refusal(f"{name} is a shortcut. Give the photo file itself.")
    if stat.S_ISDIR(mode):
        raise Refusal(f"{name} is a folder: give a photo in it.")
    if not stat.S_ISREG(mode):
        raise Refusal(f"{name} is a device or a pipe: give a photo.")


# --- finding again ---


def folder_of(path: Path) -> Path:
    """The folder of a job's photos: the one beside it, or for a kept copy the one that it is kept in."""
    if path.parent.name == "copies":
        return path.parent.parent
    return beside(path)


def taken(state: State) -> tuple[Taken, ...]:
    """Every photo that entries name, and every name of one, in the order of their entries; not what was taken back."""
    return tuple(photo for day in state.diary for entry in day.entries for photo in taken_by(entry))


def album(state: State, files: Path | None, *, quick: bool = False) -> tuple[Shown, ...]:
    """The same, and how each stands in the job's folder; without one it is missing. `quick` as for `stands`."""
    seen: dict[str, Stand] = {}
    found = []
    for photo in taken(state):
        if photo.photo and photo.photo.file not in seen:
            seen[photo.photo.file] = stands(files, photo.photo, quick=quick) if files else "missing"
        found.append(Shown(photo, seen[photo.photo.file] if photo.photo else "name only"))
    return tuple(found)


def taken_by(entry: Entry) -> Iterator[Taken]:
    """The photos and names of photos of one entry."""
    for photo in photos_of(entry.value):
        yield Taken(entry.path, photo, photo.name, entry.by, entry.at, entry.id)
    if name := name_only(entry.value):
        yield Taken(entry.path, None, name, entry.by, entry.at, entry.id)


def stands(files: Path, photo: Photo, *, quick: bool = False) -> Stand:
    """How the photo's file stands in the job's folder; `quick` goes by its size and does not read it."""
    path = files / photo.file
    try:
        found = path.lstat()
        if not stat.S_ISREG(found.st_mode) or found.st_size != photo.size:
            return "changed"
        return "there" if quick or _digest(path) == photo.hash else "changed"
    except (FileNotFoundError, NotADirectoryError):
        return "missing"
    except OSError:
        return "unreadable"


def read_back(files: Path, photo: Photo) -> bytes | None:
    """The photo's bytes, if they are those that were kept."""
    if stands(files, photo, quick=True) != "there":
        return None
    try:
        raw = (files / photo.file).read_bytes()
    except OSError:
        return None
    if hashlib.sha256(raw).hexdigest() != photo.hash:
        return None
    return raw


def bring_all(source: Path, files: Path, entries: Iterable[Entry]) -> int:
    """Bring the photos that the entries name from one job's folder to another's; how many were brought.

    Refusal 4 if one can't be written; one that can't be read stays missing.
    """
    photos = {photo.hash: photo for entry in entries for photo in photos_of(entry.value)}
    wanted = [photo for photo in photos.values() if stands(files, photo) != "there"]
    found = [Picture(photo, raw) for photo in wanted if (raw := read_back(source, photo)) is not None]
    keep(files, found)
    return len(found)


def faults(entries: Iterable[Entry], files: Path) -> Iterator[str]:
    """What is wrong with the photos that the entries name, one line each: hostile, missing, changed or unreadable.

    Those of entries that were taken back too: the record keeps them.
    """
    looked: set[str] = set()
    for entry in entries:
        for fault in faults_of(entry.value):
            yield f"Entry {entry.id} ({clean(entry.by, most=40)}, {_where(entry)}): {fault}."
        for photo in photos_of(entry.value):
            if photo.file not in looked:
                looked.add(photo.file)
                yield from _fault(entry, photo, files)


def _fault(entry: Entry, photo: Photo, files: Path) -> Iterator[str]:
    stand = stands(files, photo)
    what = f"Photo {photo.name} of {_where(entry)}, entry {entry.id}"
    at = f"{photo.file} in {named(files)}"
    if stand == "missing":
        source = f"device {clean(entry.device, most=40)} ({clean(entry.by, most=40)})"
        yield (f"{what}: it is missing. Put {photo.file} in {named(files)}, from {source} or another copy of the job.")
    elif stand == "changed":
        yield f"{what}: it was changed, {at} isn't what was saved. Get it from another copy of the job."
    elif stand == "unreadable":
        yield f"{what}: can't open {at}."


def _where(entry: Entry) -> str:
    return clean(entry.path, most=80) or "the site diary"


def strays(entries: Iterable[Entry], files: Path) -> Iterator[str]:
    """The files in the job's folder that are not of this job, one line each: no entry names them."""
    known = {photo.file for entry in entries for photo in photos_of(entry.value)}
    try:
        there = sorted(path for path in files.iterdir() if not re.match(OWN, path.name))
    except OSError:
        return
    for path in there:
        if path.name not in known:
            yield f"{named(path)} in {named(files)} doesn't belong to this job: no entry uses it."


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()

"""The photos in the pack: each with the check it shows, and those of which there is no file told as that."""

from collections.abc import Callable, Iterable, Iterator

from sitelog.job.photos.keeping import Shown
from sitelog.job.photos.photo import Photo
from sitelog.reports.formatting import Formatter
from sitelog.reports.model import PHOTOS, Block, Shot, Shots, Table, Words
from sitelog.reports.phrases import joined
from sitelog.text import text_if

STANDS = {
    "missing": "MISSING",
    "changed": "CHANGED since it was saved",
    "unreadable": "CAN'T OPEN",
    "name only": "camera number only, no photo attached",
}


def kept_whole(album: Iterable[Shown]) -> tuple[Photo, ...]:
    """The photos that stand as they were kept, each once."""
    return tuple({shown.taken.photo: None for shown in album if shown.taken.photo and shown.stand == "there"})


def shots_at(tell: Formatter, stage: str) -> Iterator[Shots]:
    """The photos of the checks of a stage, small, beside each other; nothing where there are none."""
    rows = tuple(_shots(tell, lambda path: path == stage or path.startswith(f"{stage}.")))
    if rows:
        yield Shots(rows)


def photo_blocks(tell: Formatter) -> Iterator[Block]:
    """Where the photos are, those that are at no stage, and a table of those of which there is no file."""
    stages = tuple(f"{stage.path}." for stage in tell.state.order)
    if any(shown.stand == "there" for shown in tell.album):
        yield Words(
            f"Each photo is beside its checks. Files are in the {PHOTOS} folder next to this page: keep them together."
            " Time, place and camera details were removed unless it says otherwise."
        )
    elsewhere = tuple(_shots(tell, lambda path: not f"{path}.".startswith(stages)))
    if elsewhere:
        yield Shots(elsewhere)
    others = tuple(
        (_what(tell, shown), shown.taken.name, STANDS[shown.stand], _whose(tell, shown))
        for shown in tell.album
        if shown.stand != "there"
    )
    if others:
        yield Table(("Check", "Photo", "Status", "Who, when"), others, (6, 4, 4, 4), "Photos missing")


def _shots(tell: Formatter, at: Callable[[str], bool]) -> Iterator[Shot]:
    """The photos that are there, of the paths that are asked for."""
    for shown in tell.album:
        photo = shown.taken.photo
        if photo and shown.stand == "there" and at(shown.taken.path):
            whole = text_if(photo.whole, "with time and place kept")
            says = joined([photo.name, _whose(tell, shown), photo.told_size, whole])
            yield Shot(photo.file, _what(tell, shown), says)


def _what(tell: Formatter, shown: Shown) -> str:
    return tell.name(shown.taken.path) or shown.taken.path or "Site diary"


def _whose(tell: Formatter, shown: Shown) -> str:
    return f"{shown.taken.by}, {tell.when(shown.taken.at)}"

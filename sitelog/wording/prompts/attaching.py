"""How a photo is asked for, and what is offered: one set of words and one act for every front."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime
from pathlib import Path

from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.photos.camera import numbers_in
from sitelog.job.photos.choosing import Chosen, choose
from sitelog.job.photos.keeping import FOLDER, Taken, keep, look, taken
from sitelog.job.photos.photo import Photo, name_only
from sitelog.job.state.views import State
from sitelog.refusal import Refusal
from sitelog.text import counted
from sitelog.wording.formatting import name_of
from sitelog.wording.prompts.question import Question

KEEPS = ("y", "yes", "keep")  # what keeps time and place in a picture
LEFT_OUT = "removed; type yes to keep them"
ASK = "Which photo? Pick a number, or type a file name. A camera number alone attaches nothing."
ALREADY, ALREADY_ALL = "is already the photo", "are already photos"
STANDS = {
    "there": "there",
    "missing": "MISSING",
    "changed": "CHANGED",
    "unreadable": "CAN'T OPEN",
    "name only": "name only, no photo",
}

DraftOf = Callable[[Sequence[Photo], str], Draft]
TextDraftOf = Callable[[str, Sequence[Photo], str], Draft]  # the same, with what the photos show


def questions(offers: Sequence[Path]) -> tuple[Question, Question, Question]:
    """Which photo, what it shows, and whether time and place stay in it."""
    newest = "; ".join(f"{number} {path.name}" for number, path in enumerate(offers, 1))
    return (
        Question("Photo", f"{ASK} Newest: {newest or 'none here'}.", "photo"),
        Question("Photo", "What does it show?", "note", optional=True),
        Question("Photo", f"Time, place and camera details are {LEFT_OUT}.", "keep them", optional=True),
    )


def keeps(text: str) -> bool:
    """Is that a yes to keep time and place in?"""
    return text.strip().lower() in KEEPS


def chosen(text: str, job_file: Path, offers: Sequence[Path]) -> Chosen:
    """What was typed, by the numbers offered, beside the job, or as a name only. Refusal for a path with no file."""
    return choose(text, [job_file.parent], offers)


def offer_lines(offers: Sequence[Path]) -> list[str]:
    """The newest pictures by number, each with its day and hour."""
    if not offers:
        return [f"No photos found next to the job or in its {FOLDER} folder. Type a file name."]
    return ["Newest photos:", *(_offer(number, path) for number, path in enumerate(offers, 1))]


def _offer(number: int, path: Path) -> str:
    try:
        found = path.stat()
    except OSError:
        return f" {number}  {path.name}"
    return (
        f" {number}  {path.name:<32} {datetime.fromtimestamp(found.st_mtime):%d %b %H:%M} {found.st_size / 1e6:6.1f} MB"
    )


def copying(found: Chosen) -> str:
    """What is said while photos are read and copied."""
    return f"Copying {counted(len(found.sources), 'photo')} into the job folder."


def shown_before(state: State, draft: Draft, photos: Sequence[Photo]) -> str:
    """Which of the photos of a check, or of the camera numbers, is another check's already; "" where none is.

    An instruction is work beyond the checks: its photos show none.
    """
    path = f"{draft.part}.{draft.check}"
    if not state.check(path) or draft.act == "instruct":
        return ""
    others = [one for one in taken(state) if one.path != path and state.check(one.path)]
    before = (*_pictured(others, photos), *_numbered(others, name_only(draft.value)))
    return "; ".join(f"{are} of: {name_of(at, state)}" for are, at in before)


def _pictured(others: Sequence[Taken], photos: Sequence[Photo]) -> Iterator[tuple[str, str]]:
    """Each photo that is among those others, `IMG_1.JPG is already the photo`, and of which check."""
    shown = {one.photo.hash: one.path for one in others if one.photo}
    return ((f"{photo.name} {ALREADY}", shown[photo.hash]) for photo in photos if photo.hash in shown)


def _numbered(others: Sequence[Taken], name: str) -> Iterator[tuple[str, str]]:
    """The same of each camera number, and of those of a range that are among them."""
    typed = [*numbers_in(name)]
    if not typed:
        return
    known = [(numbers, one.path) for one in others for numbers in numbers_in(one.name)]
    for numbers in typed:
        found = {shared: path for before, path in known if (shared := numbers.shared(before))}
        yield from (
            (f"{shared} {ALREADY_ALL if ' to ' in shared else ALREADY}", path) for shared, path in found.items()
        )


def twice(told: str) -> Question:
    """Whether a photo serves a second check: it does only if somebody says so."""
    return Question("Photo used before", f"{told}. Does it show this check too? Type yes, or go back.", "yes")


def agreed(text: str) -> None:
    """Refusal of anything but a yes."""
    if text.strip().lower() not in ("y", "yes"):
        raise Refusal(f"{text.strip()!r} isn't yes: type yes, or go back and choose another photo.")


def on_page(day: str, text: str, photos: Sequence[Photo], name: str) -> Draft:
    """Photos on the diary's page of a day (ISO), with words; a name of which there is no file is told among these."""
    words = f"{text} (photo {name}, camera number only)".strip() if name else text
    return actions.diary(day, photos, text=words)


def with_photos(job: Job, found: Chosen, whole: bool, draft_of: DraftOf, agree: Callable[[str], object] = str) -> Draft:
    """The draft of an act with these photos, which are on the disk when it comes back: for who may wait for it.

    `draft_of` is given them, and the names of those of which there is no file; `agree` is told of one that is another
    check's already, before anything is copied. Refusal as from `look`, `keep` and `draft_of`: then nothing was
    entered, and unless it is 4 nothing was written.
    """
    pictures = [look(source, whole=whole) for source in found.sources]
    photos = [picture.photo for picture in pictures]
    draft = draft_of(photos, found.name)
    if told := shown_before(job.state, draft, photos):
        agree(told)
    keep(job.file.files, pictures)
    return draft


def attached(job: Job | None, typed: str, draft_of: DraftOf) -> Draft:
    """The draft of an act with the photos that were typed, by file or by camera number; without a job by name only.

    Refusal as from `chosen` and `with_photos`.
    """
    if job is None:
        return draft_of((), typed)
    return with_photos(job, chosen(typed, job.file.path, ()), False, draft_of)

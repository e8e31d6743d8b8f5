"""Photos by script: what `photo=` and `--photo` name, looked at before the act is proved, kept before it is entered."""

from collections.abc import Callable, Sequence
from pathlib import Path

from sitelog.job.entry import Draft
from sitelog.job.job import Job
from sitelog.job.photo import Photo, in_words
from sitelog.job.photos import choose, keep, look
from sitelog.job.views import State

DraftOf = Callable[[Sequence[Photo], str], Draft]


def with_photos(job: Job, text: str, whole: bool, draft_of: DraftOf) -> Draft:
    """The draft of an act with these photos, which are on the disk when it comes back.

    `draft_of` is given them, and the name of those of which there is no file, here or beside the job. Refusal as from
    `look`, `keep` and `draft_of`: then nothing was entered, and unless it is 4 nothing was written.
    """
    chosen = choose(text, [Path(), job.file.path.parent])
    pictures = [look(source, whole=whole) for source in chosen.sources]
    draft = draft_of([picture.photo for picture in pictures], chosen.name)
    keep(job.file.files, pictures)
    return draft


def told(state: State) -> str:
    """What is said of the photos of the entry just made, after what is said of it."""
    words = in_words(state.last.value) if state.last else ""
    return f"; {words}" if words else ""

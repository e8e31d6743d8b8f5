"""The jobs of a folder: which files are jobs, what each is, what is next in it, and what is wrong with one."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from sitelog.job.log.entry import Entry
from sitelog.job.log.entry_index import on_the_wall
from sitelog.job.state.views import State
from sitelog.job.storage.copies import by_job, looked_into
from sitelog.job.storage.disk import beside
from sitelog.job.storage.reading import read
from sitelog.job.storage.store import WholeFile
from sitelog.refusal import Refusal
from sitelog.text import text_after, written_day
from sitelog.wording.formatting import next_words
from sitelog.wording.prompts.rescuing import copies_in_list

MOST = 200
HEAD_BYTES = 4_096


@dataclass(frozen=True)
class Found:
    """A job file as far as it has been read: `wrong` in one line, or what it holds; `next` once it has been worked."""

    file: Path
    wrong: str = ""
    title: str = ""
    place: str = ""
    last: str = ""
    entries: int = 0
    next: str = ""
    open: int = 0
    copies: str = ""  # what copies beside it have that it hasn't, in one line

    @property
    def named(self) -> str:
        """Its title, with its place where that is known."""
        return f"{self.title}{text_after(', ', self.place)}"


def job_files(folder: Path) -> list[Path]:
    """The files of the folder that are jobs, or were: they say so at their head, or have a folder of their own.

    A job is there once: copies of it under other names are left out.
    """
    copies = {copy for _, *others in by_job(folder).values() for copy in others}
    paths = (path for path in sorted(folder.glob("*.json")) if path not in copies and path.is_file())
    return [path for path in paths if _looks_like_a_job(path)][:MOST]


def _looks_like_a_job(path: Path) -> bool:
    if beside(path).is_dir():
        return True
    try:
        with path.open("rb") as file:
            start = file.read(HEAD_BYTES)
    except OSError:
        return False
    return b'"job"' in start and b'"format"' in start


def peek(path: Path, copies: Iterable[Path] = ()) -> tuple[Found, list[Entry]]:
    """The heading, the number of entries and the last of them; or what is wrong with the file."""
    try:
        entries = read(WholeFile(path)).entries
    except Refusal as refusal:
        return Found(path, wrong=refusal.message), []
    start, last = entries[0].value, entries[-1]
    found = Found(
        path,
        title=str(start.get("title", path.stem)),
        place=str(start.get("place", "")),
        last=f"{_local_day(last)}, {last.by}",
        entries=len(entries),
        copies=copies_in_list(looked_into(copy, entries, path) for copy in copies),
    )
    return found, entries


def _local_day(entry: Entry) -> str:
    moment = on_the_wall(entry)
    if moment:
        return written_day(moment)
    return entry.at


def worked(found: Found, state: State) -> Found:
    """With what is next and how many snags are open."""
    return replace(found, next=next_words(state), open=len(state.open_snags))


def peek_all(folder: Path) -> list[tuple[Found, list[Entry]]]:
    """Each job of the folder as far as it can be read, with what the copies beside it have."""
    copies = {job: others for job, *others in by_job(folder).values()}
    return [peek(path, copies.get(path, ())) for path in job_files(folder)]

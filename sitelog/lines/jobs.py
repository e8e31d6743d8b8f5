"""The jobs of a folder, one to be opened by its number, or a new one to be set up."""

from pathlib import Path

from sitelog.lines.talk import Talk
from sitelog.text import counted, text_after
from sitelog.wording.jobs import Found, peek_all

EMPTY = "No jobs in this folder."


def choose(talk: Talk, folder: Path) -> Path | None:
    """The file of the job that was chosen; None for a new one. Left on `back`."""
    found = [job for job, _ in peek_all(folder)]
    talk.say(f"Jobs in {folder.resolve().name or folder}.", *([] if found else [EMPTY]))
    at = talk.pick("Which job?", [*(_row(job) for job in found), "new job"])
    if at < len(found):
        return found[at].file
    return None


def _row(found: Found) -> str:
    if found.wrong:
        return f"DAMAGED, {found.file.name}: {found.wrong}"
    count = counted(found.entries, "entry", "entries")
    return f"{found.named}: {count}, last {found.last}{text_after('. ', found.copies)}"

"""What is asked where a job is not what it was: an older copy was put back, or its file is gone."""

from pathlib import Path

from sitelog.job.job import Job
from sitelog.job.machine.lacking import going_on
from sitelog.refusal import Refusal
from sitelog.text import clean
from sitelog.wording.prompts.question import Prompt, Question

OLDER = "Older copy of this job"
HOW_TO_JOIN = (
    "To bring in what is kept of them: quit, and type sitelog merge with the file, and a newer copy if you have one."
)


def without(job: Job) -> Prompt:
    """To go on without entries that can't be found: the reason, under a name. Refusal where none are missing."""
    if not job.file.missing:
        raise Refusal("Nothing is missing from this job.")
    entries, missing = job.file.entries, job.file.missing
    ask = f"{job.file.lacks} {HOW_TO_JOIN} To go on without them, say why."
    return Prompt((Question(OLDER, ask, "reason"),), lambda words: going_on(entries, missing, words[0]), ("why",))


def place(job: Job, folder: Path) -> Question:
    """Where to go on with a job whose file is gone: its own place where that can be, else `folder`."""
    path = job.file.path
    start = path if path.parent.is_dir() else folder / path.name
    ask = f"{job.file.gone()}. Save the job again here, or type where it is now."
    return Question("The job's file is gone", ask, "file or folder", start=str(start), offered=True)


def typed_place(words: str) -> Path:
    """What was typed as a path; ~ is the user's own folder. Refusal for what can't be one."""
    try:
        return Path(words).expanduser()
    except (RuntimeError, ValueError):
        raise Refusal(f"{clean(words, most=60)} isn't a file or a folder.") from None

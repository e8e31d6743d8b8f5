"""What is asked of a job that is not what it was: an older copy was put back, its file is gone, it has copies."""

from collections.abc import Iterable, Iterator
from pathlib import Path

from sitelog.job.job import Job
from sitelog.job.machine.lacking import going_on
from sitelog.job.storage.copies import Copy, Settled
from sitelog.refusal import Refusal
from sitelog.text import clean, counted, text_if
from sitelog.wording.prompts.question import Prompt, Question

OLDER = "Older copy of this job"
HOW_TO_JOIN = (
    "To bring in what is kept of them: quit, and type sitelog merge with the file, and a newer copy if you have one."
)
COPY = "A copy of this job is in its folder"
COPY_CHOICES = "Leave it", "Join it"


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


def copy_told(copy: Copy) -> str:
    """What a copy has, in a line without its stop."""
    if copy.why:
        return f"{copy.name} is a copy of this job that can't be joined: {copy.why.removesuffix('.')}"
    if copy.new:
        count = counted(copy.new, "entry that isn't", "entries that aren't")
        return f"A copy from another tablet has {count} in this job: {copy.name}"
    return f"{copy.name} is a copy of this job with nothing new in it"


def copy_offers(copies: Iterable[Copy], file: str) -> Iterator[str]:
    """Each copy beside the job, and what to type."""
    for copy in copies:
        if copy.why:
            yield f"{copy_told(copy)}."
        else:
            yield f"{copy_told(copy)}. To {'join' if copy.new else 'remove'} it: sitelog merge {file}"


def copies_settled(done: Settled) -> Iterator[str]:
    """What became of the copies, a line each."""
    for copy in done.aside:
        came = counted(copy.new, "entry", "entries")
        yield f"Joined {copy.name}: {came} added. The copy is now in the job's own folder, under copies."
    for copy in done.removed:
        yield f"Removed {copy.name}: a copy of this job with nothing new in it."
    for copy in done.stays:
        yield f"{copy_told(copy)}."


def copies_in_list(copies: Iterable[Copy]) -> str:
    """The same for the list of jobs, or ""."""
    new = sum(copy.new for copy in copies)
    return text_if(new, f"A copy from another tablet has {counted(new, 'entry', 'entries')}: open the job to join it")

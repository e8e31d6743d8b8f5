"""`sitelog order`: in words as it was told before, where nothing that it is made of is another."""

from __future__ import annotations

from hashlib import sha256

from sitelog import kept
from sitelog.calculators.timber.planning import which_solver
from sitelog.cli.keep.job_file import Options, opened
from sitelog.job.job import Job
from sitelog.job.yard import yard_for

OTHERWISE = ("csv", "json", "batches", "out", "new_yard")  # the list in another form
TERMS = ("lengths", "kerf", "prices", "on_site", "yard")  # typed with it


def order(options: Options) -> int:
    """Print it; exit 1 where the order is not whole, which is then said. Refusal as `sitelog.cli.order` gives it."""
    if any(getattr(options, name) for name in (*OTHERWISE, *TERMS)):
        from sitelog.cli.order import order as anew  # all that plans timber is loaded with it

        return anew(options)
    with opened(options, read_only=True) as job:
        text, code = _told(options, job)
    print(text)
    return code


def _told(options: Options, job: Job) -> tuple[str, int]:
    """The text and the exit code; worked anew where the job, its yard file or the solver is another."""
    key = _key(options, job)
    match kept.find(key) if key else None:
        case (str(text), int(code)):
            return text, code
    from sitelog.cli.order import in_words

    text, code, whole = in_words(options, job)
    if key and whole:
        kept.keep(key, (text, code))
    return text, code


def _key(options: Options, job: Job) -> str:
    """What it all hangs on; "" where that can't be told."""
    yard = yard_for(job.file.files)
    try:
        sold = sha256(yard.read_bytes()).digest() if yard else b""
    except OSError:
        return ""
    if not job.key:
        return ""
    asked = (job.key, options.part, "buy" * options.buy, which_solver(), str(yard or ""))
    return kept.key_of(b"order", *(word.encode("utf-8", "surrogateescape") for word in asked), sold)

"""How what is handed over is put on the disk: its name made safe, each file whole or not at all."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from sitelog.job.storage.disk import begun, fill, named, reason, sync_folder
from sitelog.refusal import NOT_SAVED, Refusal
from sitelog.text import clean

LONGEST = 120  # letters of a file's name
KEPT_WORDS = 3  # at its end: `-brief-tiler.pdf`


def write_all(made: Mapping[str, bytes], folder: Path, job: Path | None = None, *, flag: str = "--out") -> list[Path]:
    """Each file whole, under its name made safe, for those who may read the file `job`; no link is followed.

    Refusal (code 4) for a folder or a file that can't be written; `flag` is what names another folder.
    """
    paths = {folder / file_name(name): raw for name, raw in made.items()}
    with saving(next(iter(paths), folder), flag):
        folder.mkdir(parents=True, exist_ok=True)
        for path, raw in paths.items():
            replace(path, raw, job)
        sync_folder(folder)
    return [*paths]


@contextmanager
def saving(path: Path, flag: str = "--out") -> Iterator[None]:
    """What the disk refuses, as a Refusal (code 4) that names the file and says what to do."""
    try:
        yield
    except OSError as error:
        raise Refusal(
            f"Not saved: {named(path)}: {reason(error)}. Try another folder with {flag}.", code=NOT_SAVED
        ) from error


def file_name(name: str) -> str:
    """Letters, digits, dots, hyphens and underscores only, so that no trade's or job's name leads out of the folder.

    A long one loses words out of its middle, each whole, and keeps what it is and its ending.
    """
    plain = re.sub(r"[^\w.-]+", "-", clean(name)).lstrip(".-") or "pack"
    words = plain.split("-")
    while len("-".join(words)) > LONGEST and len(words) > KEPT_WORDS:
        del words[-KEPT_WORDS]
    return "-".join(words)


def replace(path: Path, raw: bytes, job: Path | None = None) -> None:
    """Put the bytes in place of what has that name, whole or not at all. OSError if that can't be done."""
    new, handle = begun(path, job)
    try:
        fill(handle, raw)
        new.replace(path)
    except BaseException:
        with suppress(OSError):
            new.unlink()
        raise

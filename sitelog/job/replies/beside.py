"""Reply files: read from the disk, and looked for beside a job."""

import os
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

from sitelog.job.job import Job
from sitelog.job.replies.plain import MOST
from sitelog.refusal import Refusal
from sitelog.text import clean

MOST_FILES = 50  # looked into, the newest first
NAMED = "reply"  # somewhere in the name of a file that is looked into
_ENDING = ".txt"


TYPE_CHECKING = False
if TYPE_CHECKING:
    from sitelog.job.replies.reply import Reply


class Offered(Struct, frozen=True):
    """A reply to this job that lies beside it and is not entered yet."""

    file: Path
    reply: "Reply"


def beside(job: Job) -> tuple[Offered, ...]:
    """The replies in the job's folder that are whole, of this job and not all entered; the first made first."""
    files = list(_files(job.file.path.parent))
    if not files:
        return ()
    from sitelog.job.replies.reply import read_reply  # not loaded for a job beside which no reply lies
    from sitelog.job.replies.taking import answered_already

    found: dict[str, Offered] = {}
    for file in files:
        try:
            reply = read_reply(text_of(file))
        except Refusal:
            continue
        if reply.job == job.state.id and not set(answered_already(job.entries, reply)) >= set(reply.numbers):
            found.setdefault(reply.sum, Offered(file, reply))
    return tuple(sorted(found.values(), key=lambda offered: (offered.reply.day, offered.file.name)))


def text_of(file: Path) -> str:
    """The text of a reply file. Refusal if there is none, it can't be read, or it is no text or far too long."""
    name = clean(file.name or str(file), most=80)
    try:
        if not file.is_file():
            raise Refusal(f"No reply file {name}. Give its name, or - to paste the text")
        with file.open("rb") as source:
            raw = source.read(4 * MOST + 1)
    except OSError as error:
        raise Refusal(f"{name} can't be read ({error.strerror}). Give another file, or - to paste the text") from error
    return decoded(raw, name)


def decoded(raw: bytes, name: str) -> str:
    """Bytes as text, of either kind that a machine saves text in. Refusal for anything else."""
    try:
        if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
            return raw.decode("utf-16")
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal(f"{name} isn't a text. Give the reply file, or - to paste the text") from None


def _files(folder: Path) -> Iterator[Path]:
    """The text files beside the job that may be replies by their names, the newest first."""
    rows: list[tuple[int, Path]] = []
    try:
        with os.scandir(folder) as entries:
            for row in entries:
                name = row.name.lower()
                if NAMED in name and name.endswith(_ENDING) and row.is_file(follow_symlinks=False):
                    stat = row.stat(follow_symlinks=False)
                    if stat.st_size <= 4 * MOST:
                        rows.append((stat.st_mtime_ns, Path(row.path)))
    except OSError:
        return
    for _, file in sorted(rows, key=lambda row: (-row[0], row[1]))[:MOST_FILES]:
        yield file

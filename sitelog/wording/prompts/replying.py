"""What the next trade's reply is called, and what was entered of it, in words."""

from collections.abc import Iterable, Iterator

from sitelog.job.replies.beside import Offered
from sitelog.job.replies.reply import Reply, in_ranges
from sitelog.job.replies.taking import Taken, day_of
from sitelog.text import text_if


def by_whom(reply: Reply) -> str:
    """`J. Dunn, tiler, 30 Nov 2026`."""
    return f"{reply.by}, {reply.to}, {day_of(reply)}"


def counts(reply: Reply) -> str:
    """`28 accepted, 2 sent back`."""
    return f"{len(reply.accepted)} accepted, {len(reply.back)} sent back"


def in_points(numbers: Iterable[int]) -> str:
    """`Point 4`, `Points 4, 7-9`."""
    rows = list(numbers)
    return f"Point{text_if(len(rows) > 1, 's')} {in_ranges(rows)}"


def offer(offered: Offered) -> str:
    """A reply that lies beside the job, in a line."""
    return f"Reply from {by_whom(offered.reply)}: {counts(offered.reply)} ({offered.file.name})"


def taken(found: Taken) -> Iterator[str]:
    """What a reply says, and what of it has changed since its pack was made."""
    reply = found.reply
    yield f"{by_whom(reply)}: {counts(reply)}, record code {reply.code}"
    for number, why in reply.back:
        yield f"Point {number} sent back: {why}"
    if found.changed:
        count = "These answers count" if len(found.changed) > 1 else "This answer counts"
        yield f"{in_points(found.changed)} changed since that pack. {count} for that pack only: hand over again."
    elif found.newer:
        yield "A newer pack was made since. Nothing it asks about has changed."

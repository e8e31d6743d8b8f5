"""The next trade's reply in words: what it is called, what was entered of it, and what is asked of one on paper."""

import re
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from sitelog.job.actions.naming import a_day
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.replies.beside import Offered
from sitelog.job.replies.points import changed_since, print_of
from sitelog.job.replies.reply import Reply, in_ranges, numbers_in, summed
from sitelog.job.replies.taking import Taken, day_of, packed, take
from sitelog.job.state.record_views import Made
from sitelog.job.state.views import State
from sitelog.refusal import Refusal
from sitelog.text import clean, counted, text_if, written_day
from sitelog.wording.formatting import day
from sitelog.wording.prompts.prompts import SIGNATURE
from sitelog.wording.prompts.question import Prompt, Question

NO_PACK = "No reply in this folder, and no pack made yet. Make the pack first: hand over (h), then p."
PAPER = "Answers from paper"
HOW = "Press Enter, then type the numbers off the paper, and the name and date on it."


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
    yield from since(found)


def since(found: Taken) -> Iterator[str]:
    """What of the points it answers has changed since its pack, and that a newer one was made."""
    if found.changed:
        count = "These answers count" if len(found.changed) > 1 else "This answer counts"
        yield f"{in_points(found.changed)} changed since that pack. {count} for that pack only: hand over again."
    elif found.newer:
        yield "A newer pack was made since. Nothing it asks about has changed."


def packs_made(state: State) -> tuple[Made, ...]:
    """The packs that can be answered by number, the newest first: one of them is in the hands of whoever answers."""
    return tuple(dict.fromkeys(made for made in reversed(state.packs) if made.numbered))


def pack_row(made: Made) -> str:
    """A pack by what stands on its first page."""
    return f"Pack for the {made.to}, {day(made.at)}, record code {made.head}"


def from_paper(job: Job, made: Made, today: date) -> Prompt:
    """Answers off a printed pack, by the numbers of its points, under the name and the date that stand there."""
    questions = (
        Question(PAPER, "Numbers accepted, such as 1-12, 15.", "accepted", optional=True),
        Question(PAPER, "Sent back, and why, such as 13 gap at hip; 16 no clips.", "sent back",
                 optional=True),
        Question(PAPER, "Date on the paper.", "date", start=written_day(today), offered=True),
        Question(PAPER, f"Name on the paper. {SIGNATURE}", "name"),
    )  # fmt: skip

    def make(words: Sequence[str]) -> list[Draft]:
        return list(on_paper(job, made, words, today).drafts)

    return Prompt(questions, make, signed=True, form=f"{PAPER} {made.head}")


def on_paper(job: Job, made: Made, words: Sequence[str], today: date) -> Taken:
    """The answers to `from_paper` held to their pack. Refusal where a number or a word is wrong or missing."""
    accepted, back = _accepted(words[0]), _sent_back(words[1])
    pack = packed(job.newest, job.entries, made.head, made.to)
    points = pack.points if pack else ()
    _must_be_there(accepted, [number for number, _ in back], len(points))
    reply = Reply(
        job=job.state.id,
        title=job.state.title,
        code=made.head,
        to=made.to,
        count=len(points),
        print=print_of(points),
        by=clean(words[3]),
        day=a_day(words[2], "date"),
        accepted=tuple(accepted),
        back=tuple(back),
    )
    return take(job, summed(reply), today)


def changed_on(state: State, made: Made) -> Iterator[str]:
    """That points answered for a pack have changed since it was made."""
    changed = sum(point.head == made.head and changed_since(state, point) for point in state.points)
    if changed:
        yield f"{counted(changed, 'point')} answered for that pack changed since: hand over again."


def _accepted(text: str) -> list[int]:
    runs = re.sub(r"\s*(?:\bto\b|[-\u2010-\u2015])\s*", "-", text)
    try:
        return sorted(set(numbers_in(re.sub(r"[\s,;]+", ",", runs))))
    except ValueError:
        raise Refusal(f"accepted: {clean(text, most=60)!r} isn't numbers of points. Type them as 1-12, 15") from None


def _sent_back(text: str) -> list[tuple[int, str]]:
    """Number and why of each point, as `13 gap at the hip; 16: no clips`."""
    found = []
    for words in filter(None, map(str.strip, re.split(r";\s*(?=\d)|;\s*$", text))):
        said_back = re.fullmatch(r"(\d{1,4})\s*[-:.,]?\s*(.*\w.*)", words, flags=re.DOTALL)
        if not said_back:
            raise Refusal(f"sent back: {clean(words, most=60)!r} needs a number and why, such as 13 gap at the hip")
        found.append((int(said_back[1]), clean(said_back[2])))
    return found


def _must_be_there(accepted: Sequence[int], back: Sequence[int], count: int) -> None:
    numbers = [*accepted, *back]
    if not numbers:
        raise Refusal("Type the numbers accepted, such as 1-12, or one that is sent back and why")
    if wrong := next((number for number in numbers if not 0 < number <= count), None):
        raise Refusal(f"Point {wrong} isn't on that pack. Its points are 1 to {count}")
    if twice := next((number for number in back if numbers.count(number) > 1), None):
        raise Refusal(f"Point {twice} is answered twice. Leave it under accepted, or under sent back")

"""A reply as text: short lines in square brackets, that a person can read and a messenger may fold and quote."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from sitelog.job.log.record_code import CODE_LENGTHS
from sitelog.job.replies.plain import MOST, counted, one_line, sum_of
from sitelog.refusal import PROBLEM, Refusal
from sitelog.text import clean

MOST_POINTS = 2_000  # of one pack

START = "sitelog reply"
NOT_WHOLE = (
    f"This reply was altered, or part of it is missing. Copy all of it again, from [{START}] to [sum ...], "
    "or use the reply file"
)
FIELDS = ("job", "title", "pack", "for", "points", "by", "on")  # then the answers
_START = re.compile(r"\[\s*sitelog\s*reply\s*\]", re.IGNORECASE)
_END = re.compile(r"\[\s*sum\s*([^\[\]]*)\]", re.IGNORECASE)
_FIELD = re.compile(r"\[([^\[\]]*)\]")
_LOOKS = re.compile(r"\[\s*(?:sitelog|job|pack|points|accepted|back|sum)\b|sitelog\s+reply", re.IGNORECASE)
_QUOTED_START = re.compile(r"^[ \t]*>[^\n]*\[\s*sitelog", re.MULTILINE | re.IGNORECASE)
_QUOTED = re.compile(r"^[ \t]*(?:>[ \t]?)+", re.MULTILINE)


class Reply(Struct, frozen=True):
    """What one person says of the points of one pack. `print` is that of the pack's points, see points.py."""

    job: str  # id
    title: str
    code: str  # the pack's record code
    to: str  # the trade
    count: int  # of the pack's points
    print: str
    by: str
    day: str  # ISO
    accepted: tuple[int, ...] = ()
    back: tuple[tuple[int, str], ...] = ()  # number and why
    sum: str = ""  # its own, by which it is known again

    @property
    def numbers(self) -> tuple[int, ...]:
        """Every point that it answers."""
        return tuple(sorted((*self.accepted, *(number for number, _ in self.back))))


def summed(reply: Reply) -> Reply:
    """The reply with its own sum: for one that is put together here, from paper."""
    return replace(reply, sum=sum_of(_fields(reply)))


def written(reply: Reply) -> str:
    """The reply as a block of text, a field on each line."""
    fields = _fields(reply)
    return "".join(f"[{field}]\n" for field in (START, *fields, f"sum {sum_of(fields)}"))


def _fields(reply: Reply) -> list[str]:
    rows = [
        f"job {reply.job}",
        f"title {one_line(reply.title)}",
        f"pack {reply.code}",
        f"for {one_line(reply.to)}",
        f"points {reply.count} {reply.print}",
        f"by {one_line(reply.by)}",
        f"on {reply.day}",
    ]
    if reply.accepted:
        rows.append(f"accepted {in_ranges(reply.accepted)}")
    return rows + [f"back {number}: {one_line(words)}" for number, words in reply.back]


def in_ranges(numbers: Iterable[int]) -> str:
    """Numbers as people write them: `1-12, 15`."""
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def read_reply(text: str) -> Reply:
    """The reply in a text, whatever stands before it and after it. Refusal: none, altered, or several of them."""
    if len(text) > MOST:
        raise Refusal(f"That is too long for a reply. Give only its text, from [{START}] to [sum ...]")
    told = _unquoted(unicodedata.normalize("NFC", text))
    starts = [found.end() for found in _START.finditer(told)]
    if not starts:
        raise _no_reply(told)
    found = {_whole(told[start:after]) for start, after in zip(starts, [*starts[1:], len(told)], strict=True)}
    if len(found) > 1:
        raise Refusal("There are several replies in it. Enter one at a time")
    return found.pop()


def _no_reply(text: str) -> Refusal:
    if _LOOKS.search(text):
        return Refusal(NOT_WHOLE, code=PROBLEM)
    return Refusal(f"No reply in it. Give the reply file, or paste the text from [{START}] to [sum ...]")


def _unquoted(text: str) -> str:
    """The text without the marks of a quoted mail, where the line on which the reply begins has one."""
    if _QUOTED_START.search(text):
        return _QUOTED.sub("", text)
    return text


def _whole(text: str) -> Reply:
    end = _END.search(text)
    fields = _FIELD.findall(text[: end.start()]) if end else []
    own = sum_of(fields)
    if end is None or counted(end[1]).lower() != own:
        raise Refusal(NOT_WHOLE, code=PROBLEM)
    try:
        return _reply([one_line(field).partition(" ")[::2] for field in fields], own)
    except ValueError:
        raise Refusal(NOT_WHOLE, code=PROBLEM) from None


def _reply(fields: Sequence[tuple[str, str]], own: str) -> Reply:
    """The fields, name and text, as a reply. ValueError where they are not those of a form, in their order."""
    answers = ["accepted"] if any(name == "accepted" for name, _ in fields) else []
    back = tuple(_sent_back(words) for name, words in fields if name == "back")
    if [name for name, _ in fields] != [*FIELDS, *answers, *("back" for _ in back)]:
        raise ValueError("fields that no form writes")
    told = dict(fields)
    count, _, points_print = told["points"].partition(" ")
    reply = Reply(
        job=counted(told["job"]),
        title=clean(told["title"]),
        code=counted(told["pack"]),
        to=clean(told["for"]),
        count=int(count),
        print=points_print,
        by=clean(told["by"]),
        day=date.fromisoformat(counted(told["on"])).isoformat(),
        accepted=tuple(numbers_in(told.get("accepted", ""))),
        back=back,
        sum=own,
    )
    _proved(reply)
    return reply


def _proved(reply: Reply) -> None:
    numbers = reply.numbers
    if not numbers or len(set(numbers)) < len(numbers) or not 0 < reply.count <= MOST_POINTS:
        raise ValueError("no point, or one that is answered twice")
    if not all(0 < number <= reply.count for number in numbers) or len(reply.code) not in CODE_LENGTHS:
        raise ValueError("a point that the pack does not have")
    if not (any(map(str.isalnum, reply.by)) and all(any(map(str.isalnum, words)) for _, words in reply.back)):
        raise ValueError("no name, or a point sent back without a word")


def _sent_back(words: str) -> tuple[int, str]:
    number, _, why = words.partition(":")
    return int(number), clean(why)


def numbers_in(text: str) -> Iterator[int]:
    """The numbers of `1-12, 15`. Raises ValueError for anything else."""
    for word in filter(None, counted(text).split(",")):
        first, dash, last = word.partition("-")
        start, end = int(first), int(last if dash else first)
        if not 0 < start <= end <= MOST_POINTS:
            raise ValueError(word)
        yield from range(start, end + 1)

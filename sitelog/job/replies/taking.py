"""What a reply enters in a job: it is held to the pack that it answers, and each answer becomes an entry."""

from collections.abc import Iterable, Iterator, Sequence, Set
from datetime import date, timedelta

from msgspec import Struct

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.naming import on
from sitelog.job.job import Job, seen
from sitelog.job.log.entry import Draft, Entry
from sitelog.job.log.record_code import entries_at
from sitelog.job.replies.points import Marked, kept_points, mark, marked, print_of
from sitelog.job.replies.reply import Reply
from sitelog.job.state.records import next_number
from sitelog.job.state.views import State
from sitelog.refusal import PROBLEM, Refusal
from sitelog.text import clean, written_day


class Packed(Struct, frozen=True):
    """A pack that was handed over: its points as they were then, and the entry after which it was made."""

    points: Marked
    after: str  # the id of that entry, or of the handover itself


class Taken(Struct, frozen=True):
    """A reply held to its pack and not entered yet."""

    reply: Reply
    drafts: tuple[Draft, ...]
    changed: tuple[int, ...]  # the points it answers that have changed since, by number
    newer: bool  # a pack was made for that trade since


def take(job: Job, reply: Reply, today: date) -> Taken:
    """What the reply would enter. Refusal in one line: of another job, given twice, dated after `today`, or to a pack
    that this copy of the job does not have.
    """
    state, entries = job.state, job.entries
    answered = set(answered_already(entries, reply))
    _must_be_new(state, reply, answered, today)
    pack = packed(job.newest, entries, reply.code, reply.to)
    if pack is None or (reply.count, reply.print) != (len(pack.points), print_of(pack.points)):
        raise Refusal(
            f"No pack for the {clean(reply.to, most=40)} with these points and record code {reply.code} here. "
            "Merge in the copy of the job it was made from, then enter the reply",
            code=PROBLEM,
        )
    left = [number for number in reply.numbers if number not in answered]
    return Taken(
        reply=reply,
        drafts=tuple(_drafts(state, reply, pack, left)),
        changed=tuple(number for number in reply.numbers if _changed(state, *pack.points[number - 1])),
        newer=any(entry.id > pack.after for entry in _handovers(entries, reply.to)),
    )


def _must_be_new(state: State, reply: Reply, answered: Set[int], today: date) -> None:
    if reply.job != state.id:
        raise Refusal(
            f"This reply is for another job, {clean(reply.title, most=60)!r}. Nothing was entered: "
            "open that job, and enter it there",
            code=PROBLEM,
        )
    if answered >= set(reply.numbers):
        raise Refusal(f"This reply by {reply.by} is in the record already. Nothing was entered again", code=PROBLEM)
    if date.fromisoformat(reply.day) > today + timedelta(days=1):  # theirs may be a day ahead
        raise Refusal(
            f"This reply is dated {day_of(reply)}, which is to come. Set this machine's date, or ask for it again",
            code=PROBLEM,
        )


def packed(newest: Library, entries: Sequence[Entry], code: str, to: str) -> Packed | None:
    """The pack with that record code for that trade: as the handover keeps it, else worked again from the entries."""
    made = next((entry for entry in _handovers(entries, to) if entry.value.get("head") == code), None)
    kept = kept_points(made.value.get("points")) if made else ()
    if made and kept:
        return Packed(kept, made.id)
    then = _entries_then(entries, code, made)
    if not then:
        return None
    return Packed(marked(seen(newest, then), to), made.id if made else then[-1].id)


def _entries_then(entries: Sequence[Entry], code: str, made: Entry | None) -> Sequence[Entry]:
    """Those that were there when the pack was made: where copies were joined since, those before its handover."""
    found = entries_at(entries, code)
    if found is None and made:
        return [entry for entry in entries if entry.id < made.id]
    return found or ()


def _handovers(entries: Iterable[Entry], to: str) -> Iterator[Entry]:
    gone = voided(entries)
    for entry in entries:
        if entry.act == "handover" and entry.value.get("to") == to and entry.id not in gone:
            yield entry


def answered_already(entries: Iterable[Entry], reply: Reply) -> Iterator[int]:
    """The points whose answer by this very reply is in the record, and was not undone."""
    gone = voided(entries)
    for entry in entries:
        number = entry.value.get("number")
        if entry.act == "accept" and entry.value.get("reply") == reply.sum and entry.id not in gone:
            yield number if isinstance(number, int) else 0


def voided(entries: Iterable[Entry]) -> set[object]:
    """The ids of the entries that were taken back."""
    return {entry.value.get("id") for entry in entries if entry.act == "void"}


def day_of(reply: Reply) -> str:
    """Its day as it is written on site."""
    return written_day(date.fromisoformat(reply.day))


def _changed(state: State, path: str, as_packed: str) -> bool:
    view = state.check(path)
    return view is None or mark(view) != as_packed


def _drafts(state: State, reply: Reply, pack: Packed, left: Sequence[int]) -> Iterator[Draft]:
    """An entry for each answer, and a snag for each point that is sent back."""
    why = dict(reply.back)
    snag = int(next_number(state.snags))
    for number in left:
        path, as_packed = pack.points[number - 1]
        value = {
            "point": path,
            "accepted": number not in why,
            "head": reply.code,
            "after": pack.after,
            "mark": as_packed,
            "number": number,
            "day": reply.day,
            "reply": reply.sum,
        }
        yield Draft(act="accept", value=value, note=why.get(number, ""))
        if number in why:
            part, check = on(path) if state.check(path) else ("", "")
            words = {"id": str(snag), "text": f"Point {number} sent back: {why[number]}", "who": "", "due": ""}
            yield Draft(act="snag", part=part, check=check, value=words | {"reply": f"{reply.sum} {number}"})
            snag += 1

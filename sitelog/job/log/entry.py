"""What an entry is: one act by one person at one time, fixed for ever and chained to the one before."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from operator import attrgetter
from typing import Annotated, Any, Literal, get_args

import msgspec

from sitelog.refusal import Refusal
from sitelog.text import clock

Act = Literal[
    "start",  # the job: value {title, place, units}
    "pin",  # the texts of the checklists in force: value {list id: SHA-256}
    "part",  # a part joins the job: value {id, title, form}
    "drawn",  # design figures of a part: value {fact: value}
    "answer",  # a check is answered: value {key: value...}, plus "@" keys for its evidence (see answers.py)
    "skip",  # a check is not applicable: the note is the reason
    "defer",  # a check waits: value {until: stage path}; the note is the reason
    "snag",  # value {id, text, who, due}; `check` names where it was found, or ""
    "close",  # a snag is put right: value {id}
    "release",  # a check or a stage is let go as it is: the note is the reason
    "sign",  # a stage is signed
    "note",  # words on a check or a stage
    "instruct",  # work beyond the drawing: value {id, text, who, day, hours, timber, photos}
    "tally",  # pieces counted: value {what, section, cuts, hand, length, cut, up, spoiled}, the last three as more
    "diary",  # value {day, weather, people, deliveries, delays, text, photos}, any of them
    "read",  # a caution is read: value {id, answer}
    "instrument",  # value {id, kind, class}
    "doubt",  # an instrument is marked bad: value {id}
    "handover",  # a pack was made: value {to, head}
    "accept",  # the next trade accepts or returns a point: value {point, accepted}
    "void",  # undo: value {id} of the entry it takes back
]
ACTS: tuple[str, ...] = get_args(Act)
FIRST = "0" * 64
TOO_LATE = 2128  # the year from which on ids no longer sort as text
Offset = Annotated[int, msgspec.Meta(gt=-24 * 60, lt=24 * 60)]  # minutes east of UTC


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """One act. `at` is when it was entered, in UTC; `offset` is the local clock's minutes east of it.

    `done` is when it happened if that was earlier ("" otherwise). `check` is `stage.check`, a stage, or "".
    `prev` is the SHA-256 of the same device's entry before it, FIRST for the first.
    """

    id: str
    at: str
    offset: Offset
    by: str
    device: str
    seq: int
    prev: str
    act: Act
    part: str = ""
    check: str = ""
    value: dict[str, Any] = msgspec.field(default_factory=dict)
    note: str = ""
    done: str = ""

    @property
    def path(self) -> str:
        """`part.stage.check`, `part.stage`, or the part."""
        if self.check:
            return f"{self.part}.{self.check}"
        return self.part

    def digest(self) -> str:
        """SHA-256 of the entry's canonical JSON (keys sorted)."""
        return digest_of(self)


Ends = dict[str, tuple[Entry, ...]]  # by device


def digest_of(document: "Entry | Mapping[str, Any]") -> str:
    """SHA-256 of the canonical JSON of an entry, or of its document in a file, unknown keys included."""
    return hashlib.sha256(msgspec.json.encode(document, order="sorted")).hexdigest()


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """An act not yet entered: all of an entry but its place in the chain."""

    act: Act
    part: str = ""
    check: str = ""
    value: Mapping[str, Any] = msgspec.field(default_factory=dict)
    note: str = ""
    done: str = ""


def several(drafts: Draft | Sequence[Draft]) -> Sequence[Draft]:
    """The drafts of an act, which may be one."""
    if isinstance(drafts, Draft):
        return [drafts]
    return drafts


class Author(msgspec.Struct, frozen=True):
    """Who enters, on what, and when: handed in, never asked for below the screens."""

    by: str
    device: str
    now: datetime  # aware
    chance: str = ""  # letters or digits that no other copy has: two copies on one device never give one id twice


def said(value: Mapping[str, Any]) -> dict[str, Any]:
    """What a person said, out of the value of an entry: without the evidence, which stands under "@" keys."""
    return {key: word for key, word in value.items() if not key.startswith("@")}


def seal(draft: Draft, author: Author, before: Entry | None, latest_id: str = "") -> Entry:
    """The draft as the next entry of its device's chain; `before` is that device's last.

    Its id sorts by time, and after `latest_id`, the last of the job, though a clock was set back. Its value
    is as a file will give it back (a tuple is a list). `Refusal` 2 if a text can't be written as UTF-8, and where the
    clock is past what an id can keep.
    """
    if author.now.astimezone(UTC).year >= TOO_LATE:
        raise Refusal(f"This machine's clock says {clock(author.now)}. Set its date, then enter it again.")
    seq = before.seq + 1 if before else 1
    offset = author.now.utcoffset()
    named = "-".join(filter(None, (author.device, author.chance)))
    entry = Entry(
        id=_next_id(max(0, int(author.now.timestamp() * 1000)), f"{named}-{seq:06d}", latest_id),
        at=author.now.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z"),
        offset=int(offset.total_seconds() // 60) if offset else 0,
        by=author.by,
        device=author.device,
        seq=seq,
        prev=before.digest() if before else FIRST,
        act=draft.act,
        part=draft.part,
        check=draft.check,
        value=dict(draft.value),
        note=draft.note,
        done=draft.done,
    )
    try:
        return msgspec.json.decode(msgspec.json.encode(entry), type=Entry)
    except UnicodeEncodeError:
        raise Refusal("The text has half a character in it that can't be saved: type it again.") from None


def _next_id(stamp: int, rest: str, latest_id: str) -> str:
    """Milliseconds since 1970, device, chance, number; just after `latest_id` where it would sort before it."""
    made = f"{stamp:013d}-{rest}"
    if made > latest_id:
        return made
    latest = latest_id.partition("-")[0]
    return f"{int(latest) + 1:013d}-{rest}"


def is_named(entry: Entry) -> bool:
    """Does its id say its device and number? Between them stands the chance, but in older entries."""
    head, tail = f"-{entry.device}-", f"-{entry.seq:06d}"
    rest = entry.id[13:]
    if rest == f"{head[:-1]}{tail}":
        return True
    chance = rest.removeprefix(head).removesuffix(tail)
    return rest == f"{head}{chance}{tail}" and chance.isalnum()


def alike(one: Entry, other: Entry) -> bool:
    """Can they share an id? Only those of one number on one device, from two copies."""
    return (one.device, one.seq) == (other.device, other.seq)


def in_order(entries: Iterable[Entry]) -> list[Entry]:
    """The entries in order of id; of two that share one, from copies that gave the same, in order of digest."""
    rows = sorted(entries, key=attrgetter("id"))
    if len({entry.id for entry in rows}) < len(rows):
        rows.sort(key=lambda entry: (entry.id, entry.digest()))
    return rows


def ends(entries: Iterable[Entry]) -> Ends:
    """Where each device's chain ends, the last by id at the end."""
    found: Ends = {}
    for entry in in_order(entries):
        known = found.get(entry.device, ())
        straight = not known or (len(known) == 1 and entry.seq > known[0].seq)
        found[entry.device] = (entry,) if straight else ends_with(known, entry)  # whose call a long job feels
    return found


def ends_with(known: tuple[Entry, ...], entry: Entry) -> tuple[Entry, ...]:
    """The ends of one device's chain with one more entry, later by id than all before it.

    A chain has one end, until two copies of a job go on apart on one device and are joined: then it is a tree.
    Only there are digests asked for, as they cost more than all the rest.
    """
    if not known or (len(known) == 1 and entry.seq > known[0].seq):
        return (entry,)
    return (*(end for end in known if end.seq + 1 != entry.seq or end.digest() != entry.prev), entry)

"""Every way to change a job: each act is proved against the state and comes back as a draft, or is refused."""

from collections.abc import Mapping, Sequence

from sitelog.checklist.model import Caution, Library
from sitelog.job.answers import answer
from sitelog.job.cautions import depends_on, wanted_at
from sitelog.job.entry import Draft, Entry
from sitelog.job.facts import Book
from sitelog.job.ledger import KEPT
from sitelog.job.photo import Photo, kept
from sitelog.job.plain import to_plain
from sitelog.job.readings import answer_of
from sitelog.job.records import next_number
from sitelog.job.setup import design_value, not_less
from sitelog.job.signing import release, sign
from sitelog.job.views import CheckView, State
from sitelog.job.words import a_day, check_at, free, nearest, on, one_of, said, stage_at
from sitelog.refusal import Refusal
from sitelog.slips import usual
from sitelog.text import clean
from sitelog.trade.catalogue import Value
from sitelog.trade.measure import CLASSES

__all__ = [
    "accept", "answer", "close_snag", "defer", "diary", "doubt", "draw", "handover", "head_code", "instrument", "note",
    "read_caution", "release", "sign", "skip", "snag", "undo",
]  # fmt: skip

NAMED = 3  # head codes that a refusal names
PAGE = ("weather", "people", "deliveries", "delays", "text")  # what a diary page holds


def skip(state: State, path: str, reason: str) -> Draft:
    """The check set aside as not applicable, for a reason."""
    view = free(state, check_at(state, path))
    part, check = on(view.path)
    return Draft(act="skip", part=part, check=check, note=said(reason, f"{path} is not applicable: say why"))


def defer(state: State, path: str, until: str, reason: str) -> Draft:
    """The check put off until a later stage (its path, or its id within the part), for a reason."""
    view = free(state, check_at(state, path))
    part, check = on(view.path)
    later = _later(state, view)
    wanted = until if until in later else f"{view.part}.{until}"
    if wanted not in later:
        raise Refusal(f"{path} can wait for a later stage, not {clean(until, most=60)!r}; {nearest(until, later)}")
    why = said(reason, f"{path} is put off: say why")
    return Draft(act="defer", part=part, check=check, value={"until": wanted}, note=why)


def _later(state: State, view: CheckView) -> list[str]:
    paths = [stage.path for stage in state.order]
    return paths[paths.index(f"{view.part}.{view.stage}") + 1 :]


def snag(state: State, path: str, text: str, who: str = "", due: str = "") -> Draft:
    """Something to be put right, found at a check, a stage, a part, or (path "") at large; `due` is an ISO date."""
    if path and path not in {p.id for p in state.parts} and state.stage(path) is None:
        check_at(state, path)
    part, check = on(path)
    value = {
        "id": next_number(state.snags),
        "text": said(text, "a snag wants words", lines=True),
        "who": clean(who),
        "due": a_day(due, "due") if due.strip() else "",
    }
    return Draft(act="snag", part=part, check=check, value=value)


def close_snag(state: State, id: str) -> Draft:
    """The snag of that number put right."""
    found = {one.id: one for one in state.snags}[one_of(id, [one.id for one in state.snags], "snag")]
    if not found.open:
        raise Refusal(f"snag {id} was put right already, by {found.closed_by}")
    part, check = on(found.path)
    return Draft(act="close", part=part, check=check, value={"id": id, "entry": found.entry})


def note(state: State, path: str, text: str, *, photos: Sequence[Photo] = (), photo: str = "") -> Draft:
    """Words on a check, a stage or a part, photos that are kept before this is entered (photos.py), or both.

    `photo` is the name of a photo of which no file is kept.
    """
    if path not in {p.id for p in state.parts} and state.stage(path) is None:
        check_at(state, path)
    part, check = on(path)
    name = clean(photo)
    value = ({"photo": name} if name else {}) | kept(photos)
    words = clean(text, lines=True) if value else said(text, "a note wants words", lines=True)
    return Draft(act="note", part=part, check=check, value=value, note=words)


def diary(day: str, photos: Sequence[Photo] = (), /, **fields: str) -> Draft:
    """What a person adds to the page of a day (ISO): weather, people, deliveries, delays, text, and photos."""
    for key in fields:
        one_of(key, PAGE, "a diary page's")
    given = {key: words for key, text in fields.items() if (words := clean(text, lines=True))} | kept(photos)
    if not given:
        raise Refusal(f"a diary page wants {', '.join(PAGE[:-1])} or {PAGE[-1]}: nothing is given")
    return Draft(act="diary", value={"day": a_day(day, "day")} | given)


def read_caution(state: State, library: Library, caution_id: str, answer_text: str, *, at: str = "") -> Draft:
    """A caution read and its question answered: with a reading, a name, a place or a choice, never a bare yes.

    `at` is the stage that it is answered for, of a caution that each stage asks anew.
    """
    caution = library.cautions[one_of(caution_id, library.cautions, "caution")]
    value = answer_of(caution.question, answer_text)
    part, check = on(_asked_at(state, caution, at)) if caution.at_each_stage else ("", "")
    told: dict[str, object] = {"id": caution.id, "answer": to_plain(value)}
    facts = depends_on(caution, library, Book.of(library, state))
    return Draft(act="read", part=part, check=check, value=told | ({"@facts": facts} if facts else {}))


def _asked_at(state: State, caution: Caution, at: str) -> str:
    wanted = at or wanted_at(caution, state)
    if not wanted:
        raise Refusal(f"{caution.id} is asked at no stage of this job as it stands")
    stage = stage_at(state, wanted)
    if caution.id not in (one.id for one in stage.cautions):
        raise Refusal(f"{caution.id} is not asked at {at}")
    return stage.path


def instrument(id: str, kind: str, grade: str = "") -> Draft:
    """A tape, level or meter by the name it goes by; `grade` is the class of a tape: I, II, III, or "" without one."""
    name = said(id, "an instrument wants a name")
    class_ = clean(grade).upper()
    if class_ and class_ not in CLASSES:
        raise Refusal(f"class is {class_!r}; it must be one of {', '.join(CLASSES)}, or none")
    return Draft(act="instrument", value={"id": name, "kind": said(kind, "kind of instrument"), "class": class_})


def doubt(state: State, id: str, reason: str) -> Draft:
    """An instrument marked bad, for a reason: all that it measured is flagged."""
    tool = state.instruments[one_of(id, state.instruments, "instrument")]
    if tool.doubted:
        raise Refusal(f"{tool.id} is marked bad already, by {tool.by}")
    return Draft(act="doubt", value={"id": tool.id}, note=said(reason, f"{tool.id} is marked bad: say why"))


def handover(state: State, to: str, head: str) -> Draft:
    """A pack made for somebody at a head code of the job."""
    return Draft(act="handover", value={"to": said(to, "who the pack is for"), "head": said(head, "head code")})


def head_code(state: State, text: str) -> str:
    """A head code as it is read off a pack, "" if none is. Refusal if this record leads to no pack with that code.

    A record whose end was cut off has lost the pack as well: that is what the code is kept by the next trade for.
    """
    code = as_printed(text)
    made = tuple(dict.fromkeys(pack.head for pack in state.packs))
    if code and code not in made:
        known = f"its packs were made at {', '.join(made[-NAMED:])}" if made else "no pack was made of it yet"
        raise Refusal(f"head code is {code[:40]!r}, and this record leads to no such pack: {known}")
    return code


def as_printed(text: str) -> str:
    """A head code as packs print it, however it was typed."""
    return clean(text).replace(" ", "").lower()


def accept(state: State, point: str, accepted: bool, note: str = "", head: str = "") -> list[Draft]:
    """What the next trade says of a point; `head` is the code on the pack that it takes it over from.

    One that is sent back wants a word why, and becomes a snag.
    """
    name = said(point, "a point wants its name")
    words = clean(note, lines=True) if accepted else said(note, f"{name} is sent back: say why", lines=True)
    code = head_code(state, head)
    value = {"point": name, "accepted": accepted} | ({"head": code} if code else {})
    said_of_it = Draft(act="accept", value=value, note=words)
    if accepted:
        return [said_of_it]
    path = name if state.check(name) or state.stage(name) else ""
    return [said_of_it, snag(state, path, f"{name} sent back: {words}")]


def draw(state: State, part: str, texts: Mapping[str, str]) -> Draft:
    """Design figures of a part, first given or changed, by the name of the fact."""
    one_of(part, [p.id for p in state.parts], "part")
    values = {name: to_plain(_drawn(state, part, name, text)) for name, text in texts.items()}
    if not values:
        raise Refusal(f"{part}: no figure is given")
    own = {f.name.removeprefix(f"{part}."): f for f in state.facts.values() if f.name.startswith(f"{part}.")}
    drawn = {name: fact.drawn for name, fact in own.items()} | values
    for name, fact in own.items():
        not_less(part, name, fact.says, fact.least, drawn)
    return Draft(act="drawn", part=part, value=values)


def _drawn(state: State, part: str, name: str, text: str) -> Value:
    known = {fact.name.partition(".")[2]: fact for fact in state.facts.values() if fact.name.startswith(f"{part}.")}
    fact = known[one_of(name, [n for n, f in known.items() if f.asked or f.drawable], f"{part}: figure")]
    return design_value(
        fact.kind, fact.choices, text, f"{part}.{name} ({fact.says})", fact.usual or usual(fact.kind, name)
    )


def undo(state: State, entries: Sequence[Entry]) -> Draft:
    """The latest act taken back: it stays in the record, voided. Refusal when there is none left to take back.

    What the job was set up with is not taken back: its start, its checklists, its parts and their first figures.
    """
    gone = {str(e.value.get("id")) for e in entries if e.act == "void"}
    drawn: set[str] = set()
    last = None
    for entry in sorted(entries, key=lambda e: e.id):
        first = entry.act == "drawn" and entry.part not in drawn
        drawn |= {entry.part} if first else set()
        if entry.act not in KEPT and not first and entry.id not in gone:
            last = entry
    if last is None:
        raise Refusal("nothing to undo")
    return Draft(act="void", part=last.part, check=last.check, value={"id": last.id, "act": last.act})

"""Every way to change a job: each act is proved against the state and comes back as a draft, or is refused."""

from collections.abc import Sequence

from sitelog.checklist.schema.guidance import Caution
from sitelog.checklist.schema.model import Library
from sitelog.job.actions.answers import answer, done_at
from sitelog.job.actions.naming import LIKENESS, a_day, check_at, free, on, said, stage_at, why_said
from sitelog.job.actions.of_the_job import diary, doubt, draw, instruct, instrument
from sitelog.job.actions.signing import release, sign
from sitelog.job.cautions.answers import answer_of
from sitelog.job.cautions.applies import depends_on
from sitelog.job.cautions.due import wanted_at
from sitelog.job.facts.facts import FactResolver
from sitelog.job.log.entry import Draft, Entry
from sitelog.job.log.entry_index import KEPT
from sitelog.job.log.record_code import Digests, as_printed, code_of, same_code
from sitelog.job.log.union import BY_ID
from sitelog.job.log.values import to_plain
from sitelog.job.photos.photo import Photo, kept, noted
from sitelog.job.replies.points import Marked, mark
from sitelog.job.state.records import next_number
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.near import closest
from sitelog.refusal import Refusal
from sitelog.text import clean

__all__ = [
    "accept", "answer", "close_snag", "defer", "diary", "done_at", "doubt", "draw", "handover", "head_code", "instruct",
    "instrument", "note", "read_caution", "release", "sign", "skip", "snag", "undo",
]  # fmt: skip


def skip(state: State, path: str, reason: str) -> Draft:
    """The check set aside as not applicable, for a reason."""
    view = free(state, check_at(state, path))
    part, check = on(view.path)
    why = why_said(reason, f'To mark {path} not applicable, add a reason: --reason "steel ring beam"')
    return Draft(act="skip", part=part, check=check, note=why)


def defer(state: State, path: str, until: str, reason: str) -> Draft:
    """The check put off until a later stage (its path, or its id within the part), for a reason."""
    view = free(state, check_at(state, path))
    part, check = on(view.path)
    later = _later(state, view)
    if not later:
        raise Refusal(f"No stage comes after {path}. Do it, snag it, or carry on as it is")
    wanted = until if until in later else f"{view.part}.{until}"
    if wanted not in later:
        wrong = ""
        if until.strip():
            wrong = f"{clean(until, most=60)!r} isn't a later stage. "
        till = closest(until, later, LIKENESS) or later[0]
        raise Refusal(f'{wrong}Add when and why: --until {till} --reason "ties not on site"')
    why = why_said(reason, f'To leave {path} till {wanted}, add a reason: --reason "ties not on site"')
    return Draft(act="defer", part=part, check=check, value={"until": wanted}, note=why)


def _later(state: State, view: CheckView) -> list[str]:
    paths = [stage.path for stage in state.order]
    return paths[paths.index(f"{view.part}.{view.stage}") + 1 :]


def snag(state: State, path: str, text: str, who: str = "", due: str = "") -> Draft:
    """Something to be put right, found at a check, a stage, a part, or (path "") at large; `due` is an ISO date."""
    if path:
        _must_be_there(state, path)
    part, check = on(path)
    value = {
        "id": next_number(state.snags),
        "text": said(text, 'Say what is wrong, such as "corner C 11 out"', lines=True),
        "who": clean(who),
        "due": a_day(due, "due") if due.strip() else "",
    }
    return Draft(act="snag", part=part, check=check, value=value)


def _must_be_there(state: State, path: str) -> None:
    """Refusal unless a part, a stage or a check that applies has that path."""
    if path not in {part.id for part in state.parts} and state.stage(path) is None:
        check_at(state, path)


def close_snag(state: State, id: str) -> Draft:
    """The snag of that number put right."""
    found = next((snag for snag in state.snags if snag.id == id), None)
    if found is None:
        still = ", ".join(snag.id for snag in state.open_snags)
        known = f"Open snags: {still}" if still else "No snag is open"
        raise Refusal(f"No snag {clean(id, most=20)}. {known}")
    if not found.open:
        raise Refusal(f"snag {id} was already closed by {found.closed_by}")
    part, check = on(found.path)
    return Draft(act="close", part=part, check=check, value={"id": id, "entry": found.entry})


def note(state: State, path: str, text: str, *, photos: Sequence[Photo] = (), photo: str = "") -> Draft:
    """Words on a check, a stage or a part, photos that are kept before this is entered (photos.py), or both.

    `photo` is the name of a photo of which no file is kept.
    """
    _must_be_there(state, path)
    part, check = on(path)
    name = clean(photo)
    value = noted(name) | kept(photos)
    words = clean(text, lines=True) if value else said(text, f'Type the note in quotes after {path}: "..."', lines=True)
    return Draft(act="note", part=part, check=check, value=value, note=words)


def read_caution(state: State, library: Library, caution_id: str, answer_text: str, *, at: str = "") -> Draft:
    """A caution read and its question answered: with a reading, a name, a place or a choice, never a bare yes.

    `at` is the stage that it is answered for, of a caution that each stage asks anew.
    """
    caution = library.cautions.get(caution_id)
    if caution is None:
        raise Refusal(f"No caution {clean(caution_id, most=40)!r}. {_cautions_here(state)}")
    value = answer_of(caution.question, answer_text)
    part, check = on(_asked_at(state, caution, at)) if caution.at_each_stage else ("", "")
    told: dict[str, object] = {"id": caution.id, "answer": to_plain(value)}
    facts = depends_on(caution, library, FactResolver.of(library, state))
    if facts:
        told["@facts"] = facts
    return Draft(act="read", part=part, check=check, value=told)


def _cautions_here(state: State) -> str:
    """The cautions of the stage in hand, by the words that answer them."""
    stage = next((stage for stage in state.order if state.next.startswith(stage.path)), None)
    names = [caution.id for caution in stage.cautions] if stage else []
    if not names:
        return "There are none at this stage"
    return f"Cautions at this stage: {', '.join(names)}"


def _asked_at(state: State, caution: Caution, at: str) -> str:
    wanted = at or wanted_at(caution, state)
    if not wanted:
        raise Refusal(f"No stage of this job asks {caution.id} now")
    stage = stage_at(state, wanted)
    if caution.id not in (asked.id for asked in stage.cautions):
        raise Refusal(f"{at} doesn't ask {caution.id}. {_named_at(stage)}")
    return stage.path


def _named_at(stage: StageView) -> str:
    names = [caution.id for caution in stage.cautions]
    if not names:
        return "No cautions there"
    return f"Cautions there: {', '.join(names)}"


def handover(state: State, to: str, head: str, points: Marked = (), ends: Digests | None = None) -> Draft:
    """A pack made for somebody at a record code of the job; `points` are those it asks about, in their order.

    `ends` are those of the chains that the code is over, as things stand if they are not given: by them the code can be
    worked again from the entries.
    """
    value: dict[str, object] = {
        "to": said(to, "Say who the pack is for, such as --to tiler"),
        "head": said(head, "Give the pack's record code"),
    }
    if points:
        value["points"] = [list(point) for point in points]
    over = state.ends if ends is None else ends
    if same_code(head, code_of(over)):
        value["ends"] = {device: list(digests) for device, digests in over.items()}
    return Draft(act="handover", value=value)


def head_code(state: State, text: str) -> str:
    """A record code as it is read off a pack, "" if none is. Refusal if this record leads to no pack with that code.

    A record whose end was cut off has lost the pack as well: that is what the code is kept by the next trade for.
    """
    code = as_printed(text)
    if code and code not in {pack.head for pack in state.packs}:
        raise Refusal(f"No pack of this job has the record code {code[:40]}. Read it again, or leave it out")
    return code


def accept(state: State, point: str, accepted: bool, note: str = "", head: str = "") -> list[Draft]:
    """What the next trade says of a point; `head` is the code on the pack that it takes it over from.

    One that is sent back wants a word why, and becomes a snag.
    """
    name = said(point, "name the point")
    words = clean(note, lines=True) if accepted else why_said(note, f"To send {name} back, say why", lines=True)
    code = head_code(state, head)
    view = state.check(name)
    kept = {"head": code, "mark": mark(view) if view else ""}
    value = {"point": name, "accepted": accepted} | {key: word for key, word in kept.items() if word}
    said_of_it = Draft(act="accept", value=value, note=words)
    if accepted:
        return [said_of_it]
    path = name if state.check(name) or state.stage(name) else ""
    return [said_of_it, snag(state, path, f"{name} sent back: {words}")]


def undo(state: State, entries: Sequence[Entry]) -> Draft:
    """The latest act taken back: it stays in the record, voided. Refusal when there is none left to take back.

    What the job was set up with is not taken back: its start, its checklists, its parts and their first figures.
    """
    gone = {str(entry.value.get("id")) for entry in entries if entry.act == "void"}
    drawn: set[str] = set()
    last = None
    for entry in sorted(entries, key=BY_ID):
        if entry.act == "drawn" and entry.part not in drawn:
            drawn.add(entry.part)  # its first figures: they stay
        elif entry.act not in KEPT and entry.id not in gone:
            last = entry
    if last is None:
        raise Refusal("There is nothing to undo yet")
    return Draft(act="void", part=last.part, check=last.check, value={"id": last.id, "act": last.act})

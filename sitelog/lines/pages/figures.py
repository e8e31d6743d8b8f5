"""The figures of the job by number: where each comes from, and the drawing changed."""

from collections.abc import Iterator

from sitelog.job.actions.setup import is_building
from sitelog.job.facts.fact import MEANT, Fact
from sitelog.job.facts.in_use import in_use
from sitelog.lines.building import ask_building
from sitelog.lines.session import LineSession
from sitelog.lines.talk import GO, lines
from sitelog.text import counted, text_after, text_if
from sitelog.wording.building.changing import ROOF, Change, change_roof, changes
from sitelog.wording.figures import (
    apart,
    asked_lines,
    can_be_drawn,
    check_of,
    drawn_words,
    elsewhere,
    fact_lines,
    is_shown,
)
from sitelog.wording.formatting import value_text
from sitelog.wording.prompts import prompts

CHANGE = "change the drawing figure"


def facts(session: LineSession, path: str) -> str:
    """Every figure by its number; one off the drawing can be changed, any other says where it is set."""
    facts = list(_facts(session))
    for asked in session.state.asked:
        session.talk.say(". ".join(lines(asked_lines(asked, session.state, session.job.library.sources))))
    fact = facts[session.talk.pick("Which figure?", [_fact_row(session, fact) for fact in facts])]
    session.talk.say(*lines(fact_lines(fact, session.state)))
    check = check_of(fact, session.state)
    rows = [CHANGE] if can_be_drawn(fact) else []
    rows += [GO] if check else []
    if not rows:
        session.talk.say(elsewhere(fact, session.state))
    elif rows[session.talk.pick("What now?", rows)] == GO:
        return check
    else:
        _change(session, fact)
    return ""


def _facts(session: LineSession) -> Iterator[Fact]:
    """Part by part."""
    for part in session.state.parts:
        yield from filter(is_shown, in_use(session.job.library, session.state, part.id))


def _change(session: LineSession, fact: Fact) -> None:
    if _changed_roof(session, fact) if is_building(fact) else session.do(lambda: prompts.change(session.state, fact)):
        stale = len(session.state.stale)
        more = text_if(stale, f" {counted(stale, 'check is', 'checks are')} now out of date.")
        session.talk.say(f"{fact.says}: drawing figure changed.{more}")


def _changed_roof(session: LineSession, fact: Fact) -> bool:
    """Another roof, block by block: what it changes is said before it is entered. What is left is kept."""
    state, was = session.state, str(fact.drawn or "")
    part = next(part for part in state.parts if part.id == _of(fact))
    kept = session.drafts.typed(fact.name).get(ROOF) or was
    now = ask_building(
        session.talk, fact.says, kept, state.units, lambda text: session.drafts.keep(fact.name, {ROOF: text})
    )
    told = changes(Change(state, part.id, session.job.library.lists[part.form], was), now)
    if not told:
        session.talk.say("The roof is as it was.")
    elif not session.do(lambda: change_roof(state, fact, now, told)):
        return False
    session.drafts.drop(fact.name)
    return bool(told)


def _of(fact: Fact) -> str:
    return fact.name.partition(".")[0]


def _fact_row(session: LineSession, fact: Fact) -> str:
    units, off = session.state.units, apart(fact, session.state)
    part = next((part.title for part in session.state.parts if part.id == _of(fact)), "")
    drawn = drawn_words(fact, session.state)
    built = value_text(fact.unit, fact.built, units, typed=fact.built_typed)
    return f"{part}, {fact.says}: {MEANT[fact.whence]} {drawn}, built {built}{text_after(', difference ', off)}"

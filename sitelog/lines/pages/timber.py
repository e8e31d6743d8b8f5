"""The cutting list of the job as built, in words, and what to buy for it."""

from collections.abc import Sequence

from sitelog.calculators.ask import input_value
from sitelog.calculators.index import find
from sitelog.job.buying import buy
from sitelog.job.facts.schema import JOB
from sitelog.job.members import Line
from sitelog.job.sources import ASKED, Terms
from sitelog.job.yard import yard_for
from sitelog.lines.pages.calculators import answer_lines
from sitelog.lines.session import LineSession
from sitelog.quantities.quantity import ACCEPTS, Value
from sitelog.refusal import Refusal
from sitelog.reports.bench.sticks import stick_sketches
from sitelog.reports.timber.entries import Entry, all_lines, entries, to_order
from sitelog.reports.timber.order import not_bought, yard_told
from sitelog.wording.formatting import in_words
from sitelog.wording.prompts import prompts

EMPTY = "No cutting list: this job's checklists don't list any timbers."


def timber(session: LineSession, path: str) -> str:
    """Every member, then what to buy if that is asked for."""
    lines = all_lines(session.state, session.job.library)
    if not lines:
        session.talk.say(EMPTY)
        return ""
    found = entries(lines, session.state)
    for one in found:
        session.talk.say(in_words(_told(one), session.state))
    rows = ["work out what to buy", "that is all", "read out the sticks", "count pieces"]
    chosen = session.talk.pick("The cutting list.", rows)
    if chosen == 0:
        _buy(session, lines)
    elif chosen == 2:
        _read_sticks(session)
    elif chosen == 3:
        _count(session, [one for one in found if one.batch])
    return ""


def _told(one: Entry) -> str:
    length = "length not shown (out of date)" if one.standing == "stale" else one.length
    told = (one.what, one.section, length, one.count, one.cuts, one.marks, one.more, one.stands)
    return ". ".join(words for words in told if words)


def _read_sticks(session: LineSession) -> None:
    """Each kind of timber as it is marked on the bench, in words."""
    parts = dict.fromkeys(view.id for view in session.state.parts if view.id != JOB)
    for part in parts:
        for sketch in stick_sketches(session.state, session.job.library, part):
            session.talk.say("", f"{sketch.title}, in words.")
            session.talk.say(*sketch.told)


def _count(session: LineSession, found: Sequence[Entry]) -> None:
    """Which timber, and how many more of it are cut, up or spoiled."""
    rows = [f"{one.what} {one.length}, {one.section}: {one.count} in all" for one in found]
    if not rows:
        session.talk.say("Nothing to count yet: no timber on the list has a length.")
        return
    batch = found[session.talk.pick("Which timber?", rows)].batch
    if batch and session.do(lambda: prompts.tally(batch, session.state.units)):
        session.talk.say("Counted. Undo takes that back.")


def _buy(session: LineSession, lines: Sequence[Line]) -> None:
    """Ask what the merchant has and what is on site, and say what to buy; the yard file is said first."""
    yard = yard_for(session.job.file.files)
    session.talk.say(yard_told(yard))
    given = {name: value for name in ASKED if (value := _asked(session, name)) is not None}
    try:
        purchase = buy(to_order(lines, session.state), Terms(yard=yard, **given))  # type: ignore[arg-type]
    except Refusal as refusal:
        session.talk.refuse(refusal.message)
        return
    answer = answer_lines(session, purchase.answer) if purchase.answer else ()
    session.talk.say(*not_bought(purchase), *answer)


def _asked(session: LineSession, name: str) -> Value:
    stock = find("stock")
    wanted = stock.input(name)

    def hear(text: str) -> Value:
        if not text:
            return None
        return input_value(stock, wanted, text)

    ask = f"{name.replace('_', ' ')}: {wanted.says}. Type {ACCEPTS[wanted.kind]}. Press Enter to leave it out."
    return session.talk.ask(ask, hear, (wanted.says,))

"""Replies line by line: one found beside the job is entered, or the answers off a printed pack by their numbers."""

from sitelog.job.replies.beside import Offered, beside
from sitelog.job.replies.taking import take
from sitelog.lines.session import LineSession
from sitelog.refusal import Refusal
from sitelog.wording.prompts import replying

ENTER = "enter it"


def replies(session: LineSession, path: str) -> str:
    """Nothing is entered before its number is typed."""
    found, packs = beside(session.job), replying.packs_made(session.state)
    if not found and not packs:
        session.talk.say(replying.NO_PACK)
        return ""
    if session.session.read_only:
        session.talk.say(f"Read only: {session.session.read_only}")
        return ""
    rows = [*map(replying.offer, found), *(f"From paper: {replying.pack_row(made)}" for made in packs)]
    at = session.talk.pick("Which?", rows)
    if at < len(found):
        _enter(session, found[at])
        return ""
    made, today = packs[at - len(found)], session.now().date()
    if session.do(lambda: replying.from_paper(session.job, made, today)):
        session.talk.say("Entered.", *replying.changed_on(session.state, made))
    return ""


def _enter(session: LineSession, offered: Offered) -> None:
    """Say what it holds, then enter it under the name on it."""
    try:
        taken = take(session.job, offered.reply, session.now().date())
    except Refusal as refusal:
        session.talk.refuse(refusal.message)
        return
    session.talk.say(*replying.taken(taken))
    session.talk.pick("What now?", [ENTER])
    before, session.by = session.by, taken.reply.by
    if session.enter(taken.drafts):
        session.talk.say("Entered.")
    session.by = before

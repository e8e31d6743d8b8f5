"""The snags by number: one put right, or a new one raised."""

from sitelog.job.actions import actions
from sitelog.job.state.record_views import Snag
from sitelog.lines.session import LineSession
from sitelog.lines.talk import GO, lines
from sitelog.wording.prompts import prompts
from sitelog.wording.snags import snag_lines, who_and_when


def snags(session: LineSession, path: str) -> str:
    """The open ones first; one is put right by its number, or a new one raised that belongs to no check."""
    found = sorted(session.state.snags, key=lambda snag: not snag.open)
    rows = [*(_snag_row(snag) for snag in found), "raise a snag on the job in general"]
    session.talk.say(f"Snags: {len(session.state.open_snags)} open of {len(session.state.snags)}")
    at = session.talk.pick("Which?", rows)
    if at == len(found):
        if session.do(lambda: prompts.snag(session.here(""))):
            session.talk.say(f"Snag {session.state.snags[-1].id} is raised.")
        return ""
    snag = found[at]
    session.talk.say(*lines(snag_lines(snag, session.state)))
    choices = (["mark it fixed"] if snag.open else []) + ([GO] if snag.path else [])
    if not choices:
        return ""
    if choices[session.talk.pick("What now?", choices)] == GO:
        return snag.path
    if session.named() and session.attempt(lambda: actions.close_snag(session.state, snag.id)):
        session.talk.say(f"Snag {snag.id} closed by {session.by}. Type undo to reopen it.")
    return ""


def _snag_row(snag: Snag) -> str:
    return f"{'open' if snag.open else 'fixed'}, snag {snag.id}: {snag.text}. {who_and_when(snag)}"

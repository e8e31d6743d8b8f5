"""Handing over line by line: all that is not as it should be, the pack, and the points taken or sent back."""

from collections.abc import Collection
from datetime import UTC

from sitelog.job.actions import actions
from sitelog.job.replies.points import standing
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView
from sitelog.lines.session import LineSession
from sitelog.refusal import Refusal
from sitelog.reports import pack
from sitelog.reports.formatting import Formatter
from sitelog.reports.front.first_page import first_page
from sitelog.wording.handover import NOBODY, handed, said, said_whole, standing_lines, stands
from sitelog.wording.prompts import prompts


def hand_over(session: LineSession) -> str:
    """The path of a check to go on to, or "". Signing is done at the handover's own stage of the job."""
    trades = pack.trades(session.state)
    if not trades:
        session.talk.say(NOBODY)
        return ""
    to = trades[0] if len(trades) == 1 else trades[session.talk.pick("Handing over to:", trades)]
    _tell(session, to)
    if session.talk.pick(f"Handing over to the {to}.", ["make the pack", "handover points"]):
        return _points(session, to)
    _pack(session, to)
    return ""


def _tell(session: LineSession, to: str) -> None:
    """The pack's first page."""
    tell = Formatter(session.state, session.job.library, session.now().tzinfo or UTC)
    page = first_page(tell)
    session.talk.say("", *standing_lines(page, session.state, to))
    for section in page.sections:
        rows = page.rows[section.id]
        session.talk.say(f"{section.title} ({len(rows)})")
        for row in rows:
            session.talk.say(row.head, *row.lines)


def _pack(session: LineSession, to: str) -> None:
    if not session.named():
        return
    file = session.job.file.path
    try:
        made = pack.make(session.state, session.job.library, to, session.now(), session.job.file.files)
        paths = pack.write(made, file.parent, file.stem)
    except Refusal as refusal:
        session.talk.refuse(refusal.message)
        return
    if session.attempt(lambda: actions.handover(session.state, to, made.head, made.points, made.ends)):
        session.talk.say(
            f"Record code {made.head}: the {to} keeps a note of it. {pack.in_short(paths)} in {file.parent}"
        )


def _points(session: LineSession, to: str) -> str:
    """One point after another, each accepted or sent back under the name of who takes it over, until it is left."""
    if session.session.read_only:
        session.talk.say(f"Read only: {session.session.read_only}")
    giver, taker, code = session.by, "", ""
    try:
        while True:
            points = handed(session.state, to)
            still = standing(session.state)
            rows = [_row(session, point, still) for point in points]
            view = points[session.talk.pick(f"Points for the {to}. Which?", rows)]
            _told(session, view)
            at = session.talk.pick("What now?", ["accept it", "send it back (raises a snag)", "go to its check"])
            if at == 2:
                return view.path
            if not taker:
                taker = session.question(prompts.taken_over(to))
                code = session.question(prompts.countersign(), lambda text: actions.head_code(session.state, text))
            session.by = taker
            _answer(session, view.path, code, accepted=at == 0)
    finally:
        session.by = giver


def _answer(session: LineSession, point: str, code: str, *, accepted: bool) -> None:
    if not session.named():
        return
    if not accepted:
        session.do(lambda: prompts.send_back(session.state, point, code))
    elif session.attempt(lambda: actions.accept(session.state, point, True, head=code)):
        session.talk.say("Accepted.")


def _row(session: LineSession, view: CheckView, still: Collection[str]) -> str:
    point = next((point for point in session.state.points if point.point == view.path), None)
    return f"{view.check.ask_in_full}: {state_word(view)}{', ' + said(point, still) if point else ''}"


def _told(session: LineSession, view: CheckView) -> None:
    point = next((point for point in session.state.points if point.point == view.path), None)
    session.talk.say(f"Now: {stands(view, session.state)}")
    if point:
        session.talk.say(": ".join(said_whole(point, session.state)))

"""Handing over line by line: all that is not as it should be, the pack, and the points taken or sent back."""

from datetime import UTC

from sitelog.job.actions import actions
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView
from sitelog.lines.session import Desk
from sitelog.refusal import Refusal
from sitelog.reports import pack
from sitelog.reports.first_page import first_page
from sitelog.reports.formatting import Teller
from sitelog.wording.formatting import day
from sitelog.wording.handover import NOBODY, handed, said, standing_lines, stands
from sitelog.wording.prompts import prompts


def hand_over(desk: Desk) -> str:
    """The path of a check to go on to, or "". Signing is done at the handover's own stage of the job."""
    trades = pack.trades(desk.state)
    if not trades:
        desk.talk.say(NOBODY)
        return ""
    to = trades[0] if len(trades) == 1 else trades[desk.talk.pick("Handing over to:", trades)]
    _tell(desk, to)
    if desk.talk.pick(f"Handing over to the {to}.", ["make the pack", "handover points"]):
        return _points(desk, to)
    _pack(desk, to)
    return ""


def _tell(desk: Desk, to: str) -> None:
    """The pack's first page."""
    tell = Teller(desk.state, desk.job.library, desk.now().tzinfo or UTC)
    page = first_page(tell)
    desk.talk.say("", *standing_lines(page, desk.state, to))
    for section in page.sections:
        rows = page.rows[section.id]
        desk.talk.say(f"{section.title} ({len(rows)})")
        for one in rows:
            desk.talk.say(one.head, *one.lines)


def _pack(desk: Desk, to: str) -> None:
    if not desk.named():
        return
    file = desk.job.file.path
    try:
        made = pack.make(desk.state, desk.job.library, to, desk.now(), desk.job.file.files)
        paths = pack.write(made, file.parent, file.stem)
    except Refusal as refusal:
        desk.talk.refuse(refusal.message)
        return
    if desk.attempt(lambda: actions.handover(desk.state, to, made.head)):
        names = " and ".join(path.name for path in paths)
        desk.talk.say(f"{names} in {file.parent}. Record code {made.head}: the {to} keeps a note of it.")


def _points(desk: Desk, to: str) -> str:
    """One point after another, each accepted or sent back under the name of who takes it over, until it is left."""
    if desk.sitting.read_only:
        desk.talk.say(f"Read only: {desk.sitting.read_only}")
    giver, taker, code = desk.by, "", ""
    try:
        while True:
            points = handed(desk.state, to)
            view = points[desk.talk.pick(f"Points for the {to}. Which?", [_row(desk, one) for one in points])]
            _told(desk, view)
            at = desk.talk.pick("What now?", ["accept it", "send it back (raises a snag)", "go to its check"])
            if at == 2:
                return view.path
            if not taker:
                taker = desk.question(prompts.taken_over(to))
                code = desk.question(prompts.countersign(), lambda text: actions.head_code(desk.state, text))
            desk.by = taker
            _answer(desk, view.path, code, accepted=at == 0)
    finally:
        desk.by = giver


def _answer(desk: Desk, point: str, code: str, *, accepted: bool) -> None:
    if not desk.named():
        return
    if not accepted:
        desk.do(lambda: prompts.send_back(desk.state, point, code))
    elif desk.attempt(lambda: actions.accept(desk.state, point, True, head=code)):
        desk.talk.say("Accepted.")


def _row(desk: Desk, view: CheckView) -> str:
    point = next((one for one in desk.state.points if one.point == view.path), None)
    return f"{view.check.ask}: {state_word(view)}{', ' + said(point) if point else ''}"


def _told(desk: Desk, view: CheckView) -> None:
    point = next((one for one in desk.state.points if one.point == view.path), None)
    desk.talk.say(f"Now: {stands(view, desk.state)}")
    if point:
        code = f", record code {point.head}" if point.head else ""
        desk.talk.say(f"{said(point).capitalize()}: {point.by}, {day(point.at)}{code}. {point.note}")

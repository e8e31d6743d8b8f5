"""The full-size templates of the part in hand, line by line: each told, and one made on paper or as a file."""

from sitelog.lines.session import LineSession
from sitelog.refusal import Refusal
from sitelog.reports.templates.bars import bars
from sitelog.reports.templates.listed import missing_lines, nothing, sheets_line, told_lines
from sitelog.reports.templates.make import made_line, write_beside
from sitelog.reports.templates.part import PartTemplates, part_templates
from sitelog.reports.templates.sheets import Heading
from sitelog.text import clock
from sitelog.wording.formatting import part_of
from sitelog.wording.prompts.printing import QUESTIONS, answered, form_of


def choose(session: LineSession, path: str) -> str:
    """Which of them, on what, and what the bars of an earlier print read."""
    part = part_of(session.state, path)
    if not part:
        session.talk.say("Go to a check of a part first: templates are of a part.")
        return ""
    found = part_templates(session.state, session.job.library, part)
    session.talk.say(*missing_lines(found))
    if nothing(found):
        session.talk.say(f"{nothing(found)}.")
        return ""
    rows = [f"{template.title}: {sheets_line(template)}" for template in found.ready]
    _make(session, found, session.talk.pick("Which template?", rows))
    return ""


def _make(session: LineSession, found: PartTemplates, number: int) -> None:
    template, file = found.ready[number], session.job.file.path
    session.talk.say(*told_lines(template))
    answers = _asked(session)
    heading = Heading(session.state.title, found.title, clock(session.now()), session.state.head)
    asked = answered(answers)
    try:
        session.talk.say(made_line(write_beside(file, heading, found.part, template, asked), asked))
    except Refusal as refusal:
        session.talk.refuse(refusal.message)


def _asked(session: LineSession) -> list[str]:
    """The kind of file and both bars, each asked until it can be taken; an empty line takes what is usual."""
    kind, across, up = QUESTIONS

    def hear_kind(text: str) -> str:
        form_of(text or kind.start)
        return text or kind.start

    def hear_bar(text: str) -> str:
        bars(text or across.start, up.start)
        return text or across.start

    usual = "Press Enter for"
    return [
        session.talk.ask(f"{kind.ask} {usual} {kind.start}.", hear_kind),
        session.talk.ask(f"{across.ask} {usual} {across.start}.", hear_bar),
        session.talk.ask(f"{up.ask} {usual} {up.start}.", hear_bar),
    ]

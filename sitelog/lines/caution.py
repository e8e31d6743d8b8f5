"""One caution read: what can hurt, what to do, who to ask, and the question about this job that alone clears it."""

from sitelog.checklist.schema.guidance import Caution, Question
from sitelog.job.actions import actions
from sitelog.job.log.entry import Draft
from sitelog.job.state.views import StageView
from sitelog.lines.session import LineSession
from sitelog.refusal import Refusal
from sitelog.text import text_after, text_between
from sitelog.wording.caution import UNANSWERED, caution_words, choice_lines, question_line, stop_line, wanted
from sitelog.wording.prompts.asking import asked_at

OR_BACK = "or back to leave it unread."


def read(session: LineSession, stage: StageView, caution: Caution, place: str = "") -> bool:
    """True once it is read there and lets the work go on; `place` is such as "2 of 3".

    Left when somebody said `back`: it stays unread.
    """
    question, right = caution.question, wanted(caution.question)
    at = asked_at(stage, caution)
    rows = caution_words(caution, session.job.library, session.state)
    told = [f"{lead}: {words}" if lead else words for lead, words in rows]
    session.talk.say("", f"Caution: {caution.title}.{text_between(' ', place, '.')}", *told)

    def draft(answer: str) -> Draft:
        return actions.read_caution(session.state, session.job.library, caution.id, answer, at=at)

    def hear(text: str) -> str:
        if not text.strip():
            raise Refusal(f"{UNANSWERED}: type {right}.")
        if question.kind == "choice":
            return _chosen(text, question)
        draft(text)  # proved here, where it can be put right
        return text

    choices = choice_lines(question) if question.kind == "choice" else []
    session.talk.say(f"{question_line(question)}{text_after(', ', question.unit)}", *choices)
    answer = session.talk.ask(f"Type {right}, {OR_BACK}", hear, told)
    if not session.attempt(lambda: draft(answer)):
        return False
    if session.state.readings[-1].stops:
        session.talk.say(stop_line(caution, answer))
        return False
    return True


def _chosen(text: str, question: Question) -> str:
    """The choice of that number. Refusal for anything else."""
    last = len(question.choices)
    if text.isascii() and text.isdecimal() and 1 <= int(text) <= last:
        return question.choices[int(text) - 1]
    raise Refusal(f"{text!r} isn't an answer: type {wanted(question)}, 1 to {last}.")

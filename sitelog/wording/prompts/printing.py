"""What is asked before a template is made: on what, and what the two bars of an earlier print read."""

from collections.abc import Sequence

from sitelog.near import closest, did_you_mean
from sitelog.refusal import Refusal
from sitelog.reports.templates.bars import Bars, bars
from sitelog.reports.templates.make import FORMS, Form
from sitelog.text import clean
from sitelog.wording.prompts.question import Question

TITLE = "Full-size template"
USUAL = "a4"
KINDS = ", ".join(FORMS)
QUESTIONS = (
    Question(TITLE, f"Sheets of a4 or a3, one long sheet, svg or dxf? Type {KINDS}.", "kind", USUAL),
    Question(TITLE, "What does the bar across read on your print? 100 if you haven't printed it yet.", "across", "100"),
    Question(TITLE, "What does the bar up the sheet read?", "up", "100"),
)


def form_of(typed: str) -> Form:
    """The kind of file by its name. Refusal for another word."""
    found = FORMS.get(typed.strip().casefold())
    if found is None:
        near = did_you_mean(closest(typed.casefold(), FORMS), f"type {KINDS}")
        raise Refusal(f"{clean(typed, most=20)!r} isn't one of them: {near}")
    return found


def answered(answers: Sequence[str]) -> tuple[Form, Bars]:
    """The kind of file, and the printer's bars. Refusal for an answer that can't be taken."""
    kind, across, up = answers
    return form_of(kind), bars(across, up)

"""Why an answer takes the place of one that stands: what is asked, and what is said to it."""

from sitelog.job.actions.naming import why_said
from sitelog.job.state.views import CheckView, State
from sitelog.refusal import Refusal
from sitelog.text import clean
from sitelog.wording.entries import answered
from sitelog.wording.formatting import typed_text
from sitelog.wording.prompts.question import Question

WHY_CHANGED = "Why are you changing it?"
PUT_RIGHT = "fixed and measured again"
MEASURED_AGAIN = "measured again with a better tool"
ANEW = (PUT_RIGHT, "misread the tape", "entered wrong", MEASURED_AGAIN)
OTHERWISE = ("entered wrong", "fixed", "agreed a change since", "have more information now")
CHANGED = "the work below it has changed"


def typed_again(view: CheckView) -> dict[str, str]:
    """What the answer in force was, as it is typed, by the name of its field: a correction begins with it."""
    if not any(entry.act == "answer" for entry in view.history):
        return {}
    if view.check.kind == "measure":
        return {figure.key: clean(typed_text(figure.value, figure.kind)) for figure in view.figures}
    if view.check.kind == "note":
        return {"value": clean(typed_text(view.value))}
    return {}


def why_anew(view: CheckView, state: State) -> Question:
    """Why an answer takes the place of one that stands: `reason_anew` reads what is said to it."""
    was = next(entry for entry in reversed(view.history) if entry.act == "answer")
    ready = ", ".join(f"{number} {words}" for number, words in enumerate(_ready(view), 1))
    ask = f"{answered(was, state)}, by {was.by}. {WHY_CHANGED} {ready}; or type your own reason."
    return Question("Answered already", ask, "reason")


def reason_form(path: str) -> str:
    """What the reason is kept under while it is typed."""
    return f"why it is changed {path}"


def reason_anew(view: CheckView, text: str) -> str:
    """The reason of that number, or the words. Refusal for a number that is none of them, and for no words."""
    ready = _ready(view)
    if not text.strip().isdecimal():
        return why_said(text, "Type a reason")
    if not (text.isascii() and 1 <= int(text) <= len(ready)):
        raise Refusal(f"{text.strip()!r} isn't one of the reasons: type 1 to {len(ready)}, or words.")
    return ready[int(text) - 1]


def _ready(view: CheckView) -> tuple[str, ...]:
    ready = ANEW if view.check.kind == "measure" else OTHERWISE
    return (*ready, CHANGED) if view.stale_because else ready  # the last, so that no number means another reason

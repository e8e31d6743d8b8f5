"""What a check asks for and when: what bars it, what is read before it, and the ways on when it is out."""

from collections.abc import Sequence
from typing import Literal

from sitelog.checklist.schema.guidance import Caution
from sitelog.job.cautions.due import awaited, due, latest, matter, stopped, stopping
from sitelog.job.state.marks import state_word
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.text import text_after
from sitelog.wording.prompts.correcting import MEASURED_AGAIN, PUT_RIGHT

Way = Literal["accept", "measure", "snag", "release"]
WAYS: dict[Way, str] = {
    "measure": "Fix it and measure again",
    "snag": "Snag it: say who will fix it and by when",
    "release": "Carry on as it is: your name and your reason go in the pack",
}
WAYS_CLOSE: dict[Way, str] = {
    "accept": "Accept it as read: your name goes in the pack",
    "measure": "Measure again: a better tool, or three readings",
    "snag": "Snag it: say who will fix it and by when",
}
TOOL = "@with"  # the field of what it was measured with
WORDS = {"note": "note", "photo": "photo", "sign": "name"}  # the kinds that are answered in words, and their label
LEFT_AS_IT_IS = (
    "done",
    "released",
    "not applicable",
)  # to do it leaves these as they are: `measure again` does them again


WAY_ON = "Press space for what comes first, o for the cautions."


def against(stage: StageView, view: CheckView | None, state: State, *, again: bool = False) -> str:
    """Why the check, or without one the stage's signature, is not begun now; "" if it can be.

    A stage that a reading stops can be begun: the caution that stops it is read again first.
    """
    if view is None and stage.state in ("signed", "released"):
        return f"{stage.stage.title} was already {stage.state} by {stage.by}."
    if view and view.state in LEFT_AS_IT_IS and not again:
        return f"{view.by} has already done this. Press m to do it again; both answers are kept."
    if stage.blocked and not stopped(stage.path, stage.cautions, latest(state.readings)):
        return stage.blocked
    return ""


def with_way_on(why: str, way_on: str = WAY_ON) -> str:
    """The key that leads on, then why something can't be done now: a small screen may cut off the end of that."""
    return " ".join(filter(None, (way_on, why)))


def to_read(stage: StageView, state: State, by: str, today: str) -> tuple[Caution, ...]:
    """What this person has still to read at a stage; at the handover, all that it waits for. `today` is ISO."""
    own = due(stage, state, by, today)
    waited = [asked.caution for asked in awaited(state)] if stage.stage.place == "last" and not stage.blocked else ()
    return tuple({caution.id: caution for caution in (*own, *waited)}.values())


def read_first(stage: StageView, due: Sequence[Caution], state: State) -> tuple[Caution, ...]:
    """What of it holds the stage till it is read: what stops the work, and at the handover all that it waits for."""
    last = latest(state.readings)
    return tuple(
        caution
        for caution in due
        if caution.stops or caution not in stage.cautions or stopping(matter(caution, stage.path), last)
    )


def asked_at(stage: StageView, caution: Caution) -> str:
    """The stage that an answer given there is for; "" at the handover, for the first stage that waits for it."""
    if caution in stage.cautions and caution.at_each_stage:
        return stage.path
    return ""


def stands_out(view: CheckView) -> bool:
    """True when a measure is outside its limit, or too close to call: it must go one of the ways on."""
    return view.check.kind == "measure" and view.verdict in ("fail", "unsure")


def offers_ways(view: CheckView, *, again: bool) -> bool:
    """True when the ways on come before the figures: it is out already, and nobody asked to measure it again."""
    return view.check.kind == "measure" and view.state in ("out", "unsure") and not again


def is_close(view: CheckView) -> bool:
    """True when all that is wrong is that its tape can't tell: it may be accepted as read. Not while a limit waits."""
    return view.verdict == "unsure" and not view.refusal


def ways_on(view: CheckView) -> dict[Way, str]:
    """What can be done with a measure that does not pass, in the order of their numbers, and what each is called."""
    return WAYS_CLOSE if is_close(view) else WAYS


def ways_title(view: CheckView) -> str:
    """What stands above the ways on."""
    return f"{'Too close to call' if is_close(view) else 'Out of limit'}. Choose one:"


def as_read(view: CheckView) -> str:
    """The reason that goes with a reading accepted as it is: it stays with the check for good."""
    return f"accepted as read, too close to call{text_after(' with ', view.instrument)}"


def measured_again(view: CheckView) -> str:
    """The reason that measuring again is by itself, after the way on that was chosen."""
    return MEASURED_AGAIN if is_close(view) else PUT_RIGHT


def way_line(view: CheckView) -> str:
    """What is said above the ways on, now that the answer is saved."""
    if is_close(view):
        return "Saved as measured. Your tape can't tell if it is inside the limit."
    if view.state == "snagged":
        return "Saved as measured. The snag is still open until you fix it or carry on as it is."
    return "Saved as measured. You can't go on until you fix it, snag it or carry on as it is."


def way_snag(view: CheckView) -> str:
    """What a snag on a check that is out says to begin with."""
    return f"{view.check.ask_in_full}: {state_word(view)}"

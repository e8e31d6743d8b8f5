"""Who may close a stage and when: signing wants every check settled, letting go wants a reason."""

from collections.abc import Sequence

from sitelog.job.actions.naming import check_at, free, on, stage_at, why_said
from sitelog.job.cautions.due import Matter, awaited, latest, stopping, unread
from sitelog.job.log.entry import Draft
from sitelog.job.state.marks import state_word
from sitelog.job.state.order import PASSED
from sitelog.job.state.standing import SETTLED
from sitelog.job.state.views import CheckView, StageView, State
from sitelog.quantities.quantity import show
from sitelog.refusal import PROBLEM, Refusal
from sitelog.text import text_after

NAMED = 3  # how many a refusal names; it counts the rest


def sign(state: State, path: str) -> Draft:
    """The stage signed. Refusal while a check of it is not settled, or, at the handover, while anything stands open."""
    stage = stage_at(state, path)
    if stage.state in PASSED:
        raise Refusal(f"{path} was already {stage.state} by {stage.by}")
    if stage.blocked:
        raise Refusal(f"{path} can't be signed yet. {stage.blocked}", code=PROBLEM)
    unsettled = [f"{view.path} ({state_word(view)})" for view in stage.shown if view.state not in SETTLED]
    if unsettled:
        raise Refusal(f"{path} can't be signed yet. First do {_listed(unsettled, 'check')}", code=PROBLEM)
    if stage.stage.place == "last":
        _handover_ready(state, path)
    _cautions_read(state, path, sorted(unread((stage,), state), key=lambda asked: not asked.caution.stops))
    part, check = on(path)
    return Draft(act="sign", part=part, check=check)


def _handover_ready(state: State, path: str) -> None:
    left = [f"{deferral.path} was left until {deferral.until}" for deferral in state.deferrals if deferral.open]
    stale = [f"{check} is out of date" for check in state.stale]
    if left or stale:
        raise Refusal(f"{path} can't be signed yet: {_listed(left or stale, 'check')}", code=PROBLEM)
    waits = awaited(state)
    _nothing_stops(state, path, waits)
    _cautions_read(state, path, waits)


def _nothing_stops(state: State, path: str, waits: Sequence[Matter]) -> None:
    """Refusal while the last answer to one of those cautions stops the work."""
    read = latest(state.readings)
    stops = [asked for asked in waits if stopping(asked, read)]
    if stops:
        named = _listed([f"{_named(asked)} STOPS THE WORK" for asked in stops], "caution")
        raise Refusal(f"{path} can't be signed yet: {named}. When it has changed, {_to_type(stops[0])}", code=PROBLEM)


def _cautions_read(state: State, path: str, unread: Sequence[Matter]) -> None:
    """Refusal while the first of what nobody has read is one that stops."""
    if unread and unread[0].caution.stops:
        named = _listed([_named(asked) for asked in unread], "caution")
        raise Refusal(f"{path} can't be signed yet: {named} not read. To read it, {_to_type(unread[0])}", code=PROBLEM)


def _named(asked: Matter) -> str:
    at = text_after(", at ", asked.path)
    return f"{asked.caution.id} ({asked.caution.title}{at})"


def _to_type(asked: Matter) -> str:
    """The words of the command that answers it."""
    at = text_after(" --at ", asked.path)
    return f"answer it: read {asked.caution.id} ANSWER{at}"


def _listed(found: Sequence[str], what: str) -> str:
    named = ", ".join(found[:NAMED])
    more = len(found) - NAMED
    if more <= 0:
        return named
    return f"{named} and {more} more {what}{'s' if more > 1 else ''}"


def release(state: State, path: str, reason: str) -> Draft:
    """A check or a stage let go as it is, for a reason. A stage's release names the checks that it lets go."""
    part, check = on(path)
    why = f'To release {path}, add a reason: --reason "packed at the head"'
    if state.stage(path) is None:
        view = free(state, check_at(state, path))
        return Draft(act="release", part=part, check=check, value={"was": told(view)}, note=why_said(reason, why))
    stage = stage_at(state, path)
    if stage.stage.place == "last":
        raise Refusal(f"{path} is the handover: it has to be signed, not carried on as it is")
    if stage.state in PASSED:
        raise Refusal(f"{path} was already {stage.state} by {stage.by}")
    if stage.blocked:
        raise Refusal(f"You can't carry on with {path} yet. {stage.blocked}", code=PROBLEM)
    return Draft(act="release", part=part, check=check, value=_let_go(stage), note=why_said(reason, why))


def _let_go(stage: StageView) -> dict[str, object]:
    unsettled = {view.check.id: told(view) for view in stage.shown if view.state not in SETTLED}
    was = "; ".join(f"{name}: {how}" for name, how in unsettled.items())
    return {"was": was or "unsigned", "checks": unsettled}


def told(view: CheckView) -> str:
    """How a check stands, with its figures by name: "out, fall head 6.5 mm"."""
    figures = (
        f"{figure.key.replace('_', ' ')} {show(figure.unit, figure.value, typed=True)}".removeprefix("value ")
        for figure in view.figures
        if figure.value is not None
    )
    value = "" if view.value is None or view.figures else str(view.value)
    return ", ".join(part for part in (view.state, value, *figures) if part)

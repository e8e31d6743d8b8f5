"""What a person names and says: a check or a stage by its path, and words that must not be empty."""

from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from itertools import pairwise

from sitelog.job.state.views import CheckView, StageView, State
from sitelog.near import closest
from sitelog.refusal import JOB_FILE, PROBLEM, Refusal
from sitelog.text import clean

LIKENESS = 0.5  # of a name that is taken for another
IDLE = {"y", "yes", "yeah", "yep", "ok", "okay", "n", "no", "done", "read", "seen", "fine", "good", "na", "n/a"}


def said(text: str, what: str, *, lines: bool = False) -> str:
    """The words, cleaned. Refusal if there are none: `what` says what to type."""
    found = clean(text, lines=lines)
    if not any(letter.isalnum() for letter in found):
        raise Refusal(what)
    return found


def why_said(text: str, what: str, *, lines: bool = False) -> str:
    """The reason, cleaned. Refusal if it is none: a figure or a single letter tells nobody why."""
    found = said(text, what, lines=lines)
    if not any(one.isalpha() and other.isalpha() for one, other in pairwise(found)):
        raise Refusal(f"{found!r} isn't a reason: say why in words, such as packed at the head.")
    return found


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint for a name that is not known: the nearest, or all where they are few, or some."""
    names = list(known)
    if near := closest(word, names, LIKENESS):
        return f"did you mean {near}?"
    if not names:
        return "there are none yet"
    if len(names) <= 12:
        return f"choose from: {', '.join(names)}"
    return f"such as {', '.join(names[:3])}"


def one_of(word: str, known: Iterable[str], what: str) -> str:
    """The word if it is known; Refusal with the nearest if not."""
    names = list(known)
    if word not in names:
        raise Refusal(f"{what} {clean(word, most=60)!r} isn't on the list; {nearest(word, names)}")
    return word


def check_at(state: State, path: str) -> CheckView:
    """The check at that path, one that applies. Refusal with the nearest path, or why it doesn't apply."""
    found = state.check(path)
    if found is not None:
        return found
    every = {view.path: view for part in state.parts for stage in part.stages for view in stage.checks}
    if path in every:
        raise Refusal(f"{path} doesn't apply to this job: {every[path].check.ask}")
    if state.stage(path) is not None:
        raise Refusal(f"{path} is a stage. Pick one of its checks, such as {_first(state, path)}")
    raise Refusal(
        f"No check with the code {clean(path, most=80)!r}. {_to_find(path, (view.path for view in state.checks()))}"
    )


def _to_find(path: str, known: Iterable[str]) -> str:
    """The nearest code, or how to see them all."""
    near = closest(path, known, LIKENESS)
    if near:
        return f"Did you mean {near}?"
    return f"Run: sitelog show {JOB_FILE}"


def _first(state: State, path: str) -> str:
    stage = state.stage(path)
    if stage and stage.shown:
        return stage.shown[0].path
    return path


def stage_at(state: State, path: str) -> StageView:
    """The stage at that path. Refusal with the nearest path."""
    found = state.stage(path)
    if found is not None:
        return found
    if state.check(path) is not None:
        raise Refusal(f"{path} is a check. Its stage is {path.rpartition('.')[0]}")
    if path in {part.id for part in state.parts}:
        ahead = [
            stage.path for stage in state.order if stage.part == path and stage.state not in ("signed", "released")
        ]
        hint = f": next is {ahead[0]}" if ahead else ""
        raise Refusal(f"{path!r} is a whole part. Name one stage{hint}")
    known = [stage.path for stage in state.order]
    raise Refusal(f"No stage with the code {clean(path, most=80)!r}. {_to_find(path, known)}")


def free(state: State, view: CheckView) -> CheckView:
    """The check if its stage is not barred. Refusal that names the hold, or the reading that stops the work."""
    stage = state.stage(f"{view.part}.{view.stage}")
    if stage is not None and stage.blocked:
        raise Refusal(f"{view.path} can't be done yet. {stage.blocked}", code=PROBLEM)
    return view


def on(path: str) -> tuple[str, str]:
    """A path as an entry's part and check."""
    part, _, check = path.partition(".")
    return part, check


def event_time(done: str) -> str:
    """When something happened, as an entry keeps it: ISO date and time with its offset from UTC, or ""."""
    if not done.strip():
        return ""
    try:
        moment = datetime.fromisoformat(done.strip())
    except ValueError:
        moment = None
    if moment is None or moment.tzinfo is None:
        raise Refusal(f"done: {clean(done, most=40)!r} isn't a time. Type it as 2025-11-25T07:30+00:00")
    return moment.isoformat(timespec="minutes")


def a_day(text: str, what: str) -> str:
    """A date as ISO has it, typed so or as 4 Dec 2026, 4/12/2026 or 4/12/26: the day first. Refusal if it is none."""
    typed = text.strip()
    for form in ("%Y-%m-%d", "%d %b %Y", "%d %B %Y", "%d/%m/%Y", "%d/%m/%y"):
        with suppress(ValueError):
            return datetime.strptime(typed, form).date().isoformat()
    raise Refusal(f"{what}: {clean(text, most=40)!r} isn't a date. Type it as 4 Dec 2026")

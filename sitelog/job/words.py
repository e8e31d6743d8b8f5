"""What a person names and says: a check or a stage by its path, and words that must not be empty."""

from collections.abc import Iterable
from datetime import date, datetime

from sitelog.job.views import CheckView, StageView, State
from sitelog.refusal import Refusal
from sitelog.text import clean

IDLE = {"y", "yes", "yeah", "yep", "ok", "okay", "n", "no", "done", "read", "seen", "fine", "good", "na", "n/a"}


def said(text: str, what: str, *, lines: bool = False) -> str:
    """The words, cleaned. Refusal if there are none: `what` says what is wanted."""
    found = clean(text, lines=lines)
    if not any(letter.isalnum() for letter in found):
        raise Refusal(f"{what}: nothing is given")
    return found


def nearest(word: str, known: Iterable[str]) -> str:
    """A hint for a name that is not known: the nearest, or all where they are few."""
    import difflib  # costs a start more than all else here, and few need it

    names = list(known)
    near = difflib.get_close_matches(word, names, 1, 0.5)
    if near:
        return f"did you mean {near[0]}?"
    return f"there are {', '.join(names)}" if 0 < len(names) <= 12 else f"there are {len(names)}"


def one_of(word: str, known: Iterable[str], what: str) -> str:
    """The word if it is known; Refusal with the nearest if not."""
    names = list(known)
    if word not in names:
        raise Refusal(f"{what} {clean(word, most=60)!r} is not known; {nearest(word, names)}")
    return word


def check_at(state: State, path: str) -> CheckView:
    """The check at that path, one that applies. Refusal with the nearest path, or why it doesn't apply."""
    found = state.check(path)
    if found is not None:
        return found
    every = {c.path: c for part in state.parts for stage in part.stages for c in stage.checks}
    if path in every:
        raise Refusal(f"{path} does not apply as things stand: {every[path].check.ask}")
    if state.stage(path) is not None:
        raise Refusal(f"{path} is a stage; name one of its checks, such as {_first(state, path)}")
    raise Refusal(f"no check is called {clean(path, most=80)!r}; {nearest(path, (c.path for c in state.checks()))}")


def _first(state: State, path: str) -> str:
    stage = state.stage(path)
    return stage.shown[0].path if stage and stage.shown else path


def stage_at(state: State, path: str) -> StageView:
    """The stage at that path. Refusal with the nearest path."""
    found = state.stage(path)
    if found is not None:
        return found
    if state.check(path) is not None:
        raise Refusal(f"{path} is a check; its stage is {path.rpartition('.')[0]}")
    raise Refusal(f"no stage is called {clean(path, most=80)!r}; {nearest(path, (s.path for s in state.order))}")


def free(state: State, view: CheckView) -> CheckView:
    """The check if its stage is not barred. Refusal that names the hold, or the reading that stops the work."""
    stage = state.stage(f"{view.part}.{view.stage}")
    if stage is not None and stage.blocked:
        raise Refusal(f"{view.path} waits: {stage.blocked}")
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
        raise Refusal(f"done is {clean(done, most=40)!r}; give date, time and offset as 2025-11-25T07:30+00:00")
    return moment.isoformat(timespec="minutes")


def a_day(text: str, what: str) -> str:
    """An ISO date. Refusal if it is none."""
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise Refusal(f"{what} is {clean(text, most=40)!r}; give a date as 2025-11-25") from None

"""A snag in words: where it was found, who raised it, who puts it right and by when."""

from sitelog.job.state.record_views import Snag
from sitelog.job.state.views import State
from sitelog.text import text_if
from sitelog.wording.formatting import day


def who_and_when(snag: Snag) -> str:
    """Who puts it right, and by when."""
    told = ", ".join(words for words in (snag.who, text_if(snag.due, f"by {day(snag.due)}")) if words)
    return told or "nobody named yet"


def snag_lines(snag: Snag, state: State) -> list[tuple[str, str]]:
    """(first word, words) of where it was found, and of who raised and who closed it."""
    told = [("At", _where(snag.path, state)), ("Raised", f"{snag.by}, {day(snag.at)}")]
    if not snag.open:
        told.append(("Closed", f"{snag.closed_by}, {day(snag.closed_at)}"))
    return told


def _where(path: str, state: State) -> str:
    view, stage = state.check(path), state.stage(path)
    if view:
        return view.check.ask_in_full
    if stage:
        return stage.stage.title
    return path or "not tied to a check"

"""What a check was measured with: which checks ask for it, what was used last, and a new one put into the register."""

from collections.abc import Sequence
from typing import Any

from sitelog.job import acts
from sitelog.job.entry import Entry
from sitelog.job.views import CheckView, State
from sitelog.tui.ask import Question, ask_words
from sitelog.tui.page import Page

UNTOOLED = ("count", "number", "fraction")  # counted or read off a paper, not with a tape or a level


def wants_tool(view: CheckView) -> bool:
    """True for a check of which some figure is measured."""
    return view.check.kind == "measure" and any(figure.kind not in UNTOOLED for figure in view.figures)


def last_tool(view: CheckView, state: State, entries: Sequence[Entry]) -> str:
    """What was last used for figures of the same kind, so that it is named once and not typed each time."""
    kinds = {figure.kind for figure in view.figures}
    views = {one.path: one for one in state.checks()}
    for entry in reversed(entries):
        tool = state.instruments.get(str(entry.value.get("@instrument", "")))
        view_then = views.get(entry.path) if entry.act == "answer" else None
        if tool and not tool.doubted and view_then and kinds & {figure.kind for figure in view_then.figures}:
            return tool.id
    return ""


def measured_with(name: str, state: State) -> list[CheckView]:
    """The checks with an answer that was measured with it, be it the one in force or one before."""
    return [
        view
        for view in state.checks()
        if any(entry.act == "answer" and entry.value.get("@instrument") == name for entry in view.history)
    ]


async def known_tool(page: Page[Any], name: str) -> bool:
    """True once that instrument is in the register, or none was named; a new one is asked for and entered."""
    name = name.strip()
    if not name or name in page.site.state.instruments:
        return True
    known = ", ".join(page.site.state.instruments)
    return await register(page, name, f"{name} is not in the register{f', which has {known}' if known else ''}")


async def register(page: Page[Any], name: str, title: str) -> bool:
    """True once it has been entered, with what it is and its class."""
    answers = await ask_words(
        page,
        Question(title, "What is it: a tape, a level, a rule, a moisture meter?", "kind"),
        Question(title, "A tape's class stands on its blade: I, II or III. Empty for none.", "class", optional=True),
        prove=lambda answers: acts.instrument(name, *answers),
    )
    return answers is not None and page.site.attempt(lambda: acts.instrument(name, *answers))

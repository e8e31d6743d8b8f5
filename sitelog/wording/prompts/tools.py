"""What a check was measured with: which checks ask for it, what was used last, and what an instrument has measured."""

from collections.abc import Sequence

from sitelog.checklist.schema.instruments import INSTRUMENTS, ReadWith
from sitelog.job.log.entry import Entry
from sitelog.job.state.record_views import Instrument
from sitelog.job.state.views import CheckView, State
from sitelog.text import text_after

UNTOOLED = ("count", "number", "fraction", "text")  # counted or read off a paper, not with a tape or a level


def wants_tool(view: CheckView) -> bool:
    """True for a check of which some figure is measured."""
    return view.check.kind == "measure" and any(
        figure.kind not in UNTOOLED and not figure.exact and _is_listed(figure.read_with)
        for figure in view.check.figures
    )


def _is_listed(read_with: ReadWith) -> bool:
    """Whether it is read with what a firm numbers: nobody lists a steel rule, a wedge or a string."""
    return not read_with or INSTRUMENTS[read_with].listed


def last_tool(view: CheckView, state: State, entries: Sequence[Entry]) -> str:
    """What was last used for figures of the same kind, so that it is named once and not typed each time."""
    kinds = {figure.kind for figure in view.figures}
    views = {view.path: view for view in state.checks()}
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


def named(tool: Instrument) -> str:
    """An instrument with its kind and class."""
    return ", ".join(filter(None, (tool.id, tool.kind, text_after("class ", tool.grade))))

"""The tapes and levels by number: what each measured, one marked bad, or a new one put on the list."""

from sitelog.job.state.marks import state_word
from sitelog.job.state.record_views import Instrument
from sitelog.lines.session import LineSession
from sitelog.text import counted
from sitelog.wording.formatting import day, row_figures
from sitelog.wording.prompts import prompts
from sitelog.wording.prompts.tools import measured_with, named


def instruments(session: LineSession, path: str) -> str:
    """Each tool with what was measured with it; one can be marked bad, or a new one put on the list."""
    tools = list(session.state.instruments.values())
    rows = []
    for tool in tools:
        used = counted(len(measured_with(tool.id, session.state)), "check")
        rows.append(f"{named(tool)}: {'MARKED BAD' if tool.doubted else used}")
    at = session.talk.pick("Which tool?", [*rows, "add a tool"])
    if at == len(tools):
        _register(session)
        return ""
    return _tool(session, tools[at])


def _tool(session: LineSession, tool: Instrument) -> str:
    """One tool: why it is bad, what it measured, and what can be done; the path to go on to, or ""."""
    if tool.doubted:
        session.talk.say(f"Bad: {tool.why} ({tool.by}, {day(tool.at)}). Everything measured with it is flagged.")
    views = measured_with(tool.id, session.state)
    rows = [
        f"go to: {view.check.ask_in_full}. {row_figures(view, session.state.units) or state_word(view)}"
        for view in views
    ]
    bad = [] if tool.doubted else ["mark it bad"]
    if not (bad or rows):
        return ""
    at = session.talk.pick("What now?", [*bad, *rows])
    if at >= len(bad):
        return views[at - len(bad)].path
    if session.do(lambda: prompts.doubt(session.state, tool)):
        session.talk.say(f"{tool.id} is marked bad; {counted(len(views), 'check')} flagged. Undo takes that back.")
    return ""


def _register(session: LineSession) -> None:
    if not session.named():
        return
    name = session.question(prompts.Question("New tool", "What is written on it?", "name"))
    if name in session.state.instruments:
        session.talk.say(f"{name} is already on the list.")
    elif session.do(lambda: prompts.register(name, f"{name}: a new tool")):
        session.talk.say(f"{name} is on the list.")

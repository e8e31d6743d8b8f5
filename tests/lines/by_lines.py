"""The acts as they are said line by line."""

from collections.abc import Iterator
from functools import singledispatch

from sitelog.job.state.views import State
from sitelog.wording.prompts.tools import wants_tool
from tests.lines.acts import Act, Answer, Bad, Change, Deed, Diary, Pack, PutRight, Sign, Taken, Undo, Way
from tests.lines.listener import DRAWN, ROW

OFFERED = "1"


@singledispatch
def said(act: Act, state: State) -> Iterator[str]:
    raise TypeError(act)


@said.register
def _(act: Answer, state: State) -> Iterator[str]:
    view = state.check(act.path)
    assert view
    if not act.open:
        yield from (act.path, "measure again" if act.again else "do")
    if view.check.kind == "choice":
        yield str(act.choice)
    elif view.check.kind == "measure":
        for figure in view.figures:
            wanted = next(one for one in view.check.figures if one.key == figure.key)
            yield act.figures.get(figure.key) or ("" if wanted.optional else f"{DRAWN} | {view.path} | {figure.key}")
        if wants_tool(view):
            yield act.tool or "-"
            if act.new_tool[0]:
                yield from act.new_tool
        yield "1"
    else:
        yield act.words or "1"
        if view.check.kind == "photo":
            yield ""
    if act.why:
        yield act.why


@said.register
def _(act: Way, state: State) -> Iterator[str]:
    yield str(act.number)
    if act.number == 2 and act.words:
        yield act.words[0] or OFFERED
        yield from act.words[1:]
    elif act.number == 3:
        yield from (act.words[0], act.words[1] or OFFERED)


@said.register
def _(act: Deed, state: State) -> Iterator[str]:
    yield from (act.path, act.what)
    *words, last = act.words
    yield from words
    yield OFFERED if act.what == "release" and not last else last


@said.register
def _(act: Sign, state: State) -> Iterator[str]:
    yield from (act.path, "do", act.name)


@said.register
def _(act: Undo, state: State) -> Iterator[str]:
    yield "undo"


@said.register
def _(act: Diary, state: State) -> Iterator[str]:
    yield from ("journal", f"{ROW} | write: {'note' if act.key == 'text' else act.key}", act.words, "back")


@said.register
def _(act: PutRight, state: State) -> Iterator[str]:
    yield from ("snag list", f"{ROW} | snag {act.snag}:", "1")


@said.register
def _(act: Change, state: State) -> Iterator[str]:
    yield from ("facts", f"{ROW} | {state.facts[act.fact].says}:", "1", act.text)


@said.register
def _(act: Bad, state: State) -> Iterator[str]:
    yield from ("instruments", f"{ROW} | {act.tool},", "1", act.reason)


@said.register
def _(act: Pack, state: State) -> Iterator[str]:
    yield from ("hand over", "1")


@said.register
def _(act: Taken, state: State) -> Iterator[str]:
    view = state.check(act.path)
    assert view
    yield from ("hand over", "2", f"{ROW} | {view.check.ask}:", "2" if act.why else "1", act.name, "")
    yield from ([act.why] if act.why else [])
    yield "back"

"""The same acts at the keyboard of the screens."""

from functools import singledispatch

from textual.widgets import Input

from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.widgets.list_page import ListPage
from sitelog.wording.prompts.asking import TOOL
from tests.lines.acts import Act, Answer, Bad, Change, Deed, Diary, Pack, PutRight, Sign, Taken, Undo, Way
from tests.tui.seen import until
from tests.tui.site import begin, stand_on
from tests.tui.walker import Walker, drawn

KEYS = {"note": "n", "snag": "s", "photo": "p", "release": "r", "not applicable": "x", "later": "l"}
PAGES = {"weather": "w", "people": "e", "deliveries": "d", "delays": "l", "text": "n"}


async def press(walker: Walker, *keys: str) -> None:
    await walker.press(*keys)
    await walker.pilot.pause()


async def words(walker: Walker, *said: str) -> None:
    """Each field of a question in turn: what stands in it is typed over, or taken where nothing is said."""
    for word in said:
        assert isinstance(walker.app.screen, AskPage), walker.app.screen
        field = walker.app.focused
        assert isinstance(field, Input)
        if word:
            field.value = ""
        await walker.type(word, "enter")
        await walker.pilot.pause()


@singledispatch
async def done(act: Act, walker: Walker) -> None:
    raise TypeError(act)


@done.register
async def _(act: Answer, walker: Walker) -> None:
    page = walker.app.screen if act.open else await begin(walker, act.path, "m" if act.again else "enter")
    assert isinstance(page, CheckPage)
    kind = page.view.check.kind
    if kind == "choice":
        await walker.press(str(act.choice))
    elif kind == "measure":
        await _figures(act, walker, page)
    else:
        await walker.type(act.words, "enter")
    await walker.pilot.pause()
    if act.new_tool[0]:
        await words(walker, *act.new_tool)
    if act.why:
        await words(walker, act.why)


async def _figures(act: Answer, walker: Walker, page: CheckPage) -> None:
    fields = {field.name: field for field in page.query(Input)}
    if TOOL in fields:
        fields[TOOL].value = act.tool
    for figure in page.view.check.figures:
        seen = next(one for one in page.would_be().figures if one.key == figure.key)
        fields[figure.key].value = ""
        fields[figure.key].focus()
        await walker.type(act.figures.get(figure.key) or ("" if figure.optional else drawn(seen)))
        await walker.pilot.pause()
    # Enter looks for a field that was left empty, and for the tape of a correction, before it enters the form.
    for _ in (*page.view.check.figures, TOOL):
        await press(walker, "enter")
        if walker.app.screen is not page or page.query_one("#ways-on").display:
            break


@done.register
async def _(act: Way, walker: Walker) -> None:
    await press(walker, str(act.number))
    await words(walker, *act.words)


@done.register
async def _(act: Deed, walker: Walker) -> None:
    await stand_on(walker, act.path)
    await press(walker, KEYS[act.what])
    await words(walker, *act.words)


@done.register
async def _(act: Sign, walker: Walker) -> None:
    await stand_on(walker, act.path)
    await press(walker, "enter")
    while isinstance(walker.app.screen, CautionPage):
        await walker.step()
        await walker.pilot.pause()
    await words(walker, act.name)


@done.register
async def _(act: Undo, walker: Walker) -> None:
    await press(walker, "u")


async def _on_page(walker: Walker, key: str, row: str = "") -> None:
    await press(walker, key)
    page = walker.app.screen
    assert isinstance(page, ListPage), page
    if row:
        page.listing.stand_on(row)
        await walker.pilot.pause()


@done.register
async def _(act: Diary, walker: Walker) -> None:
    await _on_page(walker, "j")
    await press(walker, PAGES[act.key])
    await words(walker, act.words)
    await press(walker, "b")


@done.register
async def _(act: PutRight, walker: Walker) -> None:
    await _on_page(walker, "k", act.snag)
    await press(walker, "enter", "b")


@done.register
async def _(act: Change, walker: Walker) -> None:
    await _on_page(walker, "f", act.fact)
    await press(walker, "enter")
    await words(walker, act.text)
    await press(walker, "b")


@done.register
async def _(act: Bad, walker: Walker) -> None:
    await _on_page(walker, "i", f"{act.tool} ")
    await press(walker, "enter")
    await words(walker, act.reason)
    await press(walker, "b")


@done.register
async def _(act: Pack, walker: Walker) -> None:
    await _on_page(walker, "h")
    before = len(walker.app.state.packs)
    await press(walker, "p")
    await until(walker.pilot, lambda: len(walker.app.state.packs) > before)  # it is made beside the screen
    await press(walker, "b")


@done.register
async def _(act: Taken, walker: Walker) -> None:
    await _on_page(walker, "h")
    await press(walker, "space")
    page = walker.app.screen
    assert isinstance(page, ListPage)
    page.listing.stand_on(f"point {act.path}")
    await press(walker, "r" if act.why else "enter")
    await words(walker, act.name, "", *([act.why] if act.why else []))
    await press(walker, "b")

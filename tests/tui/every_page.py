"""Every page and dialog that a key leads to. Nothing is entered."""

from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from unittest.mock import patch

from textual.pilot import Pilot

from sitelog.tui.app import SitelogApp
from sitelog.tui.keys import keys_of
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import lines

MOVES = ("up", "down", "left", "right", "space")
# What enters or takes back, changes who is here, or ends the program, at the first press.
ACTS = ("undo", "who", "app.quit", "app.theme", "back", "raise")
# What is looked at further on a page, by the act that opens it.
FURTHER = {
    "facts": ("down", "z", "escape", "enter"),
    "snags": ("down", "z"),
    "instruments": ("down", "z", "escape", "n"),
    "photos": ("down", "z"),
    "timber": ("down", "z", "escape", "enter"),
    "journal": ("left_square_bracket", "z", "escape", "n"),
    "handover": ("down", "space", "r"),
    "sources": ("down", "z"),
    "lists": ("down", "z"),
    "calculators": ("enter",),
    "working": ("end",),
    "drawing": ("p", "z", "escape", "enter"),
    "acts": ("s",),
    "find": ("e",),
}


def over(file: Path, *, ascii_only: bool = False) -> SitelogApp:
    """The screens over a job, with a clock that goes on by itself."""
    ticks = iter(range(1_000_000))
    start = datetime(2026, 11, 25, 7, 30, tzinfo=UTC)
    return SitelogApp(
        folder=file.parent,
        file=file,
        by="M. Reed",
        device="testbed1",
        ascii_only=ascii_only,
        clock=lambda: start + timedelta(seconds=2 * next(ticks)),
    )


async def at_rest(app: SitelogApp, pilot: Pilot[int]) -> str:
    """The page once it has come to rest: a list scrolls, and its words follow, one refresh later."""
    last: list[str] = []
    while len(last) < 3 or last[-1] != last[-3]:
        await pilot.pause()
        last.append("\n".join(lines(app)))
    return last[-1]


Seen = AsyncIterator[tuple[SitelogApp, str]]


async def every_page(file: Path, theme: str = "day") -> Seen:
    """The screens, and the name of each page with the key that led there; of the pages of checks, one of each kind."""
    app = over(file)
    with patch("sitelog.tui.app.HELD_SECONDS", 0.0):
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            app.theme = theme
            yield await _rested(app, pilot, "recap")
            await pilot.press("1")
            await pilot.pause()
            before = app.job.file.count if app.job else 0
            kinds = _kinds(app)
            async for seen in _from(app, pilot, kinds["calculate"]):
                yield seen
            for path in kinds.values():
                await app.push_screen(CheckPage(path))  # by key a caution of the day would come before it
                yield await _rested(app, pilot, path)
                await pilot.press("escape")
            assert app.job is not None and app.job.file.count == before
            await pilot.press("b")
            yield await _rested(app, pilot, "back")
            await pilot.press("n")
            yield await _rested(app, pilot, "new")


def _kinds(app: SitelogApp) -> dict[str, str]:
    """A check of each kind, one that is answered where there is one."""
    views = sorted(app.state.checks(), key=lambda view: bool(view.history))
    return {view.check.kind: view.path for view in views}


async def _from(app: SitelogApp, pilot: Pilot[int], path: str) -> Seen:
    looked_at = set()
    for key in keys_of("job"):
        pressed = key.keys.split(",")[0]
        page = app.screen
        if key.act in ACTS or pressed in MOVES or not isinstance(page, JobPage):
            continue
        page.show_path(path)
        opened = key.act.removeprefix("page('").removeprefix("ask('").removesuffix("')")
        looked_at.add(opened)
        for step in (pressed, *FURTHER.get(opened, ())):
            await pilot.press(step)
            yield await _rested(app, pilot, f"{path} {pressed}")
        for _ in range(6):
            if app.screen is not page:
                await pilot.press("escape")
                await pilot.pause()
    assert looked_at >= set(FURTHER), "a page that is to be looked at further has another name now"


async def _rested(app: SitelogApp, pilot: Pilot[int], name: str) -> tuple[SitelogApp, str]:
    await at_rest(app, pilot)
    return app, f"{type(app.screen).__name__}: {name}"

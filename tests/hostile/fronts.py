"""The fronts by which a job's words reach a person: the command line, the pack, every page of the screen."""

import asyncio
import io
import os
import re
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from unittest.mock import patch

from textual.screen import Screen

from sitelog.cli.run import run
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.find import FindPage
from sitelog.tui.dialogs.help import HelpPage
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.dialogs.replies import RepliesPage
from sitelog.tui.pages.calculators import CalculatorsPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.diary import JournalPage
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.handover import HandoverPage
from sitelog.tui.pages.snags import SnagsPage
from sitelog.tui.pages.sources import SourcesPage
from sitelog.tui.widgets.plan import DrawingPage
from tests.tui.every_page import at_rest, over

SIZE = (80, 24)
# Unicode: the C0 controls but the line feed, delete, the C1 controls, and all that turn the way of writing round.
BARRED = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@dataclass(frozen=True)
class Said:
    code: int
    out: str
    err: str

    @property
    def in_one_line(self) -> bool:
        return self.err.startswith("sitelog: ") and self.err.count("\n") == 1


def say(*words: str | Path, heard: str = "") -> Said:
    """One command, in this process; `heard` is what is typed to it."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err), patch("sys.stdin", io.StringIO(heard)):
        try:
            code = run([str(word) for word in words])
        except SystemExit as stop:
            code = int(stop.code or 0)
    return Said(code, out.getvalue(), err.getvalue())


def every_front(file: Path) -> Iterator[tuple[str, str]]:
    """What each front makes of the job, by the front's name. Nothing is entered."""
    yield from spoken(file)
    yield from packs(file)
    yield from line_by_line(file)
    yield from asyncio.run(pages(file))


def spoken(file: Path) -> Iterator[tuple[str, str]]:
    """What the commands that only look say."""
    for command, *more in (("show",), ("show", "--json"), ("verify",)):
        said = say(command, file, *more)
        yield command, said.out + said.err


def line_by_line(file: Path) -> Iterator[tuple[str, str]]:
    """Plain mode, walked through what it can tell; at every stage, and of every page. Nothing is entered."""
    pages = (
        "facts",
        "sources",
        "cutting list",
        "photos",
        "journal",
        "snag list",
        "instruments",
        "hand over",
        "drawing",
    )
    asked = ["M. Reed", *(["]"] * 12), *(["["] * 6), *(word for page in pages for word in (page, "back")), "find", "e"]
    said = say("--plain", "open", file, heard="\n".join([*asked, "back", "where", "q", "q"]) + "\n")
    yield "line by line", said.out + said.err


def packs(file: Path) -> Iterator[tuple[str, str]]:
    """The pack of every trade, from a copy: to make one is an entry."""
    # With a memory of its own: what was entered in a copy that is gone would be brought back to the job.
    with TemporaryDirectory() as folder, patch.dict(os.environ, {"XDG_STATE_HOME": folder}):
        copy = Path(folder) / "job.json"
        copy.write_bytes(file.read_bytes())
        said = say("handover", copy, "--to", "tiler", "--by", "M. Reed", "--out", Path(folder) / "pack")
        yield "handover", said.out + said.err
        for made in sorted((Path(folder) / "pack").rglob("*")):
            if made.is_file() and made.suffix in (".html", ".txt", ".csv", ".svg", ".json"):
                yield f"pack: {made.name}", f"{made.name}\n{made.read_text(encoding='utf-8')}"


def behind(app: SitelogApp) -> Sequence[Callable[[], Screen[Any]]]:
    """The pages behind the job's own, at each of its stages where they differ."""
    stages = [stage.path for stage in app.state.order]
    by_stage = [partial(make, path) for make in (SourcesPage, DrawingPage) for path in stages[3:4]]
    return (
        FactsPage,
        CalculatorsPage,
        JournalPage,
        SnagsPage,
        HandoverPage,
        RepliesPage,
        HelpPage,
        RecapPage,
        *by_stage,
        *(partial(CheckPage, path) for path in _measured(app)),
    )


def _measured(app: SitelogApp) -> list[str]:
    """The first check with several figures to measure."""
    several = (view for view in app.state.checks() if view.check.kind == "measure" and len(view.figures) > 5)
    return [view.path for view in several][:1]


async def pages(
    file: Path,
    *,
    ascii_only: bool = False,
    size: tuple[int, int] = SIZE,
    theme: str = "day",
    only: Collection[str] = (),
) -> list[tuple[str, str]]:
    """Every page of the screen over the job, as it stands there; or `only` those of these names."""
    app = over(file, ascii_only=ascii_only)
    seen: list[tuple[str, str]] = []

    async with app.run_test(size=size) as pilot:

        async def look(name: str) -> None:
            seen.append((name, await at_rest(app, pilot)))

        app.theme = theme
        await pilot.pause()
        await look(type(app.screen).__name__)
        await pilot.press("1")
        await pilot.pause()
        if app.job is None:
            return seen
        for stage in app.state.order:
            if only and stage.path not in only:
                continue
            app.screen.show_path(f"{stage.path}.")  # type: ignore[attr-defined]
            await pilot.pause()
            await look(stage.path)
        for make in behind(app):
            page = make()
            if only and type(page).__name__ not in only:
                continue
            await app.push_screen(page)
            await pilot.pause()
            await app.workers.wait_for_complete([one for one in app.workers if one.node is app.screen])
            await pilot.pause()
            await look(type(app.screen).__name__)
            await pilot.press("end")
            await look(f"{type(app.screen).__name__}, at its end")
            await app.pop_screen()
        if only:
            return seen
        await app.push_screen(FindPage())
        await pilot.press("e")
        await pilot.pause()
        await look("FindPage")
    return seen

"""A new job by keyboard: what stands as it should is left by one key, and the job says that nobody looked at it."""

from functools import partial
from pathlib import Path

from textual.widgets import Input

from sitelog.job.log.entry_index import USUAL
from sitelog.job.log.parts import items
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import until
from tests.tui.site import DEVICE, Watch
from tests.tui.walker import Walker


async def test_pgdn_goes_to_the_next_blank_and_what_nobody_looked_at_is_kept_as_usual(tmp_path: Path) -> None:
    """A pitch passed by Enter was seen; the sections between two blanks were not."""
    app = SitelogApp(folder=tmp_path, clock=Watch(2.0), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot)

        def field() -> str:
            return app.focused.name or "" if isinstance(app.focused, Input) else ""

        def shows(name: str) -> bool:
            return field() == name

        await pilot.pause()
        await walker.press("n")
        await until(pilot, lambda: field() == "title")
        for text, key, then in [
            ("Mill barn", "pagedown", "by"),
            ("M. Reed", "pagedown", "1.length"),
            ("9000", "enter", "1.width"),
            ("6000", "enter", "1.pitch"),
            ("35", "enter", "1.section"),
            ("47x175", "pagedown", "1.design_mass"),
            ("55", "pagedown", "more"),
        ]:
            await walker.type(text, key)
            await until(pilot, partial(shows, then))
        await walker.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobPage))
        assert app.job is not None
        (drawn,) = (entry.value for entry in app.job.entries if entry.act == "drawn" and entry.part == "main")
    usual = set(items(drawn[USUAL]))
    assert {"hip_section", "ridge_board", "grade"} <= usual
    assert not {"length", "pitch", "section", "design_mass"} & usual

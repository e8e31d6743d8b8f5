"""A new job by keyboard: one key to the next blank, and a ridge that is drawn too shallow is told before it is made."""

from functools import partial
from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.job.log.entry_index import USUAL
from sitelog.job.log.parts import items
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.wording.prompts.setting_up import shallow_ridge
from tests.reports.site import Site
from tests.tui.seen import text, until
from tests.tui.site import DEVICE, Watch
from tests.tui.walker import Walker

TYPED = [  # what, the key after it, and the field that it leads to
    ("Mill barn", "pagedown", "by"),
    ("M. Reed", "pagedown", "1.length"),
    ("9000", "enter", "1.width"),
    ("6000", "enter", "1.pitch"),
    ("35", "enter", "1.section"),
    ("47x200", "pagedown", "1.design_mass"),
    ("55", "pagedown", "more"),
]


async def test_pgdn_goes_to_the_next_blank_and_a_shallow_ridge_is_told_before_the_job_is_made(tmp_path: Path) -> None:
    """Rafters of 200 at 35 degrees have a plumb cut of 200 / cos 35, 244 mm; the usual ridge is 225."""
    app = SitelogApp(folder=tmp_path, clock=Watch(2.0), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        walker = Walker(app, pilot)

        def shows(name: str) -> bool:
            return isinstance(app.focused, Input) and app.focused.name == name

        await pilot.pause()
        await walker.press("n")
        await until(pilot, partial(shows, "title"))
        for typed, key, then in TYPED:
            await walker.type(typed, key)
            await until(pilot, partial(shows, then))
        await walker.press("enter")
        await until(pilot, lambda: "plumb cut 244 mm" in text(app))
        assert isinstance(app.screen, NewJobPage) and not list(tmp_path.glob("*.json"))
        await walker.press("enter")
        await until(pilot, lambda: isinstance(app.screen, JobPage))
        assert app.job is not None
        (drawn,) = (entry.value for entry in app.job.entries if entry.act == "drawn" and entry.part == "main")
    usual = set(items(drawn[USUAL]))
    assert {"hip_section", "ridge_board", "grade"} <= usual
    assert not {"length", "pitch", "section", "design_mass"} & usual


@pytest.mark.parametrize("form", ["hipped", "gabled"])
@pytest.mark.parametrize(("ridge", "told"), [("183", True), ("184", False)])
def test_a_ridge_is_as_deep_as_the_plumb_cut_of_its_rafter(form: str, ridge: str, *, told: bool) -> None:
    """150 / cos 35 is 183.1."""
    assert bool(shallow_ridge(Site(form=form, more={"ridge_board": ridge}).state)) is told

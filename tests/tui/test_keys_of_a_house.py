"""A plain hipped house by keyboard, in the form for it and in the form for any cut roof: the second takes no more keys.

Every key is counted, letters and Enter alike, from `n` in the list of jobs to the last stage of the roof. Each front is
handed the same figures, and what it has as drawn where those say nothing.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.tui.app import SitelogApp
from sitelog.tui.building.block import BlockPage
from sitelog.tui.building.page import BuildingPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.new_job import NewJobPage
from tests.tui.site import Watch
from tests.tui.walker import CHOSEN, READ, Walker

HOUSE = {"title": "Mill barn", "by": "M. Reed", "1.length": "9000", "1.width": "6000", "1.pitch": "35"}
HOUSE |= {"1.design_mass": "55", "1.form": "hipped"}
FIELDS = {"length": "9000", "width": "6000", "pitch": "35"}
HIPS = ("ab-bc", "ab-da", "bc-cd", "cd-da")
TWIST = {"fall_foot": "1", "fall_head": "1"}
SEEN: Mapping[str, Mapping[str, str]] = {
    "timber.sizes": READ["first-pair.sizes"],
    "main-first-pair.ridge-depth": {"depth": "190"},
    "main-first-pair.twist": TWIST,
    "main-ridge.ridge-ab-cd-line": {"offsets": "0,1,1,1,0"},
    "main-ridge.plane": {"value": "2"},
    **{f"main-jacks.hip-{hip}-plane": {"value": "1"} for hip in HIPS},
}
OPENED = 3  # keys: into the roof's blocks, hips all round, and out again
LAST = "tiler"  # the last stage of the roof


class CountingWalker(Walker):
    """Counts each key, those that a paste stands for with them."""

    pressed = 0

    async def press(self, *names: str) -> None:
        self.pressed += len(names)
        await super().press(*names)

    async def type(self, text: str, *after: str) -> None:
        self.pressed += len(text) + len(after)
        await super().type(text, *after)

    async def set_up_house(self, form: str) -> None:
        """From the list of jobs to the job's page; a form typed over another costs its letters."""
        await self.pilot.pause()
        await self.press("n")
        await self.pilot.pause()
        while not isinstance(self.app.screen, JobPage):
            await self._field(form)
            await self.pilot.pause()
            await self.pilot.pause()

    async def _field(self, form: str) -> None:
        page, field = self.app.screen, self.app.focused
        if isinstance(page, BuildingPage):
            await self.press("escape" if page.text else "enter")
            return
        assert isinstance(page, (BlockPage, NewJobPage)) and isinstance(field, Input)
        wanted = FIELDS if isinstance(page, BlockPage) else HOUSE | {"1.form": form}
        text = wanted.get(field.name or "", "")
        if text == field.value:
            text = ""
        elif text:
            field.value = ""
        await self.type(text, "enter")


async def keys_to_the_last_stage(folder: Path, form: str) -> dict[str, int]:
    """How many keys had been pressed when each stage of the roof was reached."""
    app = SitelogApp(folder=folder, clock=Watch(2.0), device="walker01")
    found: dict[str, int] = {}
    async with app.run_test(size=(80, 24)) as pilot:
        walker = CountingWalker(app, pilot, {**READ, **SEEN}, CHOSEN)
        await walker.set_up_house(form)

        def reached() -> bool:
            stage = app.state.next.split(".")[1] if "." in app.state.next else ""
            if stage:
                found.setdefault(stage, walker.pressed)
            return stage == LAST and app.state.next.startswith("main")

        await walker.walk(reached, most=900)
        assert (app.state.snags, app.state.releases) == ((), ())
    return found


@pytest.mark.long
async def test_a_plain_hipped_house_takes_no_more_keys_as_a_cut_roof(tmp_path: Path) -> None:
    counted = {}
    for form in ("hipped", "cut-roof"):
        (tmp_path / form).mkdir()
        counted[form] = await keys_to_the_last_stage(tmp_path / form, form)
    assert counted["cut-roof"]["before"] <= counted["hipped"]["before"] + len("cut-roof") + OPENED, "set up"
    assert counted["cut-roof"][LAST] <= counted["hipped"][LAST], counted

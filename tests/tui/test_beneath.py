"""What stands beneath the rows of a page: never so long that they have no room, never cut off without a word of it."""

from itertools import pairwise
from pathlib import Path
from shutil import copy

import pytest
from textual.pilot import Pilot

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.whole import WholePage
from sitelog.tui.keys import KEYS, footer, keys_of
from sitelog.tui.pages.job import JobPage
from sitelog.tui.widgets.listing import BENEATH, DetailPane
from sitelog.tui.widgets.stages import Rows
from tests.tui.conftest import DEVICE, Clock
from tests.tui.seen import lines, text

SIZES = [(60, 20), (80, 24), (140, 40)]
LONG = "dormer.finish"  # where three other parts ask something of this one


@pytest.fixture
def sample(tmp_path: Path, clock: Clock) -> SitelogApp:
    file = Path(copy(sample_folder() / "kiln-lane.json", tmp_path))
    return SitelogApp(folder=tmp_path, file=file, by="M. Reed", clock=clock, device=DEVICE)


async def at(pilot: Pilot[int], path: str) -> JobPage:
    await pilot.pause()
    await pilot.press("1")
    await pilot.pause()
    page = pilot.app.screen
    assert isinstance(page, JobPage)
    page.show_path(path)
    await pilot.pause()
    await pilot.pause()
    return page


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_at_every_stage_six_rows_stay_to_be_seen(sample: SitelogApp, size: tuple[int, int]) -> None:
    most = next(most for height, most in BENEATH if size[1] >= height)
    async with sample.run_test(size=size) as pilot:
        page = await at(pilot, LONG)
        for stage in sample.state.order:
            page.show_path(f"{stage.path}.")
            await pilot.pause()
            assert page.query_one(Rows).size.height >= 6, stage.path
            assert page.query_one(DetailPane).size.height <= most, stage.path


async def test_what_is_cut_off_says_so_and_a_key_tells_all_of_it(sample: SitelogApp) -> None:
    async with sample.run_test(size=(80, 24)) as pilot:
        page = await at(pilot, f"{LONG}.lining")
        told = " ".join(words for _, words in page.query_one(DetailPane).told)
        assert "press z to read the other" in text(sample)
        assert told.split()[-1] not in lines(sample)[-5]
        await pilot.press("z")
        await pilot.pause()
        top = sample.screen
        assert isinstance(top, WholePage)
        seen = text(sample)
        assert all(word in seen for word in told.split())
        await pilot.press("b")
        await pilot.pause()
        assert sample.screen is page


async def test_what_is_short_says_nothing_of_more(sample: SitelogApp) -> None:
    async with sample.run_test(size=(80, 24)) as pilot:
        await at(pilot, "main.hip-lines.hip-c")
        assert "tells all of it" not in text(sample)


@pytest.mark.parametrize("width", [30, 47, 60, 80, 140])
async def test_a_key_is_never_parted_from_its_word_at_the_foot(sample: SitelogApp, width: int) -> None:
    async with sample.run_test(size=(width, 40)) as pilot:
        await at(pilot, LONG)
        foot = "\n".join(lines(sample)[-8:])
        shown = [key for key in keys_of("job") if key.footer]
        for key in shown:
            assert f"{key.shown} {key.word}" in foot, key


def test_every_foot_is_made_of_keys_held_to_their_words() -> None:
    for place in {place for key in KEYS for place in key.places}:
        parts = footer(place).split("  ")
        assert not [part for part in parts if " " in part], place
        assert all(one != other for one, other in pairwise(parts))

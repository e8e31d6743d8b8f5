"""A cut roof built block by block at the keyboard: few keys, nothing lost, a refusal in one line."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from textual.pilot import Pilot
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.actions.setup import JobSetup, Part
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.tui.app import SitelogApp
from sitelog.tui.building.block import BlockPage
from sitelog.tui.building.page import BuildingPage
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.new_job import NewJobPage
from tests.tui.conftest import DEVICE, Clock
from tests.tui.seen import text, typed, until_shown
from tests.tui.site import Watch, opened

L = "main 9000x6000 40; wing off CD 0 from C 4000x4000 40 end gable"


@asynccontextmanager
async def at_field(folder: Path, clock: Clock, size: tuple[int, int] = (80, 24)) -> AsyncIterator[Pilot[int]]:
    """In the field of a new cut roof that asks for its blocks."""
    app = SitelogApp(folder=folder, by="a. dunn", clock=clock, device=DEVICE)
    async with app.run_test(size=size) as pilot:
        await pilot.press("n", *typed("barn"))
        page = app.screen
        assert isinstance(page, NewJobPage)
        form = page.form.field("1.form")
        assert form is not None
        form.focus()
        form.value = "cut-roof"
        await pilot.press("enter")
        await pilot.pause()
        await pilot.pause()
        field(page).focus()
        await pilot.pause()
        yield pilot


def field(page: NewJobPage) -> Input:
    found = page.form.field("1.building")
    assert found is not None
    return found


def seen(pilot: Pilot[int]) -> str:
    return " ".join(text(pilot.app).split())


async def test_an_l_with_a_gable_and_a_dormer_is_built_from_nothing(tmp_path: Path, clock: Clock) -> None:
    async with at_field(tmp_path, clock) as pilot:
        assert "press Enter to build it" in seen(pilot)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press(*typed("9000"), "enter", *typed("6000"), "enter", *typed("40"))
        await until_shown(pilot, "hips 4, ridge 1")  # drawn as it is typed
        await pilot.press("enter")
        await pilot.pause()
        assert "Press Enter for hips all round" in seen(pilot)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.press("1", *["enter"] * 3, *typed("4000"), "enter", *typed("4000"), "enter", *typed("gable"))
        await pilot.press(*["enter"] * 5)
        await pilot.press("4", "enter", *typed("6000"), "enter", "enter", *typed("1500"), "enter", *typed("900"))
        await pilot.press("enter", "enter", *typed("800"), "enter", "enter")
        await until_shown(pilot, "Dormer on AB, 6000 from A")
        page = pilot.app.screen
        assert isinstance(page, BuildingPage)
        assert "valley 1" not in seen(pilot)
        await pilot.press("escape")
        await pilot.pause()
        await pilot.pause()
        home = pilot.app.screen
        assert isinstance(home, NewJobPage)
        assert field(home).value == f"{L}; dormer off AB 6000 from A 1500x900 40 cheek 800"
        assert isinstance(home.focused, Input) and home.focused.name != "1.building", "on to the next field"


async def test_a_block_is_changed_taken_away_and_brought_back(tmp_path: Path, clock: Clock) -> None:
    async with at_field(tmp_path, clock) as pilot:
        home = pilot.app.screen
        assert isinstance(home, NewJobPage)
        field(home).value = L
        await pilot.press("enter", "down", "enter")
        await pilot.pause()
        assert isinstance(pilot.app.screen, BlockPage)
        await pilot.press(*["down"] * 3, *["backspace"] * 4, *typed("3500"), *["enter"] * 7)
        await pilot.pause()
        assert field(home).value == L.replace("4000x4000", "3500x4000")
        await pilot.press("r")
        assert field(home).value == "main 9000x6000 40"
        assert "Wing taken away. Press u to undo." in seen(pilot)
        await pilot.press("u")
        assert field(home).value == L.replace("4000x4000", "3500x4000")
        await pilot.press("up", "r")
        assert "Main: take away what is built on it first: wing" in seen(pilot)
        await pilot.press("u", "u")
        assert field(home).value == L
        assert "Nothing to undo." in seen(pilot)


async def test_what_cant_be_is_refused_at_its_field_and_nothing_typed_is_lost(tmp_path: Path, clock: Clock) -> None:
    async with at_field(tmp_path, clock) as pilot:
        home = pilot.app.screen
        assert isinstance(home, NewJobPage)
        field(home).value = "main 9000x6000 40; wing off CE 0 from D 4000x4000 40"
        await pilot.press("enter")
        await pilot.pause()
        assert "wing: CE isn't a side to build on" in seen(pilot)
        assert home.focused is field(home)
        field(home).value = "main 9000x6000 40"
        await pilot.press("enter", "1", *typed("ce"), *["enter"] * 3, *typed("4"), "enter")
        await pilot.pause()
        assert "Wing: its width is 4 mm; it must be from 100 to 100000. If it is metres, type 4m" in seen(pilot)
        await pilot.press(*typed("4m"), "enter", *typed("4m"), *["enter"] * 6)
        await pilot.pause()
        page = pilot.app.screen
        assert isinstance(page, BlockPage)
        assert "Wing: CE isn't a side to build on; the sides are AB, BC, CD, DA" in seen(pilot)
        assert isinstance(page.focused, Input) and page.focused.name == "side"
        await pilot.press("escape", "1")
        await pilot.pause()
        again = pilot.app.screen
        assert isinstance(again, BlockPage)
        assert again.form.texts()["side"] == "ce" and again.form.texts()["width"] == "4m"
        await pilot.press(*typed("cd"), *["enter"] * 10)
        await pilot.pause()
        assert field(home).value == "main 9000x6000 40; wing off cd 0 from C 4mx4m 40"


async def test_a_roof_of_a_job_is_changed_over_its_plan_and_says_what_comes_and_goes(
    tmp_path: Path, library: Library
) -> None:
    """Left before it is saved nothing changes, and the changed roof is kept for the next time."""
    file, watch = tmp_path / "roof.json", Watch(60)
    author = Author(by="M. Reed", device=DEVICE, now=watch())
    parts: list[Part] = [("main", "Main roof", "cut-roof", {"building": "main 9000x6000 40", "design_mass": "55"})]
    Job.create(file, library, author, JobSetup(title="Barn", place="", units="metric", parts=parts)).close()
    async with opened(file) as walker:
        pilot = walker.pilot
        await walker.press("f")
        await pilot.pause()
        facts = walker.app.screen
        assert isinstance(facts, FactsPage)
        facts.listing.stand_on("main.building")
        await walker.press("enter")
        await until_shown(pilot, "The roof, block by block")
        await walker.press("1", *["enter"] * 3, *typed("4000"), "enter", *typed("4000"), *["enter"] * 6)
        await until_shown(pilot, "Wing is in.")
        assert "Comes Wing, Slope" in text(pilot.app)
        await walker.press("escape")
        await until_shown(pilot, "Enter saves the new roof")
        await walker.press("escape")
        await until_shown(pilot, "The changed roof is kept here")
        assert walker.app.state.facts["main.building"].drawn == "main 9000x6000 40"
        await walker.press("enter")
        await until_shown(pilot, "Wing off CD, 0 from C:")
        await walker.press("escape")
        await until_shown(pilot, "Enter saves the new roof")
        assert "Comes: Wing" in text(pilot.app) and "To tape: BE" in text(pilot.app) and "Checks:" in text(pilot.app)
        await walker.press("enter")
        await until_shown(pilot, "drawing figure changed")
        assert walker.app.state.facts["main.building"].drawn == "main 9000x6000 40; wing off CD 0 from C 4000x4000 40"
        assert "2 blocks" in text(pilot.app)

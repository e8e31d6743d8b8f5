"""A job of an earlier day at the keyboard: it says that newer lists are there, and is brought to them."""

import re
import shutil
from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.lists import ListsPage
from sitelog.tui.widgets.stages import Rows
from sitelog.wording.formatting import row_figures
from tests.job.lists import released_then_gone, without
from tests.tui.every_page import at_rest, over
from tests.tui.seen import text

OLD = sorted((Path(__file__).parent.parent / "old_jobs").glob("*.json"))


def words(told: str) -> set[str]:
    """The words of a row, whose columns are wrapped each by itself."""
    return set(re.findall(r"\w+", told))


async def test_a_job_is_brought_to_the_newest_lists_by_a_word_and_a_name_and_loses_no_answer(
    tmp_path: Path, library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    newest = without(library, ("hipped", "ridge", "crowns"))
    monkeypatch.setattr(SitelogApp, "lists", lambda _, file: lambda: newest)
    app = over(file)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(app, pilot)
        assert "Lists there are newer ones: see lists (=) in the job" in text(app)
        await pilot.press("1", "equals_sign")
        await at_rest(app, pilot)
        crowns = app.state.check("main.ridge.crowns")
        assert crowns and crowns.by
        assert isinstance(app.screen, ListsPage)
        assert "Checks removed" in text(app)
        assert "At Main roof" in text(app)
        assert crowns.check.ask in text(app)
        await pilot.press("enter", "enter", "enter")
        await at_rest(app, pilot)
        assert isinstance(app.screen, AskPage), "a key that repeats brings it nowhere"
        await pilot.press("y", "enter")
        assert "'y' isn't it: type newest, or go back to keep the checklists as they are." in text(app)
        app.screen.query_one(Input).value = "newest"
        await pilot.press("enter")
        await at_rest(app, pilot)
        assert "The job uses the newest checklists from here on, by M. Reed." in text(app)
        assert app.state.changed_lists == ()
        assert app.state.check("main.ridge.crowns") is None
        assert app.job and (app.job.entries[-1].act, app.job.entries[-1].by) == ("pin", "M. Reed")
        assert "Earlier checks" in text(app)
        assert crowns.check.ask in text(app)
        assert app.state.earlier[0].answer in text(app)
        assert f"By {crowns.by}" in text(app)
        await pilot.press("enter")
        await at_rest(app, pilot)
        assert "This job uses the newest checklists already" in text(app)
        await pilot.press("b")
        await at_rest(app, pilot)


async def test_a_release_of_a_whole_stage_that_is_gone_stands_among_the_earlier_checks(
    tmp_path: Path, library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    gone = released_then_gone(file, library)
    monkeypatch.setattr(SitelogApp, "lists", lambda _, file: lambda: gone)
    app = over(file)
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(app, pilot)
        await pilot.press("1", "equals_sign")
        await at_rest(app, pilot)
        assert isinstance(app.screen, ListsPage)
        await pilot.press("end")
        assert "Answer released: crane booked" in text(app)


@pytest.mark.parametrize("job", OLD, ids=lambda job: job.stem)
async def test_an_old_job_shows_every_answer_and_says_that_newer_lists_are_there(tmp_path: Path, job: Path) -> None:
    app = over(Path(shutil.copy(job, tmp_path)))
    async with app.run_test(size=(80, 24)) as pilot:
        await at_rest(app, pilot)
        assert "see lists (=) in the job" in text(app)
        await pilot.press("1", "equals_sign")
        await at_rest(app, pilot)
        assert isinstance(app.screen, ListsPage)
        await pilot.press("b")
        await at_rest(app, pilot)
        page = app.screen
        assert isinstance(page, JobPage)
        rows = page.query_one(Rows)
        answered = [view for view in app.state.checks() if any(entry.act == "answer" for entry in view.history)]
        for view in answered:
            page.show_path(view.path)
            assert rows.check == view
            row = str(rows.get_option_at_index(rows.highlighted or 0).prompt)
            assert words(f"{view.check.ask} {row_figures(view, app.state.units)}") <= words(row)
        assert len(answered) > 20

"""What was typed and not saved: it is there after a kill, for who typed it, and another person is asked about it."""

import sys
from pathlib import Path

import pytest
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.storage.disk import beside
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.dialogs.left import LeftPage
from sitelog.tui.pages.job import JobPage
from tests.lines.listener import ScriptedInput, walked
from tests.tui.conftest import DEVICE
from tests.tui.seen import text, typed
from tests.tui.site import Watch, brought_to, opened, stand_on
from tests.tui.test_killed import Terminal
from tests.tui.walker import Walker

ENDS = "main.plates.ends"


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def press(walker: Walker, *keys: str) -> None:
    await walker.press(*keys)
    await walker.pilot.pause()
    await walker.pilot.pause()


def stands(walker: Walker) -> list[str]:
    """What stands in the fields of the page on top."""
    return [field.value for field in walker.app.screen.query(Input)]


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pty there")
async def test_a_half_typed_note_lives_through_a_kill_and_another_person_is_asked_about_it(plates: Path) -> None:
    kept = beside(plates) / "typed.json"
    terminal = Terminal("-m", "sitelog", "open", str(plates), "--by", "A. Dunn")
    try:
        terminal.press("A. Dunn", "1")
        terminal.press("PLATES", "n")
        terminal.press("Type the note", "bed low at C")
        terminal.until(lambda: kept.exists() and b"low at C" in kept.read_bytes())
    finally:
        terminal.kill()
    for key, left in (("1", "bed low at C"), ("2", "")):
        app = SitelogApp(folder=plates.parent, file=plates, by="M. Reed", clock=Watch(), device=DEVICE)
        async with app.run_test(size=(80, 24)) as pilot:
            walker = Walker(app, pilot)
            await press(walker, "1")
            assert isinstance(app.screen, LeftPage)
            assert "A. Dunn typed this and didn't save it" in text(app) and "bed low at C" in text(app)
            await press(walker, "space", key)
            assert isinstance(app.screen, JobPage)
            await press(walker, "n")
            assert stands(walker) == [""], "nobody goes on with another's words"
            await press(walker, "escape")
            app.by = "A. Dunn"
            await press(walker, "n")
            assert stands(walker) == [left]


async def test_a_snag_a_reason_and_a_caution_that_were_left_stand_there_the_next_time(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, ENDS)
        await press(walker, "s", *typed("split at the lap"), "enter", *typed("A. Dunn"), "escape")
        await press(walker, "r", *typed("late"), "escape")
        await press(walker, "enter", *typed("9 1"), "escape")
    async with opened(plates) as walker:
        await stand_on(walker, ENDS)
        await press(walker, "s")
        assert stands(walker) == ["split at the lap", "A. Dunn", ""]
        await press(walker, "enter", "enter", "enter")
        assert walker.app.state.open_snags[-1].who == "A. Dunn"
        await press(walker, "s")
        assert stands(walker) == ["", "", ""], "once saved it is not offered again"
        await press(walker, "escape", "r")
        assert isinstance(walker.app.screen, AskPage)
        assert stands(walker)[0] == "late"
        await press(walker, "escape", "enter")
        assert isinstance(walker.app.screen, CautionPage)
        assert stands(walker)[0] == "9 1"
        await press(walker, "enter")
        assert not walker.app.state.readings, "the wind of then is no reading of now"
        await press(walker, "2", "enter")
        assert walker.app.state.readings[-1].answer == (9, 12)


def test_line_by_line_too(plates: Path, library: Library) -> None:
    def heard(by: str, *says: str) -> ScriptedInput:
        listener = ScriptedInput(says)
        walked(plates, library, listener, Watch(2.0), by=by)
        return listener

    heard("A. Dunn", ENDS, "snag", "split at the lap", "back", "quit")
    asked = heard("M. Reed", "back", ENDS, "snag", "back", "quit")
    assert "A. Dunn typed this and didn't save it:" in asked.heard
    assert "You typed split at the lap" not in asked.text
    again = heard("A. Dunn", ENDS, "snag", "", "", "", "quit")
    assert "You typed split at the lap before and did not save it. Press Enter to keep it." in again.text
    assert "A. Dunn typed this" not in heard("M. Reed", "quit").text

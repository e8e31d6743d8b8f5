"""The register of instruments at the keyboard: what each has measured, and one found to read wrong."""

from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.storage.verify import verify
from sitelog.reports.formats.text import text as plain_text
from sitelog.reports.pack import make
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.pages.instruments import InstrumentsPage
from sitelog.tui.pages.job import JobPage
from tests.tui.seen import lines, text
from tests.tui.site import brought_to, opened, stand_on
from tests.tui.walker import Walker

SIDES = "main.plates.sides"
SQUARE = {"ab": "9000", "bc": "6000", "cd": "9000", "da": "6000", "ac": "10817", "bd": "10817"}


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    """The plates taped with T2; T3 in the register, and not used."""
    return brought_to(
        tmp_path,
        library,
        "main.plates",
        lambda job: actions.instrument("T2", "tape", "II"),
        lambda job: actions.instrument("T3", "tape", "I"),
        lambda job: actions.answer(job.state, job.library, SIDES, SQUARE, instrument="T2"),
    )


async def press(walker: Walker, *names: str) -> None:
    await walker.press(*names)
    await walker.pilot.pause()


async def test_a_tape_that_reads_wrong_is_marked_bad_and_all_it_measured_is_flagged_everywhere(
    plates: Path, library: Library
) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await press(walker, "i")
        assert isinstance(app.screen, InstrumentsPage)
        assert "T2, tape, class II 1 check" in text(app)
        assert "Four sides" in text(app), "what it measured stands under it"
        assert "T3, tape, class I 0 checks" in text(app)
        await press(walker, "enter")
        assert isinstance(app.screen, AskPage)
        await press(walker, "escape")
        assert not app.state.instruments["T2"].doubted, "it takes a reason"
        await press(walker, "enter")
        await walker.type("hook bent 2 mm", "enter")
        await walker.pilot.pause()
        assert "MARKED BAD" in text(app)
        assert "T2 is marked bad; 1 check flagged" in text(app)
        assert "Bad hook bent 2 mm (M. Reed, " in text(app)
        await press(walker, "enter")
        assert "T2 was already marked bad by M. Reed: hook bent 2 mm" in text(app)
        await press(walker, "down", "g")
        page = app.screen
        assert isinstance(page, JobPage)
        assert page.check and page.check.path == SIDES
        assert "Measured with T2, later marked bad by M. Reed: hook bent 2 mm" in text(app)
        await stand_on(walker, "main.plates")
        assert "1 measured with a bad tool" in text(app)
        pack = make(app.state, library, "tiler", app.now())
        assert "doubted" in {section.id for section in pack.first}
        assert "T2 was marked bad by M. Reed" in " ".join(plain_text(pack).split())
        await press(walker, "i", "u")
        assert not app.state.instruments["T2"].doubted, "undo takes it back, from here as well"
        assert "MARKED BAD" not in text(app)
    assert verify(plates) == []


async def test_what_was_measured_again_with_another_is_told_and_no_longer_flagged(
    plates: Path, library: Library
) -> None:
    async with opened(plates) as walker:
        app = walker.app
        app.enter(actions.doubt(app.state, "T2", "hook bent"))
        app.enter(actions.answer(app.state, library, SIDES, SQUARE, instrument="T3", note="T2 reads short"))
        await press(walker, "i", "down")
        assert "Since measured again with T3" in text(app)
        view = app.state.check(SIDES)
        assert view and not view.doubted


async def test_a_new_instrument_is_put_into_the_register_once(plates: Path) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await press(walker, "i", "n")
        await walker.type("L1", "enter")
        await walker.pilot.pause()
        await walker.type("level", "enter", "enter")
        await walker.pilot.pause()
        assert (app.state.instruments["L1"].kind, app.state.instruments["L1"].grade) == ("level", "")
        assert "L1 is on the list." in text(app)
        await press(walker, "n")
        await walker.type("L1", "enter")
        await walker.pilot.pause()
        assert "L1 is already on the list." in text(app)
        await press(walker, "n", "escape")
        assert isinstance(app.screen, InstrumentsPage)
        await press(walker, "g")
        assert "Move to one of the checks listed under it." in text(app)


async def test_an_empty_register_says_how_to_fill_it(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.plates")) as walker:
        await press(walker, "i", "enter", "g")
        assert isinstance(walker.app.screen, InstrumentsPage)
        assert "Press n to add one" in text(walker.app)
        assert "mark bad" in " ".join(lines(walker.app)[-2:]).replace("\N{NO-BREAK SPACE}", " ")

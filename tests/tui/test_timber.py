"""The cutting list on the screen, and the order behind it: by keyboard, on small terminals, without a solver."""

from collections.abc import Callable
from pathlib import Path
from time import sleep

import pytest

from sitelog.calculators.timber import stock
from sitelog.calculators.timber.cutting.watch import Progress, current_watch
from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.buying import Purchase, buy
from sitelog.job.job import Job
from sitelog.job.log.entry import Draft
from sitelog.job.members import Line
from sitelog.job.sources import Terms
from sitelog.refusal import Refusal
from sitelog.tui.pages.calculators import CalculatorPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.timber import OrderPage, TimberPage
from sitelog.tui.widgets.plan import AnswerPage
from tests import shipped
from tests.tui.seen import lines, text, typed, until_shown
from tests.tui.site import brought_to, opened
from tests.tui.walker import Walker

SIDES = {"ab": "8996", "bc": "6003", "cd": "9007", "da": "6002", "ac": "10826", "bd": "10813"}


@pytest.fixture(scope="module")
def library() -> Library:
    return shipped.library()


def plates(library: Library) -> Callable[[Job], Draft]:
    return lambda job: actions.answer(job.state, library, "main.plates.sides", SIDES)


async def to_order(walker: Walker) -> OrderPage:
    await walker.pilot.press("g")
    await walker.pilot.pause()
    assert isinstance(walker.app.screen, TimberPage)
    await walker.pilot.press("o")
    await walker.pilot.pause()
    page = walker.app.screen
    assert isinstance(page, OrderPage)
    return page


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_the_list_is_read_by_section_and_says_what_each_line_stands_on(
    tmp_path: Path, library: Library, size: tuple[int, int]
) -> None:
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))
    async with opened(file, size=size) as walker:
        await walker.pilot.press("g")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, TimberPage)
        assert "38x225: 1 piece, 3.0 m, 11 kg dry" in text(walker.app)
        assert "Common" in text(walker.app)
        assert "drawn" in text(walker.app)
        assert all(len(line.rstrip()) <= size[0] for line in lines(walker.app))
        await walker.pilot.press("end")
        await walker.pilot.pause()
        assert "Trimmers" in text(walker.app) and "needs " in text(walker.app)
        await walker.pilot.press("b")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage)


async def test_the_order_is_worked_on_enter_away_from_the_screen(tmp_path: Path, library: Library) -> None:
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))
    async with opened(file) as walker:
        page = await to_order(walker)
        assert [field.name for field in page.form.inputs] == ["kerf", "lengths", "prices", "on_site"]
        assert "Press Enter to work it out." in text(walker.app)
        await walker.pilot.press("down", *typed("4800,5400,6000"), "enter")
        await until_shown(walker.pilot, "Not ordered, see the list for what is needed: Trimmers")
        assert "Length bought" in text(walker.app)
        await walker.pilot.press("1")
        await walker.pilot.pause()
        assert "Length bought" not in text(walker.app), "it is of other figures than those on the form"
        assert "Press Enter to work it out." in text(walker.app)


async def test_what_can_not_be_ordered_is_said_in_the_page(
    tmp_path: Path, library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))
    async with opened(file) as walker:
        await to_order(walker)
        await walker.pilot.press(*typed("wide"), "enter")
        await until_shown(walker.pilot, "kerf: 'wide'")

        def missing(*_: object, **__: object) -> None:
            raise Refusal(f'stock needs a solver that is not installed; run: pip install "{stock.SOLVER}"')

        monkeypatch.setattr("sitelog.tui.pages.timber.buy", missing)
        await walker.pilot.press(*["backspace"] * 4, "enter")
        await until_shown(walker.pilot, 'run: pip install "highspy')


async def test_stock_by_itself_is_worked_on_enter_too(tmp_path: Path, library: Library) -> None:
    file = brought_to(tmp_path, library, "main.first-pair")
    async with opened(file) as walker:
        await walker.app.push_screen(CalculatorPage("stock"))
        await walker.pilot.pause()
        await walker.pilot.press(*typed("47x150:3000:2"))
        await walker.pilot.pause()
        assert "Length bought" not in text(walker.app) and "enter work out" in text(walker.app)
        await walker.pilot.press("enter")
        await until_shown(walker.pilot, "Length bought")


async def test_pieces_are_counted_by_enter_and_what_is_short_is_seen(tmp_path: Path, library: Library) -> None:
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))
    async with opened(file) as walker:
        await walker.pilot.press("g")
        await walker.pilot.pause()
        await walker.pilot.press("down", "enter")
        await walker.pilot.pause()
        assert "How many more are cut? 0 of 18 so far." in text(walker.app)
        for words in ("19", "", ""):
            await walker.type(words, "enter")
        assert "That makes 19 good ones of 18" in text(walker.app), "nothing is entered, and the words stand"
        assert not walker.app.state.tallies


async def test_d_shows_the_timber_under_the_cursor_as_it_is_marked(tmp_path: Path, library: Library) -> None:
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))
    async with opened(file) as walker:
        await walker.pilot.press("g", "d")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, AnswerPage)
        assert "on the bench" in text(walker.app) and "tape hooks at the head" in text(walker.app)
        await walker.pilot.press("escape", "end", "d")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, TimberPage)
        assert "Put the cursor on a timber" in text(walker.app)


async def test_an_order_is_told_while_it_is_worked_and_esc_stops_it_with_the_best_so_far(
    tmp_path: Path, library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "yard.toml").write_text("[47x150]\nlengths = [4200, 4800]\n", encoding="utf-8")
    file = brought_to(tmp_path, library, "main.first-pair", plates(library))

    def waits(lines: tuple[Line, ...], terms: Terms) -> Purchase:
        watch = current_watch()
        watch.hear(Progress(2_124_000, 2_106_000, "47x150"))
        while not watch.should_stop():
            sleep(0.01)
        return buy(lines, terms)

    monkeypatch.setattr("sitelog.tui.pages.timber.buy", waits)
    async with opened(file, size=(80, 24)) as walker:
        page = await to_order(walker)
        assert "Yard: yard.toml beside the job." in text(walker.app)
        page.form.inputs[-1].focus()
        await walker.pilot.press(*typed("47x150:4000:2"), "enter")
        await walker.pilot.pause(0.3)
        assert "47x150: 212.4 m so far, at least 210.6 m" in text(walker.app)
        assert "esc stop" in text(walker.app)
        await walker.pilot.press("escape")
        await walker.app.workers.wait_for_complete()
        await walker.pilot.pause()
        assert walker.app.screen is page
        assert "Stopped early: this is the best so far." in text(walker.app)
        assert "Not in yard.toml, so not ordered: " in text(walker.app)
        await walker.pilot.press("escape")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, TimberPage)

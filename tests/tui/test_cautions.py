"""Several cautions on one page: each is seen whole, each is answered by itself, and none is jumped over."""

from pathlib import Path

import pytest
from textual.containers import VerticalScroll

from sitelog.checklist.schema.model import Library
from sitelog.tui.dialogs.caution import READ_ON, CautionPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.widgets.caution_block import Detail, how_many, in_hand_at, layout_of
from sitelog.wording.caution import caution_words
from tests.length import long
from tests.tui.seen import text, typed
from tests.tui.site import brought_to, opened, stand_on
from tests.tui.walker import Walker

LONGEST = ("weather-wind", "people-below", "party-wall")  # the words of these take most rows


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


async def ask(walker: Walker, *names: str, stage: str = "") -> tuple[CautionPage, list[bool | None]]:
    given: list[bool | None] = []
    page = CautionPage(names, stage)
    await walker.app.push_screen(page, given.append)
    await walker.pilot.pause()
    await walker.pilot.pause()
    return page, given


async def press(walker: Walker, *keys: str) -> None:
    await walker.press(*keys)
    await walker.pilot.pause()


def read(walker: Walker) -> list[str]:
    return [reading.caution for reading in walker.app.state.readings]


def on_page(walker: Walker) -> tuple[str, ...]:
    page = walker.app.screen
    assert isinstance(page, CautionPage)
    return page.shown


async def test_three_stand_on_a_page_each_whole_when_it_is_answered_and_none_is_jumped_over(
    plates: Path, library: Library
) -> None:
    async with opened(plates) as walker:
        page, given = await ask(walker, *LONGEST)
        assert page.shown == LONGEST
        for answer in ("9 14", "yard gate, banksman", "1"):
            caution = library.cautions[page.caution_id]
            told = caution_words(caution, library, walker.app.state, brief=True)
            for _, words in (*told, ("", caution.title), ("", caution.question.ask)):
                assert words in text(walker.app), "no line of it is out of sight"
            assert not page.block.query_one(VerticalScroll).max_scroll_y
            before = read(walker)
            await press(walker, "enter", *(["space", "backspace"] if caution.question.kind != "choice" else ["space"]))
            await press(walker, "enter")
            assert (read(walker), given) == (before, []), "no key alone clears it"
            await press(walker, *typed(answer), "enter")
        assert given == [True]
        assert read(walker) == list(LONGEST), "one entry each"


async def test_one_gone_past_is_come_back_to_and_what_was_answered_stays_when_it_is_left(plates: Path) -> None:
    async with opened(plates) as walker:
        page, given = await ask(walker, "slip-wet", "people-below", "open-edge")
        await press(walker, "tab", "tab")
        assert page.caution_id == "open-edge"
        await press(walker, *typed("north side, railed"), "enter")
        assert page.caution_id == "slip-wet", "the first that has no answer"
        assert "Open edges, wells and joist gaps: north side, railed" in text(walker.app)
        await press(walker, "1", "enter")
        assert (page.caution_id, given) == ("people-below", [])
        await press(walker, "escape")
        assert (read(walker), given) == (["open-edge", "slip-wet"], [False])


async def test_an_answer_that_stops_the_work_ends_the_page_and_the_rest_is_still_to_be_read(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, "main.plates.ends")
        await press(walker, "enter")
        assert on_page(walker)[:2] == ("weather-wind", "people-below")
        await press(walker, *typed("20 30"), "enter")
        assert isinstance(walker.app.screen, JobPage)
        assert "STOP WORK. Wind at roof level now" in text(walker.app)
        await stand_on(walker, "main.plates.ends")
        await press(walker, "enter")
        assert on_page(walker)[:2] == ("weather-wind", "people-below")


async def test_one_answer_settles_what_asks_the_same_on_the_page(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.tiler")) as walker:
        page, given = await ask(walker, "wind-tiles", "weather-wind")
        assert page.shown == ("wind-tiles", "weather-wind")
        await press(walker, *typed("9 14"), "enter")
        assert (read(walker), given) == (["wind-tiles"], [True])
        page, given = await ask(walker, "wind-tiles", "weather-wind")
        await press(walker, *typed("20 30"), "enter")
        assert (page.caution_id, given) == ("weather-wind", []), "tiles may be laid in it, but nobody stands up there"


async def test_where_one_is_longer_than_the_screen_its_end_is_seen_before_it_is_answered(plates: Path) -> None:
    async with opened(plates, size=(60, 20)) as walker:
        page, given = await ask(walker, "weather-wind", "people-below")
        assert page.shown == ("weather-wind",), "no second one in sight that could not be read"
        await press(walker, *typed("9 14"), "enter")
        assert READ_ON in text(walker.app) and not read(walker)
        await press(walker, "enter")
        assert (read(walker), given) == (["weather-wind"], [True])


@pytest.mark.parametrize(("room", "most"), [(19, 3), (60, 6)])
def test_up_to_three_share_a_small_screen_and_as_many_as_stand_whole_a_large_one(room: int, most: int) -> None:
    rows: dict[Detail, int] = {"spaced": 12, "full": 11, "brief": 10, "stacked": 10, "tight": 10, "folded": 1}
    assert how_many([rows] * 9, room) == most
    assert how_many([rows] * 2, room) == 2
    long: dict[Detail, int] = {"spaced": 34, "full": 32, "brief": 31, "stacked": 30, "tight": 30, "folded": 1}
    assert how_many([long] * 2, 19) == 1


SHORT: dict[Detail, int] = {"spaced": 12, "full": 10, "brief": 9, "stacked": 9, "tight": 8, "folded": 1}
WORDY: dict[Detail, int] = {"spaced": 22, "full": 20, "brief": 18, "stacked": 17, "tight": 14, "folded": 1}


def test_a_short_one_is_spaced_out_on_the_page_of_a_long_one() -> None:
    rows = [SHORT, WORDY]
    layout = layout_of(rows, 17)
    assert layout == ("tight", "folded")
    assert [in_hand_at(rows, at, layout, 17) for at in (0, 1)] == ["spaced", "tight"]


def test_a_long_one_is_in_one_paragraph_only_where_it_has_no_room_in_lines() -> None:
    assert how_many([SHORT, WORDY, SHORT], 18) == 2, "a third would leave it a paragraph"
    layout = layout_of([SHORT, WORDY], 18)
    assert layout == ("stacked", "folded")
    assert in_hand_at([SHORT, WORDY], 1, layout, 18, notice=3) == "stacked", "a notice takes its rows when it comes"


async def test_on_a_small_screen_two_share_a_page_where_each_stands_whole_in_one_paragraph(
    plates: Path, library: Library
) -> None:
    async with opened(plates, size=(60, 20)) as walker:
        page, given = await ask(walker, "part-built", "notch-engineer")
        assert page.shown == ("part-built", "notch-engineer")
        for answer in ("braced to the gable", "1"):
            caution = library.cautions[page.caution_id]
            for lead, words in caution_words(caution, library, walker.app.state, brief=True):
                assert f"{lead.upper()}: {words}" * bool(lead) in text(walker.app), "no line of it is out of sight"
            assert not page.block.query_one(VerticalScroll).max_scroll_y
            await press(walker, *typed(answer), "enter")
        assert (read(walker), given) == (["part-built", "notch-engineer"], [True]), "each an entry of its own"


@pytest.mark.parametrize(
    "size", [(60, 20), (45, 70), pytest.param((80, 24), marks=long), pytest.param((140, 40), marks=long)]
)
async def test_every_caution_there_is_stands_whole_on_its_page(
    plates: Path, library: Library, size: tuple[int, int]
) -> None:
    """In threes, in the order of the file; what is laid out is measured, not what was reckoned.

    On the smallest screen one by itself may have to be scrolled: that is tried above.
    """
    names, pages = tuple(library.cautions), 0
    async with opened(plates, size=size) as walker:
        while names:
            page, _ = await ask(walker, *names[:3])
            pages += 1
            for at in range(len(page.blocks) if size != (60, 20) or len(page.blocks) > 1 else 0):
                page._stand(at)
                await walker.pilot.pause()
                block = page.block
                assert not block.query_one(VerticalScroll).max_scroll_y, block.caution.id
                assert block.region.bottom <= walker.app.screen.query_one("#caution-first").region.y, block.caution.id
            names = names[len(page.blocks) :]
            await walker.app.pop_screen()
    if size != (60, 20):
        assert 2 * pages < len(library.cautions), "most are read with others on the page"

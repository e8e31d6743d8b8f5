"""Short stories at the keyboard, one for each page behind the job's."""

import importlib
import pkgutil
import shutil
from collections.abc import AsyncIterator, Awaitable, Callable, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import Input

from sitelog import tui
from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.sheet import scalar
from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.shipped import sample_folder
from sitelog.job.actions import actions
from sitelog.job.find import find as find_words
from sitelog.job.job import Job
from sitelog.job.log.entry import Author, Draft
from sitelog.job.photos.photo import Photo
from sitelog.job.state.marks import CHECK
from sitelog.quantities.quantity import ACCEPTS
from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.reports.model import Table
from sitelog.reports.pack import make
from sitelog.reports.sources import STANDING
from sitelog.tui.app import SitelogApp
from sitelog.tui.building.block import BlockPage
from sitelog.tui.building.page import BuildingPage
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.dialogs.find import FindPage
from sitelog.tui.dialogs.help import HelpPage
from sitelog.tui.dialogs.meant import MeantPage
from sitelog.tui.dialogs.palette import PalettePage
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.dialogs.replies import RepliesPage
from sitelog.tui.dialogs.whole import WholePage
from sitelog.tui.dialogs.working import WorkingPage
from sitelog.tui.keys import KEYS, keys_of
from sitelog.tui.pages.calculators import CalculatorPage, CalculatorsPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.diary import JournalPage
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.handover import HandoverPage
from sitelog.tui.pages.instruments import InstrumentsPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.jobs import JobsPage
from sitelog.tui.pages.lists import ListsPage
from sitelog.tui.pages.new_job import NewJobPage
from sitelog.tui.pages.photos import PhotosPage
from sitelog.tui.pages.snags import SnagsPage
from sitelog.tui.pages.sources import SourcesPage
from sitelog.tui.pages.timber import OrderPage, TimberPage
from sitelog.tui.widgets.listing import Cell, Listing, Paragraphs, laid
from sitelog.tui.widgets.page import Page
from sitelog.tui.widgets.plan import AnswerPage, DrawingPage
from sitelog.tui.widgets.templates import TemplatesPage
from sitelog.wording.prompts.prompts import Question
from sitelog.wording.prompts.setting_up import file_name
from tests.length import long
from tests.tui.conftest import DEVICE, Clock
from tests.tui.every_page import every_page
from tests.tui.seen import contrast, letters, lines, text, typed, until

SIZE = (80, 24)


@pytest.fixture
def enter(job_file: Path, library: Library, clock: Clock) -> Callable[..., None]:
    """Enter acts into the job before the program opens it; each is given the state it finds."""

    def entered(*makers: Callable[[Job], Draft | list[Draft]]) -> None:
        with Job.open(job_file, library) as job:
            for make in makers:
                job.do(make(job), Author(by="M. Reed", device=DEVICE, now=clock()))

    return entered


@asynccontextmanager
async def at_job(
    app: SitelogApp, page: Screen[Any] | None = None, size: tuple[int, int] = SIZE
) -> AsyncIterator[Pilot[int]]:
    """The program on its job's page, or on a page over it."""
    app._file = app.folder / "kiln-lane.json"
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await pilot.press("1")
        if page is not None:
            await app.push_screen(page)
        await pilot.pause()
        yield pilot


def listing(app: SitelogApp) -> Listing:
    return app.screen.query_one(Listing)


# --- the folder's jobs ------------------------------------------------------------------------------------------------


async def test_a_folder_shows_its_jobs_its_damaged_ones_and_nothing_else(app: SitelogApp) -> None:
    (app.folder / "torn.json").write_text('{"job": {"1": {"format": 1, "ti')
    (app.folder / "settings.json").write_text('{"colour": "blue"}')
    async with app.run_test(size=SIZE) as pilot:
        await app.workers.wait_for_complete()
        await pilot.pause()
        seen = text(app)
        assert "Kiln Lane, plot 3" in seen
        assert "next: New building, new tied" in seen
        assert "torn.json is damaged" in seen
        assert "settings" not in seen
        await pilot.press("down", "enter")
        assert isinstance(app.screen, JobsPage), "a damaged job is told, and the program goes on"
        await pilot.press("up", "enter")
        assert isinstance(app.screen_stack[1], JobsPage)
        assert app.state.title == "Kiln Lane, plot 3"


async def test_an_empty_folder_says_what_to_do(tmp_path: Path, clock: Clock) -> None:
    app = SitelogApp(folder=tmp_path, clock=clock, device=DEVICE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("enter")
        assert "Press n for a new one" in text(app)


# --- a new job --------------------------------------------------------------------------------------------------------


async def test_a_job_is_set_up_by_keyboard_alone(tmp_path: Path, clock: Clock) -> None:
    app = SitelogApp(folder=tmp_path, clock=clock, device=DEVICE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", *typed("mill barn"), "enter", *typed("far field"), "enter", *typed("a. dunn"))
        await pilot.press("enter", "enter", "enter", "enter", "enter", "enter")
        await pilot.press(*typed("7200"), "enter", *typed("5000"), "enter", *typed("40"))
        await pilot.press(*["enter"] * 15)
        await pilot.pause()
        assert isinstance(app.screen, JobPage)
        state = app.state
        assert (state.title, state.place, app.by) == ("mill barn", "far field", "a. dunn")
        assert (state.facts["main.length"].drawn, state.facts["main.pitch"].drawn) == (7200, 40)
        assert state.facts["main.spacing"].drawn == 400, "what is not typed is as the checklist has it"
    assert (tmp_path / "mill-barn.json").is_file()


async def test_a_figure_that_cant_be_is_named_and_the_form_is_kept(tmp_path: Path, clock: Clock) -> None:
    app = SitelogApp(folder=tmp_path, by="a. dunn", clock=clock, device=DEVICE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", *typed("mill barn"), *["down"] * 10, *typed("95"), "enter")
        assert "Pitch as drawn, all round: '95'" in text(app)
        assert isinstance(app.focused, Input)
        assert app.focused.name == "1.pitch"
        await pilot.press(*typed("96"))
        assert app.focused.value == "96", "a figure that wasn't taken is typed over"
        await pilot.press("enter", "down", "up", *typed("95"), "escape", "n")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, NewJobPage)
        texts = page.form.texts()
        assert (texts["title"], texts["1.pitch"], texts["file"]) == ("mill barn", "95", "mill-barn.json")


async def test_a_second_part_gets_its_own_fields(tmp_path: Path, clock: Clock) -> None:
    app = SitelogApp(folder=tmp_path, by="a. dunn", clock=clock, device=DEVICE)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("n", *typed("mill"))
        page = app.screen
        assert isinstance(page, NewJobPage)
        page.form.inputs[-1].focus()
        await pilot.press(*typed("gab"), "enter")
        await pilot.pause()
        await pilot.pause()
        assert [page.form.texts()[f"2.{key}"] for key in ("form", "id", "title")] == ["gabled", "gabled-2", "Gabled 2"]
        await pilot.press(*["backspace"] * 6, *typed("hip"), "enter")
        await pilot.pause()
        await pilot.pause()
        assert page.form.texts()["2.id"] == "hipped-2"
        page.form.inputs[-1].focus()
        await pilot.press("enter")
        await pilot.pause()
        assert [part.id for part in app.state.parts] == ["job", "main", "hipped-2"]


@pytest.mark.parametrize(
    ("title", "file"),
    [
        ("Kiln Lane, plot 3", "kiln-lane-plot-3.json"),
        ("  Château d'eau / 2 ", "chateau-d-eau-2.json"),
        ("../../etc/passwd", "etc-passwd.json"),
        ("屋根", ""),
        ("taken", "taken-2.json"),
    ],
)
def test_a_file_is_named_after_the_title_and_stays_in_the_folder(title: str, file: str, tmp_path: Path) -> None:
    (tmp_path / "taken.json").touch()
    assert file_name(title, tmp_path) == file


# --- a caution --------------------------------------------------------------------------------------------------------


async def ask_caution(app: SitelogApp, pilot: Pilot[int], name: str) -> list[bool | None]:
    given: list[bool | None] = []
    await app.push_screen(CautionPage([name]), given.append)
    await pilot.pause()
    return given


@long
async def test_enter_space_and_esc_alone_never_clear_a_caution(app: SitelogApp, library: Library) -> None:
    """Of any kind: of a stage, of a finish, of a sum's answer, of what others ask, or what the handover waits for."""
    async with at_job(app) as pilot:
        for name in library.cautions:
            given = await ask_caution(app, pilot, name)
            await pilot.press("enter", "space", "enter", "enter", "space", "space")
            assert isinstance(app.screen, CautionPage), name
            await pilot.press("escape")
            assert given == [False], name
        assert not app.state.readings


async def test_a_caution_shows_what_hurts_what_to_do_whom_to_ask_and_sources(app: SitelogApp, library: Library) -> None:
    async with at_job(app) as pilot:
        await ask_caution(app, pilot, "open-edge")
        seen, caution = text(app), library.cautions["open-edge"]
        for words in (caution.hurts, caution.do, caution.ask, caution.question.ask):
            assert words in seen
        for says, source in caution.figures:
            assert says in seen
            assert library.sources[source].title in seen
        assert "Figures are for Great Britain; elsewhere use local ones." in seen
        assert "Local rules and the site method statement come first." in " ".join(seen.split())


async def test_a_filled_answer_clears_it_and_is_kept_by_name(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        given = await ask_caution(app, pilot, "phase-plan")
        await pilot.press(*typed("ok"), "enter")
        assert given == [], "a bare yes is no name"
        await pilot.press("backspace", "backspace", *typed("s. hall"), "enter")
        assert given == [True]
        reading = app.state.readings[-1]
        assert (reading.caution, reading.answer, reading.by) == ("phase-plan", "s. hall", "M. Reed")


# HSE, work at height questions: over 23 mph, gusts counted, stay off the roof.
@pytest.mark.parametrize(("wind", "goes_on"), [("15 22", True), ("15 23", False), ("23 30", False), ("9 40", False)])
async def test_wind_at_23_mph_stops_the_work_and_is_kept(app: SitelogApp, wind: str, goes_on: bool) -> None:
    async with at_job(app) as pilot:
        given = await ask_caution(app, pilot, "weather-wind")
        await pilot.press(*typed(wind), "enter")
        await pilot.pause()
        assert given == [goes_on]
        assert app.state.readings[-1].answer == tuple(map(float, wind.split()))
        assert ("STOP WORK. Wind at roof level now" in text(app)) is not goes_on


async def test_a_choice_is_taken_by_its_digit_and_enter(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        given = await ask_caution(app, pilot, "slip-wet")
        await pilot.press("4", "enter")  # frost or ice
        assert given == [False]
        given = await ask_caution(app, pilot, "slip-wet")
        await pilot.press("1", "enter")
        assert given == [True]
        assert [reading.answer for reading in app.state.readings] == ["frost or ice", "dry"]


# --- figures ----------------------------------------------------------------------------------------------------------


async def test_a_design_figure_can_be_drawn_again(app: SitelogApp) -> None:
    async with at_job(app, FactsPage()) as pilot:
        listing(app).stand_on("main.pitch")
        await pilot.press("enter", "backspace", "backspace", *typed("40"), "enter")
        await pilot.pause()
        assert app.state.facts["main.pitch"].drawn == 40
        assert "40.0°" in text(app)
        await pilot.press("u")
        await pilot.pause()
        assert app.state.facts["main.pitch"].drawn == 35


async def test_a_measured_figure_says_which_check_sets_it_and_g_goes_there(app: SitelogApp) -> None:
    async with at_job(app, FactsPage()) as pilot:
        listing(app).stand_on("main.ab")
        await pilot.press("enter")
        await pilot.pause()  # the notice takes a second line
        assert "Press g to go there" in text(app)
        assert app.state.facts["main.ab"].drawn == 9000
        await pilot.press("g")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, JobPage)
        assert page.check is not None
        assert page.check.path == "main.plates.sides"


# --- calculators ------------------------------------------------------------------------------------------------------


async def calculated(app: SitelogApp) -> Answer:
    page = app.screen
    assert isinstance(page, CalculatorPage)
    return page.answer()


async def test_a_sum_is_worked_as_it_is_typed(app: SitelogApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(CalculatorPage("common"))
        await pilot.pause()
        assert "common needs" in text(app)
        page = app.screen
        assert isinstance(page, CalculatorPage)
        for key, words in (("run", "3000"), ("pitch", "35")):
            field = page.form.field(key)
            assert field is not None
            field.focus()
            await pilot.press(*typed(words))
        await pilot.pause()
        answer = ask("common", {"run": "3000", "pitch": "35"})
        assert (await calculated(app)).results == answer.results
        assert scalar(answer, "rise") in text(app)


async def test_letters_are_keys_again_once_the_answer_is_stood_on(app: SitelogApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(CalculatorPage("string"))
        await pilot.pause()
        await pilot.press(*typed("0,2,3,0"), *["down"] * 6)
        assert "working" not in "\n".join(lines(app)[:-2])
        await pilot.press("w")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, CalculatorPage)
        assert page.shows_working
        await pilot.press("up", "w")
        assert isinstance(app.focused, Input)
        assert app.focused.value.endswith("w")
        await pilot.press("escape")
        assert isinstance(app.screen, JobsPage)


async def test_what_the_job_knows_stands_in_the_form_and_typing_goes_before_it(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        page = app.screen
        assert isinstance(page, JobPage)
        page.show_path("main.plates")
        await app.push_screen(CalculatorPage("tape"))
        await pilot.pause()
        assert "9000 mm" in text(app)
        assert "drawn: length taped" in text(app)
        assert (await calculated(app)).inputs["length"] == 9000
        await pilot.press(*typed("4500"))
        assert (await calculated(app)).inputs["length"] == 4500
        await pilot.press(*["backspace"] * 4, "minus")
        with pytest.raises(Refusal, match="length"):
            await calculated(app)


async def test_every_calculator_is_in_the_list_and_opens(app: SitelogApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(CalculatorsPage())
        await pilot.pause()
        first = listing(app).key
        await pilot.press("enter")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, CalculatorPage)
        assert page.calculator.name == first


# --- diary, snags, handover -------------------------------------------------------------------------------------------


async def test_the_weather_of_the_day_is_written_into_the_diary(app: SitelogApp) -> None:
    async with at_job(app, JournalPage()) as pilot:
        assert "part: Main roof (hipped)" in text(app)
        await pilot.press("w", *typed("rain till nine"), "enter")
        await pilot.pause()
        assert app.state.diary[-1].weather == "rain till nine"
        assert "Weather rain till nine" in text(app)
        await pilot.press("left_square_bracket")
        assert "This is the first day." in text(app)


async def test_a_snag_is_closed_and_that_can_be_taken_back(app: SitelogApp, enter: Callable[..., None]) -> None:
    enter(lambda job: actions.snag(job.state, "main.plates.sides", "corner C 11 out", who="A. Dunn", due="2025-11-28"))
    async with at_job(app, SnagsPage()) as pilot:
        assert "A. Dunn, by 28 Nov 2025" in text(app)
        await pilot.press("enter")
        await pilot.pause()
        assert not app.state.open_snags
        await pilot.press("u")
        await pilot.pause()
        assert [snag.text for snag in app.state.open_snags] == ["corner C 11 out"]
        await pilot.press("g")
        await pilot.pause()
        assert isinstance(app.screen, JobPage)


async def test_the_pack_is_made_for_the_next_trade_and_that_is_entered(app: SitelogApp) -> None:
    async with at_job(app, HandoverPage()) as pilot:
        assert "NOT SIGNED" in text(app)
        await pilot.press("p")
        await until(pilot, lambda: app.state.packs)
        await pilot.pause()
        assert "Record code" in text(app)
        assert app.state.last is not None
        assert app.state.last.act == "handover"
        assert app.state.last.value["to"] == "tiler"
    assert {path.suffix for path in app.folder.glob("kiln-lane-brief-tiler.*")} == {".pdf", ".html", ".txt"}


async def test_points_are_accepted_by_the_next_trade_or_come_back_as_snags(app: SitelogApp) -> None:
    async with at_job(app, HandoverPage()) as pilot:
        await pilot.press("space", "enter", *typed("p. slater"), "enter", "enter")
        await pilot.pause()
        await pilot.press("down", "r", *typed("tile too heavy"), "enter")
        await pilot.pause()
        taken, back = app.state.points
        assert (taken.accepted, taken.by) == (True, "p. slater")
        assert (back.accepted, back.note) == (False, "tile too heavy")
        assert "tile too heavy" in app.state.open_snags[-1].text
        await pilot.press("b")
        assert app.by == "M. Reed", "the foreman goes on under the foreman's name"


async def test_the_next_trade_countersigns_the_head_code_on_its_pack(app: SitelogApp, library: Library) -> None:
    """A code that this record does not lead to is refused; the one that it leads to stands in the next pack."""
    async with at_job(app, HandoverPage()) as pilot:
        await pilot.press("p")
        await until(pilot, lambda: app.state.packs)
        await pilot.pause()
        code = app.state.packs[-1].head
        assert f"Record code {code}" in text(app)
        await pilot.press("space", "enter", *typed("p. slater"), "enter", *typed("0123456789ab"), "enter")
        await pilot.pause()
        assert "No pack of this job has the record code" in text(app)
        assert not app.state.points
        await pilot.press(*("backspace",) * 12, *typed(code), "enter")
        await pilot.pause()
        assert [(point.by, point.head, point.accepted) for point in app.state.points] == [("p. slater", code, True)]
        assert f"record code {code}" in text(app)
        (head,) = (one for one in make(app.state, library, app.state.packs[0].to, app.now()).rest if one.id == "head")
        (table,) = (block for block in head.blocks if isinstance(block, Table))
        assert table.rows[0][:2] == ("In the record", "p. slater (typed name)")
        assert table.rows[0][3].endswith(code)


# --- find, all acts, help, drawing ------------------------------------------------------------------------------------


async def test_words_find_a_check_and_enter_goes_there(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        await pilot.press("slash", *typed("diagonals"))
        await pilot.pause()
        hits = find_words(app.state, "diagonals")
        assert f"{len(hits)} found" in text(app)
        await pilot.press("enter")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, JobPage)
        assert page.check is not None
        assert page.check.path == hits[0].path


async def test_words_that_are_not_there_find_nothing(app: SitelogApp) -> None:
    async with at_job(app, FindPage()) as pilot:
        await pilot.press(*typed("zeppelin"), "enter")
        assert "Nothing found. Try another word." in text(app)
        await pilot.press("escape")
        assert isinstance(app.screen, JobPage)


async def test_every_act_of_a_page_can_be_done_by_its_words(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        await pilot.press("a")
        await pilot.pause()
        listed = {row.key for row in listing(app).rows}
        assert listed >= {key.act for key in keys_of("job") if key.act != "acts"}
        await pilot.press(*typed("all figures"), "enter")
        await pilot.pause()
        assert isinstance(app.screen, FactsPage)


async def test_the_theme_and_the_way_out_are_acts_of_the_program(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        before = app.theme
        await pilot.press("t")
        assert app.theme != before
        await pilot.press("q")
        await pilot.pause()
    assert app.return_value == 0


async def test_help_tells_every_key_every_mark_and_how_figures_are_typed(app: SitelogApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("question_mark")
        await pilot.pause()
        assert isinstance(app.screen, HelpPage)
        told = app.screen.query_one(Paragraphs).told
        assert {key.says for key in KEYS} <= {words for _, words in told}
        assert {mark.word for mark in CHECK.values()} <= {words.partition(":")[0] for _, words in told}
        assert set(ACCEPTS.values()) <= {words for _, words in told}


async def test_every_drawing_of_a_part_is_gone_through_by_key_and_told_in_words(app: SitelogApp) -> None:
    async with at_job(app, DrawingPage("main.plates")) as pilot:
        assert "9000" in text(app) and "1 of" in text(app) and "plan" in text(app)
        await pilot.press("right")
        page = app.screen
        assert isinstance(page, DrawingPage) and page.at == 1
        await pilot.press("s")
        assert "in words" in text(app)
        await pilot.press("s", "left", "s")
        assert page.at == 0 and "hip A 4734" in text(app)
        await pilot.press("left")
        assert page.at == len(page.made) - 1


async def test_the_drawing_of_a_check_is_that_of_its_sum_as_the_facts_stand(app: SitelogApp) -> None:
    async with at_job(app, DrawingPage("main.first-pair", "main.first-pair.common")):
        assert "3662 to centre" in text(app) and "Common rafter for the span as built" in text(app)


async def test_a_calculator_draws_its_answer_or_says_in_one_line_why_not(app: SitelogApp) -> None:
    async with at_job(app, CalculatorPage("arc")) as pilot:
        page = app.screen
        assert isinstance(page, CalculatorPage)
        page.query_one("#answer").focus()
        await pilot.press("d")
        assert isinstance(app.screen, CalculatorPage) and "two of" in text(app)
        page.form.inputs[0].value, page.form.inputs[1].value = "2400", "600"
        await pilot.press("d")
        assert isinstance(app.screen, AnswerPage) and "radius 1500" in text(app)
        await pilot.press("b")
        await app.push_screen(CalculatorPage("tape"))
        app.screen.query_one("#answer").focus()
        await pilot.press("d")
        assert "No drawing" in text(app)


# --- all of them ------------------------------------------------------------------------------------------------------

SAID_ROOF = "main 9000x6000 40; wing off CD 0 from D 4000x4000 40 end gable"
PAGES: tuple[Callable[[], Screen[Any]], ...] = (
    lambda: CautionPage(["slip-wet"]),
    lambda: CautionPage(["weather-wind"]),
    FactsPage,
    CalculatorsPage,
    lambda: CalculatorPage("hip"),
    lambda: CalculatorPage("stock"),
    TimberPage,
    JournalPage,
    SnagsPage,
    InstrumentsPage,
    PhotosPage,
    ListsPage,
    HandoverPage,
    RepliesPage,
    FindPage,
    HelpPage,
    NewJobPage,
    lambda: BuildingPage(SAID_ROOF),
    lambda: BlockPage(SAID_ROOF, "dormer"),
    lambda: DrawingPage("main.plates"),
    JobsPage,
    RecapPage,
    lambda: CheckPage("job.before.works"),
    lambda: CheckPage("main.plates.sides"),
    lambda: AskPage((Question("Snag", "What is wrong?", "snag"),)),
    lambda: MeantPage(Slip("ab", "9 mm", "9mm", "9m", "9 m")),
    lambda: PalettePage("job"),
    lambda: SourcesPage("main.plates"),
    lambda: WorkingPage("main.first-pair.common"),
    lambda: WholePage("Wall plates", (("Why", "every length above is worked from these"),)),
    lambda: OrderPage(()),
    TemplatesPage,
    lambda: AnswerPage(ask("scarf", {"depth": "220"}), "metric"),
)


def test_every_page_there_is_is_looked_at() -> None:
    for module in pkgutil.iter_modules(tui.__path__):
        importlib.import_module(f"sitelog.tui.{module.name}")
    looked_at = {type(make()) for make in PAGES} | {JobPage}
    leaves = {page for page in _under(Page) if not page.__subclasses__()}
    assert not leaves - looked_at


def _under(page: type[Page[Any]]) -> Iterator[type[Page[Any]]]:
    for one in page.__subclasses__():
        yield one
        yield from _under(one)


async def each_page(
    app: SitelogApp, size: tuple[int, int], look: Callable[[Screen[Any]], Awaitable[None]], theme: str = "day"
) -> None:
    async with at_job(app, size=size) as pilot:
        page = app.screen
        assert isinstance(page, JobPage)
        page.show_path("main.plates")
        app.theme = theme
        await pilot.pause()
        await look(page)
        for make in PAGES:
            await app.push_screen(make())
            await pilot.press("a") if isinstance(app.screen, FindPage) else await pilot.pause()
            await app.workers.wait_for_complete([w for w in app.workers if w.node is app.screen])
            await pilot.pause()
            await look(app.screen)
            await app.pop_screen()


PHOTO = Photo(hash="0" * 64, type="jpeg", size=3_100_000, name="IMG_2201.jpg")  # no file of it is there


def open_things(job: Job) -> list[Draft]:
    return [
        actions.snag(job.state, "main.plates.sides", "corner C 11 out"),
        actions.read_caution(job.state, job.library, "weather-wind", "12 18"),
        actions.instrument("T2", "tape", "II"),
        actions.note(job.state, "main.plates.sides", "", photos=[PHOTO], photo="IMG_7"),
    ]


@pytest.mark.parametrize("theme", ["day", "van"])
@long
async def test_every_letter_of_every_page_stands_out_seven_to_one(
    app: SitelogApp, enter: Callable[..., None], theme: str
) -> None:
    enter(open_things)
    faint: list[str] = []

    async def look(page: Screen[Any]) -> None:
        assert app.theme == theme
        faint.extend(
            f"{type(page).__name__}: {run.strip()!r} {fore.hex} on {back.hex}"
            for run, fore, back in letters(app)
            if contrast(fore, back) < 7
        )

    await each_page(app, SIZE, look, theme)
    assert faint == []


@pytest.mark.parametrize("theme", ["day", "van"])
@long
async def test_every_letter_of_every_dialog_that_a_key_opens_stands_out_too(tmp_path: Path, theme: str) -> None:
    """The sample has every state of a check; its form, its lists and its dialogs are looked at as they are used."""
    file = Path(shutil.copy(sample_folder() / "kiln-lane.json", tmp_path))
    faint = {
        f"{name}: {run.strip()!r} {fore.hex} on {back.hex}"
        async for app, name in every_page(file, theme)
        for run, fore, back in letters(app)
        if contrast(fore, back) < 7
    }
    assert faint == set()


async def test_a_plain_terminal_gets_plain_letters(job_file: Path, clock: Clock, enter: Callable[..., None]) -> None:
    enter(open_things)
    app = SitelogApp(folder=job_file.parent, by="M. Reed", clock=clock, device=DEVICE, ascii_only=True)
    strange: set[str] = set()

    async def look(page: Screen[Any]) -> None:
        strange.update(f"{type(page).__name__}: {line}" for line in lines(app) if not line.isascii())

    await each_page(app, SIZE, look)
    assert strange == set()


@pytest.mark.parametrize("size", [(60, 20), pytest.param((140, 40), marks=long)])
async def test_every_page_has_its_keys_at_the_foot_small_and_wide(app: SitelogApp, size: tuple[int, int]) -> None:
    async def look(page: Screen[Any]) -> None:
        assert any(word in " ".join(lines(app)[-3:]) for word in ("back", "quit", "leave")), type(page)

    await each_page(app, size, look)


async def test_words_from_a_job_drive_neither_the_terminal_nor_the_program(
    app: SitelogApp, enter: Callable[..., None]
) -> None:
    bad = "[/2 battens] [@click=app.quit]x[/] \x1b]0;owned\x07 \u202eleft"
    enter(
        lambda job: actions.snag(job.state, "main.plates.sides", bad, who=bad),
        lambda job: actions.note(job.state, "main.plates", bad),
        lambda job: actions.diary("2025-11-25", weather=bad),
    )
    seen: list[str] = []

    async def look(page: Screen[Any]) -> None:
        seen.extend(lines(app))

    await each_page(app, SIZE, look)
    assert any("[/2 battens] [@click=app.quit]x[/]" in line for line in seen)
    assert not [line for line in seen if any(ord(c) < 32 or 0x7F <= ord(c) < 0xA0 or c == "\u202e" for c in line)]


@pytest.mark.parametrize("place", sorted({place for key in KEYS for place in key.places}))
def test_a_key_does_one_thing_on_a_page_and_needs_no_shift(place: str) -> None:
    pressed = [name for key in keys_of(place) for name in key.keys.split(",")]
    assert len(pressed) == len(set(pressed))
    assert not [name for name in pressed if name.isupper() or name.startswith("shift")]


# --- rows in columns --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [20, 40, 60, 80, 140])
def test_a_row_never_runs_past_its_width_and_loses_no_word(width: int) -> None:
    words = "Four sides and two diagonals, outside faces, mm"
    rows = laid((Cell(words), Cell("9000", 6, right=True)), width)
    assert max(map(len, rows)) <= width
    assert set(words.split()) <= set(" ".join(rows).split())


# --- where it comes from ----------------------------------------------------------------------------------------------


async def test_each_check_and_caution_tells_its_sources_and_how_they_are_known(app: SitelogApp) -> None:
    async with at_job(app) as pilot:
        await pilot.press("e")
        await pilot.pause()
        page = app.screen
        assert isinstance(page, SourcesPage)
        stage = app.state.stage(page.stage)
        assert stage is not None
        assert page.listing.key == app.state.next, "it opens at the check in hand"
        keys = [row.key for row in page.listing.rows if not row.heading]
        assert keys == [*(view.path for view in stage.shown), *(one.id for one in stage.cautions)]
        view = app.state.check(page.listing.key)
        assert view is not None and view.check.sources
        assert app.job is not None
        known = app.job.library.sources
        assert all(STANDING[known[one].how] in text(app) for one in view.check.sources)


def test_every_check_and_caution_of_every_list_cites_a_source_that_is_known(library: Library) -> None:
    for one in library.lists.values():
        for stage in one.stages:
            for check in stage.checks:
                assert [library.sources[source].how for source in check.sources], f"{one.id} {stage.id}.{check.id}"
                limits = [check.limit, *(figure.limit for figure in check.figures)]
                assert all(limit.origin and library.sources[limit.source].title for limit in limits if limit)
    for caution in library.cautions.values():
        assert [library.sources[source].how for _, source in caution.figures], caution.id

"""Short stories of the job's page, in key presses."""

from datetime import timedelta
from pathlib import Path
from time import monotonic

import pytest
from textual.events import Key

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.job import Job
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.disk import beside
from sitelog.tui.app import SitelogApp
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.dialogs.caution import CautionPage
from sitelog.tui.dialogs.recap import RecapPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.diary import JournalPage
from sitelog.tui.pages.facts import FactsPage
from sitelog.tui.pages.handover import HandoverPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.jobs import JobsPage
from sitelog.tui.pages.snags import SnagsPage
from sitelog.wording.prompts.asking import WAY_ON
from tests.job.pictures import jpeg
from tests.tui.seen import contrast, letters, lines, text
from tests.tui.site import DEVICE, Watch, begin, brought_to, fill, opened, read_what_is_due, stand_on
from tests.tui.walker import Walker

SIDES, ENDS = "main.plates.sides", "main.plates.ends"


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


def state_of(walker: Walker, path: str) -> str:
    view = walker.app.state.check(path)
    assert view
    return view.state


def count(walker: Walker) -> int:
    assert walker.app.job
    return len(walker.app.job.entries)


async def settle(walker: Walker, *keys: str) -> None:
    await walker.press(*keys)
    await walker.pilot.pause()


async def tick(walker: Walker, path: str = ENDS) -> None:
    await begin(walker, path)
    await settle(walker, "enter")


# --- holds and cautions -----------------------------------------------------------------------------------------------


async def test_a_hold_bars_the_next_stage_and_says_why_in_words(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, "main.first-pair.common")
        assert "Sign Wall plates first, or carry on as it is" in text(walker.app), "it stands in the strip"
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, JobPage), "neither a caution nor a form is opened for nothing"
        told = " ".join(" ".join(lines(walker.app)[-4:-2]).split())
        assert told.endswith(f"{WAY_ON} Sign Wall plates first, or carry on as it is")
        assert state_of(walker, "main.first-pair.common") == "open"


async def test_cautions_come_before_the_first_act_of_a_stage_and_not_again_that_day(plates: Path) -> None:
    watch = Watch()
    async with opened(plates, watch) as walker:
        await stand_on(walker, ENDS)
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, CautionPage)
        await tick_after_cautions(walker)
        assert state_of(walker, ENDS) == "done"
        await stand_on(walker, "main.plates.hip-loads")
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, CheckPage), "once a day"
        await settle(walker, "escape")
    watch.now += timedelta(days=1)
    async with opened(plates, watch) as walker:
        await stand_on(walker, SIDES)
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, CautionPage), "and again the day after"


async def test_only_what_stops_holds_the_first_act_and_the_rest_stays_on_the_strip_three_at_a_time(
    plates: Path,
) -> None:
    async with opened(plates) as walker:
        page = await stand_on(walker, ENDS)
        assert page.stage
        due = page.due(page.stage)
        stops, rest = [one for one in due if one.stops], [one for one in due if not one.stops]
        assert len(stops) >= 3 and len(rest) > 3
        seen = " ".join(text(walker.app).split())
        assert f"{'; '.join(one.title for one in stops[:3])}, then {len(due) - 3} more" in seen
        await settle(walker, "enter")
        for number, one in enumerate(stops, 1):
            which, seen = f"{number} of {len(stops)}", " ".join(text(walker.app).split())
            assert f"{which} {one.title}: not answered yet" in seen or f"{one.title} · {which}" in seen
            await walker.step()
            await walker.pilot.pause()
        await settle(walker, "enter")
        assert state_of(walker, ENDS) == "done"
        await stand_on(walker, "main.plates")
        seen = " ".join(text(walker.app).split())
        assert f"{'; '.join(one.title for one in rest[:3])}, then {len(rest) - 3} more" in seen
        await settle(walker, "o")
        for one in rest[:3]:
            assert one.title in text(walker.app)
            await walker.step()
            await walker.pilot.pause()
        assert isinstance(walker.app.screen, JobPage), "three at a time"
        assert f"! Cautions to read (o): {rest[3].title}" in " ".join(text(walker.app).split())


async def tick_after_cautions(walker: Walker) -> None:
    while isinstance(walker.app.screen, CautionPage):
        await walker.step()
        await walker.pilot.pause()
    await settle(walker, "enter")


async def test_a_caution_that_is_left_lets_nothing_be_done(plates: Path) -> None:
    async with opened(plates) as walker:
        before = count(walker)
        await stand_on(walker, ENDS)
        await settle(walker, "enter", "escape")
        assert isinstance(walker.app.screen, JobPage)
        assert count(walker) == before


async def test_wind_stops_the_work_the_screen_says_so_and_a_new_reading_lets_it_go_on(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, ENDS)
        await settle(walker, "enter")
        while walker.app.screen.caution_id != "weather-wind":  # type: ignore[attr-defined]
            await walker.step()
            await walker.pilot.pause()
        await walker.type("20 30", "enter")
        await walker.pilot.pause()
        assert "STOP WORK. Wind at roof level now" in text(walker.app)
        await settle(walker, "space")
        assert "Nothing you can do now. Wind, gusts and lightning: STOPPED, M. Reed read mean 20 mph" in text(
            walker.app
        )
        await stand_on(walker, ENDS)
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, CautionPage)
        await walker.type("9 14", "enter")
        await walker.pilot.pause()
        await tick_after_cautions(walker)
        assert state_of(walker, ENDS) == "done"


async def test_a_stage_is_signed_by_name_once_nothing_in_it_is_open(plates: Path) -> None:
    async with opened(plates) as walker:
        read_what_is_due(walker.app, await stand_on(walker, "main.plates"))
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, JobPage)
        assert '"Four sides and two diagonals, outside faces, mm" (open)' in text(walker.app), (
            "told before a name is asked"
        )
        await walker.walk(lambda: walker.app.state.next == "main.plates")
        await settle(walker, "space", "enter")
        assert "Nobody has read: Open edges, wells and joist gaps; Ladders; " in " ".join(text(walker.app).split())
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, CautionPage), "the next stage opens with what stops it"
        await settle(walker, "escape")
        assert "Wall plates: signed by M. Reed" in text(walker.app)
        await stand_on(walker, "main.plates")
        await settle(walker, "enter")
        assert "Wall plates was already signed by M. Reed." in text(walker.app)


# --- keys that are held, and rests ------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["enter", "u"])
async def test_a_key_held_down_does_one_thing_at_most(plates: Path, key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    async with opened(plates) as walker:
        await tick(walker)
        await settle(walker, "up")
        before = count(walker)
        monkeypatch.setattr("sitelog.tui.app.HELD_SECONDS", 60.0)
        await settle(walker, *[key] * 20)
        assert count(walker) - before <= (key == "u")


@pytest.mark.parametrize(("delay", "every"), [(0.25, 0.033), (0.5, 0.033), (1.0, 0.09)])
async def test_a_key_held_down_as_a_keyboard_repeats_it_ticks_two_at_most_and_nothing_that_is_measured(
    plates: Path, delay: float, every: float
) -> None:
    """The first repeat comes after a delay, as a second press would; those after it are no presses."""
    async with opened(plates) as walker:
        await stand_on(walker, ENDS)
        before = len(walker.app.job.entries)  # type: ignore[union-attr]
        start = monotonic()
        for at in (0.0, *(delay + every * n for n in range(60))):
            event = Key("enter", None)
            event.time = start + at
            walker.app.post_message(event)
            await walker.pilot.pause()
        fresh = walker.app.job.entries[before:]  # type: ignore[union-attr]
        kinds = [walker.app.state.check(entry.path).check.kind for entry in fresh]  # type: ignore[union-attr]
        assert len(fresh) <= 2
        assert set(kinds) <= {"tick"}


async def test_letters_and_arrows_may_be_held_down(plates: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with opened(plates) as walker:
        await begin(walker, SIDES)
        monkeypatch.setattr("sitelog.tui.app.HELD_SECONDS", 60.0)
        await walker.press("9", "0", "0", "0")
        assert walker.app.focused.value == "9000"  # type: ignore[union-attr]
        await settle(walker, "down", "down")
        assert walker.app.focused.name == "cd"  # type: ignore[union-attr]


async def test_after_a_minutes_rest_the_first_key_only_wakes(plates: Path) -> None:
    watch = Watch()
    async with opened(plates, watch) as walker:
        await tick(walker)
        before = count(walker)
        watch.now += timedelta(seconds=61)
        await settle(walker, "u")
        assert isinstance(walker.app.screen, RecapPage)
        assert count(walker) == before
        assert "Brush cut ends with preservative, two full coats: done" in text(walker.app), "what was done last"
        await settle(walker, "space")
        assert isinstance(walker.app.screen, RecapPage)
        await settle(walker, "enter")
        assert isinstance(walker.app.screen, JobPage)
        assert count(walker) == before


async def test_after_a_rest_in_a_check_enter_waits_to_be_pressed_once_more(plates: Path) -> None:
    watch = Watch()
    async with opened(plates, watch) as walker:
        page = await begin(walker, ENDS)
        watch.now += timedelta(seconds=61)
        await settle(walker, "enter")
        assert walker.app.screen is page
        assert state_of(walker, ENDS) == "open"
        assert "Press Enter again to save it" in text(walker.app)
        await settle(walker, "enter")
        assert state_of(walker, ENDS) == "done"


# --- undo, and two at one file ----------------------------------------------------------------------------------------


async def test_undo_works_across_a_restart_and_says_what_it_took_back(plates: Path) -> None:
    async with opened(plates) as walker:
        await tick(walker)
    async with opened(plates) as walker:
        assert state_of(walker, ENDS) == "done"
        before = count(walker)
        await settle(walker, "u")
        assert state_of(walker, ENDS) == "open"
        assert count(walker) == before + 1, "nothing is erased"
        assert "Undone: Brush cut ends with preservative, two full coats: done" in text(walker.app)


async def test_a_second_opener_is_told_who_has_it_and_can_only_read(plates: Path, library: Library) -> None:
    with Job.open(plates, library, author=Author("A. Dunn", "other001", Watch()()), memory=machines_own()):
        app = SitelogApp(folder=plates.parent, file=plates, by="M. Reed", clock=Watch(), device=DEVICE)
        app.memory = machines_own()
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.pause()
            assert "Read only" in text(app)
            assert "A. Dunn" in text(app)
            await pilot.press("1")
            walker = Walker(app, pilot)
            await stand_on(walker, ENDS)
            before = count(walker)
            assert lines(app)[0].rstrip().endswith("READ ONLY")
            for key in ("n", "enter", "r", "u"):
                await settle(walker, key)
                assert isinstance(app.screen, JobPage), "no words are asked for that can't be entered"
                assert "A. Dunn" in text(app)
            assert count(walker) == before


# --- the acts by key --------------------------------------------------------------------------------------------------


async def test_note_snag_photo_skip_defer_and_release_each_by_its_key(plates: Path) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await stand_on(walker, SIDES)
        await settle(walker, "n")
        await walker.type("bedded first", "enter")
        await settle(walker, "p")
        await walker.type("IMG_7", "enter", "enter", "enter")
        await app.workers.wait_for_complete([w for w in app.workers if w.name == "action_photo"])
        await walker.pilot.pause()
        view = app.state.check(SIDES)
        assert view
        assert [(entry.note, entry.value) for entry in view.history] == [("bedded first", {}), ("", {"photo": "IMG_7"})]

        await stand_on(walker, SIDES)
        await settle(walker, "s")
        await walker.type("corner C is out", "enter", "enter", "enter")
        await walker.pilot.pause()
        assert "Snag 1, open: corner C is out" in text(app)

        await settle(walker, "k")
        faint = [run for run, fore, back in letters(app) if contrast(fore, back) < 7]
        assert not faint, "the row under the cursor, too"
        await settle(walker, "escape")

        await stand_on(walker, "main.plates.straps")
        await settle(walker, "x")
        await walker.type("none on this wall", "enter")
        await walker.pilot.pause()
        assert state_of(walker, "main.plates.straps") == "not applicable"

        await stand_on(walker, "main.plates.laps")
        await settle(walker, "l")
        assert "6 ridge" in text(app), "stages go by the number and name they have along the top"
        await walker.type("2", "enter")
        await walker.type("plates come tomorrow", "enter")
        assert isinstance(app.screen, AskPage), "a stage before this one is refused where it can be put right"
        assert "type the number of a later" in text(app)
        await settle(walker, "up", "backspace", "6", "enter", "enter")
        assert state_of(walker, "main.plates.laps") == "deferred"
        assert app.state.deferrals[-1].until == "main.ridge"

        await stand_on(walker, "main.plates.levels")
        await settle(walker, "r")
        await walker.type("levelled by the mason", "enter", "enter")
        await walker.pilot.pause()
        assert state_of(walker, "main.plates.levels") == "released"


async def test_what_cant_be_done_is_told_before_any_words_are_typed(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, "main.first-pair.common")
        for key in ("x", "l"):
            await settle(walker, key)
            assert isinstance(walker.app.screen, JobPage)
            assert "Sign Wall plates" in "".join(lines(walker.app)[-4:-2])


# --- moving and showing -----------------------------------------------------------------------------------------------


async def test_the_ruler_shows_the_stage_in_hand_in_capitals_and_what_is_behind_it_by_marks(plates: Path) -> None:
    async with opened(plates) as walker:
        ruler = lines(walker.app)[1]
        assert "=1 start" in ruler, "released"
        assert "3 PLATES" in ruler
        await settle(walker, "right_square_bracket")
        assert "4 FIRST PAIR" in lines(walker.app)[1]
        await settle(walker, *["left"] * 5)
        assert "1 START" in lines(walker.app)[1]
        assert "This is the first stage." in text(walker.app)
        await settle(walker, "space")
        assert "3 PLATES" in lines(walker.app)[1]
        assert "first stage" not in text(walker.app)


@pytest.mark.parametrize("size", [(80, 24), (140, 40)])
async def test_nothing_of_a_stage_is_clipped(plates: Path, size: tuple[int, int]) -> None:
    async with opened(plates, size=size) as walker:
        page = await stand_on(walker, SIDES)
        assert page.stage
        wide = size[0] if size[0] < 120 else size[0] * 58 // 100
        for number, view in enumerate(page.stage.shown):
            page.query_one("#rows").highlighted = number  # type: ignore[attr-defined]
            await walker.pilot.pause()
            seen = " ".join(" ".join(line[:wide] for line in lines(walker.app)).split())
            for word in view.check.ask.split():
                assert word in seen
            assert view.check.why in seen
        assert " ".join("back" for line in lines(walker.app)[-3:] if "back" in line) == "back"


async def test_an_imperial_job_shows_feet_and_inches(tmp_path: Path, library: Library) -> None:
    async with opened(brought_to(tmp_path, library, "main.plates", units="imperial")) as walker:
        await begin(walker, SIDES)
        await fill(walker, "9000", "6000", "9000", "6000", "10817", "10817")
        await settle(walker, "enter")
        await stand_on(walker, SIDES)
        # 10 mm / 25.4 = 0.394 in: the nearest sixty-fourth or sixteenth of an inch, never millimetres.
        assert (
            'limit 13/32"' in text(walker.app) or 'limit 3/8"' in text(walker.app) or 'limit 25/64"' in text(walker.app)
        )
        await settle(walker, "f")
        assert isinstance(walker.app.screen, FactsPage)
        assert "29' 6 5/16\"" in text(walker.app)


async def test_no_page_shows_a_path_or_a_day_of_the_record(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await settle(walker, "s")
        await walker.type("corner C is out", "enter", "enter")
        await walker.type("2026-12-04", "enter")
        await walker.pilot.pause()
        for key, page in (("k", SnagsPage), ("h", HandoverPage), ("j", JournalPage), ("f", FactsPage)):
            await settle(walker, key)
            assert isinstance(walker.app.screen, page)
            for _ in range(4):
                seen = text(walker.app)
                assert "main." not in seen
                assert "2026-" not in seen
                await settle(walker, "down")
            await settle(walker, "b")


async def test_a_recap_counts_in_words_and_leaves_out_what_there_is_none_of(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, SIDES)
        await settle(walker, "s")
        await walker.type("corner C is out", "enter", "enter", "enter")
    app = SitelogApp(folder=plates.parent, file=plates, clock=Watch(), device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        seen = text(app)
        assert "1 snag open, 2 carried on as it is" in seen
        assert "stale" not in seen


async def test_back_leads_to_the_jobs_of_the_folder_and_nothing_is_lost(plates: Path) -> None:
    async with opened(plates) as walker:
        await tick(walker)
        await settle(walker, "b")
        assert isinstance(walker.app.screen, JobsPage)
        await settle(walker, "enter", "1")
        assert state_of(walker, ENDS) == "done"


async def test_what_is_stale_names_the_figure_that_has_changed_as_the_drawing_has_it(
    tmp_path: Path, library: Library
) -> None:
    common = "main.first-pair.common"
    file = brought_to(
        tmp_path,
        library,
        "main.first-pair",
        lambda job: actions.answer(job.state, job.library, common, {}),
        lambda job: actions.draw(job.state, "main", {"pitch": "40"}),
    )
    async with opened(file) as walker:
        await stand_on(walker, common)
        seen = text(walker.app)
        assert "OUT OF DATE" in seen
        assert "Out of date, do it again. What changed: Pitch as drawn, all round" in seen


async def test_cautions_to_read_are_never_cut_off_the_strip(plates: Path) -> None:
    async with opened(plates, size=(60, 20)) as walker:
        page = await stand_on(walker, SIDES)
        await settle(walker, "n")
        await walker.type("long wall bedded first, the short one follows the blockwork", "enter")
        await settle(walker, "s")
        await walker.type("corner C is out by more than the tiles will take", "enter", "enter", "enter")
        await walker.pilot.pause()
        assert page.stage
        due = page.due(page.stage)
        for caution in due[:3]:
            assert caution.title in text(walker.app)
        assert len(due) <= 3 or f"then {len(due) - 3} more" in text(walker.app)


async def test_two_stages_of_one_name_are_told_apart_by_their_parts(tmp_path: Path, library: Library) -> None:
    deck = ("deck", "Link deck", "firred-deck", {"length": "4000", "width": "3000"})
    file = brought_to(tmp_path, library, "main.plates", more=[deck])
    async with opened(file, size=(60, 20)) as walker:
        await stand_on(walker, "main.plates")
        assert "2 main finish" in lines(walker.app)[1]
        await stand_on(walker, "deck.finish")
        assert "13 DECK FINISH" in lines(walker.app)[1]
        assert "14 joists" in lines(walker.app)[1], "one that stands alone in its name needs no part"


async def test_work_beyond_the_drawing_is_entered_by_one_key_and_signed_by_name(plates: Path) -> None:
    async with opened(plates) as walker:
        await stand_on(walker, ENDS)
        await settle(walker, "plus")
        (plates.parent / "IMG_7.JPG").write_bytes(jpeg())
        for words in ("trim for a second rooflight", "P. Vale", "4 Dec 2026", "6", "", "IMG_7.JPG"):
            await walker.type(words, "enter")
        await settle(walker, "enter")
        assert len(list(beside(plates).glob("*.jpg"))) == 1, "its photo is in the job's folder"
        (one,) = walker.app.state.instructions
        assert (one.text, one.who, one.day, one.hours, one.path) == (
            "trim for a second rooflight", "P. Vale", "2026-12-04", "6", ENDS,
        )  # fmt: skip

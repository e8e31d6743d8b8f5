"""Photos at the keyboard: picked by number or typed as a file, copied without stopping the screen, told when gone."""

import os
import threading
from collections.abc import Sequence
from pathlib import Path

import pytest

from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.photos import keeping
from sitelog.job.photos.keeping import Picture, keep, look
from sitelog.job.storage.disk import beside
from sitelog.job.storage.verify import strange, verify
from sitelog.tui.dialogs.ask import AskPage
from sitelog.tui.pages.check import CheckPage
from sitelog.tui.pages.diary import JournalPage
from sitelog.tui.pages.job import JobPage
from sitelog.tui.pages.photos import PhotosPage
from tests.forms.dormers import BARREL
from tests.job.pictures import JPEG, SECRET, exif, jpeg, png, segment
from tests.tui.seen import lines, text, until_shown
from tests.tui.site import begin, brought_to, opened, stand_on
from tests.tui.walker import Walker

TIES = "main.plates.ties"  # kind photo
CARRIED = "dormer.opening.carried"  # kind choice, with a photo
SIDES = "main.plates.sides"
TAKEN = jpeg(segment(0xE1, b"Exif\0\0" + exif()))


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    """A job at its plates; beside it one picture, and a newer one in `photos`."""
    file = brought_to(tmp_path, library, "main.plates")
    (tmp_path / "photos").mkdir()
    for at, name in enumerate(("IMG_1.JPG", "photos/IMG_2.png"), 1):
        (tmp_path / name).write_bytes(png() if name.endswith("png") else TAKEN)
        os.utime(tmp_path / name, (at * 86400, at * 86400))
    return file


async def settle(walker: Walker, *names: str) -> None:
    await walker.press(*names)
    await walker.app.workers.wait_for_complete([w for w in walker.app.workers if w.name in ("enter", "look_closely")])
    await walker.pilot.pause()


async def until(walker: Walker, page: type) -> None:
    """Wait for a copy that goes on beside the screen."""
    for _ in range(200):
        await walker.pilot.pause(0.02)
        if isinstance(walker.app.screen, page):
            return
    raise AssertionError(f"still at {walker.app.screen}: {text(walker.app)}")


def kept(file: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in beside(file).iterdir() if path.suffix in (".jpg", ".png")}


async def test_the_newest_pictures_are_offered_and_a_number_attaches_one(plates: Path) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await begin(walker, TIES)
        assert "Newest photos:" in text(app)
        assert "1 IMG_2.png" in text(app)
        assert "2 IMG_1.JPG" in text(app)
        assert "removed; type yes to keep them" in text(app)
        await walker.type("2 1", "enter")
        await until(walker, JobPage)
        view = app.state.check(TIES)
        assert view
        assert (view.state, view.value) == ("done", "IMG_1.JPG, IMG_2.png")
        await stand_on(walker, TIES)
        assert "Photos IMG_1.JPG, IMG_2.png" in text(app)
    assert sorted(kept(plates).values()) == sorted([JPEG, png()])
    assert verify(plates) == []


async def test_a_file_is_typed_by_its_path_and_a_yes_keeps_time_and_place(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, TIES)
        await walker.type(str(plates.parent / "IMG_1.JPG"), "down")
        await walker.type("yes", "enter")
        await until(walker, JobPage)
        view = walker.app.state.check(TIES)
        assert view
        assert view.photos[0].whole
    assert SECRET in next(iter(kept(plates).values()))


async def test_a_choice_that_wants_a_photo_asks_for_it_after_the_choice_and_goes_without_one(
    tmp_path: Path, plates: Path, library: Library
) -> None:
    (tmp_path / "dormer").mkdir()
    file = brought_to(
        tmp_path / "dormer", library, "dormer.opening", more=[("dormer", "Dormer", "barrel-dormer", BARREL)]
    )
    (tmp_path / "dormer" / "IMG_3.jpg").write_bytes(JPEG)
    async with opened(file) as walker:
        for typed, value in (((), ()), (("1",), ("IMG_3.jpg",))):
            page = await begin(walker, CARRIED, "m")
            await walker.press("2")
            await walker.pilot.pause()
            assert walker.app.screen is page, "the photo comes between"
            assert "Add a photo, or press Enter for none." in text(walker.app)
            await walker.press("up", "down", "2", *typed, "enter")
            if typed:
                await until(walker, AskPage)
                await walker.type("2", "enter")
            await until(walker, JobPage)
            view = walker.app.state.check(CARRIED)
            assert view
            assert (view.value, tuple(photo.name for photo in view.photos)) == ("bolted", value)


async def test_a_number_on_a_camera_is_kept_as_a_name_and_told_as_not_attached(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, TIES)
        await walker.type("IMG_2201", "enter")
        await until(walker, JobPage)
        await stand_on(walker, TIES)
        assert "Photo IMG_2201 (camera number only, no photo attached)" in text(walker.app)
        assert "IMG_2201, not attached" in text(walker.app)
        await stand_on(walker, SIDES)
        for last, notes in ((["escape"], 0), ([*"yes", "enter"], 1)):  # of another check it is asked about
            await walker.press("p")
            await walker.pilot.pause()
            if not notes:  # else what was typed stands there
                await walker.type("IMG_2201")
            await walker.press("enter", "enter", "enter")
            await until_shown(walker.pilot, "IMG_2201 is already the photo of: ")
            await walker.press(*last)
            await until(walker, JobPage)
            sides = walker.app.state.check(SIDES)
            assert sides and [entry.value for entry in sides.history] == [{"photo": "IMG_2201"}] * notes
    assert kept(plates) == {}


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("/none/IMG.jpg", "No file called /none/IMG.jpg."),
        ("half.jpg", "half.jpg stops before its end"),
        ("note.pdf", "note.pdf is a PDF, not a JPEG, PNG or WebP photo."),
        ("photos", "photos is a folder: give a photo in it."),
        ("", "needs a photo"),
    ],
)
async def test_what_is_no_picture_is_told_in_the_form_and_nothing_is_entered(
    plates: Path, typed: str, says: str
) -> None:
    (plates.parent / "half.jpg").write_bytes(JPEG[:90])
    (plates.parent / "note.pdf").write_bytes(b"%PDF-1.7\n")
    async with opened(plates) as walker:
        await begin(walker, TIES)
        count = walker.app.state.entries
        await walker.type(typed, "enter")
        for _ in range(100):
            await walker.pilot.pause(0.02)
            if says in text(walker.app):
                break
        assert says in text(walker.app)
        assert isinstance(walker.app.screen, CheckPage)
        assert walker.app.state.entries == count
    assert kept(plates) == {}


async def test_the_screen_goes_on_while_a_photo_is_copied_and_enter_copies_it_once(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on, calls = threading.Event(), []

    def slow(files: Path, pictures: Sequence[Picture]) -> None:
        calls.append(threading.current_thread() is threading.main_thread())
        assert go_on.wait(20)
        keep(files, pictures)

    monkeypatch.setattr("sitelog.tui.dialogs.attach.keep", slow)
    async with opened(plates) as walker:
        await begin(walker, TIES)
        count = walker.app.state.entries
        await walker.type("1", "enter")
        while not calls:
            await walker.pilot.pause(0.01)
        assert "Copying 1 photo into the job folder" in text(walker.app)
        await walker.press("enter", "down", "up")
        await walker.pilot.pause()
        assert isinstance(walker.app.screen, CheckPage), "the screen is drawn and moved in"
        assert walker.app.state.entries == count, "no entry names what is not on the disk"
        go_on.set()
        await until(walker, JobPage)
        assert walker.app.state.entries == count + 1
    assert calls == [False], "beside the screen's own thread, and once"


async def test_a_form_that_is_left_while_a_photo_is_copied_enters_nothing(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    go_on, begun, done = threading.Event(), threading.Event(), threading.Event()

    def slow(files: Path, pictures: Sequence[Picture]) -> None:
        begun.set()
        assert go_on.wait(20)
        keep(files, pictures)
        done.set()

    monkeypatch.setattr("sitelog.tui.dialogs.attach.keep", slow)
    async with opened(plates) as walker:
        await begin(walker, TIES)
        count = walker.app.state.entries
        await walker.type("1", "enter")
        while not begun.is_set():
            await walker.pilot.pause(0.01)
        await walker.press("escape")
        await until(walker, JobPage)
        go_on.set()
        while not done.is_set():
            await walker.pilot.pause(0.01)
        await walker.pilot.pause(0.05)
        assert walker.app.state.entries == count
    assert verify(plates) == []
    assert len(strange(plates)) == 1, "at most a file that no entry names"


async def test_a_photo_that_cannot_be_copied_is_not_saved_and_what_was_typed_stays(
    plates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    async with opened(plates) as walker:
        await begin(walker, TIES)
        count = walker.app.state.entries
        with monkeypatch.context() as patch:
            patch.setattr(keeping, "put", full)
            await walker.type("1", "enter")
            for _ in range(100):
                await walker.pilot.pause(0.02)
                if "Not saved" in text(walker.app):
                    break
        assert "Not saved: IMG_2.png: the disk is full. Nothing was entered. Try again." in text(walker.app)
        assert (walker.app.state.entries, walker.app.unsaved) == (count, [])
        await walker.press("enter")
        await until(walker, JobPage)
        assert walker.app.state.entries == count + 1


async def test_one_photo_shows_two_checks_only_if_somebody_says_so(plates: Path) -> None:
    async with opened(plates) as walker:
        await begin(walker, TIES)
        await walker.type("1", "enter")
        await until(walker, JobPage)
        await stand_on(walker, SIDES)
        for last, notes in ((["escape"], 0), ([*"yes", "enter"], 1)):
            await walker.press("p")
            await walker.pilot.pause()
            if notes:  # what was typed stands there
                await walker.press("enter", "enter", "enter")
            else:
                await walker.press("1", "enter", "enter", "enter")
            for _ in range(100):
                await walker.pilot.pause(0.02)
                if "Photo used before" in text(walker.app):
                    break
            ties = walker.app.state.check(TIES)
            assert ties and f"IMG_2.png is already the photo of: {ties.check.ask_in_full}" in text(walker.app)
            await walker.press(*last)
            for _ in range(20):
                await walker.pilot.pause(0.02)
            sides = walker.app.state.check(SIDES)
            assert sides and len(sides.history) == notes


async def test_p_attaches_photos_to_any_check_or_stage_with_words_or_without(plates: Path) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await stand_on(walker, SIDES)
        await walker.press("p")
        await walker.pilot.pause()
        assert isinstance(app.screen, AskPage)
        assert "Newest: 1 IMG_2.png; 2 IMG_1.JPG." in text(app)
        await walker.type("/none.jpg", "enter", "enter", "enter")
        await walker.pilot.pause()
        assert "No file called /none.jpg." in text(app), "told where it can be put right"
        await walker.press("up", "up", *["backspace"] * 9)
        await walker.type("1", "enter")
        await walker.type("corner C", "enter", "enter")
        for _ in range(100):
            await walker.pilot.pause(0.02)
            if "corner C" in text(app):
                break
        view = app.state.check(SIDES)
        assert view
        assert [(entry.act, entry.note) for entry in view.history] == [("note", "corner C")]
        assert "corner C; photo IMG_2.png" in text(app)
    assert list(kept(plates).values()) == [png()]


async def test_the_list_of_photos_tells_which_is_there_missing_changed_or_a_name_only(
    tmp_path: Path, plates: Path, library: Library
) -> None:
    pictures = [look(tmp_path / "IMG_1.JPG"), look(tmp_path / "photos" / "IMG_2.png")]
    keep(beside(plates), pictures)
    async with opened(plates) as walker:
        app = walker.app
        await walker.press("v")
        await settle(walker)
        assert "No photos yet. Press p on a check to add one." in text(app)
        await walker.press("b")
        app.enter(actions.answer(app.state, library, TIES, {}, photos=[one.photo for one in pictures]))
        app.enter(actions.note(app.state, SIDES, "", photo="IMG_9"))
        await walker.press("v")
        await settle(walker)
        page = app.screen
        assert isinstance(page, PhotosPage)
        assert "Photos: 3" in text(app)
        assert [one.stand for one in page._album] == ["there", "there", "name only"]
        assert pictures[0].photo.file in "".join("".join(lines(app)).split()), "where the file is"
        assert "Time, place and camera: left out." in text(app)
        raw = pictures[1].raw
        (beside(plates) / pictures[0].photo.file).unlink()
        (beside(plates) / pictures[1].photo.file).write_bytes(raw[:-1] + b"\0")
        page.state_changed()
        await settle(walker)
        for _ in range(100):
            await walker.pilot.pause(0.02)
            if "CHANGED" in text(app):
                break
        assert [one.stand for one in page._album] == ["missing", "changed", "name only"]
        assert "MISSING" in text(app)
        assert "name only" in text(app)
        await walker.press("end", "enter")
        await walker.pilot.pause()
        job = app.screen
        assert isinstance(job, JobPage)
        assert job.check
        assert job.check.path == SIDES


async def test_p_attaches_a_photo_to_the_page_of_the_day_with_words_or_without(plates: Path) -> None:
    async with opened(plates) as walker:
        app = walker.app
        await walker.press("j", "p")
        await walker.pilot.pause()
        assert "Newest: 1 IMG_2.png; 2 IMG_1.JPG." in text(app)
        await walker.type("2", "enter")
        await walker.type("mud at the gate", "enter", "enter")
        await until(walker, JournalPage)
        await app.workers.wait_for_complete([w for w in app.workers if w.name == "action_photo"])
        await walker.pilot.pause()
        seen = text(app)
        assert "Note mud at the gate Photos IMG_1.JPG" in seen and "Added to the site diary." in seen
        assert app.state.last and app.state.last.act == "diary"
        await walker.press("p")
        await walker.type("IMG_7", "enter", "enter", "enter")
        await until(walker, JournalPage)
        await walker.pilot.pause()
        assert "Note (photo IMG_7, camera number only)" in text(app), "of a name without a file the page says so"
        await walker.press("u", "u")
        await walker.pilot.pause()
        assert not app.state.diary[-1].photos and not app.state.diary[-1].text
    assert [Path(name).suffix for name in kept(plates)] == [".jpg"], "undo erases no file"

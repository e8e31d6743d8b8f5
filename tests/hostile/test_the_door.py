"""One door cleans text: a hundred thousand strings through it, and no front shows words that went past it.

Each front has a last door besides, for whatever past mistakes let by: it is opened here, so that a mistake is seen.
"""

import asyncio
import unicodedata
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from textual.content import Content
from textual.events import Paste
from textual.widgets import Input, Static

from sitelog.cli import output as command_line
from sitelog.text import clean, harmless
from sitelog.tui import sanitizer
from sitelog.tui.app import SitelogApp
from tests.hostile.fronts import BARRED, line_by_line, packs, pages, spoken
from tests.hostile.jobs import job
from tests.hostile.test_control_characters import TRICKS
from tests.hostile.test_markup import TERMINAL
from tests.length import LONG, grows, long
from tests.tui.every_page import every_page
from tests.tui.seen import lines

MANY = 100_000 if LONG else 2_000
ANY = st.text(st.characters(categories=None), max_size=60)
MARK = "\u2060"  # a word joiner: it has no width, so that only the door takes notice of it
# Pages that show words of the job itself.
WORDY = {"JobPage", "FactsPage", "JournalPage", "SnagsPage", "InstrumentsPage", "HandoverPage", "JobsPage"}
BAD = "".join(TRICKS.values()) + "".join(map(chr, [*range(0x20), *range(0x7F, 0xA0)]))


@settings(max_examples=MANY, deadline=None)
@given(ANY)
@grows
def test_nothing_that_drives_a_terminal_comes_through_either_door(text: str) -> None:
    for out in (clean(text), clean(text, lines=True), harmless(text)):
        assert not BARRED.search(out)
        assert not [one for one in out if unicodedata.category(one) in ("Cs", "Zl", "Zp")]
        out.encode()
    assert "\n" not in clean(text)
    assert harmless(text).count("\n") == text.count("\n")


@pytest.fixture
def last_doors_open(monkeypatch: pytest.MonkeyPatch) -> None:
    """What leaves the screens, or plain mode, for a terminal goes as it is."""
    monkeypatch.setattr(sanitizer, "harmless", str)
    monkeypatch.setattr(command_line, "harmless", str)


@pytest.mark.usefixtures("last_doors_open")
@long
def test_every_word_of_a_job_that_is_shown_anywhere_came_through_the_door(tmp_path: Path) -> None:
    """A mark that the door takes away is put between the letters of every word: none may be seen on any front."""
    file = job(tmp_path, MARK.join)
    written = [(name, text) for name, text in packs(file) if name.startswith("pack: ")]
    assert {Path(name).suffix for name, _ in written} >= {".html", ".txt", ".csv"}
    for name, text in (*line_by_line(file), *written, *asyncio.run(pages(file))):
        assert MARK not in text, name


def test_whatever_a_command_prints_goes_out_by_its_last_door(tmp_path: Path) -> None:
    file = job(tmp_path, MARK.join)
    for name, text in spoken(file):
        assert MARK not in text, name


@pytest.mark.usefixtures("last_doors_open")
@long
async def test_no_page_or_dialog_that_a_key_opens_shows_a_control_or_takes_words_for_markup(tmp_path: Path) -> None:
    file = job(tmp_path, lambda words: f"{MARK.join(words)} {TERMINAL}{BAD}")
    before = file.read_bytes()
    seen = [(name, "\n".join(lines(app))) async for app, name in every_page(file)]
    for name, text in seen:
        assert not BARRED.search(text) and MARK not in text, name
    assert {name.partition(":")[0] for name, text in seen if "[/2 battens]" in text} >= WORDY
    assert file.read_bytes() == before


async def test_a_widget_that_forgot_the_door_and_a_field_that_is_filled_by_a_paste_send_no_control(
    tmp_path: Path,
) -> None:
    app = SitelogApp(folder=tmp_path, device="testbed1", clock=lambda: datetime(2026, 11, 25, 7, 30, tzinfo=UTC))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        field = Input()
        await app.screen.mount(Static(Content(f"one {BAD} two"), markup=False), field)
        field.focus()
        await pilot.pause()
        field.post_message(Paste(f"three {BAD} four"))
        await pilot.pause()
        seen = "\n".join(lines(app))
    assert "one" in seen and "two" in seen and "three" in seen
    assert not BARRED.search(seen)

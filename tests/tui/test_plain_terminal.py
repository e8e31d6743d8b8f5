"""Without colour, in plain letters and at 40 columns nobody misses a verdict, a caution or what to do next."""

import errno
import fcntl
import os
import pty
import re
import select
import struct
import sys
import termios
from pathlib import Path
from time import monotonic

import pytest
from textual.filter import Monochrome

from sitelog.checklist.schema.model import Library
from sitelog.tui.dialogs.caution import CautionPage
from tests.tui.seen import lines, text
from tests.tui.site import begin, brought_to, fill, opened, stand_on
from tests.tui.test_check import SQUARE

NARROW = (40, 24)
COLOURED = re.compile(rb"\x1b\[(?:[\d;]*;)?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:;[\d;]*)?m")
SECONDS = 60.0
# Diagonals 6, 11 and 21 mm apart, with a limit of 10: good, too near it for a class II tape, and out.
VERDICTS = {"6": "OK", "11": "TOO CLOSE TO CALL", "21": "OUT"}


def plates_apart(mm: str) -> list[str]:
    half = float(mm) / 2
    return [*SQUARE[:-2], f"{float(SQUARE[-2]) - half:g}", f"{float(SQUARE[-1]) + half:g}"]


@pytest.fixture
def plates(tmp_path: Path, library: Library) -> Path:
    return brought_to(tmp_path, library, "main.plates")


@pytest.mark.parametrize("apart", VERDICTS)
async def test_a_verdict_is_a_word_without_colour_and_whole_at_40_columns(
    plates: Path, apart: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    async with opened(plates, size=NARROW, ascii_only=True) as walker:
        assert not [one for one in walker.app.get_line_filters() if isinstance(one, Monochrome)], "or black on black"
        page = await begin(walker, "main.plates.sides")
        await fill(walker, *plates_apart(apart))
        seen = text(walker.app)
        assert VERDICTS[apart] in seen and "limit 10 mm (house)" in seen
        assert seen.isascii()
        await walker.press("enter")
        await walker.pilot.pause()
        if apart != "6":
            assert walker.app.screen is page and " 1 " in text(walker.app), "the ways on"
            await walker.press("escape")
            await walker.pilot.pause()
        await stand_on(walker, "main.plates.sides")
        word = {"6": "done", "11": "TOO CLOSE", "21": "OUT"}[apart]
        row = " ".join(" ".join(lines(walker.app)).split())
        assert word in row and "Four sides" in row


async def test_a_caution_is_asked_whole_at_40_columns_in_plain_letters(plates: Path, library: Library) -> None:
    async with opened(plates, size=NARROW, ascii_only=True) as walker:
        await stand_on(walker, "main.plates.sides")
        assert "! Cautions to read (o)" in text(walker.app)
        await walker.press("enter")
        await walker.pilot.pause()
        page = walker.app.screen
        assert isinstance(page, CautionPage)
        seen = text(walker.app)
        assert seen.isascii() and all(len(row) <= NARROW[0] for row in lines(walker.app))
        first = library.cautions[page.shown[0]]
        assert first.title in seen and first.question.ask in seen


async def test_the_title_loses_the_day_before_its_own_words(plates: Path) -> None:
    async with opened(plates, size=NARROW) as walker:
        title = lines(walker.app)[0]
        assert "Mill barn" in title and "Main roof" in title and "M. Reed" in title
        await begin(walker, "main.plates.sides")
        assert "Wall plates" in lines(walker.app)[0]


@pytest.mark.skipif(sys.platform != "linux", reason="a terminal of POSIX")
def test_no_colour_is_sent_to_a_terminal_that_wants_none(plates: Path) -> None:
    """As it goes out, to the last byte: the terminal's own colours, and what is turned round or bold."""
    child, line = pty.fork()
    if child == 0:
        fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 40, 0, 0))
        os.environ.update(TERM="xterm-256color", NO_COLOR="1", SITELOG_DEVICE="testbed1")
        os.execv(sys.executable, [sys.executable, "-m", "sitelog", "open", str(plates), "--by", "M. Reed"])
    seen, end = b"", monotonic() + SECONDS
    typed = {b"to go on": b"1", b"Cautions to read": b"\x03"}
    while monotonic() < end:
        if not select.select([line], [], [], 0.2)[0]:
            continue
        try:
            more = os.read(line, 65_536)
        except OSError as error:
            assert error.errno == errno.EIO
            break
        seen += more
        for words in [words for words in typed if words in seen]:
            os.write(line, typed.pop(words))
        if not typed:
            break
    os.kill(child, 9)
    os.waitpid(child, 0)
    assert not typed, "each was seen"
    assert COLOURED.findall(seen) == []

"""The program in a terminal of its own, killed in the middle of a figure."""

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from time import monotonic, sleep

import pytest
from textual.widgets import Input

from sitelog.checklist.schema.model import Library
from sitelog.job.job import Job
from sitelog.job.storage.file import JobFile
from sitelog.job.storage.verify import verify
from sitelog.tui.app import SitelogApp
from sitelog.tui.pages.check import CheckPage
from sitelog.wording.prompts.asking import read_first
from tests.length import long
from tests.lines.listener import answer_to
from tests.tui.conftest import DEVICE, Clock
from tests.tui.site import brought_to

SECONDS = 60.0  # that the program is waited for; nothing is measured by it


class Terminal:
    """A program on a terminal of 80 x 24."""

    def __init__(self, *command: str, told: bool = True, within: Path = Path()) -> None:
        """`told` is whether the program is told by SIGHUP that its window is closed."""
        self.seen = b""
        self.child, self.line = pty.fork()
        if self.child == 0:
            os.environ.update(TERM="xterm-256color", SITELOG_DEVICE=DEVICE)
            os.environ.pop("NO_COLOR", None)
            os.chdir(within)
            signal.signal(signal.SIGHUP, signal.SIG_DFL if told else signal.SIG_IGN)  # it is handed on
            os.execv(sys.executable, [sys.executable, *command])
        fcntl.ioctl(self.line, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

    def until(self, there: Callable[[], bool]) -> None:
        """Read the screen, so that the program is never held up, until it is so."""
        end = monotonic() + SECONDS
        while not there():
            assert monotonic() < end, self.seen[-2000:]
            if select.select([self.line], [], [], 0.05)[0]:
                with suppress(OSError):  # it has ended
                    self.seen += os.read(self.line, 65_536)

    def press(self, after: str, keys: str) -> None:
        """The keys, once these words have been painted since the keys before."""
        self.until(lambda: after.encode() in self.seen)
        # A page is painted a moment before its field has the keys; a hand is never that quick.
        painted = monotonic()
        self.until(lambda: monotonic() - painted > 0.4)
        self.seen = b""
        os.write(self.line, keys.encode())

    def kill(self) -> None:
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        with suppress(OSError):
            os.close(self.line)

    def shut(self) -> None:
        """The window is closed: the line is gone."""
        os.close(self.line)

    def ended(self) -> bool:
        return os.waitpid(self.child, os.WNOHANG)[0] != 0


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pty there")
async def test_killed_in_the_middle_of_a_figure_it_opens_at_the_next_thing_with_what_was_typed(
    tmp_path: Path, library: Library, clock: Clock
) -> None:
    file = brought_to(tmp_path, library, "main.plates")
    typed = file.with_name(f"{file.name}.files") / "typed.json"
    with Job.open(file, library, read_only=True) as job:
        stage = job.state.stage("main.plates")
        assert stage
        cautions = read_first(stage, stage.cautions, job.state)
    terminal = Terminal("-m", "sitelog", "open", str(file), "--by", "M. Reed")
    try:
        terminal.press("Press Enter to go on", "\r")
        terminal.press("PLATES", "\r")
        for caution in cautions:
            terminal.press(caution.title[:12], f"{answer_to(caution)}\r")
        terminal.press("AB, front", "8996\r")
        terminal.press("BC: a length", "600")
        terminal.until(lambda: typed.exists() and b'"600"' in typed.read_bytes())
    finally:
        terminal.kill()
    assert verify(file) == []
    app = SitelogApp(folder=tmp_path, file=file, by="M. Reed", clock=clock, device=DEVICE)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert app.state.next == "main.plates.sides"
        assert len(app.state.readings) == len(cautions) >= 3, "the cautions that were read are in the record"
        await app.push_screen(CheckPage(app.state.next))
        await pilot.pause()
        fields = {field.name: field.value for field in app.screen.query(Input)}
        assert (fields["ab"], fields["bc"]) == ("8996", "600")


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pty there")
@pytest.mark.parametrize("how", ["SIGTERM", "SIGHUP", "the window closed", "the window closed, and nothing told"])
def test_told_to_end_it_ends_and_what_was_entered_is_there(tmp_path: Path, library: Library, how: str) -> None:
    """Nothing hangs on the close: no question, no wait, and the next opener finds every entry and no lock."""
    file = brought_to(tmp_path, library, "main.plates")
    with JobFile.open(file) as job:
        before = job.count
    closed = how.startswith("the window")
    terminal = Terminal("-m", "sitelog", "open", str(file), "--by", "M. Reed", told="nothing" not in how)
    terminal.press("Press Enter to go on", "\r")
    terminal.press("PLATES", "n")
    terminal.press("Type the note", "ridge tile loose\r")
    terminal.until(lambda: len(JobFile.open(file, read_only=True).entries) > before)
    if closed:
        terminal.shut()
    else:
        os.kill(terminal.child, getattr(signal, how))
    end = monotonic() + SECONDS
    while not terminal.ended():
        if monotonic() > end:
            terminal.kill()
            pytest.fail("it hangs")
        sleep(0.02)
        if not closed and select.select([terminal.line], [], [], 0)[0]:
            with suppress(OSError):
                os.read(terminal.line, 65_536)
    if not closed:
        terminal.shut()
    with JobFile.open(file) as job:
        assert [entry.note for entry in job.entries[before:]] == ["ridge tile loose"]
        assert job.why_read_only == ""
    assert verify(file) == []


@pytest.mark.skipif(sys.platform == "win32", reason="there is no pty there")
@pytest.mark.parametrize("how", ["SIGTERM", pytest.param("SIGINT", marks=long), pytest.param("ctrl-C", marks=long)])
def test_told_to_end_in_a_form_it_keeps_what_was_typed_and_puts_the_terminal_back(
    tmp_path: Path, library: Library, how: str
) -> None:
    """The shell gets its own page, its cursor and its echo again, and reads no traceback."""
    terminal = Terminal("-m", "sitelog", "new", "--by", "M. Reed", within=tmp_path)
    before = termios.tcgetattr(terminal.line)
    terminal.press("A new job", "Mill barn")
    kept = tmp_path / ".sitelog-new-job"
    terminal.until(lambda: kept.exists() and b"Mill barn" in kept.read_bytes())
    if how == "ctrl-C":
        os.write(terminal.line, b"\x03")
        terminal.press("again to quit", "\x03")
    else:
        os.kill(terminal.child, getattr(signal, how))
    code: list[int] = []

    def ended() -> bool:
        child, status = os.waitpid(terminal.child, os.WNOHANG)
        code.extend([os.waitstatus_to_exitcode(status)] if child else [])
        return bool(child)

    terminal.until(ended)
    assert code == [0 if how == "ctrl-C" else 128 + getattr(signal, how)]
    assert termios.tcgetattr(terminal.line) == before
    assert b"\x1b[?1049l" in terminal.seen, "the shell's own page is back"
    assert b"\x1b[?25h" in terminal.seen, "and its cursor"
    assert b"Traceback" not in terminal.seen
    assert b"Mill barn" in kept.read_bytes()
    terminal.shut()

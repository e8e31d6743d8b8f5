"""The screens in a terminal of their own, against an empty Textual app: first paint, a key to its first byte."""

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import termios
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from statistics import mean, median, quantiles
from tempfile import TemporaryDirectory
from time import perf_counter
from unittest.mock import patch

from tests.bench.jobs import grown
from tests.bench.row import Row
from tests.bench.start import SCRIPT

ROUNDS, PRESSES = 7, 60
PAINT, KEY_MEDIAN, KEY_P95 = 1.4, 4.0, 8.0
KEY_BYTES = 2_000.0  # of any cursor key
SIZES = ((80, 24), (45, 70))
DOWN, UP = b"\x1b[B", b"\x1b[A"
PAINTED = b"Press Enter to go on"
EMPTY = [sys.executable, "-m", "tests.bench.empty"]


class Terminal:
    """A program on a terminal that this process reads and types on."""

    def __init__(self, command: Sequence[str], size: tuple[int, int] = SIZES[0]) -> None:
        self.start = perf_counter()
        self.child, self.line = pty.fork()
        if self.child == 0:
            os.environ.update(LINES=str(size[1]), COLUMNS=str(size[0]), TERM="xterm-256color")
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # as it is installed, compiled once
            os.execv(command[0], list(command))
        fcntl.ioctl(self.line, termios.TIOCSWINSZ, struct.pack("HHHH", size[1], size[0], 0, 0))

    def until(self, words: bytes) -> float:
        """Milliseconds from the start until these words have been painted."""
        seen = b""
        while words not in seen:
            seen += os.read(self.line, 65_536)
        return (perf_counter() - self.start) * 1000

    def quiet(self, seconds: float = 0.15) -> int:
        """Read until nothing more comes; how many bytes came."""
        count = 0
        while select.select([self.line], [], [], seconds)[0]:
            count += len(os.read(self.line, 65_536))
        return count

    def press(self, key: bytes) -> float:
        """Milliseconds from a key to the first byte it brings."""
        self.quiet()
        start = perf_counter()
        os.write(self.line, key)
        os.read(self.line, 1)
        return (perf_counter() - start) * 1000

    def whole(self, key: bytes, seconds: float = 0.15) -> tuple[int, float]:
        """The bytes that a key brings, and milliseconds to the last of them."""
        count, start = 0, perf_counter()
        last = start
        os.write(self.line, key)
        while select.select([self.line], [], [], seconds)[0]:
            count += len(os.read(self.line, 65_536))
            last = perf_counter()
        return count, (last - start) * 1000

    def close(self) -> None:
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        os.close(self.line)


def rows() -> list[Row]:
    """First paint of a job of 1,000 entries and what its cursor keys write; a cursor key at 100 and at 10,000."""
    with _machine() as folder:
        file = grown(folder, 1_000)
        found = [_paint(file), *(row for size in SIZES for row in _bytes(file, size))]
    for count in (100, 10_000):
        with _machine() as folder:
            found += _keys(grown(folder, count), count)
    return found


@contextmanager
def _machine() -> Iterator[Path]:
    """A folder on a machine that remembers no job: the three are one job, and it would tell of what the short lacks."""
    with TemporaryDirectory() as folder:
        own = {name: str(Path(folder, name)) for name in ("XDG_STATE_HOME", "XDG_CACHE_HOME")}
        with patch.dict(os.environ, own):
            yield Path(folder)


def _job(file: Path) -> list[str]:
    return [sys.executable, "-c", SCRIPT, "open", str(file), "--by", "M. Reed"]


def _painted(command: Sequence[str], words: bytes) -> float:
    terminal = Terminal(command)
    try:
        return terminal.until(words)
    finally:
        terminal.close()


def _paint(file: Path) -> Row:
    """From the shell's Enter to the words on the screen, both with the interpreter's own start in them."""
    _painted(_job(file), PAINTED)  # the checklists are proved once and kept
    times = [(_painted(_job(file), PAINTED), _painted(EMPTY, b"two")) for _ in range(ROUNDS)]
    ours, floor = median(a for a, _ in times), median(b for _, b in times)
    return Row("first paint, a job of 1,000 entries", ours, floor, ours / floor, PAINT)


def _keys(file: Path, count: int) -> list[Row]:
    ours, floor = _presses(_job(file), PAINTED, b"\r"), _presses(EMPTY, b"two", b"")
    pairs = (("median", median(ours), median(floor), KEY_MEDIAN), ("p95", _p95(ours), _p95(floor), KEY_P95))
    return [
        Row(f"a cursor key to its first byte, {name}, at {count:,}", a, b, a / b, limit) for name, a, b, limit in pairs
    ]


def _bytes(file: Path, size: tuple[int, int]) -> list[Row]:
    """What a cursor key writes, down a stage and up again: on an average, and at most."""
    terminal = Terminal(_job(file), size)
    try:
        terminal.until(PAINTED)
        terminal.quiet(0.5)
        os.write(terminal.line, b"\r")
        terminal.quiet(0.5)
        written = []
        for key in [DOWN] * 12 + [UP] * 12:
            os.write(terminal.line, key)
            written.append(terminal.quiet())
    finally:
        terminal.close()
    what = f"bytes of a cursor key at {size[0]} x {size[1]}"
    rows = ((what, mean(written)), (f"{what}, most", max(written)))
    return [Row(name, count, KEY_BYTES, count / KEY_BYTES, 1.0, "B ") for name, count in rows]


def _p95(times: list[float]) -> float:
    return quantiles(times, n=20)[-1]


def _presses(command: Sequence[str], words: bytes, before: bytes) -> list[float]:
    terminal = Terminal(command)
    try:
        terminal.until(words)
        terminal.quiet(0.5)
        if before:
            os.write(terminal.line, before)
            terminal.quiet(0.5)
        return [terminal.press(DOWN if number % 2 else UP) for number in range(PRESSES)]
    finally:
        terminal.close()

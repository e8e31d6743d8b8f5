"""How far an order is, on the terminal that it is asked from; Ctrl-C stops it with the best so far."""

import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread
from types import FrameType
from typing import TextIO

from sitelog.calculators.timber.cutting.watch import Progress, Watch, watched_by
from sitelog.text import harmless

STOPPED = "stopped by Ctrl-C: this is the best so far. Run it again to work it out in full"
CLEAR = "\r\x1b[K"


class Onlooker(Watch):
    """Writes each step over the last one, where it has a terminal; asked twice to stop, it breaks off."""

    def __init__(self, terminal: TextIO | None) -> None:
        self.terminal, self.stopped = terminal, False

    def hear(self, progress: Progress) -> None:
        """Say how far it is."""
        if self.terminal and not self.stopped:
            from sitelog.calculators.timber.planning import told

            self.terminal.write(f"{CLEAR}{harmless(told(progress))}. Ctrl-C stops here"[:90])
            self.terminal.flush()

    def should_stop(self) -> bool:
        """Once it was asked to."""
        return self.stopped

    def interrupt(self, signal_number: int, frame: FrameType | None) -> None:
        """Ctrl-C was pressed."""
        if self.stopped:
            raise KeyboardInterrupt
        self.stopped = True


@contextmanager
def watching() -> Iterator[Onlooker]:
    """Every plan made inside is told and may be stopped by the one given; that it was is said once it is made."""
    terminal = sys.__stderr__ if sys.__stderr__ and sys.__stderr__.isatty() else None
    watch = Onlooker(terminal)
    in_main = current_thread() is main_thread()
    before = signal.signal(signal.SIGINT, watch.interrupt) if in_main else None
    try:
        with watched_by(watch):
            yield watch
    finally:
        if in_main:
            signal.signal(signal.SIGINT, before)
        if terminal:
            terminal.write(CLEAR)
            terminal.flush()
    if watch.stopped:
        print(f"sitelog: {STOPPED}", file=sys.stderr)

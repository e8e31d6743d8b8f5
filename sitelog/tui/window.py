"""The window that the screens are shown in, and how they are ended from outside: told to, or by its being closed.

A program is told by SIGHUP; started by one that ignores it, it would read from a line that is gone for ever.
"""

import asyncio
import os
import select
import signal
import sys
from collections.abc import Callable

EVERY_SECONDS = 1.0  # it is looked at


def is_there() -> bool:
    """True where keys come from a terminal that can be asked whether it has hung up."""
    return sys.platform != "win32" and sys.__stdin__ is not None and sys.__stdin__.isatty()


def end_if_closed() -> None:
    """End as SIGHUP would, if the line is gone. What was entered is on the disk, and there is nobody left to ask."""
    if sys.platform != "win32" and sys.__stdin__ is not None:
        line = select.poll()
        line.register(sys.__stdin__, 0)
        if line.poll(0):  # no event is asked for, so it is the end of the line
            signal.signal(signal.SIGHUP, signal.SIG_DFL)
            os.kill(os.getpid(), signal.SIGHUP)


def when_told_to_end(end: Callable[[int], object]) -> None:
    """Call `end` with the exit code when SIGTERM or SIGINT comes: untreated, the terminal would be left unusable."""
    if sys.platform != "win32":
        for number in (signal.SIGTERM, signal.SIGINT):
            asyncio.get_running_loop().add_signal_handler(number, end, 128 + number)

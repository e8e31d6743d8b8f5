"""What leaves for the terminal: no control goes out with it, and a reader that has gone or a full disk is noticed."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from errno import EBADF, EPIPE

from sitelog.refusal import PROBLEM
from sitelog.text import harmless

TYPE_CHECKING = False  # see parser.py: typing would cost as much as the help
if TYPE_CHECKING:
    from typing import TextIO

ENTERED = "it was entered and saved, but not all could be shown"
LINES_ONLY = ("", "dumb", "unknown", "network", "dialup", "emacs")  # kinds of terminal with no cursor that can be moved
COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
UNSAID = "not all could be shown"


def asks_for_ascii() -> bool:
    """True where the locale says that letters are ASCII: C or POSIX, in the variable that goes first.

    Under LANG=C Python has itself put one of COERCED into LC_CTYPE (PEP 538): that one says nothing.
    """
    letters = os.environ.get("LC_CTYPE", "")
    said = (os.environ.get("LC_ALL"), "" if letters in COERCED else letters, os.environ.get("LANG"))
    return next(filter(None, said), "") in ("C", "POSIX")


def takes(letters: str) -> bool:
    """Whether what is printed may have those letters."""
    if getattr(sys.stdout, "plain", False):
        return letters.isascii()
    try:
        return bool(letters.encode(sys.stdout.encoding or "ascii"))
    except (UnicodeEncodeError, LookupError):
        return False


class UnsaidError(Exception):
    """What the program says does not arrive: its reader has gone, the disk that it goes to is full, it was closed."""

    def __init__(self, error: OSError) -> None:
        super().__init__(str(error))
        self.error = error

    @property
    def why(self) -> str:
        """The same in words."""
        from sitelog.job.storage.disk import reason

        words = {EPIPE: "nobody reads it any more", EBADF: "the output is closed"}
        return words.get(self.error.errno or 0) or reason(self.error)


class Spoken:
    """A stream to the terminal: whatever a job's file or a name on the disk holds, no control goes out by it.

    UnsaidError where it can't be written; one that need not be `heard` is silent then.
    """

    def __init__(self, stream: TextIO | None, *, heard: bool, plain: bool = False) -> None:
        """`plain`: nothing but ASCII goes out by it."""
        self._given, self._heard = stream, heard
        self.plain = plain
        # One that was closed by whoever started the program: its number must not go to a job's file.
        self._stream = stream or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - see `leave`

    def write(self, text: str) -> int:
        """Write the text without what a terminal would obey."""
        try:
            if not self._given and self._heard:
                raise OSError(EBADF, os.strerror(EBADF))
            return self._stream.write(self._taken(harmless(text)))
        except OSError as error:
            self._unsaid(error)
            return len(text)

    def _taken(self, text: str) -> str:
        """The text in letters that the stream can take."""
        if text.isascii():
            return text
        coding = "ascii" if self.plain else self._stream.encoding or "ascii"
        try:
            text.encode(coding)
        except UnicodeEncodeError:
            from sitelog.wording.letters import in_plain_letters

            return in_plain_letters(text, coding)
        return text

    def flush(self) -> None:
        """Bring what was written on its way."""
        try:
            self._stream.flush()
        except OSError as error:
            self._unsaid(error)

    def leave(self) -> None:
        """Close what was opened here."""
        if not self._given:
            self._stream.close()

    def _unsaid(self, error: OSError) -> None:
        if self._heard:
            raise UnsaidError(error) from error

    def __getattr__(self, name: str) -> object:
        return getattr(self._stream, name)


def ended_unsaid(unsaid: UnsaidError, entered: bool) -> int:
    """Say on the other stream what became of the act. The exit code: 0 where it was entered, or nobody asks."""
    if entered:
        print(f"sitelog: {ENTERED}: {unsaid.why}", file=sys.stderr)
    elif unsaid.error.errno != EPIPE:  # `sitelog calc | head` is no problem
        print(f"sitelog: {UNSAID}: {unsaid.why}", file=sys.stderr)
    with suppress(OSError, ValueError):  # nothing must be flushed at it again
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 0 if entered or unsaid.error.errno == EPIPE else PROBLEM

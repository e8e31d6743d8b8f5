"""Runs one command: the words in, an exit code out, and every refusal told in one line."""

from __future__ import annotations

import gc
import os
import re
import sys
from contextlib import suppress
from io import StringIO

from sitelog.cli.output import Spoken, UnsaidError, asks_for_ascii, ended_unsaid
from sitelog.cli.parser import parser
from sitelog.cli.script.standard_input import fill
from sitelog.refusal import JOB_FILE, Refusal

TYPE_CHECKING = False  # see parser.py: typing would cost as much as the help
if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Callable, Sequence

INTERRUPTED = 130
MADE_BEFORE_A_SEARCH = 200_000  # objects, before the collector looks which of them are garbage
QUIET = {"-q", "--quiet"}


def run(words: Sequence[str] | None = None, entered: list[Callable[[], bool]] | None = None) -> int:
    """The program. Exit codes: 0 done, 1 a problem found, 2 usage, 3 damaged, 4 not saved, 5 held, 130 interrupted.

    `entered` gets what tells whether the command has entered anything, once it has opened a job; it holds that job.
    """
    given = list(sys.argv[1:] if words is None else words)
    said, told = sys.stdout, sys.stderr
    plain = "--ascii" in given or asks_for_ascii()
    streams = Spoken(said, heard=True, plain=plain), Spoken(told, heard=False, plain=plain)
    sys.stdout, sys.stderr = streams
    try:
        return _run(given, [] if entered is None else entered)
    finally:
        sys.stdout, sys.stderr = said, told
        for stream in streams:
            stream.leave()


class Unheard(StringIO):
    """Where everything goes that --quiet keeps off the terminal."""

    def write(self, text: str) -> int:
        """Let it go."""
        return len(text)


def _run(given: list[str], entered: list[Callable[[], bool]]) -> int:
    try:
        code = _done(given, entered)
        sys.stdout.flush()
        return code
    except Refusal as refusal:
        print(f"sitelog: {_with_file(refusal.message, given)}", file=sys.stderr)
        return refusal.code
    except KeyboardInterrupt:
        return INTERRUPTED
    except UnsaidError as unsaid:
        return ended_unsaid(unsaid, any(asked() for asked in entered))


def _done(given: list[str], entered: list[Callable[[], bool]]) -> int:
    given = asked_for_help(given)
    # A calculator has its own help and takes signed lists (`offsets=-2,3`), so argparse never sees its words.
    if command_of(given) == "calc":
        _load_msgspec()
        from sitelog.cli.calc import calc

        if QUIET.intersection(given):
            sys.stdout = Unheard()
        place = given.index("calc")
        return calc([word for word in (*given[:place], *given[place + 1 :]) if word not in QUIET])
    options = read(given)
    options.entered = entered
    from importlib import import_module

    _load_msgspec()
    module, _, act = str(options.act).partition(":")
    if options.quiet and module != "screen":
        sys.stdout = Unheard()
    return int(getattr(import_module(f"sitelog.cli.{module}"), act)(options))


def _load_msgspec() -> None:
    """Load msgspec as it is where typing_extensions is not installed: with that it takes half as long again."""
    if "typing_extensions" not in sys.modules:
        sys.modules["typing_extensions"] = None  # type: ignore[assignment]
        import msgspec  # noqa: F401

        del sys.modules["typing_extensions"]


def _with_file(message: str, given: list[str]) -> str:
    """What to type, with the job's own file in it: the first word after the command."""
    words = _unflagged(given)
    if len(words) < 2:
        return message
    return re.sub(rf"(sitelog (?:--plain )?\w+) {JOB_FILE}\b", lambda found: f"{found[1]} {words[1]}", message)


def asked_for_help(given: list[str]) -> list[str]:
    """`help record` as `record --help`."""
    if command_of(given) != "help":
        return given
    place = given.index("help")
    return [*given[:place], *given[place + 1 : place + 2], "--help"]


def command_of(given: list[str]) -> str:
    """The command's name: the first word that is no flag; "" where there is none."""
    return next(iter(_unflagged(given)), "")


def _unflagged(given: list[str]) -> list[str]:
    """The words that are neither a flag nor the name after `--by`, which may come before the command."""
    before = ["", *given]
    return [word for last, word in zip(before, given, strict=False) if last != "--by" and not word.startswith("-")]


def read(given: list[str]) -> Namespace:
    """The words as options. Values may stand among the flags (`record FILE PATH 12 --by NAME ab=8996`)."""
    if "--" in given:
        import shlex

        raise Refusal(f"Leave out `--`: {shlex.join(['sitelog', *(word for word in given if word != '--')])}")
    options, extra = parser(command_of(given)).parse_known_args(given)
    if extra:
        _take(extra, options)
    fill(options)
    return options


def _take(extra: list[str], options: Namespace) -> None:
    """Words that argparse left over, as further values of the command. Refusal where it takes none, and for a flag."""
    flags = [word for word in extra if word.startswith("-")]
    takes = next((name for name in ("values", "figures") if hasattr(options, name)), "")
    if flags or not takes:
        raise Refusal(f"{(flags or extra)[0]!r} isn't an option here (see `sitelog --help`)")
    setattr(options, takes, [*getattr(options, takes), *extra])


def main() -> None:
    """The entry point of the installed command."""
    # A job's objects are made once and stay: the collector went through them ten times over, and once more at the end.
    gc.set_threshold(MADE_BEFORE_A_SEARCH, 20, 50)
    held: list[Callable[[], bool]] = []
    code = run(entered=held)
    if "threading" in sys.modules:
        gc.freeze()
        sys.exit(code)
    # Nothing runs beside: to take all objects apart would cost as much as a small sum.
    for stream in filter(None, (sys.stdout, sys.stderr)):
        with suppress(OSError, ValueError):
            stream.flush()
    os._exit(code)

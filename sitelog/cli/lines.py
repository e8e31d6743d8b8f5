"""Plain mode at a terminal or in a pipe: its lines, its width and the clock are handed in from here."""

import argparse
import os
import shutil
import sys
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import lists_for, named_by, watched
from sitelog.cli.output import LINES_ONLY, UnsaidError, takes
from sitelog.job.log.entry import Author
from sitelog.job.machine.memory import machines_own
from sitelog.job.session import Session
from sitelog.job.storage.device import chance, device_id
from sitelog.lines.session import LineSession
from sitelog.lines.talk import WIDTH, Left, Talk
from sitelog.lines.walk import Walk
from sitelog.refusal import NOT_SAVED, Refusal

LONGEST = 10_000  # letters of a line that are looked at: past them it is no answer


def open_job(options: argparse.Namespace) -> int:
    """Walk the job of a file. Exit code 0, or 4 when something that was entered could not be saved."""
    return _open(talk(ascii_only=options.ascii), Path(options.file), options)


def _open(told: Talk, file: Path, options: argparse.Namespace) -> int:
    author = _hand(named_by(options))
    session = Session.open(file, lists_for(file, options.checklists), author, machines_own())
    watched(options, session.job)
    return _walk(told, session, author)


def new_job(options: argparse.Namespace) -> int:
    """Set a job up in this folder, and walk it."""
    return _new(talk(ascii_only=options.ascii), Path.cwd(), options)


def _new(told: Talk, folder: Path, options: argparse.Namespace) -> int:
    from sitelog.lines.new_job import new_job as set_up

    by = named_by(options)
    try:
        job = set_up(told, folder, lists_for(folder / "new.json", options.checklists)(), _hand, by=by)
    except (Left, EOFError):
        return 0
    watched(options, job, 0)
    return _walk(told, Session(job, memory=machines_own()), _hand(job.entries[0].by))


def choose(options: argparse.Namespace, folder: Path) -> int:
    """The jobs of a folder, one after another, until nobody wants another."""
    from sitelog.lines.jobs import choose as chosen

    told = talk(ascii_only=options.ascii)
    while True:
        try:
            file = chosen(told, folder)
            code = _new(told, folder, options) if file is None else _open(told, file, options)
        except (Left, EOFError):
            return 0
        except Refusal as refusal:
            told.say(refusal.message)  # the other jobs of the folder are still there
        else:
            if code:
                return code


def _walk(told: Talk, session: Session, author: Author) -> int:
    lines = LineSession(told, session, by=author.by, clock=_now, device=author.device)
    lines.chance = chance
    code, unsaid = 0, None
    try:
        code = Walk(lines).run()
    except EOFError:
        pass  # nobody says anything any more: that leaves the job like quit
    except UnsaidError as error:
        unsaid = error
    finally:
        lost = lines.lost()
        for words in (lost, session.close()):
            if words:
                print(f"sitelog: {words}", file=sys.stderr)
    if lost:
        return NOT_SAVED
    if unsaid:
        raise unsaid
    return 0 if code == NOT_SAVED else code  # it was saved at the last moment


def _hand(by: str) -> Author:
    return Author(by=by.strip(), device=device_id(), now=_now(), chance=chance())


def _now() -> datetime:
    return datetime.now().astimezone()


MARKS = "√›≥°"  # that a terminal takes which takes more than plain letters


def talk(*, ascii_only: bool) -> Talk:
    """Somebody at this terminal, or at the other end of a pipe."""
    width = shutil.get_terminal_size((WIDTH, 24)).columns if sys.stdout.isatty() else WIDTH
    for stream in (sys.stdin, sys.stdout):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    plain = ascii_only or os.environ.get("TERM", "") in LINES_ONLY or not takes(MARKS)
    return Talk(_read, _write, width=width, plain_letters=plain)


def _read() -> str:
    """The next line that is typed. The mark is for the eye alone, and only where somebody types."""
    if sys.stdin.isatty():
        sys.stdout.write("> ")
    sys.stdout.flush()
    line = sys.stdin.readline(LONGEST)
    if not line:
        raise EOFError
    while not line.endswith("\n") and (more := sys.stdin.readline(LONGEST)):
        if more.endswith("\n"):
            line = line[:LONGEST] + "\n"
    return line.rstrip("\r\n")


def _write(line: str) -> None:
    sys.stdout.write(line + "\n")

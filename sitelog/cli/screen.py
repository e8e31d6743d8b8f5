"""The commands that open the screens."""

import argparse
import os
import sys
from collections.abc import Mapping
from pathlib import Path

from sitelog.checklist.schema.shipped import sample_folder
from sitelog.cli.output import LINES_ONLY, asks_for_ascii
from sitelog.job.machine.memory import machines_own
from sitelog.job.storage.device import chance
from sitelog.job.storage.file import JobFile
from sitelog.refusal import DONE, Refusal
from sitelog.text import clean

Options = argparse.Namespace
SAMPLE_SITE = "sample-site"  # the folder where none is given


def choose(options: Options) -> int:
    """Bare `sitelog`: the jobs of this folder."""
    if options.version:
        from importlib.metadata import version

        print(version("sitelog"))
        return 0
    if line_by_line(options):
        from sitelog.cli import lines

        return lines.choose(options, Path.cwd())
    return _show(options, folder=Path.cwd())


def open_job(options: Options) -> int:
    """The screens over one job, or over the jobs of a folder."""
    file = Path(options.file)
    if line_by_line(options):
        from sitelog.cli import lines

        return lines.choose(options, file) if file.is_dir() else lines.open_job(options)
    if file.is_dir():
        return _show(options, folder=file)
    if not _terminal():
        # What is wrong with the file is told before what is wrong with the terminal.
        JobFile.open(file, read_only=True).close()
    return _show(options, folder=file.parent, file=file)


def new_job(options: Options) -> int:
    """The form for a new job in this folder."""
    if line_by_line(options):
        from sitelog.cli import lines

        return lines.new_job(options)
    return _show(options, folder=Path.cwd(), new=True)


def sample(options: Options) -> int:
    """Copy the sample jobs and open one. A copy that is there is opened as it is, so that nothing in it is lost."""
    source = sample_folder()
    jobs = {job.stem: job.name for job in sorted(source.glob("*.json"))}
    folder, job = _sample_named(options, jobs)
    if folder.exists() and not any((folder / name).is_file() for name in jobs.values()):
        raise Refusal(
            f"{folder} already exists and isn't a sample site. Give a new folder, such as: sitelog sample site"
        )
    file = folder / jobs[job]
    if not file.exists():
        _copy(source, folder)
    if options.json or (not sys.stdout.isatty() and not options.plain):
        from sitelog.cli.script.tell import tell_made

        tell_made(options, [file])
        return DONE
    options.file = str(file)
    return open_job(options)


def _sample_named(options: Options, jobs: Mapping[str, str]) -> tuple[Path, str]:
    """The folder and the job that are meant; one name alone may be either."""
    if options.folder in jobs and not Path(options.folder).exists():
        return Path(SAMPLE_SITE), options.folder
    if options.job not in jobs:
        raise Refusal(f"no sample job {clean(options.job, most=40)!r}. Choose from {', '.join(jobs)}")
    return Path(options.folder), options.job


def line_by_line(options: Options) -> bool:
    """True where plain mode was asked for, or the terminal can show nothing else."""
    return bool(options.plain) or (_terminal() and not _moves_its_cursor())


def _moves_its_cursor() -> bool:
    """False where the terminal's kind is known to print a line after another. One that nothing is known of may."""
    kind = os.environ.get("TERM", "")
    if "TEXTUAL_DRIVER" in os.environ:
        return True
    try:
        import curses

        curses.setupterm()
        return curses.tigetstr("cup") is not None
    except (ImportError, OSError, curses.error):
        return kind not in LINES_ONLY


def _terminal() -> bool:
    """True where the screens can be shown: a terminal, or a browser at the other end (see serving)."""
    return bool(os.environ.get("TEXTUAL_DRIVER")) or (sys.stdout.isatty() and sys.stdin.isatty())


def _copy(source: Path, folder: Path) -> None:
    """The sample jobs that are not in the folder yet."""
    from sitelog.reports.files import replace

    try:
        folder.mkdir(parents=True, exist_ok=True)
        for job in source.glob("*.json"):
            copied = folder / job.name
            if not copied.exists():
                replace(copied, job.read_bytes())
                with JobFile.open(copied, read_only=True) as made:
                    machines_own().forget(made.entries[0].id, made.path)
    except OSError as error:
        raise Refusal(
            f"{folder}: the sample can't be copied there ({error.strerror or error}). Give another folder"
        ) from error


def _show(options: Options, *, folder: Path, file: Path | None = None, new: bool = False) -> int:
    if not _terminal():
        raise Refusal("Run this in a terminal, or use `sitelog --plain open FILE`, or `sitelog record ...` in a script")
    from sitelog.tui.app import SitelogApp

    app = SitelogApp(
        folder=folder,
        file=file,
        by=options.by or os.environ.get("SITELOG_BY", ""),
        ascii_only=options.ascii or asks_for_ascii(),
    )
    app.begins_new = new
    app.memory = machines_own()
    app.chance = chance
    app.checklists = tuple(Path(name) for name in options.checklists)
    return app.run() or 0

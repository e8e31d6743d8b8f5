"""`sitelog drawings`: what is drawn of a job's parts, as pictures of letters, or as SVG files."""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from sitelog import kept
from sitelog.cli.keep.job_file import opened
from sitelog.cli.output import takes
from sitelog.cli.script.tell import tell_made
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import State
from sitelog.job.storage.disk import beside
from sitelog.refusal import DONE, Refusal
from sitelog.text import clean

WIDTH, HEIGHT = 80, 22  # of a picture of letters: with its title and a blank it fills a terminal of 24 rows
LEAST = 20  # columns, under which no picture is one
NAMED = 6  # checks that a refusal names
NO_STICKS = "No cutting list: the checklists for these parts don't list any timbers"
DOT = "\u28ff"  # of a picture of letters
PAPER_MM = 178.0  # between the margins of A4

TYPE_CHECKING = False  # what draws is loaded only where something is drawn anew
if TYPE_CHECKING:
    from sitelog.checklist.schema.model import Library
    from sitelog.drawing.model import Drawing
    from sitelog.job.job import Job
    from sitelog.reports.sketches import Sketch

    Drawn = Sequence[tuple[str, Sketch]]  # each with its part


def drawings(options: argparse.Namespace) -> int:
    """Print every drawing of a part, of one check, or of all parts; with --svg write each as a file of that folder.

    Refusal for a part or check that there is none of; code 4 where a file can't be written.
    """
    with opened(options, read_only=True) as job:
        if options.sticks or options.out:
            return _sticks(options, job.state, job.library)
        if options.svg:
            tell_made(options, _write(_found(job, options.part), Path(options.svg), Path(options.file)))
        else:
            letters = _in_letters(job, options.part, plain=options.ascii or not takes(DOT))
            tell_made(options, (), *letters.split("\n"))
    return DONE


def _columns() -> int:
    """Of a picture: WIDTH, or as many as a narrower terminal has."""
    if not sys.stdout.isatty():
        return WIDTH
    import shutil

    return max(LEAST, min(WIDTH, shutil.get_terminal_size((WIDTH, HEIGHT)).columns))


def _in_letters(job: Job, path: str, *, plain: bool) -> str:
    """Every drawing as a picture of letters; from an earlier start if nothing has changed since."""

    def told() -> str:
        return "\n".join(line for _, sketch in _found(job, path) for line in _told(sketch, plain))

    if not job.key:
        return told()
    return kept.cached(
        kept.key_of(b"drawings", job.key.encode(), os.fsencode(path), b"plain" * plain, b"%d" % _columns()), told
    )


def _found(job: Job, path: str) -> Drawn:
    """What is drawn of that part or check, or of all parts. Refusal where there is no such part, or nothing is."""
    from sitelog.reports.sketches import sketches  # all that is drawn is loaded with it

    part, _, check = path.partition(".")
    drawn = [(shown, sketch) for shown in _parts(job.state, part) for sketch in sketches(job.state, job.library, shown)]
    return _of_check(drawn, path) if check else drawn


def _sticks(options: argparse.Namespace, state: State, library: Library) -> int:
    """Print the sticks of a part or of all parts; with --svg or --out write them. Refusal where nothing is listed."""
    from sitelog.reports.bench.sticks import stick_leaves, stick_sketches

    if not options.sticks:
        raise Refusal("--out is for the sticks: add --sticks, or use --svg for the drawings")
    parts = _parts(state, options.part)
    if options.out:
        from sitelog.reports.pack import make, write_sheet

        leaves = stick_leaves(state, library, options.part)
        if not leaves:
            raise Refusal(NO_STICKS)
        pack = make(state, library, "", datetime.now().astimezone(), beside(Path(options.file)))
        tell_made(options, write_sheet(pack, "sticks", leaves, Path(options.out), Path(options.file).stem, bench=True))
        return DONE
    found = [(part, sketch) for part in parts for sketch in stick_sketches(state, library, part)]
    if not found:
        raise Refusal(NO_STICKS)
    _show(found, options)
    return DONE


def _show(found: Drawn, options: argparse.Namespace) -> None:
    """As SVG files where a folder is given, else as pictures of letters."""
    if options.svg:
        tell_made(options, _write(found, Path(options.svg), Path(options.file)))
    else:
        tell_made(options, (), *(line for _, sketch in found for line in _told(sketch, options.ascii)))


def _parts(state: State, part: str) -> list[str]:
    """That part alone, or without one all of them. Refusal for a part that is none of the job's."""
    known = [view.id for view in state.parts if view.id != JOB]
    if part and part not in known:
        raise Refusal(f"No part {clean(part, most=40)!r}. Parts are {', '.join(known) or 'none yet'}")
    if part:
        return [part]
    return known


def _of_check(drawn: Drawn, path: str) -> Drawn:
    """What is drawn of one check. Refusal, naming those that have a drawing, where nothing is."""
    found = [pair for pair in drawn if path in pair[1].paths]
    if not found:
        paths = [*dict.fromkeys(path for _, sketch in drawn for path in sketch.paths)]
        part = path.partition(".")[0]
        these = f"These have: {', '.join(paths[:NAMED])}" if paths else f"No check of {part} has one"
        raise Refusal(f"{clean(path, most=80)} doesn't have a drawing. {these}")
    return found


def pictures(made: Sequence[Drawing], *, ascii_only: bool = False) -> Iterator[str]:
    """Each drawing as lines of letters under its caption. Plain letters too where the output takes no others."""
    from sitelog.drawing.model import caption
    from sitelog.drawing.terminal import render

    plain = ascii_only or not takes(DOT)
    for drawing in made:
        yield clean(caption(drawing), most=400)
        yield from render(drawing, _columns(), HEIGHT, ascii_only=plain)


def _told(sketch: Sketch, ascii_only: bool) -> Iterator[str]:
    if sketch.drawing is None:
        yield f"{sketch.name}: can't be drawn yet: {sketch.why}"
    else:
        yield from pictures([sketch.drawing], ascii_only=ascii_only)
        yield from (f"  {said}" for said in sketch.drawing.says)
    yield ""


def _write(found: Drawn, folder: Path, job: Path) -> list[Path]:
    """The files, for those who may read the job. What can't be drawn yet is said on the other stream."""
    from sitelog.drawing.svg import svg
    from sitelog.reports.files import saving, write_all

    with saving(folder, "--svg"):
        folder.mkdir(parents=True, exist_ok=True)
    made = {}
    for number, (part, sketch) in enumerate(found, 1):
        if sketch.drawing is None:
            print(f"{sketch.name}: can't be drawn yet: {sketch.why}", file=sys.stderr)
            continue
        name = re.sub(r"[^a-z0-9]+", "-", f"{part} {sketch.drawing.title}".lower()).strip("-")[:80]
        made[f"{number:02}-{name}.svg"] = svg(sketch.drawing, width_mm=PAPER_MM).encode()
    return write_all(made, folder, job, flag="--svg")

"""`sitelog templates`: full-size templates of a part, as sheets to print, one long sheet, SVG or DXF."""

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import opened
from sitelog.cli.script.tell import tell_made
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import State
from sitelog.refusal import DONE, Refusal
from sitelog.reports.files import write_all
from sitelog.reports.templates.bars import Bars, bars
from sitelog.reports.templates.listed import drawn_line, missing_lines, nothing, sheets_line
from sitelog.reports.templates.make import FORMS, Form, files_of
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import PartTemplates, part_templates, slug
from sitelog.reports.templates.sheets import BATTEN, ENGINEER, MEASURE, Heading
from sitelog.text import clean, clock

USUAL = "a4"


def templates(options: argparse.Namespace) -> int:
    """List the templates of every part; with a part, write its templates, or the one that is named.

    Refusal: no such part or template, bars that are too far off; code 4 where a file can't be written.
    """
    read = bars(*options.bars) if options.bars else Bars()
    with opened(options, read_only=True) as job:
        state, library = job.state, job.library
    found = [part_templates(state, library, part) for part in _parts(state, options.part)]
    if options.part:
        _write(options, state, found[0], read)
    else:
        tell_made(options, (), *(line for one in found for line in _listed(one, options.file)), BATTEN)
    return DONE


def _parts(state: State, part: str) -> list[str]:
    """That part alone, or without one all of them. Refusal for a part that is none of the job's."""
    known = [view.id for view in state.parts if view.id != JOB]
    if not part:
        return known
    if part not in known:
        raise Refusal(f"No part {clean(part, most=40)!r}. Parts are {', '.join(known) or 'none yet'}")
    return [part]


def _write(options: argparse.Namespace, state: State, found: PartTemplates, read: Bars) -> None:
    """Write the files, and say which, what to measure, and what is not ready."""
    file = Path(options.file)
    chosen, forms = _chosen(found, options.template), _forms(options)
    heading = Heading(state.title, found.title, clock(datetime.now().astimezone()), state.head)
    made = files_of(chosen, forms, f"{file.stem}-{found.part}", heading, read)
    corrected = [f"{read.off}; the sheets are corrected for it."] if options.bars else []
    paths = write_all(made, Path(options.out) if options.out else file.parent, file)
    tell_made(options, paths, *corrected, f"{MEASURE} {ENGINEER}", *missing_lines(found))


def _forms(options: argparse.Namespace) -> list[Form]:
    """The kinds of file that were asked for. Refusal for bars where nothing is printed."""
    forms = [form for name, form in FORMS.items() if getattr(options, name, False)] or [FORMS[USUAL]]
    if options.bars and not any(form.printed for form in forms):
        raise Refusal("--bars is for sheets that you print: add --long, or leave out --svg and --dxf")
    return forms


def _chosen(found: PartTemplates, name: str) -> Sequence[Template]:
    """All of them, or that of the number or the words. Refusal where there is none."""
    why = nothing(found)
    if why:
        raise Refusal(why)
    if name.isdecimal():
        named = found.ready[int(name) - 1 : int(name)] if int(name) else ()
    else:
        named = tuple(template for template in found.ready if slug(name) in slug(template.title))
    if not named:
        raise Refusal(
            f"No template {clean(name, most=40)!r} of {found.title}. Type its number, 1 to {len(found.ready)}: "
            "leave out the part to see the list"
        )
    return named


def _listed(found: PartTemplates, file: str) -> Iterator[str]:
    """A part's templates by number, with their sizes and sheets, and what is missing."""
    yield f"{found.title} ({found.part})"
    for number, template in enumerate(found.ready, 1):
        yield f"  {number:2}  {template.title}: {sheets_line(template)}"
        yield from (f"      {line}" for line in [drawn_line(template)] if line)
    yield from (f"  {line}" for line in missing_lines(found))
    if found.ready:
        yield f"  to make them: sitelog templates {file} {found.part}"
    elif not found.missing:
        yield "  none"

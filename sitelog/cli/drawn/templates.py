"""`sitelog templates`: full-size templates of a part, as sheets to print, one long sheet, SVG or DXF."""

import argparse
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

from sitelog.cli.keep.job_file import opened
from sitelog.job.facts.schema import JOB
from sitelog.job.state.views import State
from sitelog.refusal import Refusal
from sitelog.reports.files import write_all
from sitelog.reports.templates.bars import Bars, bars
from sitelog.reports.templates.make import FORMS, file_of
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import PartTemplates, part_templates, slug
from sitelog.reports.templates.sheets import ENGINEER, MEASURE, Heading, not_measured
from sitelog.reports.templates.tiles import tiles
from sitelog.text import clean, clock, counted

BATTEN = "No printer? The ordinates off a straight batten are with the drawings"


def templates(options: argparse.Namespace) -> int:
    """List the templates of every part; with a part, write its templates, or the one that is named.

    Refusal: no such part or template, bars that are too far off; code 4 where a file can't be written.
    """
    asked = bars(*options.bars) if options.bars else Bars()
    with opened(options, read_only=True) as job:
        state, library = job.state, job.library
    known = [view.id for view in state.parts if view.id != JOB]
    if options.part and options.part not in known:
        raise Refusal(f"No part {clean(options.part, most=40)!r}. Parts are {', '.join(known) or 'none yet'}")
    found = [part_templates(state, library, part) for part in known if options.part in ("", part)]
    if not options.part:
        print("\n".join(line for one in found for line in _listed(one, options.file)))
        return 0
    return _write(options, state, found[0], asked)


def _write(options: argparse.Namespace, state: State, found: PartTemplates, asked: Bars) -> int:
    forms = [form for name, form in FORMS.items() if name != "a4" and getattr(options, name)] or [FORMS["a4"]]
    if options.bars and not any(form.printed for form in forms):
        raise Refusal("--bars is for sheets that you print: add --long, or leave out --svg and --dxf")
    file = Path(options.file)
    heading = Heading(state.title, found.title, clock(datetime.now().astimezone()), state.head)
    chosen = _chosen(found, options.template)
    stem = f"{file.stem}-{found.part}"
    made = dict(file_of(template, form, stem, heading, asked) for template in chosen for form in forms)
    for path in write_all(made, Path(options.out) if options.out else file.parent):
        print(path)
    if options.bars:
        print(f"{asked.off[:1].upper()}{asked.off[1:]}; the sheets are corrected for it.")
    print(f"{MEASURE} {ENGINEER}")
    print("\n".join(_missing(found)), end="\n" if found.missing else "")
    return 0


def _chosen(found: PartTemplates, name: str) -> Sequence[Template]:
    """All of them, or that of the number or the words. Refusal where there is none."""
    if not found.ready:
        why = found.missing[0] if found.missing else None
        raise Refusal(
            f"No template of {found.title} is ready: {why.name}: {why.why}"
            if why
            else f"{found.title} doesn't have templates"
        )
    if not name:
        return found.ready
    if name.isdecimal() and 0 < int(name) <= len(found.ready):
        return (found.ready[int(name) - 1],)
    named = [template for template in found.ready if slug(name) and slug(name) in slug(template.title)]
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
        wide, high = template.size
        a4, a3 = (len(tiles(template, paper).shown) for paper in ("a4", "a3"))
        yield f"  {number:2}  {template.title}: {wide:.0f} by {high:.0f}, {counted(a4, 'sheet')} of A4 or {a3} of A3"
        if template.drawn:
            yield f"      as drawn, not measured yet: {not_measured(template)}"
    yield from _missing(found)
    if not found.ready and not found.missing:
        yield "  none"
    if found.ready:
        yield f"  to make them: sitelog templates {file} {found.part}"


def _missing(found: PartTemplates) -> Iterator[str]:
    yield from (f"  not ready: {one.name}: {one.why}" for one in found.missing)

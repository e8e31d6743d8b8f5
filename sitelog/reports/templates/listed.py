"""How templates are told: each with its size and its sheets, and what is missing for the others."""

from collections.abc import Iterator

from sitelog.quantities.rounding import places
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import PartTemplates
from sitelog.reports.templates.sheets import BATTEN, ENGINEER, not_measured
from sitelog.reports.templates.tiles import tiles
from sitelog.text import counted, text_if


def size_of(template: Template) -> str:
    """How wide and how high it is, mm."""
    wide, high = (places(side, 0) for side in template.size)
    return f"{wide} by {high}"


def sheets_of(template: Template) -> tuple[int, int]:
    """How many sheets of A4, and how many of A3."""
    a4, a3 = (len(tiles(template, paper).shown) for paper in ("a4", "a3"))
    return a4, a3


def sheets_line(template: Template) -> str:
    """Its size, and how many sheets it takes."""
    a4, a3 = sheets_of(template)
    return f"{size_of(template)}, {counted(a4, 'sheet')} of A4 or {a3} of A3"


def drawn_line(template: Template) -> str:
    """What of it is still off the drawing; "" where nothing is."""
    if not template.drawn:
        return ""
    return f"as drawn, not measured yet: {not_measured(template)}"


def told_lines(template: Template) -> list[str]:
    """What is said of one before it is made."""
    batten = text_if(template.is_curved, BATTEN)
    return [line for line in (*template.says, drawn_line(template), batten, ENGINEER) if line]


def missing_lines(found: PartTemplates) -> Iterator[str]:
    """What can't be made yet, a line each."""
    yield from (f"not ready: {one.name}: {one.why}" for one in found.missing)


def nothing(found: PartTemplates) -> str:
    """Why no template of a part can be made; "" where one can."""
    if found.ready:
        return ""
    if not found.missing:
        return f"{found.title} doesn't have templates"
    first = found.missing[0]
    return f"No template of {found.title} is ready: {first.name}: {first.why}"

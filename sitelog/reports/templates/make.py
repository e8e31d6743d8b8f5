"""Which files a template is written to: tiles, one long sheet, SVG or DXF."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from sitelog.reports.templates import pdf
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.dxf import dxf
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import slug
from sitelog.reports.templates.sheets import Heading
from sitelog.reports.templates.svg import svg
from sitelog.reports.templates.tiles import tiles

Write = Callable[[Template, Heading, Bars], bytes]


@dataclass(frozen=True)
class Form:
    """A kind of file: the end of its name, and how a template is written to it."""

    end: str
    write: Write
    printed: bool = True  # a printer's correction is for these


def _tiled(paper: str) -> Write:
    return lambda template, heading, bars: pdf.tiled(tiles(template, paper), heading, bars)


FORMS: Mapping[str, Form] = {
    "a4": Form("-a4.pdf", _tiled("a4")),
    "a3": Form("-a3.pdf", _tiled("a3")),
    "long": Form("-long.pdf", pdf.long),
    "svg": Form(".svg", svg, printed=False),
    "dxf": Form(".dxf", dxf, printed=False),
}


def files_of(
    templates: Iterable[Template], forms: Iterable[Form], stem: str, heading: Heading, bars: Bars
) -> dict[str, bytes]:
    """The bytes of each file by its name. `stem` is of the job and the part. Refusal as the writers have it."""
    forms = [*forms]
    return {
        f"{stem}-{slug(template.title)}{form.end}": form.write(template, heading, bars)
        for template in templates
        for form in forms
    }

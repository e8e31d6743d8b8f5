"""Which files a template is written to: tiles, one long sheet, SVG or DXF."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from sitelog.reports.files import write_all
from sitelog.reports.templates import pdf
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.dxf import dxf
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.part import slug
from sitelog.reports.templates.sheets import MEASURE, TRUE_SIZE, Heading
from sitelog.reports.templates.svg import svg
from sitelog.reports.templates.tiles import tiles
from sitelog.text import text_if

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


def write_beside(file: Path, heading: Heading, part: str, chosen: Template, asked: tuple[Form, Bars]) -> list[Path]:
    """One template in the folder of the job's file. Refusal as the writers have it, or (code 4) the disk."""
    form, bars = asked
    return write_all(files_of([chosen], [form], f"{file.stem}-{part}", heading, bars), file.parent, file)


def made_line(paths: Sequence[Path], asked: tuple[Form, Bars]) -> str:
    """Which file was made, by how much the printer is off, and what to do first."""
    form, bars = asked
    off = text_if(form.printed and bars != Bars(), f" {bars.off}; the sheets are corrected for it.")
    return f"{paths[0].name} in {paths[0].parent}.{off} {MEASURE if form.printed else TRUE_SIZE}"

"""Templates as PDF, full size: tiles with a first sheet that says how to join them, or one long sheet."""

from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from math import ceil, floor
from typing import TYPE_CHECKING

from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.formats import lettering
from sitelog.reports.formats.marks import LEADING, POINT
from sitelog.reports.formats.pdf import MM, fonts
from sitelog.reports.templates import ink
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.model import Template
from sitelog.reports.templates.sheets import ENGINEER, MEASURE, Heading, steps
from sitelog.reports.templates.tiles import LEFT, LOW, OVERLAP, SPARE, Tile, Tiles
from sitelog.text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

FORM = "template"
FOOT = 14.0  # mm from the bottom of the paper: the first line at its foot
SMALL = 2.1  # mm: letters there
ARM = 9.0  # mm of a cross: past the edge of a sheet that is cut and laid over it
LONGEST = 5000.0  # mm of a long sheet: viewers go no further
AIR = 10.0  # mm round a template on a long sheet
BARS_ROOM = 170.0  # mm: what the bars take of a long sheet each way


@dataclass(frozen=True)
class _Press:
    """What all sheets of one file are drawn with."""

    canvas: "Canvas"
    template: Template
    heading: Heading
    bars: Bars

    def foot(self, wide: float, number: str) -> None:
        """What is said at the foot of a sheet so wide [mm]."""
        canvas = self.canvas
        room = wide - LEFT - SPARE
        said = (self.heading.foot(self.template), f"{number} · {self.bars.says}. {MEASURE} {ENGINEER}")
        lines = [line for text in said for line in lettering.wrapped(clean(text, most=300), _length, room)]
        for nth, line in enumerate(lines):
            ink.write(canvas, (LEFT, FOOT - nth * SMALL * LEADING), line, SMALL)

    def true(self, left: float, low: float) -> None:
        """From here on the canvas is true size about that point of the paper [mm], made larger for the printer."""
        self.canvas.translate(left * MM, low * MM)
        self.canvas.scale(*self.bars.factors)


def tiled(tiles: Tiles, heading: Heading, bars: Bars) -> bytes:
    """A file of tiles, led by a sheet that shows how to join them if there are several. Refusal without the library."""
    raw = BytesIO()
    press = _press(raw, tiles.template, heading, bars, (tiles.paper.wide, tiles.paper.high))
    first = len(tiles.shown) > 1
    count = len(tiles.shown) + first
    if first:
        _first_sheet(press, tiles, count)
    for number, tile in enumerate(tiles.shown, 1 + first):
        _tile(press, tiles, tile, f"sheet {number} of {count}")
    press.canvas.save()
    return raw.getvalue()


def long(template: Template, heading: Heading, bars: Bars) -> bytes:
    """One sheet as large as it takes. Refusal for one that viewers don't open, or without the library."""
    left, low, right, high = template.room()
    wide, high = right - left, high - low
    paper = max(wide, BARS_ROOM) + LEFT + SPARE + 2 * AIR, max(high, BARS_ROOM) + LOW + SPARE + 2 * AIR
    if max(paper) > LONGEST:
        raise Refusal(
            f"{template.title} is {places(max(wide, high), 0)} long: over 5 m a long sheet can't be made. "
            "Leave out --long"
        )
    raw = BytesIO()
    press = _press(raw, template, heading, bars, tuple(side * (1 + 0.03) for side in paper))  # type: ignore[arg-type]
    canvas = press.canvas
    press.foot(paper[0], "sheet 1 of 1")
    canvas.saveState()
    press.true(LEFT, LOW)
    ink.bars(canvas, (0.0, -5.0), (-5.0, 0.0))
    canvas.translate((AIR - left) * MM, (AIR - low) * MM)
    ink.template(canvas, template)
    canvas.restoreState()
    canvas.showPage()
    canvas.save()
    return raw.getvalue()


def _press(raw: BytesIO, template: Template, heading: Heading, bars: Bars, paper: tuple[float, float]) -> _Press:
    fonts()
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(raw, pagesize=(paper[0] * MM, paper[1] * MM), invariant=1, pageCompression=1)
    canvas.setTitle(clean(f"{heading.job}: {heading.part}: {template.title}"))
    canvas.setSubject(clean(f"full size, {bars.says}"))
    canvas.setCreator("sitelog")
    canvas.setAuthor("sitelog")
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex")
    return _Press(canvas, template, heading, bars)


def _length(text: str) -> float:
    return lettering.measure()(False, SMALL / POINT)(text)


def _tile(press: _Press, tiles: Tiles, tile: Tile, number: str) -> None:
    """A tile with its border and crosses, the bars beside it, and what is said at its foot."""
    canvas, (across, up) = press.canvas, tiles.paper.tile
    press.foot(tiles.paper.wide, number)
    canvas.saveState()
    press.true(LEFT, LOW)
    _round(canvas, tiles, tile)
    ink.bars(canvas, (0.0, -5.0), (-5.0, 0.0))
    ink.write(
        canvas,
        (across, -6.0),
        f"row {tile.place[: -len(str(tile.column + 1))]}, column {tile.column + 1}",
        4.0,
        bold=True,
        anchor="end",
    )
    clip = canvas.beginPath()
    clip.rect(0, 0, across * MM, up * MM)
    canvas.clipPath(clip, stroke=0)
    for at in tiles.crosses:
        ink.cross(canvas, at, ARM)
    canvas.translate(-tile.left * MM, -tile.low * MM)
    if not canvas.hasForm(FORM):
        _keep(press, tiles)
    canvas.doForm(FORM)
    canvas.restoreState()
    canvas.showPage()


def _keep(press: _Press, tiles: Tiles) -> None:
    """The template once in the file, for every tile to show a part of."""
    ends = tiles.all[0], tiles.all[-1]
    across, up = tiles.paper.tile
    left, low = min(tile.left for tile in ends), min(tile.low for tile in ends)
    right, high = max(tile.left for tile in ends) + across, max(tile.low for tile in ends) + up
    press.canvas.beginForm(
        FORM, *(floor(side * MM) for side in (left, low)), *(ceil(side * MM) for side in (right, high))
    )
    ink.template(press.canvas, press.template)
    press.canvas.endForm()


def _round(canvas: "Canvas", tiles: Tiles, tile: Tile) -> None:
    """The border, and where the neighbours' borders come when they are laid over it."""
    across, up = tiles.paper.tile
    canvas.setLineWidth(0.1 * MM)
    canvas.rect(0, 0, across * MM, up * MM)
    rows, columns = tiles.counts
    canvas.setDash([0.5 * MM, 2.0 * MM])
    places = {
        (OVERLAP, 0.0, OVERLAP, up): tile.column > 0,
        (across - OVERLAP, 0.0, across - OVERLAP, up): tile.column < columns - 1,
        (0.0, up - OVERLAP, across, up - OVERLAP): tile.row > 0,
        (0.0, OVERLAP, across, OVERLAP): tile.row < rows - 1,
    }
    for ends, is_shared in places.items():
        if is_shared:
            canvas.line(*(size * MM for size in ends))
    canvas.setDash([])


def _first_sheet(press: _Press, tiles: Tiles, count: int) -> None:
    """What to do, and the template small with its tiles over it; the bars as on every sheet."""
    canvas, paper = press.canvas, tiles.paper
    across, _ = paper.tile
    press.foot(paper.wide, f"sheet 1 of {count}")
    canvas.saveState()
    press.true(LEFT, LOW)
    ink.bars(canvas, (0.0, -5.0), (-5.0, 0.0))
    canvas.restoreState()
    y = paper.high - SPARE - 10.0
    ink.write(canvas, (LEFT, y), press.template.title, 5.5, bold=True)
    ink.write(canvas, (LEFT, y - 6.0), f"{press.heading.job}, {press.heading.part}. Full size, {press.bars.says}.", 3.2)
    y -= 13.0
    for number, step in enumerate(steps(tiles, press.bars), 1):
        for place, line in enumerate(_wrapped(step, paper.wide - LEFT - SPARE - 12.0)):
            ink.write(canvas, (LEFT, y), f"{number}" if place == 0 else "", 3.2, bold=True)
            ink.write(canvas, (LEFT + 6.0, y), line, 3.2)
            y -= 5.0
    for line in press.template.says:
        for part in _wrapped(line, paper.wide - LEFT - SPARE - 12.0):
            ink.write(canvas, (LEFT + 6.0, y), part, 2.8)
            y -= 4.4
    _map(press, tiles, (LEFT + 8.0, LOW + 4.0, across - 16.0, y - LOW - 8.0))
    canvas.showPage()


def _wrapped(text: str, wide: float) -> list[str]:
    return lettering.wrapped(text, lettering.measure()(False, 3.2 / POINT), wide)


def _map(press: _Press, tiles: Tiles, room: tuple[float, float, float, float]) -> None:
    """The template fitted into the room (left, low, wide, high), with the tiles that are printed and their places."""
    canvas, (across, up) = press.canvas, tiles.paper.tile
    left, low = min(tile.left for tile in tiles.all), min(tile.low for tile in tiles.all)
    wide = max(tile.left for tile in tiles.all) + across - left
    high = max(tile.low for tile in tiles.all) + up - low
    scale = min(room[2] / wide, room[3] / high, 0.5)
    canvas.saveState()
    canvas.translate((room[0] + (room[2] - wide * scale) / 2) * MM, (room[1] + (room[3] - high * scale) / 2) * MM)
    canvas.scale(scale, scale)
    canvas.translate(-left * MM, -low * MM)
    canvas.setLineWidth(0.1 / scale * MM)
    for tile in tiles.shown:
        canvas.rect(tile.left * MM, tile.low * MM, across * MM, up * MM)
        ink.write(canvas, (tile.left + across / 2, tile.low + up / 2), tile.place, 3.0 / scale, anchor="middle")
    canvas.setLineWidth(0.35 / scale * MM)
    for line in press.template.lines:
        if line.layer == "cut":
            _thin(canvas, line.curve.points())
    canvas.restoreState()


def _thin(canvas: "Canvas", points: Sequence[tuple[float, float]]) -> None:
    drawn = canvas.beginPath()
    for number, (x, y) in enumerate(points):
        (drawn.lineTo if number else drawn.moveTo)(x * MM, y * MM)
    canvas.drawPath(drawn)

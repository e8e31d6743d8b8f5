"""Templates drawn with the PDF library: lines, arcs and words in mm, and what is round a tile."""

from collections.abc import Iterable
from itertools import pairwise
from math import radians, tan
from typing import TYPE_CHECKING

from sitelog.reports.formats.pdf import BOLD, MM, PLAIN, shown
from sitelog.reports.templates.bars import BAR
from sitelog.reports.templates.model import Arc, Curve, Label, Line, Point, Template
from sitelog.text import clean

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

PENS = {"cut": 0.3, "mark": 0.15}  # mm
DASHES = (3.0, 1.5)  # mm
ONE_BEZIER = 15.0  # degrees of an arc: good to a millionth of its radius
TICK = 1.5  # mm


def lines(canvas: "Canvas", found: Iterable[Line]) -> None:
    """The lines, those of one pen together."""
    groups: dict[tuple[str, bool], list[Curve]] = {}
    for line in found:
        groups.setdefault((line.layer, line.dashed), []).append(line.curve)
    for (layer, dashed), curves in groups.items():
        canvas.setLineWidth(PENS[layer] * MM)
        canvas.setDash([dash * MM for dash in DASHES] if dashed else [])
        drawn = canvas.beginPath()
        for curve in curves:
            _curve(drawn, curve)
        canvas.drawPath(drawn)
    canvas.setDash([])


def _curve(drawn: "PDFPathObject", curve: Curve) -> None:
    if isinstance(curve, Arc):
        _arc(drawn, curve)
        return
    (x, y), (to_x, to_y) = curve.points()
    drawn.moveTo(x * MM, y * MM)
    drawn.lineTo(to_x * MM, to_y * MM)


def _arc(drawn: "PDFPathObject", arc: Arc) -> None:
    """In Bezier curves; each is tangent to the arc at both its ends."""
    turns = arc.turns(ONE_BEZIER)
    drawn.moveTo(*(size * MM for size in arc.at(turns[0])))
    for turn, to in pairwise(turns):
        reach = 4 / 3 * tan(radians(to - turn) / 4)
        points = (_along(arc, turn, reach), _along(arc, to, -reach), arc.at(to))
        drawn.curveTo(*(size * MM for point in points for size in point))


def _along(arc: Arc, turn: float, reach: float) -> Point:
    """From the point at an angle along its tangent, so many half axes."""
    (x, y), (side_x, side_y), (centre_x, centre_y) = arc.at(turn), arc.at(turn + 90), arc.centre
    return x + reach * (side_x - centre_x), y + reach * (side_y - centre_y)


def label(canvas: "Canvas", words: Label) -> None:
    """One label, on white so that a line under it doesn't strike it out."""
    canvas.saveState()
    canvas.translate(words.at[0] * MM, words.at[1] * MM)
    canvas.rotate(words.angle)
    write(canvas, (0.0, 0.0), words.text, words.size, anchor=words.anchor)
    canvas.restoreState()


def write(canvas: "Canvas", at: Point, text: str, size: float, *, bold: bool = False, anchor: str = "start") -> None:
    """A line of text: the height of its letters in mm."""
    canvas.setFont(BOLD if bold else PLAIN, size * MM)
    draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    draw[anchor](at[0] * MM, at[1] * MM, shown(clean(text, most=300)))


def template(canvas: "Canvas", drawn: Template) -> None:
    """All of it, its own origin at the canvas's."""
    lines(canvas, drawn.lines)
    for words in drawn.labels:
        label(canvas, words)


def bars(canvas: "Canvas", across: Point, up: Point) -> None:
    """Two bars of 100 mm from these points, with ticks at their ends."""
    canvas.setLineWidth(PENS["mark"] * MM)
    (x, y), (to_x, to_y) = across, (across[0] + BAR, across[1])
    _bar(canvas, ((x, y), (to_x, to_y)), (0.0, TICK))
    (x, y), (to_x, to_y) = up, (up[0], up[1] + BAR)
    _bar(canvas, ((x, y), (to_x, to_y)), (TICK, 0.0))
    write(canvas, (across[0] + BAR / 2, across[1] + 1.0), "bar across: 100", 2.4, anchor="middle")
    canvas.saveState()
    canvas.translate((up[0] - 1.0) * MM, (up[1] + BAR / 2) * MM)
    canvas.rotate(90)
    write(canvas, (0.0, 0.0), "bar up: 100", 2.4, anchor="middle")
    canvas.restoreState()


def _bar(canvas: "Canvas", ends: tuple[Point, Point], tick: Point) -> None:
    canvas.line(*(size * MM for point in ends for size in point))
    for x, y in ends:
        canvas.line((x - tick[0]) * MM, (y - tick[1]) * MM, (x + tick[0]) * MM, (y + tick[1]) * MM)


def cross(canvas: "Canvas", at: Point, reach: float) -> None:
    """A fine cross at a point, its arms so long [mm]."""
    x, y = at
    canvas.setLineWidth(0.1 * MM)
    canvas.line((x - reach) * MM, y * MM, (x + reach) * MM, y * MM)
    canvas.line(x * MM, (y - reach) * MM, x * MM, (y + reach) * MM)

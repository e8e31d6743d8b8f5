"""A template as DXF, true size in mm: layers cut, mark and text; arcs as arcs, an ellipse as an ellipse."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from io import StringIO
from math import radians
from tempfile import TemporaryDirectory
from typing import Any

from sitelog.refusal import Refusal
from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.model import Arc, Line, Template
from sitelog.reports.templates.sheets import ENGINEER, Heading
from sitelog.text import clean

NO_DXF = "No DXF was made: install its library with pip install 'sitelog[dxf]'"
CACHE = "XDG_CACHE_HOME"  # the variable that says where the library keeps its list of fonts
MILLIMETRES = 4  # $INSUNITS
COLOURS = {"cut": 1, "mark": 7, "text": 3}  # of AutoCAD's index: red, black or white, green
ANCHORS = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
DASHES = (4.5, 3.0, -1.5)  # mm: the whole pattern, the dash, the gap
UNDER = 12.0  # mm from the template to the words at its foot
SMALL = 3.2  # mm: letters there


def dxf(template: Template, heading: Heading, bars: Bars) -> bytes:
    """The file. It carries no correction for a printer, whatever the bars read. Refusal without the library."""
    with _fixed():
        document = _document()
        space = document.modelspace()
        for line in template.lines:
            _line(space, line)
        for label in template.labels:
            _write(space, label.text, label.at, label.size, anchor=label.anchor, angle=label.angle)
        left, low, _, _ = template.room()
        for number, text in enumerate((heading.foot(template), f"True size in mm. {ENGINEER}")):
            _write(space, text, (left, low - UNDER - number * SMALL * 1.6), SMALL)
        written = StringIO()
        document.write(written)
    return written.getvalue().encode("utf-8")


@cache
def _library() -> Any:
    """The library, loaded; it keeps a list of the machine's fonts, which is thrown away. Refusal without it."""
    before = os.environ.get(CACHE)
    with TemporaryDirectory() as folder:
        os.environ[CACHE] = folder
        try:
            return import_module("ezdxf")
        except ImportError as error:
            raise Refusal(NO_DXF) from error
        finally:
            os.environ.pop(CACHE)
            os.environ |= {CACHE: before} if before is not None else {}


@contextmanager
def _fixed() -> Iterator[None]:
    """Without the clock and without names made by chance: the same template gives the same bytes."""
    options = _library().options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _document() -> Any:
    document = _library().new("R2010", units=MILLIMETRES)
    document.header["$MEASUREMENT"] = 1  # metric
    document.linetypes.add("DASHED", pattern=list(DASHES), description="dashed")
    for name, colour in COLOURS.items():
        document.layers.add(name, color=colour)
    return document


def _line(space: Any, line: Line) -> None:
    look = {"layer": line.layer, **({"linetype": "DASHED"} if line.dashed else {})}
    curve = line.curve
    if not isinstance(curve, Arc):
        space.add_line(curve.start, curve.end, dxfattribs=look)
    elif curve.is_round:
        space.add_arc(curve.centre, curve.across, curve.start, curve.end, dxfattribs=look)
    else:
        _ellipse(space, curve, look)


def _ellipse(space: Any, arc: Arc, look: dict[str, str]) -> None:
    """By its longer half axis, from which its angles run: a quarter turn less where that is plumb."""
    if arc.up > arc.across:
        axis, ratio, turn = (0.0, arc.up), arc.across / arc.up, -90.0
    else:
        axis, ratio, turn = (arc.across, 0.0), arc.up / arc.across, 0.0
    start, end = radians(arc.start + turn), radians(arc.end + turn)
    space.add_ellipse(arc.centre, axis, ratio, start, end, dxfattribs=look)


def _write(
    space: Any,
    text: str,
    at: tuple[float, float],
    size: float,
    *,
    anchor: str = "start",
    angle: float = 0.0,
) -> None:
    words = space.add_text(clean(text, most=300), height=size, rotation=angle, dxfattribs={"layer": "text"})
    words.set_placement(at, align=_library().enums.TextEntityAlignment[ANCHORS[anchor]])

"""Templates to try, the points of their lines, and a PDF of them as a picture."""

from collections.abc import Iterator
from io import BytesIO

import numpy as np
import pytest
from numpy.typing import NDArray

from sitelog.reports.templates.bars import Bars
from sitelog.reports.templates.index import templates_of
from sitelog.reports.templates.model import Arc, Template
from sitelog.reports.templates.sheets import Heading
from tests.drawing.drawn import CASES, answer_of

HEADING = Heading("Kiln Lane, plot 3", "Stair dormer", "29 Nov 2026 07:30", "0123456789abcdef0123")
PLAIN = Bars()
Point = tuple[float, float]


def every() -> Iterator[Template]:
    """The templates of every case that is drawn."""
    for name, words in CASES:
        yield from templates_of(answer_of(name, words))


def one(calculator: str, words: str, title: str) -> Template:
    """The template whose title starts so."""
    return next(template for template in templates_of(answer_of(calculator, words)) if template.title.startswith(title))


def ends(template: Template, layer: str = "cut") -> list[Point]:
    """Both ends of each of its lines."""
    found = [line.curve.points() for line in template.lines if line.layer == layer]
    return [point for points in found for point in (points[0], points[-1])]


def arcs(template: Template, layer: str = "cut") -> list[Arc]:
    return [line.curve for line in template.lines if line.layer == layer and isinstance(line.curve, Arc)]


def nearest(point: Point, points: list[Point]) -> float:
    """How far the nearest of the points is [mm]."""
    return min(float(np.hypot(x - point[0], y - point[1])) for x, y in points)


def pictures(raw: bytes, dots_per_inch: float) -> Iterator[NDArray[np.bool_]]:
    """Each page as dots that are dark or not, from the top left."""
    pdfium = pytest.importorskip("pypdfium2", reason="pypdfium2 is not installed (extra `dev`)")
    document = pdfium.PdfDocument(BytesIO(raw))
    for number in range(len(document)):
        grey = document[number].render(scale=dots_per_inch / 72, grayscale=True).to_numpy()
        yield grey.reshape(grey.shape[0], grey.shape[1]) < 160
    document.close()

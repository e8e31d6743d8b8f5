"""A drawing on paper: one SVG element to stand inside a page, in black, with its sizes told in words as well."""

from collections.abc import Mapping
from functools import lru_cache
from xml.etree import ElementTree as Tree

from sitelog.drawing.lettering import LETTER, LETTER_WIDTH, ROW, box, lettered
from sitelog.drawing.model import Drawing, Stroke, Words, stretched
from sitelog.text import clean

# Stroke width and dashes, mm on paper.
PEN: Mapping[Stroke, tuple[float, str]] = {
    "built": (0.5, ""),
    "bold": (1.1, ""),
    "drawn": (0.45, "0.05 1.4"),
    "thin": (0.18, ""),
    "hidden": (0.3, "2 1.2"),
}
MARGIN = 2.0  # mm
TALLEST = 92.0  # mm: two drawings and their words on one A4 page


def svg(drawing: Drawing, *, width_mm: float) -> str:
    """The drawing as an SVG element at most `width_mm` wide, true in proportion."""
    drawing = stretched(drawing)
    left, bottom, right, top, scale = fitted(drawing, width_mm, TALLEST)
    width, height = (right - left) * scale + 2 * MARGIN, (top - bottom) * scale + 2 * MARGIN
    root = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "role": "img",
            "width": f"{width:.2f}mm",
            "height": f"{height:.2f}mm",
            "viewBox": f"0 0 {width:.2f} {height:.2f}",
        },
    )
    Tree.SubElement(root, "title").text = clean(drawing.title)
    Tree.SubElement(root, "desc").text = clean("; ".join(drawing.says), most=4000)

    def at(x: float, y: float) -> tuple[float, float]:
        return (x - left) * scale + MARGIN, (top - y) * scale + MARGIN

    for line in drawing.lines:
        pen, dashes = PEN[line.stroke]
        points = " ".join(f"{x:.2f},{y:.2f}" for x, y in (at(*point) for point in line.points))
        shape = Tree.SubElement(root, "polygon" if line.closed else "polyline", {"points": points})
        shape.attrib |= {
            "fill": "none",
            "stroke": "#000",
            "stroke-width": f"{pen}",
            "stroke-linejoin": "round",
        }
        if dashes:
            shape.attrib |= {"stroke-dasharray": dashes, "stroke-linecap": "round"}
    standing = lettered(drawing, scale)
    for words in standing:
        _clear(root, words, *at(*words.at))
    for words in standing:
        _write(root, words, *at(*words.at))
    return Tree.tostring(root, encoding="unicode")


def size_mm(drawing: Drawing, width_mm: float, tallest: float) -> tuple[float, float]:
    """Width and height of the drawing on paper [mm], margins and all, where it may be so wide and so tall."""
    left, bottom, right, top, scale = fitted(stretched(drawing), width_mm, tallest)
    return (right - left) * scale + 2 * MARGIN, (top - bottom) * scale + 2 * MARGIN


def rows_on_paper(words: Words, y: float) -> list[tuple[str, float]]:
    """Each row, and where its letters stand [mm of paper, y down]."""
    middle = y - words.raised * LETTER * ROW
    first = middle - (len(words.rows) - 1) * LETTER * ROW / 2 + LETTER * 0.35
    return [(row, first + number * LETTER * ROW) for number, row in enumerate(words.rows)]


def _turned(words: Words, x: float, y: float) -> dict[str, str]:
    if not words.angle:
        return {}
    return {"transform": f"rotate({-words.angle:.2f} {x:.2f} {y:.2f})"}


def _clear(root: Tree.Element, words: Words, x: float, y: float) -> None:
    """White paper under each row, which keeps a figure legible where a line runs under it."""
    for row, base in rows_on_paper(words, y):
        length = len(row) * LETTER * LETTER_WIDTH
        place = {
            "x": f"{x + words.left_of(length):.2f}",
            "y": f"{base - LETTER * 0.8:.2f}",
            "width": f"{length:.2f}",
            "height": f"{LETTER * 0.9:.2f}",
            "fill": "#fff",
        }
        Tree.SubElement(root, "rect", place | _turned(words, x, y))


def _write(root: Tree.Element, words: Words, x: float, y: float) -> None:
    look = {"font-size": f"{LETTER}", "font-family": "sans-serif", "text-anchor": words.anchor}
    text = Tree.SubElement(root, "text", look | _turned(words, x, y))
    for row, base in rows_on_paper(words, y):
        Tree.SubElement(text, "tspan", {"x": f"{x:.2f}", "y": f"{base:.2f}"}).text = clean(row)


@lru_cache(maxsize=256)
def fitted(drawing: Drawing, width_mm: float, tallest: float) -> tuple[float, float, float, float, float]:
    """Left, bottom, right, top [mm of the roof] of all that is drawn and written, and paper mm to a roof mm."""
    low, high = 1e-6, 1e3
    for _ in range(60):
        scale = (low * high) ** 0.5
        left, bottom, right, top = box(drawing, scale)
        fits = (right - left) * scale <= width_mm - 2 * MARGIN and (top - bottom) * scale <= tallest
        low, high = (scale, high) if fits else (low, scale)
    return (*box(drawing, low), low)

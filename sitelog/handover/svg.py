"""A drawing on paper: one SVG element to stand inside a page, in black, with its sizes told in words as well."""

from collections.abc import Mapping
from xml.etree import ElementTree as Tree

from sitelog.handover.lines import Drawing, Stroke, Words, extent, stretched, thinned
from sitelog.text import clean

# Stroke width and dashes, mm on paper.
PEN: Mapping[Stroke, tuple[float, str]] = {
    "built": (0.5, ""),
    "bold": (1.1, ""),
    "drawn": (0.45, "0.05 1.4"),
    "thin": (0.18, ""),
    "hidden": (0.3, "2 1.2"),
}
LETTER = 3.1  # mm, height of type
LETTER_WIDTH = 0.56  # of its height, as a sans face runs on the whole
ROW = 1.25  # of its height
MARGIN = 2.0  # mm
TALLEST = 92.0  # mm: two drawings and their words on one A4 page


def svg(drawing: Drawing, *, width_mm: float) -> str:
    """The drawing as an SVG element at most `width_mm` wide, true in proportion."""
    drawing = stretched(drawing)
    left, bottom, right, top, scale = _sheet(drawing, width_mm)
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
        points = " ".join(f"{x:.2f},{y:.2f}" for x, y in (at(*p) for p in line.points))
        shape = Tree.SubElement(root, "polygon" if line.closed else "polyline", {"points": points})
        shape.attrib |= {
            "fill": "none",
            "stroke": "#000",
            "stroke-width": f"{pen}",
            "stroke-linejoin": "round",
        }
        if dashes:
            shape.attrib |= {"stroke-dasharray": dashes, "stroke-linecap": "round"}
    for words in thinned(drawing.words, lambda one, other: _clash(one, other, scale)):
        _write(root, words, *at(*words.at))
    return Tree.tostring(root, encoding="unicode")


def _write(root: Tree.Element, words: Words, x: float, y: float) -> None:
    text = Tree.SubElement(
        root,
        "text",
        {
            "font-size": f"{LETTER}",
            "font-family": "sans-serif",
            "text-anchor": words.anchor,
            # A white edge keeps a figure legible where a line runs under it.
            "stroke": "#fff",
            "stroke-width": "0.8",
            "stroke-linejoin": "round",
            "paint-order": "stroke",
        },
    )
    if words.angle:
        text.set("transform", f"rotate({-words.angle:.2f} {x:.2f} {y:.2f})")
    middle = y - words.raised * LETTER * ROW
    first = middle - (len(words.rows) - 1) * LETTER * ROW / 2 + LETTER * 0.35
    for n, row in enumerate(words.rows):
        place = {"x": f"{x:.2f}", "y": f"{first + n * LETTER * ROW:.2f}"}
        Tree.SubElement(text, "tspan", place).text = clean(row)


def _sheet(drawing: Drawing, width_mm: float) -> tuple[float, float, float, float, float]:
    """Left, bottom, right, top [mm of the roof] of all that is drawn and written, and paper mm to a roof mm."""
    low, high = 1e-6, 1e3
    for _ in range(60):
        scale = (low * high) ** 0.5
        left, bottom, right, top = _box(drawing, scale)
        fits = (right - left) * scale <= width_mm - 2 * MARGIN and (top - bottom) * scale <= TALLEST
        low, high = (scale, high) if fits else (low, scale)
    return (*_box(drawing, low), low)


def _box(drawing: Drawing, scale: float) -> tuple[float, float, float, float]:
    left, bottom, right, top = extent(drawing)
    for words in drawing.words:
        if words.angle:
            continue  # turned words lie along a line that is inside already
        start, low, end, high = _block(words, scale)
        left, right = min(left, start), max(right, end)
        bottom, top = min(bottom, low), max(top, high)
    return left, bottom, right, top


def _block(words: Words, scale: float) -> tuple[float, float, float, float]:
    """Left, bottom, right and top [mm of the roof] of a block of words."""
    length = words.longest * LETTER * LETTER_WIDTH / scale
    half = len(words.rows) * LETTER * ROW / 2 / scale
    start = words.at[0] + words.left_of(length)
    middle = words.at[1] + words.raised * LETTER * ROW / scale
    return start, middle - half, start + length, middle + half


def _clash(one: Words, other: Words, scale: float) -> bool:
    """True where two blocks are less than a letter apart."""
    a, b = _block(one, scale), _block(other, scale)
    gap = LETTER * LETTER_WIDTH / scale
    return a[0] < b[2] + gap and b[0] < a[2] + gap and a[1] < b[3] and b[1] < a[3]

"""A template as SVG, true size in mm: groups for what is cut, marked and written; arcs as arcs."""

from collections.abc import Callable
from xml.etree import ElementTree as Tree

from sitelog.reports.templates.bars import BAR, Bars
from sitelog.reports.templates.model import Arc, Curve, Label, Point, Template
from sitelog.reports.templates.sheets import ENGINEER, MEASURE, Heading
from sitelog.text import clean

AIR = 15.0  # mm round the template
FOOT = 26.0  # mm under it for the bars and the words
UP = 14.0  # mm beside it for the bar up
PENS = {"cut": ("#c00", "0.2"), "mark": ("#000", "0.1")}
SMALL = 2.6  # mm: letters at the foot


def svg(template: Template, heading: Heading, bars: Bars) -> bytes:
    """The file. It carries no correction for a printer, whatever the bars read; its own bars show one."""
    left, low, right, high = template.room()
    wide, tall = max(right - left, BAR) + 2 * AIR + UP, max(high - low, BAR) + 2 * AIR + FOOT
    root = Tree.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{wide:.2f}mm",
            "height": f"{tall:.2f}mm",
            "viewBox": f"0 0 {wide:.2f} {tall:.2f}",
        },
    )
    Tree.SubElement(root, "title").text = clean(heading.foot(template), most=300)

    def at(point: Point) -> Point:
        """From the top left of the sheet [mm]."""
        return point[0] - left + AIR + UP, AIR + high - point[1]

    for layer, (colour, pen) in PENS.items():
        group = Tree.SubElement(root, "g", {"id": layer, "fill": "none", "stroke": colour, "stroke-width": pen})
        for line in template.lines:
            if line.layer == layer:
                dashes = {"stroke-dasharray": "3 1.5"} if line.dashed else {}
                Tree.SubElement(group, "path", {"d": _path(line.curve, at), **dashes})
    words = Tree.SubElement(root, "g", {"id": "text", "font-family": "sans-serif"})
    for label in template.labels:
        _write(words, at(label.at), label)
    _foot(root, words, tall, (heading.foot(template), f"True size, no correction. {MEASURE} {ENGINEER}"))
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + Tree.tostring(root, encoding="unicode").encode()


def _path(curve: Curve, at: Callable[[Point], Point]) -> str:
    if not isinstance(curve, Arc):
        (x, y), (to_x, to_y) = (at(point) for point in curve.points())
        return f"M{x:.4f} {y:.4f}L{to_x:.4f} {to_y:.4f}"
    (x, y), (to_x, to_y) = at(curve.at(curve.start)), at(curve.at(curve.end))
    large = int(curve.end - curve.start > 180)
    return f"M{x:.4f} {y:.4f}A{curve.across:.4f} {curve.up:.4f} 0 {large} 0 {to_x:.4f} {to_y:.4f}"


def _write(words: Tree.Element, at: Point, label: Label) -> None:
    look = {"x": f"{at[0]:.3f}", "y": f"{at[1]:.3f}", "font-size": f"{label.size}", "text-anchor": label.anchor}
    if label.angle:
        look["transform"] = f"rotate({-label.angle:.3f} {at[0]:.3f} {at[1]:.3f})"
    Tree.SubElement(words, "text", look).text = clean(label.text, most=300)


def _foot(root: Tree.Element, words: Tree.Element, tall: float, texts: tuple[str, ...]) -> None:
    """Both bars, and what is said at the foot."""
    low = tall - FOOT + 8.0
    across, up = (AIR + UP, low), (UP - 4.0, low - 4.0)
    bars = Tree.SubElement(root, "g", {"id": "bars", "fill": "none", "stroke": "#000", "stroke-width": "0.1"})
    for (x, y), (to_x, to_y), (tick_x, tick_y) in (
        (across, (across[0] + BAR, across[1]), (0.0, 1.5)),
        (up, (up[0], up[1] - BAR), (1.5, 0.0)),
    ):
        ticks = "".join(
            f"M{one_x - tick_x:.3f} {one_y - tick_y:.3f}L{one_x + tick_x:.3f} {one_y + tick_y:.3f}"
            for one_x, one_y in ((x, y), (to_x, to_y))
        )
        Tree.SubElement(bars, "path", {"d": f"M{x:.3f} {y:.3f}L{to_x:.3f} {to_y:.3f}{ticks}"})
    _write(words, (across[0] + BAR / 2, across[1] - 1.0), Label((0, 0), "bar across: 100", size=SMALL))
    _write(words, (up[0] - 1.0, up[1] - BAR / 2), Label((0, 0), "bar up: 100", angle=90.0, size=SMALL))
    for number, text in enumerate(texts):
        _write(words, (across[0], low + 6.0 + number * 4.0), Label((0, 0), text, "start", size=SMALL))

"""SVG and DXF: true size, layers, arcs as arcs, and the same bytes each time; read back point for point."""

import io
import re
from math import degrees
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Tree

import pytest

from sitelog.reports.templates.bars import Bars, bars
from sitelog.reports.templates.dxf import dxf
from sitelog.reports.templates.model import Arc, Template, path
from sitelog.reports.templates.svg import svg
from tests.templates.made import HEADING, PLAIN, every, nearest, one

SVG = "{http://www.w3.org/2000/svg}"


def written(template: Template, read: Bars = PLAIN) -> bytes:
    pytest.importorskip("ezdxf", reason="ezdxf is not installed (extra `dxf`)")
    return dxf(template, HEADING, read)


def read_dxf(template: Template) -> Any:
    raw = written(template)
    from ezdxf.filemanagement import read

    return read(io.StringIO(raw.decode("utf-8")))


def test_a_dxf_read_back_has_the_same_points_and_arcs_as_arcs() -> None:
    for template in every():
        document = read_dxf(template)
        assert document.units == 4 and not document.audit().errors, "millimetres"
        for layer in ("cut", "mark"):
            _same(template, layer, document.modelspace())
        words = {text.dxf.text for text in document.modelspace().query('TEXT[layer=="text"]')}
        assert {label.text for label in template.labels} <= words
        assert any(HEADING.head in text for text in words)


def _same(template: Template, layer: str, space: Any) -> None:
    curves = [line.curve for line in template.lines if line.layer == layer]
    found = list(space.query(f'LINE ARC ELLIPSE[layer=="{layer}"]'))
    assert len(found) == len(curves)
    points = [(x, y) for read in found for x, y, *_ in _ends(read)]
    for curve in curves:
        for point in (curve.points()[0], curve.points()[-1]):
            assert nearest(point, points) < 1e-6
    arcs = [curve for curve in curves if isinstance(curve, Arc)]
    assert len(space.query(f'ARC[layer=="{layer}"]')) == sum(arc.is_round for arc in arcs)
    assert len(space.query(f'ELLIPSE[layer=="{layer}"]')) == sum(not arc.is_round for arc in arcs)


def _ends(found: Any) -> list[Any]:
    if found.dxftype() == "LINE":
        return [found.dxf.start, found.dxf.end]
    return [found.start_point, found.end_point]


def test_an_arc_of_a_dxf_turns_the_way_it_is_drawn() -> None:
    """The crown of a former is over its springing: 90 degrees is between the ends of the arc."""
    space = read_dxf(one("rib", "", "Whole rib")).modelspace()
    for arc in space.query('ARC[layer=="cut"]'):
        assert arc.dxf.start_angle == pytest.approx(0) and arc.dxf.end_angle == pytest.approx(180)
    line = one("barrel", "radius=900 pitch=30 spacing=300", "Barrel: line")
    ellipse = read_dxf(line).modelspace().query('ELLIPSE[layer=="cut"]')[0]
    middle = (ellipse.dxf.start_param + ellipse.dxf.end_param) / 2
    crown = next(iter(ellipse.vertices([middle])))
    assert (crown.x, crown.y) == pytest.approx((900, 1800)), degrees(middle)


def test_a_dxf_has_the_same_bytes_each_time_and_leaves_nothing_in_the_home_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    former = one("formers", "", "Former")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert written(former) == written(former)
    assert not list(tmp_path.iterdir())


def test_an_svg_is_as_large_in_mm_as_its_own_units() -> None:
    for template in every():
        root = Tree.fromstring(svg(template, HEADING, PLAIN))
        wide, high = (float(root.attrib[name].removesuffix("mm")) for name in ("width", "height"))
        assert root.attrib["viewBox"] == f"0 0 {wide:.2f} {high:.2f}"
        for layer in ("cut", "mark"):
            group = next(one for one in root.iter(f"{SVG}g") if one.get("id") == layer)
            lines = [line for line in template.lines if line.layer == layer]
            arcs = [isinstance(line.curve, Arc) for line in lines]
            assert ["A" in shape.attrib["d"] for shape in group] == arcs


def test_the_points_of_an_svg_are_as_far_apart_as_on_the_template() -> None:
    square = Template("Square", tuple(path(((0, 0), (600, 0), (600, 450)))))
    root = Tree.fromstring(svg(square, HEADING, PLAIN))
    group = next(one for one in root.iter(f"{SVG}g") if one.get("id") == "cut")
    found = [[float(size) for size in re.findall(r"-?[\d.]+", shape.attrib["d"])] for shape in group]
    (x, y, to_x, to_y), (_, _, _, up) = found
    assert (to_x - x, to_y - y, up - to_y) == pytest.approx((600, 0, -450))


def test_words_of_people_are_text_in_both() -> None:
    hostile = Template('<b onload="x">&\x1b[31m', tuple(path(((0, 0), (600, 0)))))
    root = Tree.fromstring(svg(hostile, HEADING, PLAIN))
    assert not list(root.iter(f"{SVG}b")) and "\x1b" not in Tree.tostring(root, encoding="unicode")
    assert "\x1b" not in written(hostile).decode()


def test_a_printers_correction_is_not_for_them() -> None:
    former, off = one("formers", "", "Former"), bars("99", "101")
    assert svg(former, HEADING, off) == svg(former, HEADING, PLAIN)
    assert written(former, off) == written(former)

"""What is on a template is what its calculator works out, point for point and figure for figure."""

from math import cos, hypot, radians, sin, tan

import pytest

from sitelog.calculators.catalogue import Row
from sitelog.calculators.curves.formers.curve import Point
from sitelog.reports.templates.index import WHERE
from sitelog.reports.templates.model import Template
from tests.drawing.drawn import CASES, answer_of
from tests.templates.made import arcs, ends, every, nearest, one

FORMERS = [words for name, words in CASES if name == "formers"]
SKEW = "kind=hip corner=100 pitch=35 pitch2=40 run=3000 common_height_above_plate=122 overhang=300"


def rows(name: str, words: str, table: str) -> list[Row]:
    found = answer_of(name, words).results[table]
    assert isinstance(found, list)
    return found


def number(row: Row, name: str) -> float:
    return float(str(row[name]))


def said(template: Template) -> str:
    return " ".join((*template.says, *(label.text for label in template.labels)))


def test_each_calculator_of_the_list_has_a_case_that_is_tried_here() -> None:
    assert set(WHERE) <= {name for name, _ in CASES}


@pytest.mark.parametrize("words", FORMERS)
def test_a_former_has_each_corner_of_its_slots_and_its_edges_as_arcs(words: str) -> None:
    """The slots' corners and the radii are those of the list; chords of the outline are arcs again."""
    answer, former = answer_of("formers", words), one("formers", words, "Former")
    corners = ends(former)
    for slot in rows("formers", words, "slots"):
        for name in ("mouth_left", "floor_left", "floor_right", "mouth_right"):
            at: Point = (number(slot, f"{name}_x"), number(slot, f"{name}_y"))
            if at[1] > 0:
                assert nearest(at, corners) < 1e-6
    radii = {round(arc.across, 6) for arc in arcs(former)}
    assert radii == {round(float(str(answer.results[name])), 6) for name in ("former_radius", "inside_radius")}
    on_it = [point for line in former.lines for point in line.curve.points()]
    outline = [(number(row, "x"), number(row, "y")) for row in rows("formers", words, "outline")]
    assert max(nearest(point, on_it) for point in outline[:: max(len(outline) // 40, 1)]) < 10
    assert len(arcs(former)) < 20, "an edge between two slots is one arc"


def test_a_former_shows_the_figures_of_the_list() -> None:
    """By planes and polygons: bearers' curve 882, inside 712, centres 453.98, 94.69 left under a slot."""
    words = "radius=900 sheet=18 lining=15 former=170 count=7 pitch=45 board=300"
    text = said(one("formers", words, "Former"))
    for figure in ("1764", "882", "712", "454", "95 left", "7 slots", "47x75"):
        assert figure in text, figure


def test_a_rib_is_drawn_by_its_radius_and_each_point_of_its_outline_is_on_it() -> None:
    """By hand: 900 radius in four segments of 45 degrees, chord 2 x 900 x sin 22.5 = 688.83."""
    segment = one("rib", "", "One segment")
    for row in rows("rib", "", "outline"):
        x, y = number(row, "x"), number(row, "y")
        assert min(abs(hypot(x - arc.centre[0], y - arc.centre[1]) - arc.across) for arc in arcs(segment)) < 1e-6
    outer = arcs(segment)[0]
    assert outer.across == 900
    assert hypot(*(b - a for a, b in zip(outer.at(outer.start), outer.at(outer.end), strict=True))) == pytest.approx(
        2 * 900 * sin(radians(22.5)), abs=1e-6
    )
    assert "689" in said(segment) and "22.5°" in said(segment)


BARREL = "radius=900 pitch=30 spacing=300 deck=18 inside=100 below=190"
EYEBROW = "width=2600 rise=420 split=0.4 pitch=55 spacing=520 deck=12 inside=60 below=150"


@pytest.mark.parametrize(("name", "words"), [("barrel", BARREL), ("eyebrow", EYEBROW)])
@pytest.mark.parametrize(
    ("table", "title", "layer"),
    [
        ("rows", "line on the main", "cut"),
        ("lower_rows", "line on the main", "mark"),
        ("ceiling_rows", "line at", "cut"),
    ],
)
def test_a_dormers_line_goes_through_every_mark_of_both_faces_and_of_the_ceiling(
    name: str, words: str, table: str, title: str, layer: str
) -> None:
    """An ellipse: the distance from its centre in half axes is 1 at each mark."""
    template = one(name, words, f"{name.capitalize()}: {title}")
    for row in rows(name, words, table):
        at, up = number(row, "at"), number(row, "along_slope")
        off = [
            abs(hypot((at - arc.centre[0]) / arc.across, (up - arc.centre[1]) / arc.up) - 1) * arc.across
            for arc in arcs(template, layer)
        ]
        assert min(off) < 1e-6, (at, up)


def test_the_line_on_the_slope_says_how_far_the_line_beneath_is_and_how_the_saw_leans() -> None:
    """By hand: 18 of sheet at 30 degrees is 31.18 further up; saw 60 at the crown, 0 at the ends."""
    text = said(one("barrel", BARREL, "Barrel: line on the main"))
    assert "31 further up" in text and "60.0° at the crown, 0.0° at the ends" in text


def test_an_eyebrows_face_is_three_arcs_that_meet_without_a_kink() -> None:
    left, crown, right = arcs(one("eyebrow", EYEBROW, "Eyebrow: curve"))
    for wing, at, of in ((left, left.end, crown.end), (right, right.start, crown.start)):
        assert wing.at(at) == pytest.approx(crown.at(of), abs=1e-6)
    assert left.at(left.start) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert crown.at(90.0) == pytest.approx((1300.0, 420.0), abs=1e-9)


def test_a_birdsmouth_is_cut_level_and_plumb_by_the_sizes_of_the_list() -> None:
    """By hand at 35 degrees in 47x150: a third is 50 deep, seat 50 / sin 35 = 87.17, heel 50 / cos 35 = 61.04."""
    template = one("birdsmouth", "section=47x150 pitch=35 plate=100", "Birdsmouth")
    corner = 100 * tan(radians(35)), -100.0
    seat = corner[0] - 50 / tan(radians(35)), -150.0
    heel = corner[0] + 50 * tan(radians(35)), -150.0
    for point in (corner, seat, heel):
        assert nearest(point, ends(template)) < 1e-6
    assert hypot(corner[0] - seat[0], 50) == pytest.approx(50 / sin(radians(35)))
    assert hypot(corner[0] - heel[0], 50) == pytest.approx(50 / cos(radians(35)))
    assert all(figure in said(template) for figure in ("50 deep", "seat 87", "heel 61", "122"))


@pytest.mark.parametrize("zero", ["head", "tail"])
def test_a_common_s_foot_is_its_marks_on_the_bench_whichever_end_the_tape_hooks(zero: str) -> None:
    """By the marks on the bench: plumb line at 3639.13, corner 3709.15 (100 down), seat 3637.74, tail 4005.36."""
    words = f"pitch=35 run=3000 ridge=38mm overhang=300 zero={zero}"
    foot = one("sticks", words, "Birdsmouth and tail, either face")
    for at, down in ((3709.15, 100), (3637.74, 150), (3744.16, 150), (4005.36, 0), (4110.39, 150)):
        assert nearest((at - 3639.13, -down), ends(foot)) < 0.011
    head = one("sticks", words, "Head, either face")
    assert nearest((105.03, -150), ends(head)) < 0.01 and nearest((0, 0), ends(head)) < 1e-9


def test_a_hip_with_two_pitches_has_a_foot_for_each_face() -> None:
    found = [template.title for template in every() if "irdsmouth and tail, face" in template.title]
    assert {"Birdsmouth and tail, face 1", "Birdsmouth and tail, face 2", "Birdsmouth and tail, faces 1 and 2"} <= set(
        found
    )
    one_face, other = (one("sticks", SKEW, f"Head, face {face}") for face in (1, 2))
    answer = answer_of("sticks", SKEW)
    for face, template in ((1, one_face), (2, other)):
        bevel = float(str(answer.results[f"head_bevel_{face}_from_square"]))
        assert f"{bevel:.1f}°" in said(template)


def test_the_backing_of_a_hip_is_its_angle_across_half_its_thickness() -> None:
    """By hand: at 35 degrees both sides 23.9, so 23.5 x tan 23.9 = 10.4 down each face of a hip 47 thick."""
    template = one("hip", "corner=90 pitch=35 run=3000 section=47x225", "Backing")
    backing = float(str(answer_of("hip", "corner=90 pitch=35 run=3000 section=47x225").results["backing_1"]))
    assert backing == pytest.approx(23.93, abs=0.01)
    for x in (-23.5, 23.5):
        assert nearest((x, -23.5 * tan(radians(backing))), ends(template)) < 1e-6
    assert "23.9°" in said(template)


def test_a_scarf_has_the_outline_and_the_wedge_of_the_list() -> None:
    """By hand: nib a quarter of 220; wedge 8.042 to 11.958 to 15.292, 87 long."""
    words = "depth=220"
    half, wedge = one("scarf", words, "Scarf, one half"), one("scarf", words, "Scarf, wedge")
    for row in rows("scarf", words, "outline"):
        assert nearest((number(row, "x"), number(row, "y")), ends(half)) < 1e-6
    for point in ((-40.0, 15.292), (47.0, 8.042), (47.0, 0.0)):
        assert nearest(point, ends(wedge)) < 0.001


def test_the_end_of_a_ridge_has_its_last_pairs_as_far_from_the_end_as_the_list_has_them() -> None:
    ridge = one("sticks", "kind=ridge section=38x225 length=3046 marks=23,423,823,1223,3023", "End")
    across = {round(x, 6) for x, _ in ends(ridge, "mark")}
    assert {23.0, 423.0} <= across


def test_every_template_is_in_one_piece_and_has_its_name_on_it() -> None:
    for template in every():
        assert template.labels and template.says
        wide, high = template.size
        assert 20 < wide < 5000 and 20 < high < 5000

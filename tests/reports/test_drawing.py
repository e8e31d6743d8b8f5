"""The drawings: their points are the roof's own, and they read in a terminal and on paper."""

import math
import re
from xml.etree import ElementTree as Tree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sitelog.calculators import index
from sitelog.calculators.catalogue import Value
from sitelog.drawing.index import drawings_of
from sitelog.drawing.model import Drawing, Line, Point, Stroke, Words
from sitelog.drawing.roof_plan import gabled, roof_plan
from sitelog.drawing.svg import svg
from sitelog.drawing.terminal import render
from sitelog.refusal import Refusal
from tests.calculators.results import corners
from tests.reports.by_hand import ASKEW, BUILT, DRAWN, RAFTER, hipped_facts, state

RAFTER_OF_COMMON = {
    {"ridge_thickness": "ridge", "plate_width": "plate"}.get(name, name): value for name, value in RAFTER.items()
}
Floats = NDArray[np.float64]


def plan(built: dict[str, float] | None = None, stage: str = "") -> Drawing:
    drawing = roof_plan(state(hipped_facts(built)), "main", stage=stage)
    assert drawing is not None
    return drawing


def strokes(drawing: Drawing, stroke: Stroke) -> list[Line]:
    return [line for line in drawing.lines if line.stroke == stroke]


def points(lines: list[Line]) -> set[tuple[float, float]]:
    return {(round(x, 3), round(y, 3)) for line in lines for x, y in line.points}


def near(one: Point, other: Point) -> bool:
    return math.dist(one, other) < 0.01


# --- the plan -----------------------------------------------------------------------------------------------------


def test_a_roof_not_yet_measured_is_dotted_only_with_its_ridge_where_four_equal_slopes_meet() -> None:
    """9000 x 6000 at one pitch: hips run at 45 degrees on plan, so the ridge is 3000 long, 3000 in (geometry)."""
    drawing = plan()
    assert not strokes(drawing, "built") and not strokes(drawing, "bold")
    assert points(strokes(drawing, "drawn")) == {
        (0, 0),
        (9000, 0),
        (9000, 6000),
        (0, 6000),
        (3000, 3000),
        (6000, 3000),
    }


@pytest.mark.parametrize("built", [BUILT, ASKEW])
def test_the_built_plan_stands_on_the_points_that_the_roof_calculator_gives(built: dict[str, float]) -> None:
    answer = index.find("roof")(**built, pitch=35.0)
    found = points(strokes(plan(built), "built"))
    for end in ("ridge_p", "ridge_q"):
        point = answer.results[end]
        assert isinstance(point, dict)
        assert (round(float(point["x"] or 0), 3), round(float(point["y"] or 0), 3)) in found
    for x, y in corners(*(built[name] for name in ("ab", "bc", "cd", "da", "ac", "bd"))).values():
        assert (round(x, 3), round(y, 3)) in found
    assert len(found) == 6


def test_the_ends_of_the_ridge_are_where_three_planes_through_the_plates_meet() -> None:
    """By numpy, with no help from the calculators: planes at 35 degrees through the edges as drawn on the plan."""
    drawing = plan(ASKEW)
    sides = {}
    for name, taped in zip(("AB", "BC", "CD", "DA"), strokes(drawing, "built"), strict=False):
        start, end = np.array(taped.points[0]), np.array(taped.points[1])
        along = (end - start) / np.linalg.norm(end - start)
        inward = np.array([-along[1], along[0]])
        slope = math.tan(math.radians(35))
        sides[name] = (np.array([slope * inward[0], slope * inward[1], -1.0]), slope * float(inward @ start))

    def meet(*names: str) -> Floats:
        rows = np.array([sides[name][0] for name in names])
        found: Floats = np.linalg.solve(rows, np.array([sides[name][1] for name in names]))
        return found[:2]

    ridge = strokes(drawing, "built")[-1].points
    assert np.allclose(ridge[0], meet("DA", "AB", "CD"), atol=1e-6)
    assert np.allclose(ridge[1], meet("AB", "BC", "CD"), atol=1e-6)


def test_each_plate_that_was_taped_is_as_long_on_the_plan_as_the_tape_said_to_the_misfit_of_six_lengths() -> None:
    for line, name in zip(strokes(plan(BUILT), "built"), ("ab", "bc", "cd", "da"), strict=False):
        assert math.dist(*line.points) == pytest.approx(BUILT[name], abs=3)


def test_only_a_plate_that_was_measured_is_solid_and_no_hip_is_until_all_six_lengths_are() -> None:
    drawing = plan({"ab": 8996.0})
    (line,) = strokes(drawing, "built")
    assert math.dist(*line.points) == pytest.approx(8996, abs=2)  # fitted to the five lengths that are as drawn
    assert "AB 8996 (drawn 9000)" in [words.text for words in drawing.words]
    assert "BC 6000\ndrawn" in [words.text for words in drawing.words]


@pytest.mark.parametrize(
    ("stage", "count"),
    [
        ("main.plates", 1),
        ("hips", 4),
        ("main.hip-lines", 4),
        ("ridge", 1),
        ("main.first-pair", 1),
        ("eaves", 0),
    ],
)
def test_the_members_of_the_stage_in_hand_are_bold(stage: str, count: int) -> None:
    assert len(strokes(plan(BUILT, stage), "bold")) == count


def test_the_first_pair_stands_square_to_its_plates_at_the_end_of_the_ridge() -> None:
    (pair,) = strokes(plan(None, "first-pair"), "bold")
    assert near(pair.points[0], (3000, 0)) and near(pair.points[1], (3000, 3000)) and near(pair.points[2], (3000, 6000))


def test_lengths_that_close_no_outline_leave_the_drawn_plan_and_say_why() -> None:
    drawing = plan({**DRAWN, "ac": 16000.0})
    assert not strokes(drawing, "built")
    assert any("can't be longer than" in said for said in drawing.says)


@pytest.mark.parametrize("gone", ["ridge", "ab", "pitch"])
def test_there_is_no_plan_while_a_figure_it_stands_on_is_not_known(gone: str) -> None:
    facts = hipped_facts()
    del facts[f"main.{gone}"]
    assert roof_plan(state(facts), "main") is None


def test_a_gabled_roof_has_its_ridge_from_gable_to_gable_over_the_meeting_of_its_slopes() -> None:
    facts = {name: fact for name, fact in hipped_facts(ASKEW).items() if not name.startswith("main.hip_")}
    drawing = roof_plan(state(facts), "main", stage="ridge")
    assert drawing is not None
    (ridge,) = strokes(drawing, "bold")
    a, b, c, d = (corners(*ASKEW.values())[name] for name in "ABCD")
    for end, (start, stop) in zip(ridge.points, ((d, a), (b, c)), strict=True):
        gable, off = np.subtract(stop, start), np.subtract(end, start)
        assert square_off(gable / np.linalg.norm(gable), off) == pytest.approx(0, abs=1e-6)
        far = [
            square_off(np.subtract(q, p) / np.linalg.norm(np.subtract(q, p)), np.subtract(end, p))
            for p, q in ((a, b), (c, d))
        ]
        assert far[0] == pytest.approx(far[1])  # slopes of one pitch meet as far from the one plate as from the other
    assert not any("hip" in said for said in drawing.says) and any(said.startswith("ridge") for said in drawing.says)


def test_slopes_that_never_meet_leave_a_gabled_roof_without_a_plan() -> None:
    """Plates that part by more than their slopes can close: the meeting of the two planes lies under the plates."""
    pitches = (35.0, 35.0, 35.0, 35.0)
    with pytest.raises(Refusal, match="never meet"):
        gabled([(0.0, 0.0), (1000.0, 3000.0), (0.0, 1000.0), (1000.0, -2000.0)], pitches)


def test_the_plan_says_every_size_it_shows() -> None:
    drawing = plan(BUILT)
    said = "\n".join(drawing.says)
    for words in drawing.words:
        for figure in re.findall(r"\d{4,}", words.text):
            assert figure in said
    assert "plate AB 8996 (drawn 9000)" in drawing.says


# --- the rafter ---------------------------------------------------------------------------------------------------


def square_off(along: Floats, out: Floats) -> float:
    """How far a point is off a line through nought, square to it."""
    return abs(float(along[0] * out[1] - along[1] * out[0]))


def section(**given: Value) -> Drawing:
    (drawing,) = drawings_of(index.find("common")(**{"pitch": 35.0, **RAFTER_OF_COMMON, **given}))
    return drawing


def test_the_rafter_is_as_deep_as_its_section_square_to_its_edges_and_cut_plumb_at_both_ends() -> None:
    """47 x 150 at 35 degrees on a 100 plate, birdsmouth a third: seat 87.17, heel 61.04 (worked by vectors)."""
    foot, head = strokes(section(), "bold")
    over, top, tail, heel, corner, seat, below = foot.points
    slope = np.array([math.cos(math.radians(35)), math.sin(math.radians(35))])
    assert square_off(slope, np.array(over) - top) == pytest.approx(0, abs=1e-6)
    assert square_off(slope, np.array(over) - heel) == pytest.approx(150)
    assert top[0] == tail[0] == -300 and corner == (0.0, 0.0)
    assert seat == pytest.approx((87.17, 0.0), abs=0.01)
    assert heel == pytest.approx((0.0, -61.04), abs=0.01)
    assert math.dist(below, over) == pytest.approx(150)
    assert head.points[1][0] == pytest.approx(head.points[2][0])


def test_the_head_is_on_the_measuring_line_so_that_only_plain_length_is_left_out() -> None:
    """Length on line to the ridge's face 3662.32 - 23.19 (worked by vectors); the broken part lies on it whole."""
    _, head = strokes(section(), "bold")
    (line,) = strokes(section(), "hidden")
    assert line.points[0] == (0.0, 0.0)
    assert math.degrees(math.atan2(line.points[1][1], line.points[1][0])) == pytest.approx(35)
    assert head.points[1][1] < line.points[1][1] < head.points[2][1]
    assert "length on line to face of ridge 3639" in section().says


def test_a_short_rafter_is_drawn_whole() -> None:
    (rafter,) = strokes(section(run=700.0), "bold")
    assert rafter.closed and max(x for x, _ in rafter.points) == pytest.approx(700 - 19)


# --- in a terminal ------------------------------------------------------------------------------------------------

DRAWINGS = (plan(), plan(BUILT, "hips"), plan(ASKEW, "first-pair"), plan({"ab": 8996.0}, "plates"), section())
SHEETS = ((58, 20), (76, 18))


@pytest.mark.parametrize("ascii_only", [False, True])
@pytest.mark.parametrize(("width", "height"), SHEETS)
@pytest.mark.parametrize("drawing", DRAWINGS, ids=lambda d: d.title + str(len(d.lines)))
def test_every_size_is_readable_in_the_terminal(drawing: Drawing, width: int, height: int, ascii_only: bool) -> None:
    rows = render(drawing, width, height, ascii_only=ascii_only)
    assert len(rows) == height and all(len(row) <= width for row in rows)
    text = "\n".join(rows)
    for words in drawing.words:
        for row in words.rows:
            assert (row.replace("°", " deg") if ascii_only else row) in text
    assert not ascii_only or text.isascii()


def test_a_terminal_keeps_the_roof_in_proportion_with_a_cell_twice_as_high_as_wide() -> None:
    rows = render(plan(BUILT, "plates"), 76, 18)
    lined = [(c, r) for r, row in enumerate(rows) for c, letter in enumerate(row) if "\u2800" < letter <= "\u28ff"]
    wide = max(c for c, _ in lined) - min(c for c, _ in lined) + 1
    high = max(r for _, r in lined) - min(r for _, r in lined) + 1
    assert wide / (2 * high) == pytest.approx(9000 / 6000, abs=0.2)


def test_where_built_and_drawn_fall_together_the_built_line_is_unbroken_and_the_dots_give_way() -> None:
    one, other = Line(((0.0, 0.0), (1000.0, 0.0)), "built"), Line(((0.0, 3.0), (1000.0, 3.0)), "drawn")
    solid = render(Drawing("", (one,), (), ()), 40, 6)
    assert render(Drawing("", (other, one), (), ()), 40, 6) == solid
    assert len(set("".join(solid).strip())) <= 2


def test_a_drawn_line_alone_is_dotted() -> None:
    (row,) = [r for r in render(Drawing("", (Line(((0.0, 0.0), (900.0, 0.0)), "drawn"),), (), ()), 40, 3) if r]
    assert row.strip().count(" ") > 10


@given(
    built=st.fixed_dictionaries({name: st.floats(size * 0.98, size * 1.02) for name, size in DRAWN.items()}),
    width=st.integers(1, 120),
    height=st.integers(1, 40),
    ascii_only=st.booleans(),
)
@settings(max_examples=15, deadline=None)
def test_no_sheet_is_overrun(built: dict[str, float], width: int, height: int, ascii_only: bool) -> None:
    rows = render(plan(built), width, height, ascii_only=ascii_only)
    assert len(rows) == height and all(len(row) <= width for row in rows)


# --- on paper -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("drawing", DRAWINGS, ids=lambda d: d.title + str(len(d.lines)))
def test_the_paper_drawing_is_sound_markup_within_its_width_and_holds_every_size(drawing: Drawing) -> None:
    root = Tree.fromstring(svg(drawing, width_mm=170))
    assert float(root.attrib["width"].removesuffix("mm")) <= 170.01
    text = " ".join(root.itertext())
    assert all(row in text for words in drawing.words for row in words.rows)
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    for shape in root.iter():
        for pair in shape.attrib.get("points", "").split():
            x, y = map(float, pair.split(","))
            assert left <= x <= left + width and top <= y <= top + height


def test_markup_in_a_title_is_only_words_on_paper() -> None:
    drawing = Drawing(
        "<script>x</script>", (Line(((0, 0), (9, 9)), "built"),), (Words((1, 1), "a<b & \x1bc"),), ("<b>",)
    )
    made = svg(drawing, width_mm=100)
    assert "<script" not in made and "<b>" not in made and "\x1b" not in made
    assert Tree.fromstring(made) is not None


def test_the_same_drawing_is_the_same_bytes() -> None:
    assert svg(plan(BUILT), width_mm=170) == svg(plan(BUILT), width_mm=170)

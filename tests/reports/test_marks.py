"""Marks on the roof's drawings: along both plates of a corner, up the hips, and under the ends of the ridge."""

import math
from pathlib import Path

import pytest

from sitelog.calculators.rafters.roof import roof
from sitelog.drawing.corner_marks import corner_marks
from sitelog.drawing.model import Drawing
from sitelog.drawing.roof_plan import SIX, roof_plan
from sitelog.drawing.terminal import render
from sitelog.geometry.roof_lines import CORNERS, SIDES
from sitelog.job.job import Job
from sitelog.job.members import Line, members
from sitelog.job.state.views import State
from sitelog.job.sticks import stick_for
from sitelog.quantities.quantity import show_length
from sitelog.reports.bench.sticks import stick_leaves
from sitelog.reports.sketches import sketches
from tests.calculators.results import cell, column, rows
from tests.drawing.drawn import has, has_line
from tests.shipped import library

SAMPLE = Path(__file__).parents[2] / "sample_site" / "kiln-lane.json"


@pytest.fixture(scope="module")
def state() -> State:
    with Job.open(SAMPLE, library(), read_only=True) as job:
        return job.state


@pytest.fixture(scope="module")
def lines(state: State) -> tuple[Line, ...]:
    return members(state, library(), "main")


@pytest.fixture(scope="module")
def drawn(state: State, lines: tuple[Line, ...]) -> dict[str, Drawing]:
    return dict(zip(CORNERS, corner_marks(state, lines, "main"), strict=True))


def fact(state: State, name: str) -> float:
    value = state.facts[f"main.{name}"].now
    assert isinstance(value, float)
    return value


def places(lines: tuple[Line, ...], id: str) -> list[float]:
    return list(dict.fromkeys(cell(line.row, "at") for line in lines if line.id == id and line.row))


@pytest.mark.parametrize("corner", CORNERS)
def test_both_plates_of_a_corner_have_the_marks_of_the_list(
    state: State, lines: tuple[Line, ...], drawn: dict[str, Drawing], corner: str
) -> None:
    """The plate that follows the corner is along x, the one before it turned from it by the corner's angle."""
    drawing, turn = drawn[corner], math.radians(fact(state, f"angle_{corner}"))
    after = SIDES[CORNERS.index(corner)]
    jacks = places(lines, f"jacks-{corner}")
    assert len(jacks) == 7
    for at in jacks:
        assert has(drawing, at, 0.0, "built") and has(drawing, at * math.cos(turn), at * math.sin(turn), "built")
        assert sum(show_length(at) in said for said in drawing.says) == 2
    for at in places(lines, f"commons-{after}"):
        assert has(drawing, at, 0.0, "thin") == (at <= 0.55 * fact(state, after))


def test_a_common_near_the_other_corner_runs_from_there(
    state: State, lines: tuple[Line, ...], drawn: dict[str, Drawing]
) -> None:
    """From B along BA: the plate as taped, less the mark from A."""
    turn = math.radians(fact(state, "angle_b"))
    last = fact(state, "ab") - places(lines, "commons-ab")[-1]
    assert has(drawn["b"], last * math.cos(turn), last * math.sin(turn), "thin")
    assert f"common 9 at {show_length(last)}" in drawn["b"].says[1]


def test_the_jacks_of_a_corner_are_drawn_up_to_their_hip(state: State, drawn: dict[str, Drawing]) -> None:
    """Over a corner that is nearly square both jacks of a pair end half the hip off its line."""
    hip = next(line for line in drawn["a"].lines if line.stroke == "bold")
    (_, _), (x, y) = hip.points
    view = state.check("main.jacks.jacks-a")
    assert view and view.answer
    for row in rows(view.answer, "rows"):
        ends = [line.points[1] for line in drawn["a"].lines if line.points[0] == (cell(row, "at"), 0.0)]
        ((head_x, head_y),) = ends
        off = abs(head_x * y - head_y * x) / math.hypot(x, y)
        assert off == pytest.approx(47 / 2, abs=0.1)


def test_a_corner_reads_at_80_by_24(drawn: dict[str, Drawing]) -> None:
    for corner, drawing in drawn.items():
        picture = "\n".join(render(drawing, 80, 22))
        assert corner.upper() in picture and "2800" in picture and "400" in picture


def test_the_hips_on_the_bench_have_the_marks_of_their_own_jacks(state: State, lines: tuple[Line, ...]) -> None:
    """From the head less is further up: from the heel to a jack it is as far as the jacks' own sheet has it."""
    for corner in CORNERS:
        stick = stick_for(state, library(), next(line for line in lines if line.id == f"hip-{corner}"))
        view = state.check(f"main.jacks.jacks-{corner}")
        assert view and view.answer
        heel = next(cell(r, "at") for r in rows(stick, "rows") if (r["line"], r["point"]) == ("centre", "plate-top"))
        up = column(view.answer, "rows", "up_the_hip")
        assert [heel - at for at in column(stick, "jacks", "face_1")] == pytest.approx(up, abs=0.5)


def test_the_ends_of_the_ridge_are_named_and_stand_as_far_along_the_plate_as_roof_has_them(state: State) -> None:
    drawing = roof_plan(state, "main")
    assert drawing
    answer = roof(**{name: fact(state, name) for name in SIX}, pitch=fact(state, "pitch"))
    feet = next(row for row in rows(answer, "feet") if row["side"] == "ab")
    for name in "pq":
        along, point = cell(feet, name), answer.results[f"ridge_{name}"]
        assert isinstance(point, dict)
        assert has_line(drawing, (along, 0.0), (cell(point, "x"), cell(point, "y")), "thin", within=1e-3)
        said = f"{name.upper()} {show_length(along)} from A"
        assert said in [block.text for block in drawing.words]
        assert f"{said}, plumb over AB" in drawing.says
        assert name.upper() in [block.text for block in drawing.words]


def test_the_corners_are_among_the_drawings_of_the_part(state: State) -> None:
    named = [sketch.name for sketch in sketches(state, library(), "main")]
    assert named[-4:] == [f"Marks at corner {corner.upper()}" for corner in CORNERS]


def test_the_sheet_of_a_corner_has_its_plates_and_its_hip_and_a_hip_s_own_sheet_its_ends(state: State) -> None:
    leaves = {leaf.title: leaf for leaf in stick_leaves(state, library(), "main")}
    for corner in "ABCD":
        drawings = [one for one in leaves[f"Main roof: Marks at corner {corner}"].blocks if isinstance(one, Drawing)]
        assert ["Marks at corner" in one.title for one in drawings] == [True, False]
        assert "jacks' centres" in drawings[1].title
        own = [one for one in leaves[f"Main roof: Hip at {corner}"].blocks if isinstance(one, Drawing)]
        assert own and not any("jacks' centres" in one.title for one in own)

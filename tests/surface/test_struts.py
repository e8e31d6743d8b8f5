"""Struts under purlins: by hand on a gabled and a hipped roof, and by vectors over any plan."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.geometry.read_off.level_members import purlins
from sitelog.geometry.read_off.struts import Bearing, struts
from sitelog.geometry.surface.surface import surface_of
from sitelog.refusal import Refusal
from tests.calculators.results import cell, rows
from tests.surface.held import built
from tests.surface.roofs import ROOFS
from tests.surface.test_invariants import turned

POINTS = "A 0,0; B 9000,0; C 9000,6000; D 0,6000; "
GABLED = POINTS + "main AB 40, BC gable, CD 40, DA gable"
HIPPED = POINTS + "main AB 40, BC 40, CD 40, DA 40"


def test_struts_part_a_purlin_between_gables_into_equal_bays() -> None:
    """By hand: 9000 in bays of 1800 at the most is five, so four struts; plumb, from 1200 up down to the plates."""
    answer = ask("surface", {"plan": GABLED, "purlins": "1200", "struts": "1800"})
    own = [row for row in rows(answer, "struts") if row["slope"] == "AB"]
    assert [cell(row, "at") for row in own] == pytest.approx([1800, 3600, 5400, 7200])
    for row in own:
        assert [cell(row, name) for name in ("length", "lean", "foot_cut_from_square", "head_cut_from_square")] == (
            pytest.approx([1200, 0, 0, 40])
        )
    assert any("the engineer gives the struts' sections" in note for note in answer.notes)
    assert "untied-eaves" in answer.cautions


def test_a_strut_leans_to_the_wall_that_it_stands_on() -> None:
    """By hand: the purlin is 1200 / tan 40 = 1430.10 in. A spreader 2500 in and 100 under the plates, heads 250 under
    the line: 1069.90 level, 1050 plumb, 1499.06 long, 45.54 from plumb, and 5.54 off square to the rafters."""
    answer = ask(
        "surface",
        {"plan": GABLED, "purlins": "1200", "struts": "1800", "strut_in": "2500", "strut_foot": "-100mm",
         "strut_head": "250"},
    )  # fmt: skip
    for row in rows(answer, "struts"):
        told = [cell(row, name) for name in ("length", "lean", "foot_cut_from_square", "head_cut_from_square")]
        assert told == pytest.approx([1499.06, 45.54, 45.54, 5.54], abs=0.005)


def test_between_hips_they_are_marked_from_the_end_of_the_purlin() -> None:
    """By hand: 9000 - 2 x 1430.10 = 6139.79 in four bays of 1534.95. On the ends 3139.79 in two of 1569.90."""
    answer = ask("surface", {"plan": HIPPED, "purlins": "1200", "struts": "1800"})
    along: dict[str, list[float]] = {str(row["slope"]): [] for row in rows(answer, "struts")}
    for row in rows(answer, "struts"):
        along[str(row["slope"])].append(cell(row, "along_purlin"))
    assert along["AB"] == pytest.approx([1534.95, 3069.90, 4604.84], abs=0.01)
    assert along["BC"] == pytest.approx([1569.90], abs=0.01)


def test_a_purlin_no_longer_than_the_spacing_has_none_and_that_is_said() -> None:
    answer = ask("surface", {"plan": HIPPED, "purlins": "1200", "struts": "4000"})
    assert {row["slope"] for row in rows(answer, "struts")} == {"AB", "CD"}
    assert any("no strut under BC at 1200, DA at 1200" in note for note in answer.notes)


@given(
    st.sampled_from(sorted(ROOFS)),
    st.floats(0, math.tau),
    st.floats(300, 1500),
    st.floats(0, 3000),
    st.floats(-500, 200),
)
@settings(deadline=None, max_examples=60)
def test_over_any_plan_it_is_square_to_its_wall_and_between_the_purlin_and_its_bearing(
    name: str, angle: float, height: float, inward: float, foot: float
) -> None:
    """Each from the wall's line and the slope's normal, in numpy."""
    found = built(turned(ROOFS[name], angle))
    every = struts(found, purlins(found, [height]), Bearing(1200.0, 60.0, foot, inward))
    for strut in every:
        own = found.slopes[strut.slope]
        start, end = np.array(strut.start), np.array(strut.end)
        wall, normal = np.array([*own.along, 0.0]), np.array(own.normal)
        across = np.array([-own.along[1], own.along[0]])
        assert (end - start) @ wall == pytest.approx(0, abs=1e-6)
        assert across @ (start[:2] - np.array(own.start)) == pytest.approx(inward, abs=1e-6)
        assert start[2] == pytest.approx(foot)
        assert end[2] + 60.0 == pytest.approx(own.height(*end[:2]), abs=1e-6)
        assert strut.length == pytest.approx(np.linalg.norm(end - start))
        along = (end - start) / strut.length
        assert math.degrees(math.acos(min(along[2], 1.0))) == pytest.approx(abs(strut.lean), abs=1e-4)
        assert math.degrees(math.acos(min(along @ normal, 1.0))) == pytest.approx(strut.head_cut, abs=1e-4)
    for purlin in purlins(found, [height]):
        own_ats = [0.0, *(one.at - purlin.first for one in every if one.purlin == purlin), purlin.length]
        bays = np.diff(own_ats)
        assert max(bays) <= 1200 * (1 + 1e-5)
        assert bays == pytest.approx([bays[0]] * len(bays))
        assert len(bays) == 1 or purlin.length / (len(bays) - 1) > 1200


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"struts": "1800"}, "with struts= also give purlins="),
        ({"purlins": "1200", "strut_foot": "-100"}, "with strut_foot= also give struts="),
        ({"purlins": "1200", "strut_in": "2500"}, "with strut_in= also give struts="),
        ({"purlins": "1200", "strut_head": "200"}, "with strut_head= also give struts="),
        ({"purlins": "1200", "struts": "1800", "strut_foot": "1300"}, "isn't under the purlin on AB"),
        ({"purlins": "1200", "struts": "100"}, "struts is 100; it must be at least 300"),
    ],
)
def test_struts_that_can_t_be_are_refused_by_name(more: dict[str, str], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        ask("surface", {"plan": GABLED, **more})


def test_a_spacing_that_parts_a_purlin_evenly_is_kept_to_the_last_digit() -> None:
    """Five bays of 1800, and a hair under or over: six or five."""
    for spacing, count in ((1800.0, 4), (1800 * (1 - 1e-4), 5), (1800 * (1 + 1e-4), 4)):
        found = surface_of(GABLED)
        assert len(struts(found, purlins(found, [1200.0])[:1], Bearing(spacing))) == count

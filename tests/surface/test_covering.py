"""The covering: overhangs by the same planes, courses by level lines, and where one slope drains on to another."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.geometry.read_off.covering import courses, covered
from sitelog.geometry.surface.short_lines import come_and_gone, short_lines
from sitelog.geometry.surface.surface import surface_of
from sitelog.refusal import Refusal
from tests.surface.by_half_planes import Roof
from tests.surface.held import area_of, built, hold_together, lengths
from tests.surface.roofs import ROOFS
from tests.surface.test_invariants import roofs

COS = math.cos(math.radians(40))


@given(roofs, st.floats(0, 500), st.floats(0, 300))
@settings(deadline=None, max_examples=40)
def test_overhangs_make_every_slope_larger_and_keep_its_plane(roof: Roof, overhang: float, verge: float) -> None:
    found = built(roof)
    cover = covered(found.plan, overhang, verge)
    hold_together(cover)
    assert cover.slopes == found.slopes
    assert cover.plan_area >= found.plan_area - 1


def test_the_covering_of_an_l_reaches_the_overhang_past_every_plate() -> None:
    """By hand: 38 m of plate by 300, with five corners out and one in of 0.09 m2."""
    found = built(ROOFS["L"])
    cover = covered(found.plan, 300, 0)
    assert cover.plan_area / 1e6 == pytest.approx(70 + 38 * 0.3 + (5 - 1) * 0.09)
    assert lengths(cover)["eaves", ("CD",)] == pytest.approx([5000])
    low = min(point.at[2] for point in cover.points)
    assert low == pytest.approx(-300 * math.tan(math.radians(40)))


def test_a_wall_that_something_stands_against_is_not_passed() -> None:
    found = surface_of("P 0,0; Q 5000,0; R 5000,2500; S 0,2500; lean PQ 20, QR gable, RS against, SP gable")
    cover = covered(found.plan, 300, 100)
    assert {round(point.at[1], 6) for point in cover.points} == {-300, 2500}
    assert {round(point.at[0], 6) for point in cover.points} == {-100, 5100}


@pytest.mark.parametrize("roof", ROOFS.values(), ids=list(ROOFS))
def test_courses_are_as_long_as_the_slope_is_large(roof: Roof) -> None:
    """Their battens, each a gauge from the next, cover a slope's area but for its edges."""
    found = built(roof)
    every = courses(found, 10)
    for slope, rings in enumerate(found.rings):
        own = [course for course in every if course.slope == slope]
        area = sum(area_of(ring) for ring in found.flat(slope))
        assert sum(course.batten for course in own) * 10 == pytest.approx(area, rel=0.02) or not rings


def test_courses_of_a_hipped_slope_are_counted_from_the_eaves() -> None:
    """By hand: AB of the L is 3000 / cos 40 = 3916 up: 13 gauges of 300 and a part; its ends are cut to hips."""
    found = built(ROOFS["L"])
    own = [course for course in courses(found, 300) if found.slopes[course.slope].name == "AB"]
    assert [course.n for course in own] == list(range(1, 15))
    assert own[0].parts[0] == pytest.approx((0, 9000), abs=0.05)
    assert own[1].batten == pytest.approx(9000 - 2 * 300 * COS, abs=0.1)
    assert {course.cuts for course in own} == {2}


def test_a_course_that_widens_at_a_valley_is_as_wide_as_its_upper_edge() -> None:
    found = built(ROOFS["L"])
    own = [course for course in courses(found, 300) if found.slopes[course.slope].name == "CD"]
    [(_, last)] = own[0].parts
    assert last == pytest.approx(5000 + 300 * COS, abs=0.1)
    assert own[0].batten == pytest.approx(5000, abs=0.1)


def test_a_course_is_in_two_parts_where_a_dormer_stands() -> None:
    found = built(ROOFS["pitched dormer"])
    own = [course for course in courses(found, 300) if found.slopes[course.slope].name == "AB"]
    assert max(len(course.parts) for course in own) == 2


def test_too_many_courses_are_refused() -> None:
    with pytest.raises(Refusal, match="more than 5000 courses"):
        courses(built(ROOFS["L"]), 0.5)


def test_a_steep_slope_drains_over_the_valley_on_to_a_flat_one_that_runs_away_from_it() -> None:
    """By hand: CD at 30 falls along (0, 1) on plan, SP at 50 along (-0.814, 0.581).

    Both are as high along (-0.118, -0.993) up from P. Square to that, towards the wing, they fall -0.118 and -0.877:
    both away from the wing. So SP drains over the valley, and CD carries it off.
    """
    found = surface_of(
        "A 0,0; B 12000,0; C 12000,6000; D 0,6000; P 4000,6000; Q 8000,6000; R 12000,10000; S 9000,13000;"
        "main AB 30, BC gable, CD 30, DA gable; wing QR 50, RS gable, SP 50, AB 30, DA gable, BC gable"
    )
    [shed] = [one for one in found.sheds if one.kind == "valley"]
    assert (found.slopes[shed.slope].name, found.slopes[shed.onto].name) == ("SP", "CD")
    [valley] = [line for line in found.lines if line.kind == "valley" and found.line_name(line) == "CD-SP"]
    low, high = found.points[valley.start].at, found.points[valley.end].at
    assert [(b - a) / valley.plan_length for a, b in zip(low[:2], high[:2], strict=True)] == pytest.approx(
        [-0.118, -0.993], abs=5e-4
    )
    assert shed.length == valley.length


def test_no_slope_of_one_pitch_round_square_corners_drains_on_to_another() -> None:
    for name in ("L", "T", "U", "Z", "gablet"):
        assert built(ROOFS[name]).sheds == [], name


def test_a_sprocket_takes_what_the_main_slope_sheds() -> None:
    found = built(ROOFS["sprocketed eaves"])
    [shed] = found.sheds
    assert (found.slopes[shed.slope].name, found.slopes[shed.onto].name, shed.kind) == ("AB", "PQ", "break")
    assert shed.length == pytest.approx(9000)


# --- short lines --------------------------------------------------------------------------------------------------


def test_a_square_that_isn_t_quite_one_has_a_short_ridge_that_a_little_more_pitch_takes_out() -> None:
    """6000 by 6010 at 40. By hand: AB and CD meet 3005 in, as high as DA 3005 in from it: 2995 from BC."""
    plan = "A 0,0; B 6000,0; C 6000,6010; D 0,6010; main AB 40, BC {pitch}, CD 40, DA 40"
    found = surface_of(plan.format(pitch=40))
    [short] = short_lines(found)
    line = found.lines[short.line]
    assert (line.kind, found.line_name(line)) == ("ridge", "BC-DA")
    assert line.length == pytest.approx(10)
    assert found.slopes[short.slope].name == "BC"
    assert short.lift == pytest.approx(math.degrees(math.atan(3005 * math.tan(math.radians(40)) / 2995)) - 40)
    lifted = surface_of(plan.format(pitch=f"{40 + short.lift:.12f}"))
    assert short_lines(lifted) == []
    assert not any(line.kind == "ridge" for line in lifted.lines)


def test_a_line_that_comes_of_what_was_measured_is_named() -> None:
    square = "A 0,0; B 6000,0; C 6000,{y}; D 0,{y}; main AB 40, BC 40, CD 40, DA 40"
    come, gone = come_and_gone(surface_of(square.format(y=6000)), surface_of(square.format(y=6010)))
    assert (come, gone) == (["ridge BC-DA"], [])

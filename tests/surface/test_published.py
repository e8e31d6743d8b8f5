"""The surface, its rafters and `ties` held to print: textbooks and manuals, the source in each test."""

import math
from itertools import pairwise

import pytest

from tests.calculators.test_surface import HIPPED, L_ROOF, line, told

FOOT, INCH = 304.8, 25.4


def test_a_valley_between_unequal_pitches_is_as_griffith_has_it() -> None:
    """I. S. Griffith, Carpentry, 1916, figures 87 and 88: main run 12 ft rise 8, minor run 6 ft rise 5, square corner.

    Plan run of the valley 9.60 ft, its plan angle 38.667 degrees; ours: 9.605, 38.66, and 10.828 ft long.
    """
    wide, narrow = 24 * FOOT, 12 * FOOT
    plan = (
        f"A 0,0; B {3 * wide},0; C {3 * wide},{wide}; D {wide + narrow},{wide}; E {wide + narrow},{2 * wide};"
        f"F {wide},{2 * wide}; G {wide},{wide}; H 0,{wide};"
        "main AB 8/12, BC gable, CD 8/12, HA gable; wing DE 5/6, EF gable, FG 5/6, AB 8/12"
    )
    valley = line(told(plan), "valley", "CD", "DE")
    found = told(plan)
    assert valley["plan_length"] / FOOT == pytest.approx(9.605, abs=0.005)
    assert valley["length"] / FOOT == pytest.approx(10.828, abs=0.001)
    low, high = found["points"][valley["from"]], found["points"][valley["to"]]
    assert math.degrees(math.atan2(abs(high[0] - low[0]), abs(high[1] - low[1]))) == pytest.approx(38.66, abs=0.01)
    assert (high[2] - low[2]) / FOOT == pytest.approx(5.0)


@pytest.mark.parametrize(("rise", "inches"), [(6, 18.00), (8, 18.76), (9, 19.21)])
def test_a_hip_and_a_valley_to_the_foot_of_run_are_as_in_print(rise: int, inches: float) -> None:
    """Radford's Cyclopedia of Construction, volume 3, 1909 (6 in 12: 18.0); US Navy, Builder, NAVEDTRA 14044, chapter 2
    (9 in 12: 19.21); 8 in 12 worked by us from the same rule."""
    plan = L_ROOF.replace("40,", f"{rise}/12,").replace("40;", f"{rise}/12;").replace("FA 40", f"FA {rise}/12")
    found = told(plan)
    for kind, between, run in (("hip", ("AB", "BC"), 3000), ("valley", ("CD", "DE"), 2000)):
        assert line(found, kind, *between)["length"] / run * 12 == pytest.approx(inches, abs=0.005)


def test_an_addition_of_30_ft_span_has_the_valley_that_the_navy_prints() -> None:
    """US Navy, Builder, NAVEDTRA 14044, chapter 2: 9 in 12, run of the shorter valley 21.21 ft, its length 24.01 ft."""
    main, span = 40 * FOOT, 30 * FOOT
    plan = (
        f"A 0,0; B {3 * main},0; C {3 * main},{main}; D {main + span},{main}; E {main + span},{2 * main};"
        f"F {main},{2 * main}; G {main},{main}; H 0,{main};"
        "main AB 9/12, BC gable, CD 9/12, HA gable; wing DE 9/12, EF gable, FG 9/12, AB 9/12"
    )
    valley = line(told(plan), "valley", "CD", "FG")
    assert valley["plan_length"] / FOOT == pytest.approx(21.21, abs=0.005)
    assert valley["length"] / FOOT == pytest.approx(24.01, abs=0.005)


def test_jacks_at_16_in_on_8_in_12_differ_as_the_navy_prints() -> None:
    """US Navy, Builder, NAVEDTRA 14044, chapter 2: first jack and common difference 19.23 in."""
    found = told(HIPPED.replace("35", "8/12"), spacing=f"{16 * INCH}mm")
    jacks = [row["length"] / INCH for row in found["rafters"] if row["slope"] == "AB" and row["head"] == "hip AB-DA"]
    assert jacks[0] == pytest.approx(19.23, abs=0.005)
    assert [b - a for a, b in pairwise(jacks)] == pytest.approx([19.23] * (len(jacks) - 1), abs=0.005)


def test_a_hip_over_unequal_runs_is_as_hodgson_has_it() -> None:
    """F. T. Hodgson, ABC of the Steel Square: span 24 ft, rise 10, end run 16: hip's run 20 ft; lengths are ours."""
    side, end = math.degrees(math.atan(10 / 12)), math.degrees(math.atan(10 / 16))
    plan = (
        f"A 0,0; B {60 * FOOT},0; C {60 * FOOT},{24 * FOOT}; D 0,{24 * FOOT};"
        f"main AB {side:.12f}, BC gable, CD {side:.12f}, DA {end:.12f}"
    )
    found = told(plan, spacing=f"{12 * FOOT}mm")
    hip = line(found, "hip", "AB", "DA")
    assert hip["plan_length"] / FOOT == pytest.approx(20.0)
    assert hip["length"] / FOOT == pytest.approx(22.361, abs=0.001)
    commons = {row["slope"]: row["length"] / FOOT for row in found["rafters"] if row["kind"] == "common"}
    assert commons["AB"] == pytest.approx(15.620, abs=0.001)
    assert commons["DA"] == pytest.approx(18.868, abs=0.001)


def test_the_side_cut_of_a_jack_at_8_in_12_is_12_to_10_on_the_square() -> None:
    """US Navy, Builder, NAVEDTRA 14044, chapter 2: 12 on the tongue and 10 on the blade. Whole figures of a square: by
    geometry it is 14.42 to 12, which is 12 to 9.98."""
    found = told(HIPPED.replace("35", "8/12"), spacing="400")
    jacks = [row for row in found["rafters"] if row["kind"] == "hip jack"]
    assert len({round(row["head_edge_from_square"], 9) for row in jacks}) == 1
    blade = 12 / math.tan(math.radians(jacks[0]["head_edge_from_square"]))
    assert blade == pytest.approx(10, abs=0.03)
    assert blade == pytest.approx(9.985, abs=0.001)


def test_a_run_of_11_ft_3_at_6_in_12_has_the_common_and_the_hip_that_radford_prints() -> None:
    """Radford's Cyclopedia of Construction, volume 3, 1909: 12 ft 7 in and 16 ft 10 1/2 in, whole digits of which are
    lost in the scan that was read and are filled by its own rule, so it proves little. By geometry the common is
    12.578 ft, a sixteenth of an inch under; the hip is exact, 18 in to the foot."""
    run = 11.25 * FOOT
    plan = f"A 0,0; B {60 * FOOT},0; C {60 * FOOT},{2 * run}; D 0,{2 * run}; main AB 6/12, BC 6/12, CD 6/12, DA 6/12"
    found = told(plan, spacing=f"{20 * FOOT}mm")
    [common] = {round(row["length"] / FOOT, 6) for row in found["rafters"] if row["kind"] == "common"}
    assert common == pytest.approx(12.583, abs=0.006)
    assert common == pytest.approx(12.578, abs=0.0005)
    assert line(found, "hip", "AB", "BC")["length"] / FOOT == pytest.approx(16.875)


def test_hips_over_18_by_28_ft_meet_in_a_point_as_hodgson_has_them() -> None:
    """F. T. Hodgson, ABC of the Steel Square: 18 by 28 ft, rise 9, runs of 14 and 9. Lengths are ours, by Pythagoras:
    hip's run 16.643 and its length 18.921, commons 16.643 and 12.728."""
    side, end = math.degrees(math.atan(9 / 9)), math.degrees(math.atan(9 / 14))
    plan = (
        f"A 0,0; B {28 * FOOT},0; C {28 * FOOT},{18 * FOOT}; D 0,{18 * FOOT};"
        f"main AB {side:.12f}, BC {end:.12f}, CD {side:.12f}, DA {end:.12f}"
    )
    found = told(plan, spacing=f"{FOOT}mm")
    assert not [row for row in found["lines"] if row["kind"] == "ridge"], "the hips meet in a point"
    hips = [row for row in found["lines"] if row["kind"] == "hip"]
    assert [row["plan_length"] / FOOT for row in hips] == pytest.approx([16.643] * 4, abs=0.0005)
    assert [row["length"] / FOOT for row in hips] == pytest.approx([18.921] * 4, abs=0.0005)
    commons = {row["slope"]: row["length"] / FOOT for row in found["rafters"] if row["kind"] == "common"}
    assert commons == pytest.approx({"AB": 12.728, "BC": 16.643, "CD": 12.728, "DA": 16.643}, abs=0.0005)

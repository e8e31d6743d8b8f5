"""The roofs that a gang cuts: plan area, volume and lines, each against half planes sampled, print or a sum by hand."""

import math
from collections.abc import Mapping

import pytest

from sitelog.geometry.surface.surface import surface_of
from tests.surface.by_half_planes import Roof
from tests.surface.held import built, hold_to_half_planes, hold_together, lengths, told
from tests.surface.roofs import L_POINTS, ROOFS, T_POINTS, faces, over

by_name = pytest.mark.parametrize("roof", ROOFS.values(), ids=list(ROOFS))
TAN_40 = math.tan(math.radians(40))


def loop(points: Mapping[str, tuple[float, float]], pitch: float) -> Roof:
    names = list(points)
    pairs = zip(names, [*names[1:], names[0]], strict=True)
    return over(points, loop=faces(*((a + b, pitch) for a, b in pairs)))


@by_name
def test_plan_area_and_volume_are_those_of_its_half_planes_sampled(roof: Roof) -> None:
    """On a grid of 100 mm: the area is exact where walls lie on it, the volume within a part in 1000."""
    found = built(roof)
    area, volume = roof.sampled(100)
    assert found.plan_area / 1e6 == pytest.approx(area, rel=2e-3)
    assert found.volume / 1e9 == pytest.approx(volume, rel=1e-3)


@by_name
def test_over_every_point_lies_one_slope_as_high_as_the_highest_block(roof: Roof) -> None:
    found = built(roof)
    hold_to_half_planes(roof, found, count=150)
    hold_together(found)


def test_an_l_has_the_lines_that_a_carpenter_works_by_hand() -> None:
    """At 40 degrees a hip over a run r is r sqrt(2 + tan2 40), by Pythagoras."""
    found = lengths(built(ROOFS["L"]))
    hip = math.sqrt(2 + TAN_40**2)
    assert found["hip", ("AB", "BC")] == pytest.approx([3000 * hip])
    assert found["hip", ("AB", "FA")] == pytest.approx([3000 * hip])
    assert found["hip", ("BC", "CD")] == pytest.approx([3000 * hip])
    assert found["hip", ("CD", "FA")] == pytest.approx([1000 * hip]), "of the main's corner inside the plan"
    assert [*found["hip", ("DE", "EF")], *found["hip", ("EF", "FA")]] == pytest.approx([2000 * hip] * 2)
    assert found["valley", ("CD", "DE")] == pytest.approx([2000 * hip])
    assert found["ridge", ("AB", "CD")] == pytest.approx([3000])
    assert found["ridge", ("DE", "FA")] == pytest.approx([4000])
    assert found["eaves", ("CD",)] == pytest.approx([5000])
    assert len(built(ROOFS["L"]).lines) == 15


L_10_BY_12 = {"A": (0, 0), "B": (10000, 0), "C": (10000, 6000), "D": (6000, 6000), "E": (6000, 12000), "F": (0, 12000)}


@pytest.mark.parametrize(("points", "volume"), [(L_10_BY_12, 88.226150), (T_POINTS, 80.523867)], ids=["L", "T"])
def test_a_loop_has_the_volume_that_a_geometry_kernel_gives(
    points: Mapping[str, tuple[float, float]], volume: float
) -> None:
    """35 degrees all round, m3; worked apart from the program by a kernel's straight skeleton and by half planes."""
    assert built(loop(points, 35)).volume / 1e9 == pytest.approx(volume, abs=1e-6)


def test_an_l_with_a_gable_has_the_volume_that_half_planes_give() -> None:
    """As above, the wall from (10,0) a gable; by half planes: 94.528018 m3."""
    roof = over(
        L_10_BY_12,
        main=faces(("AB", 35), ("BC", "gable"), ("CD", 35), ("FA", 35)),
        wing=faces(("AB", 35), ("DE", 35), ("EF", 35), ("FA", 35)),
    )
    assert built(roof).volume / 1e9 == pytest.approx(94.528018, abs=1e-6)


def test_a_right_angled_loop_is_the_same_roof_as_its_blocks() -> None:
    assert lengths(built(loop(L_POINTS, 40))) == {
        key: pytest.approx(values) for key, values in lengths(built(ROOFS["L"])).items()
    }


def test_a_loop_that_turns_in_nowhere_is_one_block_whatever_its_pitches() -> None:
    points = {"A": (0, 0), "B": (9000, 0), "C": (10000, 4000), "D": (7000, 8000), "E": (0, 6000)}
    walls = faces(("AB", 30), ("BC", 45), ("CD", 40), ("DE", 35), ("EA", "gable"))
    assert told(built(over(points, loop=walls))) == told(built(over(points, main=walls)))


def test_a_half_hip_s_hips_end_at_its_own_eaves() -> None:
    """By hand: AB reaches 1500 at 1500 in from the plate at 45, and BC's eaves are 3000 long there."""
    found = lengths(built(ROOFS["half-hip"]))
    assert found["verge", ("AB",)] == pytest.approx([1500 * math.sqrt(2)])
    assert found["eaves", ("BC",)] == pytest.approx([3000])


def test_a_mansard_breaks_where_its_two_planes_are_as_high() -> None:
    """By hand: 2000 / (tan 70 - tan 30) = 921.6 in from the plate."""
    found = built(ROOFS["mansard"])
    assert [slope.name for slope in found.slopes] == ["AB+0", "AB+2000", "CD+0", "CD+2000"]
    breaks = [line for line in found.lines if line.kind == "break"]
    assert [line.length for line in breaks] == pytest.approx([9000, 9000])
    run = 2000 / (math.tan(math.radians(70)) - math.tan(math.radians(30)))
    assert sorted({round(found.points[line.start].at[1], 6) for line in breaks}) == pytest.approx([run, 6000 - run])


def test_where_eaves_stand_over_a_slope_there_is_a_step() -> None:
    """By hand: the wing's plate is 600 up, and the main slope reaches that 600 / tan 40 = 715.05 in from its own."""
    found = built(ROOFS["wing with higher plates"])
    names = {(line.kind, found.line_name(line)): line for line in found.lines}
    step = names["step", "DE-CD"]
    assert step.plan_length == pytest.approx(600 / TAN_40)
    assert step.pitch == pytest.approx(40)
    assert [(found.slopes[one.slope].name, found.slopes[one.onto].name) for one in found.sheds] == [("DE", "CD")]
    assert found.sheds[0].length == pytest.approx(600 / TAN_40)


def test_a_dormer_ends_where_its_ridge_meets_the_main_slope() -> None:
    """By hand: its ridge is 1800 + 1000 tan 40 up, which the main slope at 45 reaches as far in from its plate."""
    found = lengths(built(ROOFS["pitched dormer"]))
    top = 1800 + 1000 * TAN_40
    assert found["ridge", ("QR", "SP")] == pytest.approx([top - 900])
    assert [*found["eaves", ("QR",)], *found["eaves", ("SP",)]] == pytest.approx([900, 900])
    assert found["valley", ("AB", "QR")] == pytest.approx([math.hypot(1000, top - 1800, top - 1800)])


def test_a_step_has_two_heights_over_one_point_of_the_plan() -> None:
    found = built(ROOFS["pitched dormer"])
    heights = sorted(point.at[2] for point in found.points if point.at[:2] == pytest.approx((5500, 900)))
    assert heights == pytest.approx([900, 1800])


def test_a_lean_to_s_top_is_an_abutment_under_the_main_eaves() -> None:
    found = told(built(ROOFS["lean-to"]))
    assert found["step", ("AB", "PQ")] == 1
    assert found["verge", ("PQ",)] == 2


def test_a_wing_with_the_main_slope_s_plane_is_no_second_slope() -> None:
    """A catslide: the wing's slope is the main's carried on down, so no line parts them."""
    found = surface_of(
        "A 0,0; B 9000,0; C 9000,6000; D 0,6000; P 2000,-1500; Q 6000,-1500; R 6000,0; S 2000,0;"
        "main AB 40 +2000, BC 40 +2000, CD 40 +2000, DA 40 +2000; slide PQ =AB, QR gable, CD 40 +2000, SP gable"
    )
    assert [slope.name for slope in found.slopes] == ["AB", "BC", "CD", "DA"]
    assert found.plan_area / 1e6 == pytest.approx(54 + 4 * 1.5)
    low = min(found.points, key=lambda point: point.at[2])
    assert low.at[2] == pytest.approx(2000 - 1500 * TAN_40)
    assert told(found)["eaves", ("AB",)] == 3


def test_two_planes_of_one_wall_in_two_blocks_are_told_apart_by_block() -> None:
    found = surface_of(
        "A 0,0; B 9000,0; C 9000,6000; D 4000,6000; E 4000,10000; F 0,10000;"
        "main AB 40, BC 40, CD 40, FA 40; wing AB 40, DE 50, EF gable, FA 50"
    )
    assert [slope.name for slope in found.slopes] == ["AB", "BC", "CD", "main.FA", "DE", "wing.FA"]


@by_name
def test_no_hollow_holds_water(roof: Roof) -> None:
    """About every point inside the roof the half planes fall away on some side."""
    for point in built(roof).points:
        x, y, z = point.at
        if len(point.slopes) > 2 and not point.walls:
            round_it = [
                roof.height(x + 5 * math.cos(turn / 8 * math.pi), y + 5 * math.sin(turn / 8 * math.pi))
                for turn in range(16)
            ]
            assert min(height for height in round_it if height is not None) < z - 0.1, point.name

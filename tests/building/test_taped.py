"""Lean-tos and dormers over their own taped sizes. Figures by hand, from right-angled triangles."""

import math

import pytest

from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.least_squares import Measured
from sitelog.geometry.vectors import tan_deg
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal
from tests.forms.test_cut_roof import site, taped

ROOF = (
    "main 9000x6000 40; lean-to off AB 1000 from A 3000x2000 15 plate -1200; "
    "dormer off CD 3500 from D 1500x900 35 cheek 600"
)


def slope(roof: Roof, block: str) -> float:
    """The pitch [deg] of a block's first slope."""
    return roof.found.slopes[next(one.place for one in roof.of("slopes") if one.block == block)].pitch


def test_a_lean_to_takes_its_pitch_from_its_rise_and_its_run() -> None:
    """560 up over 2000, halfway between 2010 and 1990; its plate runs from the one to the other."""
    roof = roof_of(ROOF, (), "lean-to left 2010; lean-to right 1990; lean-to rise 560; lean-to along 1012")
    assert slope(roof, "lean-to") == pytest.approx(math.degrees(math.atan(560 / 2000)))
    _, left, right, _ = (roof.plates.known[corner] for corner in roof.plates.block("lean-to").corners)
    assert left == pytest.approx((1012, -2010)) and right == pytest.approx((4012, -1990))
    by_drawing = roof_of(ROOF, (), "lean-to left 2010; lean-to right 1990")
    assert slope(by_drawing, "lean-to") == pytest.approx(15)


def test_a_dormers_ridge_and_valleys_go_with_where_its_plates_are() -> None:
    """Half of 1512 at 35 over plates at 1380: the ridge, and it meets the main slope where that is as high."""
    roof = roof_of(ROOF, (), "dormer front 1513; dormer back 1511; dormer up 1380; dormer in 910")
    (ridge,) = (roof.found.lines[one.place] for one in roof.of("ridges") if one.block == "dormer")
    top = 1380 + 756 * tan_deg(35)
    assert [roof.found.points[end].at[2] for end in (ridge.start, ridge.end)] == pytest.approx([top, top])
    assert ridge.length == pytest.approx(top / tan_deg(40) - 910)


@pytest.mark.parametrize("corner, along", [("D", 3500.0), ("C", 4000.0)])
def test_what_is_built_on_keeps_its_distance_from_the_corner_it_is_drawn_from(corner: str, along: float) -> None:
    """CD taped 12 long: from D it is where it was, from C it has moved with C."""
    text = f"main 9000x6000 40; dormer off CD {along:.0f} from {corner} 1500x900 35 cheek 600"
    across = math.hypot(9012, 6000)
    longs = {"AB": 9012.0, "BC": 6000.0, "CD": 9012.0, "DA": 6000.0, "AC": across, "BD": across}
    roof = roof_of(text, [Measured(Tie(ends[0], ends[1], length), 1.5) for ends, length in longs.items()])
    at = roof.found.plan.points
    near = roof.plates.block("dormer").corners[2 if corner == "D" else 1]  # of its face, from C to D
    assert math.dist(at[near], at[corner]) == pytest.approx(math.hypot(along, 900), abs=0.1)


@pytest.mark.parametrize(
    "carried, words",
    [
        ("wing left 2000", "'wing left 2000' isn't a size of a lean-to or dormer here"),
        ("lean-to front 1500", "There are lean-to: left, right, wide, rise, along; dormer: front"),
        ("dormer front wide", "building: dormer front: 'wide' "),
        ("dormer front", "Type it as lean-to left 1798; dormer front 1495"),
    ],
)
def test_a_size_that_cant_be_read_is_refused_by_its_block(carried: str, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        roof_of(ROOF, (), carried)


def test_what_is_taped_at_its_stage_goes_into_the_cutting_list_and_the_valleys() -> None:
    made = site(ROOF)
    made.up_to("main.lean-to.sizes", taped(ROOF))
    before = made.state.facts["main.slope_fg_up"].now
    made.answer("main.lean-to.sizes", {"one": "2008", "other": "2004", "wide": "3000", "along": "1000"})
    made.answer("main.lean-to.rise", {"value": "545"})
    assert made.state.facts["main.lean_to_pitch_1"].now == pytest.approx(math.degrees(math.atan(545 / 2006)))
    assert made.state.facts["main.lean_to_out"].now == 2000, "as drawn"
    after = made.state.facts["main.slope_fg_up"].now
    assert isinstance(before, float) and isinstance(after, float) and 5 < after - before < 15
    made.up_to("main.dormer.place")
    valley = made.state.facts["main.valley_cd_jk_length"]
    made.answer("main.dormer.place", {"along": "3500", "in": "906", "up": "1350"})
    assert made.state.facts["main.valley_cd_jk_length"].now != valley.now
    assert not made.state.stale

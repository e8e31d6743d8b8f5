"""Rafters, purlins and collars: each on its slope, ending on its lines, none missing and none twice."""

import math
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.geometry.read_off.level_members import collars, purlins
from sitelog.geometry.read_off.openings import read_openings
from sitelog.geometry.read_off.rafters import Marks, Rafter, rafters
from sitelog.geometry.spacings import WAYS
from sitelog.geometry.surface.surface import Surface, surface_of
from sitelog.refusal import Refusal
from tests.surface.by_half_planes import Roof
from tests.surface.held import built, edges
from tests.surface.roofs import ROOFS
from tests.surface.test_invariants import jittered, roofs, seeds, turned

TAN, COS = math.tan(math.radians(40)), math.cos(math.radians(40))


def hold_rafters(found: Surface, every: list[Rafter], spacing: float) -> None:
    """Every part of every mark that is inside the outline is one rafter, found a second way: by its middle points."""
    for slope in range(len(found.slopes)):
        own = [rafter for rafter in every if rafter.slope == slope]
        rings = found.flat(slope)
        for rafter in own:
            for end in (rafter.start, rafter.end):
                assert abs(found.slopes[slope].height(*end[:2]) - end[2]) < 1e-6
                assert _edge_distance(rings, found.slopes[slope].flat(*end[:2])) < 0.02, rafter
            middle = found.slopes[slope].flat(
                *((a + b) / 2 for a, b in zip(rafter.start[:2], rafter.end[:2], strict=True))
            )
            assert _is_in_or_on(rings, middle), rafter
            assert rafter.length == pytest.approx(math.dist(rafter.start, rafter.end), abs=1e-6)
            assert rafter.at / spacing == pytest.approx(round(rafter.at / spacing), abs=1e-6)
        for mark, length in _inside_at_marks(rings, spacing):
            there = [rafter for rafter in own if abs(rafter.at - mark) < 1e-6]
            assert sum(rafter.length for rafter in there) == pytest.approx(length, abs=1.5 * max(len(there), 1)), mark


def _inside_at_marks(rings: list[list[tuple[float, float]]], spacing: float) -> list[tuple[float, float]]:
    """Marks that are on no corner and no edge, with the length inside by the crossings of a line up the slope."""
    corners = [x for ring in rings for x, _ in ring]
    found = []
    for nth in range(math.ceil(min(corners, default=0) / spacing), math.floor(max(corners, default=0) / spacing) + 1):
        mark = nth * spacing
        if any(abs(x - mark) < 2 for x in corners):
            continue
        ups = sorted(
            y0 + (mark - x0) / (x1 - x0) * (y1 - y0)
            for ring in rings
            for (x0, y0), (x1, y1) in edges(ring)
            if min(x0, x1) < mark < max(x0, x1)
        )
        found.append((mark, sum(high - low for low, high in zip(ups[::2], ups[1::2], strict=True))))
    return found


def _edge_distance(rings: list[list[tuple[float, float]]], at: tuple[float, float]) -> float:
    return min(
        math.dist(at, (x0 + share * (x1 - x0), y0 + share * (y1 - y0)))
        for ring in rings
        for (x0, y0), (x1, y1) in edges(ring)
        for long in [(x1 - x0) ** 2 + (y1 - y0) ** 2]
        for share in [min(max(((at[0] - x0) * (x1 - x0) + (at[1] - y0) * (y1 - y0)) / (long or 1), 0), 1)]
    )


def _is_in_or_on(rings: list[list[tuple[float, float]]], at: tuple[float, float]) -> bool:
    inside = False
    for ring in rings:
        for (x0, y0), (x1, y1) in edges(ring):
            if (y0 > at[1]) != (y1 > at[1]) and at[0] < x0 + (at[1] - y0) / (y1 - y0) * (x1 - x0):
                inside = not inside
    return inside or _edge_distance(rings, at) < 0.02


@pytest.mark.parametrize("roof", ROOFS.values(), ids=list(ROOFS))
@pytest.mark.parametrize("spacing", [400, 333])
def test_every_rafter_lies_on_its_slope_and_none_is_missing_or_double(roof: Roof, spacing: float) -> None:
    found = built(roof)
    hold_rafters(found, rafters(found, Marks(spacing)), spacing)


@given(roofs, st.floats(-2, 1.3), st.floats(0, math.tau), seeds)
@settings(deadline=None, max_examples=60)
def test_so_it_is_over_plates_that_are_a_little_out(roof: Roof, power: float, angle: float, seed: int) -> None:
    found = built(turned(jittered(roof, 10**power, seed), angle))
    hold_rafters(found, rafters(found, Marks(400)), 400)


def kinds(every: list[Rafter], found: Surface) -> Counter[tuple[str, str]]:
    return Counter((found.slopes[rafter.slope].name, rafter.kind) for rafter in every)


def test_an_l_has_commons_jacks_and_cripples_by_the_line_at_each_end() -> None:
    """By hand on slope CD, 400 from C: the hip runs 3000 in, the ridge to 6000, the valley starts at 5000."""
    found = built(ROOFS["L"])
    every = [rafter for rafter in rafters(found, Marks(400)) if found.slopes[rafter.slope].name == "CD"]
    assert Counter(rafter.kind for rafter in every) == {"hip jack": 7, "common": 5, "valley jack": 3, "cripple": 2}
    assert [rafter.head.name for rafter in every][:8] == ["hip BC-CD"] * 7 + ["ridge AB-CD"]
    lengths = {rafter.at: rafter.length for rafter in every}
    assert lengths[400] == pytest.approx(400 / COS)
    assert lengths[3200] == lengths[4800] == pytest.approx(3000 / COS)
    assert lengths[5200] == pytest.approx((3000 - 200) / COS)
    assert lengths[6800] == pytest.approx((2200 - 1800) / COS), "hip at 2200 in, valley at 1800"


def test_cripples_between_a_hip_and_a_valley_at_one_pitch_are_as_long_as_each_other() -> None:
    """Radford's Cyclopedia of Construction, volume 3, 1909: their run is the plate between corners, 6 ft."""
    foot = 304.8
    plate = 6 * foot
    found = surface_of(
        f"A 0,0; B {20 * foot},0; C {20 * foot},{20 * foot}; D {14 * foot},{20 * foot}; E {14 * foot},{40 * foot};"
        f"F 0,{40 * foot}; main AB 30, BC 30, CD 30, FA 30; wing AB 30, DE 30, EF 30, FA 30"
    )
    cripples = [rafter for rafter in rafters(found, Marks(200)) if rafter.kind == "cripple"]
    cripples = [rafter for rafter in cripples if rafter.head.name == "hip BC-CD"]
    runs = [rafter.length * math.cos(math.radians(30)) for rafter in cripples]
    assert runs == pytest.approx([plate] * len(runs))
    assert len(runs) > 4


def test_cripples_between_unequal_pitches_differ() -> None:
    """Griffith, Carpentry, 1916: not of uniform length on unequal pitches."""
    found = surface_of(
        "A 0,0; B 6000,0; C 6000,6000; D 5400,6000; E 5400,12000; F 0,12000;"
        "main AB 30, BC 45, CD 30, FA 45; wing AB 30, DE 35, EF 30, FA 45"
    )
    cripples = [rafter for rafter in rafters(found, Marks(100)) if rafter.kind == "cripple"]
    lengths = [round(rafter.length, 3) for rafter in cripples if rafter.head.name == "hip BC-CD"]
    assert len(lengths) > 2
    assert len(set(lengths)) == len(lengths)


def test_the_common_of_a_hipped_end_runs_to_the_end_of_the_ridge() -> None:
    found = built(ROOFS["splayed bay"])
    [crown] = [
        rafter
        for rafter in rafters(found, Marks(1000))
        if found.slopes[rafter.slope].name == "BC" and rafter.at == 3000
    ]
    assert (crown.kind, crown.head.kind) == ("common", "ridge end")
    assert crown.length == pytest.approx(3000 / COS)


# Along BC, 6100 long, at 400: fifteen whole bays and 100. From the middle fourteen, and 250 at both ends; evened
# sixteen of 381.25. None runs along a hip, so the two on the corners are left out.
ALONG_6100 = {
    "first": [400.0 * n for n in range(1, 16)],
    "last": [100.0 + 400 * n for n in range(15)],
    "middle": [250.0 + 400 * n for n in range(15)],
    "evened": [381.25 * n for n in range(1, 16)],
}


@pytest.mark.parametrize("way", WAYS)
def test_rafters_of_a_slope_are_set_out_as_it_is_asked_for(way: str) -> None:
    """Counted by hand; on AB the way is the same from its own ends."""
    found = surface_of("A 0,0; B 9000,0; C 9000,6100; D 0,6100; main AB 40, BC 40, CD 40, DA 40")
    every = rafters(found, Marks(400, way=way))
    places = sorted(rafter.at for rafter in every if found.slopes[rafter.slope].name == "BC")
    assert places == pytest.approx(ALONG_6100[way])


def test_over_a_pyramid_the_middle_common_runs_to_the_point() -> None:
    found = surface_of("A 0,0; B 6000,0; C 6000,6000; D 0,6000; main AB 40, BC 40, CD 40, DA 40")
    middle = [rafter for rafter in rafters(found, Marks(1000)) if rafter.at == 3000]
    assert [(rafter.kind, rafter.head.name) for rafter in middle] == [("common", "point AB-BC-CD-DA")] * 4


def test_rafters_start_from_the_corner_that_is_asked_for() -> None:
    """From A along CD, whose first point is C, 9000 off: marks are 9000 less whole spacings: pairs."""
    found = built(ROOFS["L"])
    every = rafters(found, Marks(400, "A"))
    cd = sorted(rafter.at for rafter in every if found.slopes[rafter.slope].name == "CD")
    assert cd[0] == pytest.approx(9000 - 22 * 400)
    heads = {side: {round(r.end[0]) for r in every if r.kind == "common" and found.slopes[r.slope].name == side}
             for side in ("AB", "CD")}  # fmt: skip
    assert heads["CD"] <= heads["AB"]


def test_a_rafter_on_the_verge_is_one_rafter() -> None:
    found = built(ROOFS["sprocketed eaves"])
    at_0 = [rafter for rafter in rafters(found, Marks(1000)) if found.slopes[rafter.slope].name == "CD"]
    assert [rafter.at for rafter in at_0] == pytest.approx([nth * 1000 for nth in range(10)])


def test_on_a_laid_valley_the_main_rafters_run_whole_and_the_wing_s_are_cut_by_the_main_pitch() -> None:
    found = built(ROOFS["L"])
    every = rafters(found, Marks(400), laid=["wing"])
    main = [rafter for rafter in every if found.slopes[rafter.slope].name == "CD"]
    assert {rafter.kind for rafter in main} == {"hip jack", "common"}
    assert main[-1].at > 8000, "under the wing as well"
    wing = [rafter for rafter in every if rafter.foot.kind == "laid valley"]
    assert {found.slopes[rafter.slope].name for rafter in wing} == {"DE"}
    assert {rafter.kind for rafter in wing} == {"valley jack"}
    assert wing[0].foot.name == "laid valley CD-DE"
    assert wing[0].foot.cut.saw_tilt == pytest.approx(40), "the main pitch"
    assert wing[0].foot.cut.side_from_square == pytest.approx(90 - 40), "level along the boards"


def test_an_opening_trims_the_rafters_that_it_meets_and_no_others() -> None:
    """On CD, 900 wide from 3000 and 1200 up from 500: marks 3200 and 3600 only."""
    found = built(ROOFS["L"])
    openings = read_openings("CD 3000,500 900x1200", found)
    every = [r for r in rafters(found, Marks(400), openings) if found.slopes[r.slope].name == "CD"]
    trimmed = [r for r in every if "trimmer 1" in (r.foot.name, r.head.name)]
    assert [r.at for r in trimmed] == [3200, 3200, 3600, 3600]
    assert [r.length for r in trimmed] == pytest.approx([500, 3000 / COS - 1700] * 2)
    assert {r.kind for r in trimmed} == {"other"}


def test_a_rafter_along_the_side_of_an_opening_is_whole() -> None:
    found = built(ROOFS["L"])
    openings = read_openings("CD 3200,500 800x1200", found)
    every = [r for r in rafters(found, Marks(400), openings) if found.slopes[r.slope].name == "CD"]
    assert [r.at for r in every if "trimmer 1" in (r.foot.name, r.head.name)] == [3600, 3600]
    assert {r.at for r in every if r.kind == "common"} == {3200, 4000, 4400, 4800}


@pytest.mark.parametrize(
    ("openings", "said"),
    [
        ("CD 1000,1000 900x1200", "opening 1 isn't inside slope CD"),
        ("CD 3000,-100 900x1200", "isn't inside slope CD"),
        ("XY 3000,500 900x1200", "XY isn't a slope"),
        ("CD 3000 900x1200", "isn't an opening"),
        ("CD 3000,500 900xbanana", "isn't a figure"),
        ("CD 3000,500 0x1200", "isn't inside"),
        ("; ".join(["CD 3000,500 900x1200"] * 51), "51 are given"),
    ],
)
def test_an_opening_that_can_t_be_is_refused_by_its_number(openings: str, said: str) -> None:
    with pytest.raises(Refusal, match=said):
        read_openings(openings, built(ROOFS["L"]))


@pytest.mark.parametrize(
    ("marks", "laid", "said"),
    [
        (Marks(400, "X"), [], "origin: X isn't a point"),
        (Marks(400, "A", "middle"), [], "leave origin= or set_out= out"),
        (Marks(400), ["bay"], "laid: bay isn't a block"),
        (Marks(400), ["main", "wing"], "every block is laid"),
        (Marks(1), [], "more than 5000 rafters"),
    ],
)
def test_rafters_that_can_t_be_are_refused(marks: Marks, laid: list[str], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        rafters(built(ROOFS["L"]), marks, laid=laid)


# --- level members ------------------------------------------------------------------------------------------------


def test_purlins_run_level_between_the_lines_that_they_meet() -> None:
    """By hand: at 1000 up the hips are 1000 / tan 40 in from each corner."""
    found = built(ROOFS["L"])
    laid = {found.slopes[one.slope].name: one for one in purlins(found, [1000])}
    off = 1000 / TAN
    assert laid["AB"].length == pytest.approx(9000 - 2 * off)
    assert laid["CD"].length == pytest.approx(5000), "from the hip to the valley both as far along"
    assert [end.meets for end in laid["CD"].ends] == ["hip BC-CD", "valley CD-DE"]
    assert {round(point[2], 6) for one in laid.values() for point in (one.start, one.end)} == {1000}


def test_a_purlin_s_bevels_are_those_of_the_purlin_calculator() -> None:
    """35 degrees all round: 39.323 on the edge and 29.838 on the face, by vectors."""
    found = surface_of("A 0,0; B 9000,0; C 9000,6000; D 0,6000; main AB 35, BC 35, CD 35, DA 35")
    [one] = [one for one in purlins(found, [1000]) if found.slopes[one.slope].name == "AB"]
    for end in one.ends:
        assert end.edge_from_square == pytest.approx(39.323, abs=5e-4)
        assert end.face_from_square == pytest.approx(29.838, abs=5e-4)


def test_no_purlin_is_over_the_ridge_or_under_the_plate() -> None:
    assert purlins(built(ROOFS["L"]), [-100, 2600]) == []


def test_a_collar_is_as_long_as_the_roof_is_wide_at_its_height_and_is_there_once() -> None:
    found = built(ROOFS["sprocketed eaves"])
    every = [one for one in collars(found, rafters(found, Marks(500, "A")), [2000]) if one.at > 100]
    assert {round(one.length, 6) for one in every} == {6000 - 2 * 2000}
    assert len({round(one.start[0], 3) for one in every}) == len(every)

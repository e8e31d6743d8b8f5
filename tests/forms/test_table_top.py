"""A table-top roof: plates as built set out the table, the table that stands sets rafters and flat, joists firrings.

Sizes are invented; what they come to is drawn again here by planes and vectors (numpy), not by the calculators.
"""

import copy
import math

import numpy as np
import numpy.typing as npt
import pytest

from sitelog.job.members import members
from sitelog.reports.sketches import sketches
from sitelog.wording.formatting import label
from tests.forms.seen import check, now
from tests.reports.site import Site
from tests.shipped import library

Vector = npt.NDArray[np.float64]
DRAWN = {"length": "9000", "width": "6600", "pitch": "45", "rise": "2000", "design_mass": "70", "flat_mass": "35.7"}
CORNERS = {"a": (0.0, 0.0), "b": (9004.0, 0.0), "c": (9010.0, 6604.0), "d": (3.0, 6596.0)}
SIDES = ("ab", "bc", "cd", "da")
RISE, PITCH = 2000.0, 45.0
TAPE = 0.2  # mm: six lengths typed to a tenth, fitted to four corners
STAFF = {"readings": "1402,1403,1401,1402,1404,1403,1402,1402"}
DRY = {
    "a": 12.0,
    "ab": 9.0,
    "b": 6.0,
    "bc": 4.0,
    "c": 0.0,
    "cd": 3.0,
    "d": 8.0,
    "da": 9.0,
    "m": 5.0,
}  # joists low by, mm


def at(name: str) -> Vector:
    return np.array(CORNERS[name])


def plates() -> dict[str, str]:
    return {one: f"{np.linalg.norm(at(one[1]) - at(one[0])):.1f}" for one in (*SIDES, "ac", "bd")}


def table() -> dict[str, Vector]:
    """The table's corners: where the lines at RISE on two neighbouring planes cross, each in from its plate."""
    found = {}
    for before, side in zip((SIDES[3], *SIDES[:3]), SIDES, strict=True):
        rows, sums = [], []
        for plate in (before, side):
            along = (at(plate[1]) - at(plate[0])) / np.linalg.norm(at(plate[1]) - at(plate[0]))
            inward = np.array([-along[1], along[0]])
            rows.append(inward)
            sums.append(inward @ at(plate[0]) + RISE / math.tan(math.radians(PITCH)))
        found[side[0]] = np.linalg.solve(np.array(rows), np.array(sums))
    return found


@pytest.fixture(scope="module")
def plated() -> Site:
    """Plates in and out of square; the set-out is next."""
    site = Site(form="table-top", more=DRAWN, pitch="45")
    site.up_to("main.set-out.under", {"main.plates.sides": plates(), "main.plates.levels": STAFF})
    return site


@pytest.fixture(scope="module")
def framed(plated: Site) -> Site:
    """No walls beneath; the flat is lead to all four edges; studs and table are next."""
    site = copy.copy(plated)
    site.up_to("main.frame.sides", {"main.set-out.under": {"value": "none"}, **FINISH})
    return site


@pytest.fixture(scope="module")
def joisted(framed: Site) -> Site:
    """The table stands 9 longer and 6 wider than worked; the joists of the flat are next."""
    site = copy.copy(framed)
    site.up_to("main.joists.levels", {"main.frame.sides": STANDS, "main.frame.levels": STAFF})
    return site


FINISH = {"main.flat-finish.lining": {"value": "lead-code-7"}, "main.flat-finish.falls": {"value": "edges"}}
STANDS = {"ab": "5020", "bc": "2610", "cd": "5020", "da": "2610", "ac": "5658.0", "bd": "5658.0"}


# --- set-out ------------------------------------------------------------------------------------------------------


def test_the_table_is_where_the_planes_over_the_plates_as_built_reach_the_rise(plated: Site) -> None:
    corners = table()
    for one in (*SIDES, "ac", "bd"):
        length = float(np.linalg.norm(corners[one[1]] - corners[one[0]]))
        assert now(plated, f"top_{one}") == pytest.approx(length, abs=TAPE)
    for side in SIDES:
        assert now(plated, f"in_{side}") == pytest.approx(RISE / math.tan(math.radians(PITCH)))


def test_a_hip_is_the_line_from_its_plate_corner_to_the_tables(plated: Site) -> None:
    for name, corner in table().items():
        line = np.append(corner - at(name), RISE)
        assert now(plated, f"hip_{name}") == pytest.approx(float(np.linalg.norm(line)), abs=TAPE)


@pytest.mark.parametrize("bare", ["1974.5", "1986", "1200"])
def test_a_wall_with_its_dabs_and_board_is_a_distance_to_the_table_and_no_fault(plated: Site, bare: str) -> None:
    """The finished face is the bare one, 10 of dab and 15.5 of board; the table's edge comes 2000 in."""
    site = copy.copy(plated)
    site.answer("main.set-out.under", {"value": "bare"})
    site.answer("main.set-out.bare", dict.fromkeys(SIDES, bare))
    assert now(site, "wall_ab") == pytest.approx(float(bare) + 25.5)
    assert now(site, "stud_ab") == pytest.approx(float(bare) + 10)
    site.answer("main.set-out.table")
    view = check(site, "set-out.table")
    assert view.state == "done" and view.answer is not None and view.verdict is None
    by_side = {row["side"]: row["wall_to_table"] for row in view.answer.results["sides"]}  # type: ignore[index,union-attr]
    assert by_side["ab"] == pytest.approx(2000 - float(bare) - 25.5)


def test_what_is_under_the_table_changed_asks_for_other_walls(plated: Site) -> None:
    site = copy.copy(plated)
    site.answer("main.set-out.under", {"value": "bare"})
    site.answer("main.set-out.bare", dict.fromkeys(SIDES, "1974.5"))
    site.answer("main.set-out.table")
    site.answer("main.set-out.under", {"value": "finished"})
    assert site.state.check("main.set-out.bare") is None
    assert check(site, "set-out.finished").state == "open"
    assert check(site, "set-out.table").state == "stale"


# --- two finishes -------------------------------------------------------------------------------------------------


def test_the_slopes_and_the_flat_each_have_a_finish_of_their_own(framed: Site) -> None:
    facts = framed.state.facts
    assert facts["main.covering"].now == "plain-tiles"
    assert facts["main.lining"].now == "lead-code-7"
    slopes = check(framed, "finish.covering").check.finishes
    assert (slopes, check(framed, "flat-finish.lining").check.finishes) == ("slopes", "flats")


def test_the_flat_is_not_framed_before_its_finish_is_signed(plated: Site) -> None:
    order = [stage.path for stage in plated.state.order if stage.part == "main"]
    assert order.index("main.flat-finish") < order.index("main.frame") < order.index("main.joists")
    assert plated.state.stage("main.flat-finish").stage.hold  # type: ignore[union-attr]


# --- the table that stands ----------------------------------------------------------------------------------------


def test_the_commons_are_cut_to_the_table_that_stands(framed: Site) -> None:
    site = copy.copy(framed)
    runs = {"ab": "2004", "bc": "1997", "cd": "2001", "da": "2000", "rise": "2000"}
    site.answer("main.frame.run", runs)
    for side, name in (("ab", "rafter_cut"), ("bc", "rafter_cut_bc"), ("cd", "rafter_cut_cd"), ("da", "rafter_cut_da")):
        assert now(site, name) == pytest.approx(float(runs[side]) / math.cos(math.radians(PITCH)))


def test_a_table_out_of_square_is_not_passed(framed: Site) -> None:
    site = copy.copy(framed)
    site.answer("main.frame.sides", {**STANDS, "ac": "5690", "bd": "5626"})
    assert check(site, "frame.sides").state == "out"


def test_the_fall_to_four_edges_rises_from_the_thin_end_over_half_the_width_that_stands(joisted: Site) -> None:
    """1:40 over half of 2610, on 20 at the edge."""
    assert now(joisted, "over_m") == pytest.approx(20 + 2610 / 2 / 40, abs=0.01)


def test_each_firring_takes_what_its_joist_is_low_by(joisted: Site) -> None:
    """A staff reads more where a joist is lower: packing is what brings all to the highest."""
    site = copy.copy(joisted)
    site.answer("main.joists.levels", {"readings": ",".join(f"{1400 + low:.0f}" for low in DRY.values())})
    for corner in ("a", "b", "c", "d"):
        assert now(site, f"firring_{corner}") == pytest.approx(20 + DRY[corner])
    assert now(site, "firring_m") == pytest.approx(20 + 2610 / 2 / 40 + DRY["m"], abs=0.01)


def test_joists_levelled_anew_make_the_firrings_that_were_passed_stale(joisted: Site) -> None:
    site = copy.copy(joisted)
    site.answer("main.joists.levels", {"readings": ",".join("1400" for _ in DRY)})
    site.up_to("main.firrings.rim")
    assert check(site, "firrings.corners").state == "done"
    site.answer("main.joists.levels", {"readings": ",".join(f"{1400 + low:.0f}" for low in DRY.values())})
    assert check(site, "firrings.corners").state == "stale"


def test_other_falls_ask_for_another_list_of_firrings(joisted: Site) -> None:
    site = copy.copy(joisted)
    assert site.state.check("main.firrings.list-edges") and not site.state.check("main.firrings.list-along")
    site.answer("main.flat-finish.falls", {"value": "along"})
    assert site.state.check("main.firrings.list-along") and not site.state.check("main.firrings.list-edges")
    assert now(site, "over_c") == pytest.approx(20 + 2610 / 40), "one fall over the whole width that stands"


# --- members ------------------------------------------------------------------------------------------------------


def test_the_cutting_list_fills_each_slope_between_its_hips(framed: Site) -> None:
    """Commons at both corners of the table and at 400 between; jacks at 400 from each corner up to where it stands."""
    site = copy.copy(framed)
    site.answer("main.frame.run", {**dict.fromkeys(SIDES, "2000"), "rise": "2000"})
    lines = [(line.id, line.member) for line in members(site.state, library(), "main") if line.member]
    corners = table()
    for side in SIDES:
        along = (at(side[1]) - at(side[0])) / np.linalg.norm(at(side[1]) - at(side[0]))
        feet = [float(along @ (corners[end] - at(side[0]))) for end in side]
        commons = [member for id, member in lines if id == f"commons-{side}" for _ in range(member.count)]
        assert len(commons) == math.ceil((feet[1] - feet[0]) / 400) + 1
        past = now(site, "rafter_overall") - now(site, "rafter_cut")
        assert {round(member.length - past, 1) for member in commons} == {round(2000 / math.cos(math.radians(45)), 1)}
    jacks = sum(member.count for id, member in lines if id == "jacks-a")
    back = (at("d") - at("a")) / np.linalg.norm(at("d") - at("a"))
    assert jacks == 2 * math.ceil((float(back @ (corners["a"] - at("a"))) - 400 - 10) / 400), (
        "a pair at each mark that is more than the house's 10 mm short of it"
    )
    joists = sum(member.count for id, member in lines if id == "joists")
    assert joists == math.ceil((now(site, "flat_ab") - 47) / 400) + 1


def test_a_length_to_the_table_is_never_told_as_one_to_a_ridge(framed: Site) -> None:
    """Its hips and commons run to the table, of which nothing is taken off. A hipped roof has the same calculators."""
    for calculator, path in (("hip", "length_on_line"), ("common", "length_on_line"), ("common", "length_to_ridge")):
        assert label(calculator, path).endswith("or table")
    drawn = [one.drawing for one in sketches(framed.state, library(), "main") if one.drawing]
    lengths = [one for one in drawn if "Hip: from the side" in one.title or "length broken out" in one.title]
    assert {"Common rafter" in one.title for one in lengths} == {True, False}
    for one in lengths:
        told = [words.text for words in one.words if "on line" in words.text]
        assert told and not any("centre" in words.text or "face" in words.text for words in one.words)
        assert not any("ridge" in words for words in one.says)

"""A roof between two gables: plates as built drive the ridge, straps go by the storeys, ladders by the verge.

Sizes are invented; what they come to is worked here by vectors (numpy), not by the calculators.
"""

import copy
import math

import numpy as np
import pytest

from sitelog.job.actions import actions
from sitelog.job.members import members
from sitelog.refusal import Refusal
from tests.forms.seen import check, now
from tests.reports.site import Site
from tests.shipped import library

DRAWN = {"length": "9000", "width": "6000", "pitch": "40", "verge": "250", "design_mass": "70", "eaves_tied": "yes"}
# Plates 30 wider at gable BC than at DA; the diagonals are those of these four corners.
CORNERS = {"a": (0.0, 0.0), "b": (9000.0, 0.0), "c": (9000.0, 6015.0), "d": (0.0, 5985.0)}
TOL = 0.06  # mm: figures are typed to a tenth


def sides() -> dict[str, str]:
    """The six lengths between the corners, as a tape would read them."""
    at = {name: np.array(place) for name, place in CORNERS.items()}
    return {one: f"{np.linalg.norm(at[one[1]] - at[one[0]]):.1f}" for one in ("ab", "bc", "cd", "da", "ac", "bd")}


@pytest.fixture(scope="module")
def set_out() -> Site:
    """The plates are in, and not parallel; the job stands before its first pair."""
    site = Site(form="gabled", more=DRAWN)
    site.up_to("main.first-pair.common", {"main.plates.sides": sides(), "main.plates.levels": LEVELS})
    return site


@pytest.fixture(scope="module")
def strapped(set_out: Site) -> Site:
    """The same roof before the storeys are asked."""
    site = copy.copy(set_out)
    site.up_to("main.gables.storeys", {"main.bearing.carries": {"value": "board"}})
    return site


LEVELS = {"readings": "1402,1403,1401,1402,1404,1402"}


def test_a_ridge_over_plates_that_are_not_parallel_falls_to_the_narrower_gable(set_out: Site) -> None:
    """Planes at 40 degrees up from both plates meet over the middle of each gable, half its width up."""
    rise = {end: width / 2 * math.tan(math.radians(40)) for end, width in (("p", 5985.0), ("q", 6015.0))}
    assert now(set_out, "ridge_height_p") == pytest.approx(rise["p"], abs=TOL)
    assert now(set_out, "ridge_height_q") == pytest.approx(rise["q"], abs=TOL)
    assert now(set_out, "ridge_fall") == pytest.approx(rise["p"] - rise["q"], abs=2 * TOL)


def test_the_ridge_is_as_long_as_the_line_between_the_middles_of_the_gables(set_out: Site) -> None:
    at = {name: np.array(place) for name, place in CORNERS.items()}
    line = np.linalg.norm((at["b"] + at["c"]) / 2 - (at["a"] + at["d"]) / 2)
    assert now(set_out, "ridge") == pytest.approx(float(line), abs=TOL)
    assert now(set_out, "ridge_cut") == pytest.approx(float(line) + 500, abs=TOL)


def test_a_gable_measured_anew_makes_the_common_that_was_accepted_stale(set_out: Site) -> None:
    site = copy.copy(set_out)
    site.answer("main.first-pair.common")
    site.answer("main.plates.span", {"middle": "6040", "at_p": "6040", "at_q": "6040"})
    assert check(site, "first-pair.common").state == "stale"
    assert check(site, "plates.span").state == "out", "40 over the span drawn"


def test_a_plate_out_of_level_keeps_the_hold_from_being_signed(set_out: Site) -> None:
    site = copy.copy(set_out)
    site.answer("main.plates.levels", {"readings": "1402,1403,1401,1402,1414,1402"})
    assert check(site, "plates.levels").state == "out"
    with pytest.raises(Refusal, match="plates"):
        site.do(actions.sign(site.state, "main.plates"))


@pytest.mark.parametrize(
    ("storeys", "spacing", "name", "state"),
    [  # NHBC Standards 2024/25, 7.2.8: 2 m up to three storeys, 1.25 m over that
        ("low", "1900", "spacing", "done"),
        ("low", "2100", "spacing", "out"),
        ("tall", "1200", "spacing-tall", "done"),
        ("tall", "1900", "spacing-tall", "out"),
    ],
)
def test_straps_go_by_the_storeys(strapped: Site, storeys: str, spacing: str, name: str, state: str) -> None:
    site = copy.copy(strapped)
    site.answer("main.gables.storeys", {"value": storeys})
    site.answer(f"main.gables.{name}", {"da": spacing, "bc": spacing})
    assert check(site, f"gables.{name}").state == state


def test_changing_the_storeys_asks_for_the_straps_again(strapped: Site) -> None:
    site = copy.copy(strapped)
    site.answer("main.gables.storeys", {"value": "low"})
    site.answer("main.gables.spacing", {"da": "1900", "bc": "1900"})
    site.answer("main.gables.storeys", {"value": "tall"})
    assert site.state.check("main.gables.spacing") is None
    assert check(site, "gables.spacing-tall").state == "open"


def test_a_beam_asks_for_its_detail_and_bearings_and_a_board_does_not(strapped: Site) -> None:
    site = copy.copy(strapped)
    assert site.state.check("main.bearing.seat") is None
    site.answer("main.bearing.carries", {"value": "beam"})
    assert [check(site, f"bearing.{name}").state for name in ("detail", "seat")] == ["open", "open"]
    assert site.state.stage("main.bearing").state != "signed"  # type: ignore[union-attr]


def test_a_flush_verge_has_no_ladder_to_measure() -> None:
    site = Site(form="gabled", more={**DRAWN, "verge": "0"})
    seen = {c.check.id for s in site.state.order if s.path == "main.verges" for c in s.shown}
    assert seen == {"masonry", "edge"}
    assert now(site, "eaves_ab") == 9000


def test_the_cutting_list_is_what_a_person_counts_who_walks_along_the_plate(set_out: Site) -> None:
    """Rafters at 375 from each gable's face and at 400 between, and every one reaches the ridge over its own foot."""
    made = [(line.id, line.member) for line in members(set_out.state, library(), "main") if line.member]
    places = [375.0]
    while places[-1] + 400 < 9000 - 375 - 0.5:
        places.append(places[-1] + 400)
    places.append(9000.0 - 375)
    front = [member for id, member in made if id == "commons-ab" for _ in range(member.count)]
    assert len(front) == len(places)
    assert sum(member.count for id, member in made if id == "barges") == 4
    stations = math.ceil(now(set_out, "slope_ab") / 600) + 1
    assert sum(member.count for id, member in made if id.startswith("noggings")) == 4 * stations
    past = now(set_out, "rafter_overall") - now(set_out, "rafter_cut")
    for member, x in zip(front, places, strict=True):
        # The ridge's face is 19 short of the middle of a house that widens evenly from 5985 to 6015. The list takes
        # the first rafter's run at the gable's face, 375 off: under a millimetre here, less than a tape tells.
        middle = (5985 + x / 9000 * 30) / 2
        assert member.length == pytest.approx((middle - 19) / math.cos(math.radians(40)) + past, abs=1.0)


def test_a_nogging_fills_from_the_first_rafter_to_the_barge(set_out: Site) -> None:
    """250 out of the gable's face and 375 in to the rafter's centre, less half of that rafter and the whole barge."""
    site = copy.copy(set_out)
    site.answer("main.first-pair.sizes", {"rafter": "47", "ridge": "38"})
    lengths = {m.member.length for m in members(site.state, library(), "main") if m.member and m.id == "noggings-p"}
    assert lengths == {250 + 375 - 23.5 - 47}


def test_a_pattern_that_gapes_at_the_ridge_says_what_to_cut_and_holds_the_batch(set_out: Site) -> None:
    """Open by 8 at the top of a plumb cut 150 / cos 40 long, it lies that much steeper than it was cut."""
    site = copy.copy(set_out)
    site.up_to("main.first-pair.pattern")
    site.answer("main.first-pair.pattern", {"ab": "0", "cd": "0", "gap_top": "8", "gap_bottom": "0", "heel": "0"})
    view = check(site, "first-pair.pattern")
    assert view.state == "out" and view.answer is not None
    turned = math.degrees(math.asin(8 / (150 / math.cos(math.radians(40)))))
    assert view.answer.results["turned"] == pytest.approx(turned)
    with pytest.raises(Refusal, match=r"pattern"):
        actions.sign(site.state, "main.first-pair")
    ridge = site.state.stage("main.ridge")
    assert ridge is not None and ridge.blocked, "nothing else is cut before"
    site.answer("main.first-pair.pattern", {"ab": "0", "cd": "0"})
    assert check(site, "first-pair.pattern").state == "done", "as it was always typed"

"""A table set out on the floor: its elevation over the floor as measured, its studs and plates, the pattern tried.

Sizes are invented; what they come to is worked by hand here.
"""

from copy import copy
from math import cos, radians

import pytest

from sitelog.job.actions import actions
from sitelog.job.members import members
from sitelog.job.sticks import sticks
from sitelog.reports.sketches import sketches
from sitelog.reports.timber.entries import all_lines, entries
from tests.forms.seen import check, now
from tests.forms.test_table_top import DRAWN, FINISH, STAFF, STANDS, plates
from tests.reports.site import Site
from tests.shipped import library

READ = {"main.plates.sides": plates(), "main.plates.levels": STAFF, "main.set-out.under": {"value": "none"}, **FINISH}
FLOOR = {"floor": "450", "finish": "22", "sole": "47", "plate": "47", "trimmer": "45"}
RISE, DEPTH, NOTCH = 2000.0, 150.0, 50.0
SLOPE = cos(radians(45))


@pytest.fixture(scope="module")
def planned() -> Site:
    """The plan is pinned and agreed; the elevation is next."""
    site = Site(form="table-top", more=DRAWN, pitch="45")
    site.up_to("main.elevation.floor", READ)
    return site


@pytest.fixture(scope="module")
def floored(planned: Site) -> Site:
    site = copy(planned)
    site.answer("main.elevation.floor", FLOOR)
    return site


@pytest.fixture(scope="module")
def framed(floored: Site) -> Site:
    """The table stands; the pattern is cut and is next to be tried."""
    site = copy(floored)
    site.up_to("main.first-pair.pattern", {**READ, "main.frame.sides": STANDS, "main.frame.levels": STAFF})
    return site


def test_no_stud_has_a_length_before_the_floor_is_measured(planned: Site) -> None:
    assert "main.stud_cut" in planned.state.facts and planned.state.facts["main.stud_cut"].now is None
    assert not [line for line in members(planned.state, library(), "main") if line.id == "studs-ab" and line.member]


def test_the_elevation_is_over_the_finished_floor(floored: Site) -> None:
    """By hand: the table's underside 450 + 2000; the head's foot a plumb cut below its top; a stud under two plates."""
    table = 450 + RISE
    shown = check(floored, "elevation.heights")
    assert shown.answer is not None
    row = next(row for row in shown.answer.results["elevation"] if row["side"] == "ab")  # type: ignore[index,union-attr]
    assert now(floored, "floor_table") == table
    assert now(floored, "floor_rafter") == pytest.approx(RISE / SLOPE)
    assert now(floored, "floor_foot") == pytest.approx(table + (DEPTH - NOTCH) / SLOPE - DEPTH / SLOPE)
    assert now(floored, "floor_back") == RISE + 2 * 45
    assert now(floored, "stud_cut") == table - 2 * 47 + 22 - 47
    assert row["seat_length"] == pytest.approx(NOTCH / SLOPE)  # type: ignore[index]
    drawn = [one for one in sketches(floored.state, library(), "main") if "main.elevation.heights" in one.paths]
    assert drawn and all(one.drawing for one in drawn)


def test_one_stud_is_tried_before_the_rest_and_they_are_its_copies(floored: Site) -> None:
    held = [line for line in members(floored.state, library(), "main") if line.id.startswith("studs-")]
    assert held and all(line.trial and line.trial.held for line in held)
    site = copy(floored)
    site.up_to("main.elevation.stud", READ)
    site.answer("main.elevation.stud", {"length": "2329"})
    cut = [line for line in members(site.state, library(), "main") if line.id.startswith("studs-")]
    assert {line.member.length for line in cut if line.member} == {2329.0}
    assert not any(line.trial and line.trial.held for line in cut)


def test_studs_stand_at_their_centres_and_each_corner_is_counted_once(framed: Site) -> None:
    """Table 5020 by 2610: at 600 or closer 5020 - 47 takes 9 gaps, 10 studs; between, 600 in from each end of 2610."""
    lines = {line.id: line.member for line in members(framed.state, library(), "main") if line.member}
    counts = {side: lines[f"studs-{side}"].count for side in ("ab", "bc", "cd", "da")}
    assert counts == {"ab": 10, "bc": 4, "cd": 10, "da": 4}
    assert (lines["head-plate-ab"].length, lines["head-plate-ab"].count) == (5020.0, 2)


def test_the_commons_of_all_four_sides_are_cut_to_the_pattern_that_was_tried(framed: Site) -> None:
    """2 open at the bottom of the cut alone, too near the limit to call: all are cut flatter, once that is agreed."""
    site = copy(framed)
    site.answer("main.first-pair.pattern", {"ab": "0", "cd": "0", "gap_bottom": "2"})
    assert check(site, "first-pair.pattern").state == "unsure"
    site.do(actions.release(site.state, "main.first-pair.pattern", "cut the rest to it"))
    cut = [line for line in members(site.state, library(), "main") if line.id.startswith("commons-") and line.member]
    pitch = now(site, "tried_pitch")
    assert pitch < 45 and {line.id for line in cut} == {f"commons-{side}" for side in ("ab", "bc", "cd", "da")}
    assert {round(line.member.head.cut, 6) for line in cut if line.member} == {round(pitch, 6)}
    made = [one for one in sticks(site.state, library(), "main") if one.lines[0].id.startswith("commons-")]
    assert made and all(one.answer for one in made), [one.why for one in made]
    told = next(one for one in entries(all_lines(site.state, library()), site.state) if one.what == "Common")
    assert told.stands.startswith("corrected as tried")

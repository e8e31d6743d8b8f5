"""A parapet round two, three and four sides: corners, dummies, hips and what is cut. Sizes are invented."""

import copy
import math
from functools import cache
from itertools import pairwise

import numpy as np
import pytest

from sitelog.job.facts.in_use import in_use
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from sitelog.refusal import Refusal
from tests.forms.seen import check
from tests.forms.test_parapet_gutter import DRAWN, READ, results
from tests.reports.site import Site
from tests.shipped import library

SIZES = {"length": "9000", "width": "6000", "gutter_run": "8800"}
LEVELS = {"two": 5, "three": 7, "four": 8}
READ_ROUND = READ | {
    **{f"main.round.levels-{sides}": {"readings": ",".join(["1402"] * count)} for sides, count in LEVELS.items()},
    "main.round.joints": {"crossed": "5", "between": "2"},
    "main.jacks.cover": {"value": "12"},
}
# 6000 wide at 35 degrees: the hip on its line to the face of a 38 ridge, less head and foot pieces.
GAP = (3000 - 19) * math.sqrt(2 + math.tan(math.radians(35)) ** 2) - 900 - 1200
READ_ROUND |= {f"main.hip-cuts.gap-{c}": {"head": "900", "foot": "1200", "gap": f"{GAP:.0f}"} for c in "abcd"}
CORNERS = {2: "b", 3: "bc", 4: "abcd"}


@cache
def whole(sides: int) -> Site:
    """A parapet of so many sides, done as drawn to its handover."""
    made = Site(parts=[("main", "Parapet", "parapet-gutter", DRAWN | SIZES | {"sides": str(sides)})])
    made.up_to("", READ_ROUND)
    return made


def lines(made: Site) -> tuple[Line, ...]:
    return tuple(line for line in members(made.state, library(), "main") if line.member)


def lengths(made: Site, name: str) -> list[float]:
    return [line.member.length for line in lines(made) if line.id == name and line.member]


def stages(made: Site) -> set[str]:
    return {stage.stage.id for stage in made.state.order if stage.part == "main"}


ROUND = {"round", "boards", "feet-round", "corners", "hip-cuts", "hip-tops", "jacks", "sole-round"}


def test_a_parapet_of_one_side_asks_nothing_of_corners() -> None:
    made = Site(parts=[("main", "Parapet", "parapet-gutter", DRAWN)])
    assert not stages(made) & ROUND
    assert {line.id for line in members(made.state, library(), "main") if line.member} == {
        "board",
        "rafters",
        "bearers",
    }


@pytest.mark.parametrize("sides", ["0", "5", "2.5", "two"])
def test_a_parapet_has_one_to_four_sides_and_any_other_is_refused_by_name(sides: str) -> None:
    with pytest.raises(Refusal, match="sides"):
        Site(parts=[("main", "Parapet", "parapet-gutter", DRAWN | {"sides": sides})])


def test_no_figure_of_a_corner_that_isnt_there_is_listed() -> None:
    """Two sides have the corner B alone, and no plate but AB and BC."""
    made = Site(parts=[("main", "Parapet", "parapet-gutter", DRAWN | SIZES | {"sides": "2"})])
    names = {fact.key[1] for fact in in_use(library(), made.state, "main")}
    assert {"ab", "bc", "angle_b", "hip_b", "cross_b", "gutter_bc", "length", "lining"} <= names
    assert not names & {"cd", "da", "bd", "angle_c", "hip_cut_a", "first_d", "board_cd", "gutter_da", "last_cd"}


@pytest.mark.parametrize("sides", [2, 3, 4])
def test_every_side_and_corner_goes_to_the_handover_without_a_release(sides: int) -> None:
    made = whole(sides)
    assert made.state.handed_over and made.state.releases == ()
    assert stages(made) >= ROUND
    hips = {line.id for line in lines(made) if line.id.startswith("hip-")}
    assert hips == {f"hip-{corner}" for corner in CORNERS[sides]}
    bows = check(made, "hip-tops.straight").figures
    assert [figure.key for figure in bows] == [*CORNERS[sides]], "a bow is asked of the hips that are there"
    for side in ("bc", "cd", "da")[: sides - 1]:
        assert check(made, f"boards.board-{side}").state == "done"
        assert check(made, f"sole-round.rise-{side}").state == "done"


@pytest.mark.parametrize("sides", [2, 3, 4])
def test_every_timber_has_a_stick_that_comes_to_the_lists_length(sides: int) -> None:
    found = sticks(whole(sides).state, library(), "main")
    assert [stick.why for stick in found if stick.why] == []
    assert sum(stick.count for stick in found) == sum(line.member.count for line in lines(whole(sides)) if line.member)


@pytest.mark.parametrize(
    ("sides", "side", "long"),
    [(2, "ab", 9000), (2, "bc", 6000), (3, "cd", 9000), (3, "bc", 6000), (4, "ab", 9000), (4, "da", 6000)],
)
def test_rafters_fill_each_side_from_end_to_end_and_no_bay_is_over_the_spacing(
    sides: int, side: str, long: float
) -> None:
    """Marks along a plate, of jacks from both its corners and of commons: 400 centres, 10 mm for out of square."""
    marks: set[float] = set()
    for line in lines(whole(sides)):
        at = float(str((line.row or {}).get("at", 0)))
        if line.id.partition("-")[2].startswith(side) or line.id == f"crown-{side}":
            marks.add(round(at, 3))
        if line.id == f"jacks-{side[0]}":
            marks.add(round(at, 3))
        if line.id == f"jacks-{side[1]}":
            marks.add(round(long - at, 3))
    marks -= {0.0}
    bays = [after - before for before, after in pairwise(sorted(marks))]
    assert max(bays) <= 410 and min(bays) > 47
    assert min(marks) <= 400 and max(marks) >= long - 410


def test_a_hip_within_the_boards_is_as_long_as_its_ends_are_apart() -> None:
    """Vectors: 6000 wide at 35 degrees, the ridge 38 thick; its tail is a point where boards 20 out meet.

    Plumb cuts over the whole depth of 225: the line's length between them, and the cut's lean over the depth.
    """
    pitch = math.radians(35)
    foot = np.array([-20.0, -20.0, -20 * math.tan(pitch)])
    head = np.array([3000.0, 3000.0, 3000 * math.tan(pitch)])
    line = head - foot
    level = math.hypot(line[0], line[1])
    level -= 19 * math.sqrt(2)  # half the ridge, met at 45 degrees
    lean = math.atan2(line[2], math.hypot(line[0], line[1]))
    (length,) = lengths(whole(4), "hip-b")
    assert length == pytest.approx(level / math.cos(lean) + 225 * math.tan(lean), abs=0.05)


def test_a_corner_out_of_square_goes_into_the_hip_and_its_foot() -> None:
    """Cosine rule: 7200, 5400 and 9030 across stand at 90.47 degrees, so half of it is the hip's angle on plan."""
    made = Site(parts=[("main", "Parapet", "parapet-gutter", DRAWN | {"width": "5400", "sides": "2"})])
    made.up_to("main.round.corner-b", READ_ROUND)
    made.answer("main.round.corner-b", {"first": "7200", "second": "5400", "across": "9030"})
    corner = math.degrees(math.acos((7200**2 + 5400**2 - 9030**2) / (2 * 7200 * 5400)))
    assert check(made, "round.corner-b").state == "out"  # 44 mm at the end of the shorter side
    for path in ("corners.foot-b", "hip-cuts.hip-b"):
        assert float(str(results(made, path)["plan_angle_1"])) == pytest.approx(corner / 2)


def test_a_dummy_whose_string_is_too_high_is_out() -> None:
    """Height of the commons over the plate, and 600 at the pitch over it: held to 3 mm, the house limit."""
    made = copy.copy(whole(4))
    height = float(str(results(made, "feet.common")["height_above_plate"])) + 600 * math.tan(math.radians(35))
    cross = 600 * math.sqrt(2 + math.tan(math.radians(35)) ** 2)
    told = {"left": f"{height:.0f}", "right": f"{height:.0f}", "cross": f"{cross:.0f}", "board": "28"}  # 20 x root 2
    made.answer("main.corners.dummies-b", told, note="strung again")
    assert check(made, "corners.dummies-b").state == "done"
    made.answer("main.corners.dummies-b", told | {"right": f"{height + 6:.0f}"}, note="strung again")
    assert check(made, "corners.dummies-b").state == "out"


def test_the_middle_of_a_hip_is_cut_to_the_gap_between_its_pieces() -> None:
    """What is left of the hip's length on the line, ridge's face to the plates' corner, when both pieces are up."""
    made = copy.copy(whole(2))
    assert check(made, "hip-cuts.gap-b").state == "done"
    made.answer("main.hip-cuts.gap-b", {"head": "900", "foot": "1200", "gap": f"{GAP + 9:.0f}"}, note="taped again")
    assert check(made, "hip-cuts.gap-b").state == "out"


@pytest.mark.parametrize("sides", [2, 4])
def test_a_clipped_heel_starts_where_the_corner_is_cut_off_and_the_hip_is_as_long(sides: int) -> None:
    """Half the hip's thickness, level: on a square corner of equal pitches the clip is that far up from the corner."""
    made = copy.copy(whole(sides))
    as_v, places = lengths(made, "hip-b"), {}
    for heel in ("v", "clipped"):
        made.answer("main.corners.heel", {"value": heel}, note="agreed with the engineer")
        (stick,) = (one for one in sticks(made.state, library(), "main") if one.lines[0].id == "hip-b")
        assert stick.answer is not None and lengths(made, "hip-b") == as_v
        rows = stick.answer.results["rows"]
        assert isinstance(rows, list)
        places[heel] = {str(row["line"]): float(str(row["at"])) for row in rows if row["point"] == "corner"}
    hip = math.atan(math.tan(math.radians(35)) / math.sqrt(2))
    assert places["v"]["centre"] - places["clipped"]["centre"] > 0
    assert places["v"]["centre"] - places["v"]["1"] > 1, "a V's faces start further up"
    assert len(set(places["clipped"].values())) == 1, "square across"
    foot, worked = results(made, "corners.foot-b"), results(made, "hip-cuts.hip-b")
    assert float(str(worked["height_above_plate"])) == pytest.approx(float(str(foot["height_at_clip"])))
    assert float(str(foot["clip_along"])) == pytest.approx(23.5 / math.cos(hip), abs=0.01)


def test_dummies_stand_two_at_each_corner() -> None:
    """600 level at 35 degrees with a tail 20 out to the board, plumb cuts over a depth of 150."""
    pitch = math.radians(35)
    for sides, count in ((2, 2), (3, 4), (4, 8)):
        (line,) = (one for one in lines(whole(sides)) if one.id.startswith("dummies"))
        assert line.member is not None and line.member.count == count
        assert line.member.length == pytest.approx(620 / math.cos(pitch) + 150 * math.tan(pitch))

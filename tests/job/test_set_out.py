"""Setting out chosen once for a part: every plate of the cutting list follows it, and what was fixed stays fixed."""

from copy import copy
from itertools import pairwise

import pytest

from sitelog.calculators.rafters.jacks import jacks
from sitelog.calculators.timber.members import Member
from sitelog.job.actions import actions
from sitelog.job.members import Beside, Line, members
from sitelog.job.sticks import stick_for
from sitelog.quantities.quantity import Section
from sitelog.reports.timber.entries import set_out
from tests.calculators.results import figure
from tests.reports.site import SIDES, Site
from tests.shipped import library

JACKS = [f"jacks-{corner}" for corner in "abcd"]
COMMONS = ["commons-ab", "commons-cd"]


@pytest.fixture(scope="module")
def begun() -> Site:
    site = Site()
    site.up_to("main.first-pair", {"main.plates.sides": SIDES})
    return site


def marks(site: Site) -> dict[str, list[float]]:
    """The marks of each member of the list, one of each hand once."""
    found: dict[str, dict[float, None]] = {}
    for line in _lines(site):
        found.setdefault(line.id, {})[_at(line)] = None
    return {name: list(places) for name, places in found.items()}


def _lines(site: Site) -> list[Line]:
    return [line for line in members(site.state, library(), "main") if line.id in (*JACKS, *COMMONS)]


def _at(line: Line) -> float:
    assert line.row
    at = line.row["at"]
    assert isinstance(at, float)
    return at


def chosen(begun: Site, way: str) -> Site:
    site = copy(begun)
    site.do(actions.draw(site.state, "main", {"set_out": way}))
    return site


def test_nothing_said_is_from_the_first_end_as_it_always_was(begun: Site) -> None:
    found = marks(begun)
    for name in JACKS:
        assert found[name] == pytest.approx([400 * n for n in range(1, 8)])
    start, *_ = found["commons-ab"]
    assert found["commons-ab"][:-1] == pytest.approx([start + 400 * n for n in range(8)])


def test_evened_the_gaps_of_each_plate_are_equal_and_none_is_over_the_spacing(begun: Site) -> None:
    """Jacks from the corner on; the last bay is to the full common, where the hip has run in as far as it."""
    found = marks(chosen(begun, "evened"))
    for name, places in found.items():
        gaps = [abs(after - before) for before, after in pairwise([0.0, *places] if name in JACKS else places)]
        assert max(gaps) - min(gaps) < 1e-6, name
        assert max(gaps) <= 400


@pytest.mark.parametrize("way", ["first", "last", "middle", "evened"])
def test_corners_out_by_millimetres_have_as_many_jacks_and_each_stick_is_as_long_as_the_list_has_it(
    begun: Site, way: str
) -> None:
    site = chosen(begun, way)
    found = marks(site)
    assert {len(found[name]) for name in JACKS} == {7}
    assert {len(found[name]) for name in COMMONS} == {9}
    for line in _lines(site):
        assert line.member
        stick = figure(stick_for(site.state, library(), line), "overall_length")
        assert stick == pytest.approx(line.member.length, abs=0.5)


def test_a_first_jack_that_was_marked_stays_and_the_others_share_what_is_left() -> None:
    site = Site()
    site.up_to("main.hips", {"main.plates.sides": SIDES})
    site = chosen(site, "evened")
    site.answer("main.jacks.set-out", {"a": "350", "b": "350", "c": "350", "d": "350"})
    for name, places in marks(site).items():
        if name in JACKS:
            assert places[0] == 350
            gaps = [after - before for before, after in pairwise(places)]
            assert max(gaps) - min(gaps) < 1e-6 and max(gaps) <= 400


def test_rafters_too_near_are_said_beside_the_marks(begun: Site) -> None:
    said = dict(set_out(_lines(begun), "metric"))
    assert "8 and 9 are 196 apart" in said["Common on AB, from the corner"]
    told = dict(set_out(_lines(chosen(begun, "middle")), "metric"))
    assert not any("apart" in line for line in told.values())


def test_a_drawing_that_is_a_whole_number_of_bays_has_one_count_however_the_plates_came_out() -> None:
    """5600 wide is 2800 to the ridge, seven bays; corners as taped within 10 mm of square."""
    for run, corner in ((2797, 90.1), (2800, 90), (2803, 89.9)):
        answer = jacks(corner=corner, pitch=35, spacing=400, run=run, within=10)
        assert figure(answer, "pairs") == 6


def test_a_mark_behind_its_corner_is_said_to_be_past_it() -> None:
    def line(number: str, at: float) -> Line:
        member = Member("Valley jack", Section(47, 150), 1200.0)
        says = "Valley jack on EF"
        return Line("main", "jack", says, "built", member, shows=(Beside("Mark at", at, "mm"),), number=number)

    told = dict(set_out([line("1", -850.0), line("2", 350.0)], "metric"))
    assert told == {"Valley jack on EF, from the corner": "1 at 850 past the corner, 2 at 350"}

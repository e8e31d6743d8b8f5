"""In a cut roof each pitch has a pattern: till it fits nothing at that pitch is cut, then all of it is cut to it.

Sizes are invented; what the gaps come to is worked again here.
"""

from copy import copy
from math import atan2, cos, degrees, radians, sqrt, tan

import pytest

from sitelog.job.actions import actions
from sitelog.job.actions.counting import tally
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from sitelog.refusal import Refusal
from sitelog.reports.timber.entries import all_lines, counted, entries
from tests.forms.seen import now
from tests.forms.test_cut_roof import site, taped
from tests.reports.site import Site
from tests.shipped import library

TEXT = "main 9000x6000 40 BC 50; lean-to off AB 1000 from A 3000x2000 15 plate -1200"
FIRST, ALONE = "main.main-first-pair.pattern", "main.main-other-pitch.slope-bc-pattern"
SHORT = 6.0  # open all the way, level
DEPTH, NOTCH, RIDGE, OVERHANG = 150.0, 50.0, 38.0, 300.0


@pytest.fixture(scope="module")
def cut() -> Site:
    made = site(TEXT)
    made.up_to(FIRST, taped(TEXT))
    return made


@pytest.fixture(scope="module")
def tried(cut: Site) -> Site:
    made = copy(cut)
    made.answer(FIRST, {"one": "0", "other": "0", "gap_top": f"{SHORT}", "gap_bottom": f"{SHORT}"})
    made.do(actions.release(made.state, FIRST, "cut the rest to it"))
    return made


def lines(made: Site, id: str) -> list[Line]:
    return [line for line in members(made.state, library(), "main") if line.id == id and line.member]


def lengths(made: Site, id: str) -> list[float]:
    return [line.member.length for line in lines(made, id) if line.member]


def test_each_slope_waits_for_the_pattern_of_its_own_pitch(cut: Site) -> None:
    waits = {line.id: line.trial for line in members(cut.state, library(), "main") if line.trial}
    of = {id: (trial.path.removeprefix("main."), *trial.also, trial.of_itself) for id, trial in waits.items()}
    assert of["commons-slope-ab"] == ("main-first-pair.pattern", True)
    assert of["hip-jack-left-slope-bc"] == ("main-other-pitch.slope-bc-pattern", False)
    assert {of["hip-hip-ab-da"]} == {("main-first-pair.pattern", False)}
    assert set(of["hip-hip-ab-bc"]) == {"main-first-pair.pattern", ALONE, False}
    assert ("lean-to.pattern", True) in of.values()  # its own rafters run to a wall, not to a ridge
    assert all(trial.held for trial in waits.values())


def test_one_common_is_cut_to_be_tried_and_no_jack(cut: Site) -> None:
    found = [entry for entry in entries(all_lines(cut.state, library()), cut.state) if entry.batch]
    common = max((one for one in found if one.what == "Common"), key=lambda one: int(one.count))
    jack = next(one for one in found if one.what == "Jack, right" and "Main roof: pattern" in one.stands)
    assert common.stands.startswith("held: cut one and try it, at Main roof: pattern and first pair")
    assert jack.stands.startswith("held: cut none till the pattern fits, at Main roof")
    assert common.batch and jack.batch
    assert tally(common.batch, {"cut": "1"}).value["cut"] == 1
    with pytest.raises(Refusal, match="Cut none before the pattern is tried: answer main"):
        tally(jack.batch, {"cut": "1"})


def test_its_gaps_correct_the_commons_the_jacks_and_the_hips_of_that_pitch(cut: Site, tried: Site) -> None:
    """The pattern lies as it was cut, 6 short of the ridge's face: the rest reach it, tops as high."""
    pitch, run, over = radians(40), 3000 - RIDGE / 2, DEPTH - NOTCH
    top = run * tan(pitch) + over / cos(pitch)
    reach = run + SHORT
    lies = atan2(top, reach) - atan2(over, sqrt(reach**2 + top**2 - over**2))
    assert now(tried, "main_first_pitch") == pytest.approx(degrees(lies))
    common = max(lengths(tried, "commons-slope-ab"))
    assert common == pytest.approx((reach + OVERHANG) / cos(lies) + DEPTH * tan(lies), abs=0.2)
    # A jack's level length stays: it ends at a hip, and its foot is where it was.
    for was, jack in zip(
        lengths(cut, "hip-jack-right-slope-da"), lengths(tried, "hip-jack-right-slope-da"), strict=True
    ):
        level = (was - DEPTH * tan(pitch)) * cos(pitch)
        assert jack == pytest.approx(level / cos(lies) + DEPTH * tan(lies), abs=0.01)
    assert len(lengths(tried, "hip-jack-right-slope-da")) > 3
    # Over a square corner with one pitch a hip runs at 45 degrees on plan.
    wide = 3000 + SHORT
    assert now(tried, "hip_ab_da_tried") == pytest.approx(sqrt(2 * wide**2 + (wide * tan(lies)) ** 2), abs=0.1)
    hip = next(line for line in lines(tried, "hip-hip-ab-da"))
    assert hip.member and hip.member.head.cut == pytest.approx(degrees(atan2(tan(lies), sqrt(2))), abs=0.01)


def test_a_slope_of_another_pitch_is_left_as_it_was(cut: Site, tried: Site) -> None:
    held = lines(tried, "hip-jack-left-slope-bc")
    assert held and {line.trial.held for line in held if line.trial} == {True}
    assert lengths(tried, "hip-jack-left-slope-bc") == pytest.approx(lengths(cut, "hip-jack-left-slope-bc"))
    free = lines(tried, "hip-hip-ab-da")
    assert [line.trial.held for line in free if line.trial] == [False]
    waits = lines(tried, "hip-hip-ab-bc")  # between both: its other pattern is still to be tried
    assert [(line.trial.path, line.trial.held) for line in waits if line.trial] == [(ALONE, True)]


def test_the_sticks_follow(tried: Site) -> None:
    made = {one.lines[0].id: one for one in sticks(tried.state, library(), "main")}
    for id in ("commons-slope-ab", "hip-jack-right-slope-da", "hip-hip-ab-da"):
        stick = made[id]
        assert stick.answer and stick.lines[0].member, stick.why
        assert stick.answer.results["overall_length"] == pytest.approx(stick.lines[0].member.length, abs=0.1)


def test_what_was_tried_counts_batch_by_batch(tried: Site) -> None:
    found = [one for one in counted(all_lines(tried.state, library()), tried.state) if one.alike.what == "Common"]
    assert {one.trial.word for one in found if one.trial} == {"corrected", "held"}

"""A pattern rafter tried in place: till it fits no other is cut, and the rest are cut to what its gaps give.

Sizes are invented; what the gaps come to is drawn again here.
"""

from copy import copy
from math import atan2, cos, degrees, radians, sin, tan

import pytest

from sitelog.checklist.load import load
from sitelog.checklist.schema.shipped import shipped_folder
from sitelog.job.actions import actions
from sitelog.job.actions.counting import tally
from sitelog.job.batches import Batch
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from sitelog.refusal import Refusal
from sitelog.reports.timber.entries import Entry, all_lines, counted, entries, to_order
from tests.forms.seen import check, now
from tests.reports.site import SIDES, Site
from tests.shipped import library

TRIED = "main.first-pair.pattern"
DEPTH, NOTCH, OVERHANG, RIDGE = 150.0, 50.0, 300.0, 38.0
SHORT = {"ab": "0", "cd": "0", "gap_top": "6", "gap_bottom": "6"}  # open all the way: 6 short on the level
FITS = {"ab": "0", "cd": "0"}


@pytest.fixture(scope="module")
def cut() -> Site:
    """The pattern is cut and is next to be tried."""
    site = Site()
    site.up_to(TRIED, {"main.plates.sides": SIDES})
    return site


def tried(cut: Site, texts: dict[str, str], **more: str) -> Site:
    site = copy(cut)
    site.answer(TRIED, texts, **more)
    return site


def commons(site: Site) -> list[Line]:
    return [line for line in members(site.state, library(), "main") if line.id in ("commons-ab", "commons-cd")]


def batch(site: Site) -> Batch:
    found = counted(all_lines(site.state, library()), site.state)
    return max((one for one in found if one.alike.what == "Common"), key=lambda one: one.count)


def told(site: Site) -> Entry:
    found = entries(all_lines(site.state, library()), site.state)
    return max((one for one in found if one.what == "Common" and one.batch), key=lambda one: int(one.count))


def longest(site: Site) -> float:
    return max(line.member.length for line in commons(site) if line.member)


def test_nothing_but_the_pattern_is_cut_before_it_is_tried(cut: Site) -> None:
    assert told(cut).stands.startswith("held: cut one and try it, at Pattern and first pair")
    assert all(line.trial and line.trial.held for line in commons(cut))
    assert tally(batch(cut), {"cut": "1"}).value["cut"] == 1
    with pytest.raises(Refusal, match=f"Cut one and try it before the rest: answer {TRIED}. That makes 2"):
        tally(batch(cut), {"cut": "2"})
    site = tried(cut, FITS)
    assert told(site).stands == "tried, and fits; built"
    assert tally(batch(site), {"cut": "2"}).value["cut"] == 2


def test_the_rest_are_as_long_and_as_steep_as_the_gaps_of_the_pattern_give(cut: Site) -> None:
    """Drawn again: the pattern lies as it was cut, 6 short of the ridge's face; the rest reach it, tops as high."""
    pitch, run = radians(35), now(cut, "run") - RIDGE / 2
    over = DEPTH - NOTCH
    top = run / cos(pitch) * sin(pitch) + over / cos(pitch)  # the pattern's top arris at the head, over the plate
    reach = run + 6
    lies = atan2(top, reach) - atan2(over, (reach**2 + top**2 - over**2) ** 0.5)
    site = tried(cut, SHORT)
    site.do(actions.release(site.state, TRIED, "cut the rest to it"))
    assert now(site, "tried_pitch") == pytest.approx(degrees(lies))
    wide = max(now(site, "run_p"), now(site, "run_q")) - RIDGE / 2 + 6
    # The set-out's last rafter may stand a little short of where the run is greatest.
    assert longest(site) == pytest.approx((wide + OVERHANG) / cos(lies) + DEPTH * tan(lies), abs=0.5)
    assert {round(line.member.head.cut, 6) for line in commons(site) if line.member} == {round(degrees(lies), 6)}
    assert told(site).stands == "corrected as tried; built"
    assert "pitch to cut at 34.9°, was 35.0°" in told(site).more


def test_a_pattern_that_does_not_fit_holds_the_rest_till_one_is_cut_anew_and_does(cut: Site) -> None:
    """The second is cut to what the first one's gaps gave; it fits, and the rest are cut to it."""
    first = tried(cut, SHORT)
    assert check(first, "first-pair.pattern").state == "out" and told(first).trial == "held"
    answer = check(first, "first-pair.pattern").answer
    assert answer
    anew = {
        "cut_length": f"{answer.results['length']:.4f}",
        "cut_pitch": f"{answer.results['plumb_cut_from_square']:.6f}",
    }
    second = tried(first, FITS | anew, note="second pattern")
    assert told(second).trial == "corrected"
    assert longest(second) == pytest.approx(longest(first), abs=0.01)


def test_crowns_jacks_and_hips_are_cut_after_the_pattern_and_to_it(cut: Site) -> None:
    """Drawn again at the pitch that the gaps give: a jack's level length stays, a crown and a hip reach 6 further."""

    def of(site: Site, id: str) -> list[Line]:
        return [line for line in members(site.state, library(), "main") if line.id == id and line.member]

    for id in ("crown-bc", "jacks-a", "hip-a"):
        assert {(line.trial.held, line.trial.of_itself) for line in of(cut, id) if line.trial} == {(True, False)}
    site = tried(cut, SHORT)
    site.do(actions.release(site.state, TRIED, "cut the rest to it"))
    was, now_at = radians(35), radians(now(site, "tried_pitch"))
    for before, after in zip(of(cut, "jacks-a"), of(site, "jacks-a"), strict=True):
        assert before.member and after.member
        level = (before.member.length - DEPTH * tan(was)) * cos(was)
        assert after.member.length == pytest.approx(level / cos(now_at) + DEPTH * tan(now_at), abs=0.01)
    crowns = [line.member.length for each in (cut, site) for line in of(each, "crown-bc") if line.member]
    level = (crowns[0] - DEPTH * tan(was)) * cos(was) + 6
    assert crowns[1] == pytest.approx(level / cos(now_at) + DEPTH * tan(now_at), abs=0.01)
    wide = now(site, "run_p") + 6  # on plan a hip between two slopes at one pitch halves its corner
    on_plan = wide / sin(radians(now(site, "angle_a")) / 2)
    assert now(site, "hip_a") == pytest.approx((on_plan**2 + (wide * tan(now_at)) ** 2) ** 0.5, abs=0.01)


def test_the_stick_and_the_order_take_what_was_tried(cut: Site) -> None:
    site = tried(cut, SHORT)
    made = next(one for one in sticks(site.state, library(), "main") if one.lines[0].id == "commons-ab")
    assert made.answer is not None, made.why
    first = made.lines[0].member
    assert first is not None
    assert made.answer.results["overall_length"] == pytest.approx(first.length, abs=0.1)
    assert made.answer.inputs["common_height_above_plate"] == pytest.approx(
        (DEPTH - NOTCH) / cos(radians(now(site, "tried_pitch")))
    )
    bought = [line for line in to_order(all_lines(site.state, library()), site.state) if line.id == "commons-ab"]
    assert first in [line.member for line in bought]


def test_what_was_tried_is_taken_back_with_its_answer(cut: Site) -> None:
    site = tried(cut, SHORT)
    assert longest(site) != pytest.approx(longest(cut), abs=1)
    site.do(actions.undo(site.state, site.entries))
    assert longest(site) == pytest.approx(longest(cut))
    assert told(site).trial == "held"


def test_a_span_measured_again_puts_what_was_tried_out_of_date(cut: Site) -> None:
    site = tried(cut, FITS)
    span = {"middle": "6030", "at_p": "6030", "at_q": "6030"}
    site.answer("main.plates.span", span, note="measured at the wrong plate")
    assert check(site, "first-pair.pattern").state == "stale"
    assert {line.standing for line in commons(site)} == {"stale"}


def test_lists_of_an_earlier_day_hold_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    earlier = load(shipped=shipped_folder() / "earlier" / "2026-11-25")
    monkeypatch.setattr("tests.reports.site.library", lambda: earlier)
    site = Site()
    assert {line.trial for line in members(site.state, earlier, "main")} == {None}

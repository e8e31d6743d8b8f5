"""The stick of each member: fed by the same figures as the cutting list, and its numbers are the list's."""

from pathlib import Path

import pytest
from msgspec.structs import replace as with_

from sitelog.checklist.schema.model import Library
from sitelog.drawing.index import drawings_of
from sitelog.job.facts.schema import JOB
from sitelog.job.job import Job
from sitelog.job.members import Line
from sitelog.job.state.views import State
from sitelog.job.sticks import MemberStick, stick_for, stick_of, sticks
from sitelog.quantities.quantity import show_length
from sitelog.refusal import Refusal
from tests import shipped
from tests.calculators.results import cell, figure, rows
from tests.reports.site import SIDES, Site
from tests.shipped import library

SAMPLE = Path(__file__).parents[2] / "sample_site" / "kiln-lane.json"


@pytest.fixture(scope="module")
def site() -> Site:
    made = Site()
    made.up_to("main.first-pair", {"main.plates.sides": SIDES})
    return made


@pytest.fixture(scope="module")
def found(site: Site) -> tuple[MemberStick, ...]:
    return sticks(site.state, library(), "main")


def test_every_kind_of_member_has_its_stick_and_each_hand_its_own(found: tuple[MemberStick, ...]) -> None:
    named = [one.says for one in found]
    assert {"Common on AB", "Jack at A, left hand", "Jack at A, right hand", "Hip at A", "Ridge"} <= set(named)
    assert all(one.answer for one in found), [(one.says, one.why) for one in found if not one.answer]


def test_the_length_on_the_stick_is_the_length_in_the_list(site: Site, found: tuple[MemberStick, ...]) -> None:
    """Of every line, not of the patterns alone; as it is shown, to the millimetre."""
    for one in found:
        for line in one.lines:
            assert line.member
            length = figure(stick_for(site.state, library(), line), "overall_length")
            assert show_length(length) == show_length(line.member.length), line.member.part


def test_the_cuts_on_the_stick_are_those_of_the_list(found: tuple[MemberStick, ...]) -> None:
    for one in found:
        member = one.lines[0].member
        assert member and one.answer
        assert figure(one.answer, "plumb_cut_from_square") == pytest.approx(member.head.cut, abs=1e-6), one.says
        if member.foot.seat:
            assert figure(one.answer, "seat_cut_from_square") == pytest.approx(member.foot.seat, abs=1e-6)
        if member.head.bevel:
            assert figure(one.answer, "head_bevel_1_from_square") == pytest.approx(member.head.bevel, abs=1e-6)
            assert figure(one.answer, "head_tilt_1") == pytest.approx(member.head.tilt, abs=1e-6)
        if member.head.bevel_2:
            assert figure(one.answer, "head_bevel_2_from_square") == pytest.approx(member.head.bevel_2, abs=1e-6)


def test_the_two_hands_of_a_jack_are_the_same_marks_with_the_other_face_up(found: tuple[MemberStick, ...]) -> None:
    left, right = (next(one for one in found if one.says == f"Jack at A, {hand} hand") for hand in ("left", "right"))
    assert left.answer and right.answer
    for mark, other in zip(rows(left.answer, "rows"), rows(right.answer, "rows"), strict=True):
        assert cell(mark, "at") == pytest.approx(cell(other, "at"), abs=1e-6)
    titles = [drawings_of(one.answer)[0].title for one in (left, right) if one.answer]
    assert "left hand" in titles[0] and "right hand" in titles[1]


def test_the_ridge_has_a_common_at_each_end_half_its_thickness_in(site: Site, found: tuple[MemberStick, ...]) -> None:
    """The list cuts the ridge half a common's thickness past the last pair's centre at each end."""
    ridge = next(one for one in found if one.says == "Ridge")
    assert ridge.answer
    centres = [cell(row, "at") for row in rows(ridge.answer, "rows") if str(row["point"]).startswith("centre")]
    whole = figure(ridge.answer, "overall_length")
    thickness = site.state.facts["main.rafter_thickness"].now
    assert isinstance(thickness, float)
    assert centres[0] == pytest.approx(thickness / 2, abs=0.5)
    assert whole - centres[-1] == pytest.approx(thickness / 2, abs=0.5)


def _line(found: tuple[MemberStick, ...], says: str) -> Line:
    return next(one.lines[0] for one in found if one.says == says)


def test_a_stick_that_does_not_come_to_its_length_in_the_list_is_refused(found: tuple[MemberStick, ...]) -> None:
    line = _line(found, "Hip at A")
    assert line.member
    longer = with_(line, member=with_(line.member, length=line.member.length + 40))
    with pytest.raises(Refusal, match="check the list before you cut"):
        stick_of(longer, [], None)


def test_what_is_out_of_date_is_not_marked(found: tuple[MemberStick, ...]) -> None:
    with pytest.raises(Refusal, match="out of date"):
        stick_of(with_(_line(found, "Hip at A"), standing="stale"), [], None)


def test_a_rafter_waits_for_the_part_s_own_common(found: tuple[MemberStick, ...]) -> None:
    with pytest.raises(Refusal, match="enter its figures first"):
        stick_of(_line(found, "Common on AB"), [], None)


def test_every_stick_of_the_sample_comes_to_its_list() -> None:
    lists: Library = shipped.library()
    with Job.open(SAMPLE, lists, read_only=True) as job:
        state: State = job.state
        made = [one for part in state.parts if part.id != JOB for one in sticks(state, job.library, part.id)]
    assert len(made) >= 25
    assert [(one.says, one.why) for one in made if not one.answer] == []

"""Joints of a cut roof: plates, hips, ridges and purlins, asked for where they are, and bought in pieces."""

from math import atan, cos, sqrt

import pytest

from sitelog.calculators.surface.building import building
from sitelog.calculators.timber.joined import Joint
from sitelog.job.members import Line, members
from sitelog.quantities.quantity import Section
from tests.forms.seen import check, now
from tests.forms.test_cut_roof import site, taped
from tests.reports.site import Site
from tests.shipped import library

SMALL, LARGE = "main 5800x4000 35; purlins 700", "main 13000x9000 45; purlins 2400"


def stages(made: Site) -> set[str]:
    return {stage.stage.id for stage in made.state.order if stage.part == "main"}


def lines(made: Site, id: str) -> list[Line]:
    return [line for line in members(made.state, library(), "main") if line.id.startswith(id) and line.member]


@pytest.mark.parametrize(("text", "asked"), [(SMALL, set()), (LARGE, {"plate-joints", "hip-joints"})])
def test_joints_are_asked_for_where_no_stick_is_long_enough(text: str, asked: set[str]) -> None:
    assert stages(site(text)) & {"plate-joints", "hip-joints"} == asked


def test_the_longest_hip_is_as_long_as_it_is_cut() -> None:
    """The list's own hips with tail and plumb cut, and half the ridge of 38 that each is cut to, at 45 on plan."""
    made = site(LARGE)
    hips = [line.member.length for line in lines(made, "hip-hip") if line.member]
    found = building(building=LARGE, overhang=300.0, hip_section=Section(47, 225))
    assert found.results["longest_hip"] == pytest.approx(max(hips) + 19 * sqrt(2) / cos(atan(sqrt(0.5))), abs=0.5)
    assert found.results["longest_plate"] == 13000
    gabled = building(building="main 9000x6000 40 BC gable DA gable")
    assert gabled.results["longest_hip"] == 0


def test_the_scarf_in_the_plates_and_hips_goes_into_their_pieces() -> None:
    made = site(LARGE)
    made.up_to("main.plate-joints.made")
    made.answer("main.plate-joints.made", {"value": "scarfed"})
    made.answer("main.plate-joints.scarf", {"nib": "25", "wedge": "20"})
    plate = lines(made, "plate-a-b")[0].member
    assert plate and plate.count == 3
    assert plate.length == pytest.approx((13000 + 2 * 300) / 3)
    made.up_to("main.hip-joints.made", taped(LARGE))
    made.answer("main.hip-joints.made", {"value": "supported"})
    assert {line.joint for line in lines(made, "hip-hip")} == {Joint(3 * 225)}


def test_a_scarf_in_a_purlin_is_no_shorter_than_the_engineers_splice() -> None:
    """A purlin of 75x225: by a ratio of 3 its scarf is 675, by 2.5 it is 562.5."""
    made = site(SMALL)
    made.up_to("main.purlins.made", taped(SMALL))
    made.answer("main.purlins.made", {"value": "scarfed"})
    figures = {"nib": "50", "wedge": "20"}
    made.answer("main.purlins.scarf", figures | {"ratio": "2.5"})
    assert check(made, "purlins.scarf").state == "out"
    made.answer("main.purlins.scarf", figures | {"ratio": "3"}, note="as drawn")
    assert check(made, "purlins.scarf").state == "done"
    assert now(made, "purlin_scarf") == 675


def test_nothing_is_asked_of_a_ridge_where_none_is() -> None:
    """An octagon runs to a point: there is no ridge to join. A wing's has one."""
    for text, asked in (("main octagon 6000 40", False), (SMALL, True)):
        paths = {check.path for check in site(text).state.checks()}
        assert ("main.main-ridge.joint" in paths) == asked

"""Where a timber is longer than any stick of the yard, or is said to be joined, its scarf is asked for; else it isn't.

Sizes are invented; the check values of the scarf itself are held in tests/calculators.
"""

from copy import copy

import pytest

from sitelog.calculators.timber.joined import Joint
from sitelog.job.buying import buy
from sitelog.job.members import Line, members
from sitelog.refusal import Refusal
from tests.forms.seen import check, now
from tests.reports.site import Site
from tests.shipped import library

SMALL = {"length": "5800", "width": "4000"}


def stages(site: Site) -> set[str]:
    return {stage.stage.id for stage in site.state.order if stage.path.startswith("main.")}


@pytest.mark.parametrize(
    ("form", "more", "asked"),
    [
        ("hipped", SMALL, set()),
        ("hipped", {}, {"plate-joints"}),  # plates of 9 m, hips of 5.2 m to the tail
        ("hipped", {"width": "8000"}, {"plate-joints", "hip-joints"}),
        ("hipped", {"longest_stick": "9600", "width": "8000"}, set()),
        ("gabled", {"length": "5800", "width": "4000", "verge": "0"}, set()),
        ("gabled", {}, {"plate-joints", "ridge-joints"}),
    ],
)
def test_a_joint_is_asked_for_only_where_no_stick_is_long_enough(
    form: str, more: dict[str, str], asked: set[str]
) -> None:
    site = Site(form=form, more=more)
    assert stages(site) & {"plate-joints", "ridge-joints", "hip-joints"} == asked


def test_a_scarfed_plate_is_cut_longer_by_its_scarfs() -> None:
    """Three times the plate's 100: a plate of 9000 in two lengths of (9000 + 300) / 2; half lapped (9000 + 100) / 2."""
    site = Site()
    site.up_to("main.plate-joints.made")

    def plate(site: Site) -> float:
        found = [line.member for line in members(site.state, library(), "main") if line.id == "plate-ab"]
        assert found[0] is not None and found[0].count == 2
        return found[0].length

    assert plate(site) == 4550
    site.answer("main.plate-joints.made", {"value": "scarfed"})
    site.answer("main.plate-joints.scarf", {"nib": "25", "wedge": "20"})
    assert now(site, "plate_lap") == 300
    assert plate(site) == 4650
    told = check(site, "plate-joints.scarf").answer
    assert told is not None and told.results["nib"] == 25
    with pytest.raises(Refusal, match="nib is 60; it must be under half the depth, 50"):
        site.answer("main.plate-joints.scarf", {"nib": "60", "wedge": "20"}, note="wider nib")


def test_a_plate_that_one_stick_reaches_is_one_piece() -> None:
    lines = {line.id: line.member for line in members(Site(more=SMALL).state, library(), "main")}
    plate = lines["plate-ab"]
    assert plate is not None and (plate.length, plate.count) == (5800, 1)


def test_the_ridge_is_scarfed_only_where_it_is_joined_and_after_the_engineers_drawing() -> None:
    site = Site(more=SMALL)
    site.up_to("main.ridge.ridge-joint")
    one = copy(site)
    one.answer("main.ridge.ridge-joint", {"value": "one"})
    assert one.state.check("main.ridge.scarf") is None
    site.answer("main.ridge.ridge-joint", {"value": "supported"})
    assert check(site, "ridge.scarf").blocked
    site.answer("main.ridge.joint", {"value": "drawing R-104, over the post at P"})
    site.answer("main.ridge.scarf", {"nib": "47", "wedge": "20"})
    told = check(site, "ridge.scarf").answer
    assert told is not None and told.results["joint_length"] == 3 * 225
    assert any("pin it over the second" in note for note in told.notes)


def lines_of(site: Site, *ids: str) -> list[Line]:
    return [line for line in members(site.state, library(), "main") if line.id in ids and line.member]


def test_plates_and_hips_that_one_stick_reaches_are_joined_where_that_is_said() -> None:
    """Two lengths of each: a plate of 5800 half lapped by its 100 is (5800 + 100) / 2."""
    site = Site(more=SMALL | {"plate_pieces": "2", "hip_pieces": "2"})
    assert {"plate-joints", "hip-joints"} <= stages(site)
    (plate,) = lines_of(site, "plate-ab")
    assert plate.member and (plate.member.length, plate.member.count) == (2950, 2)
    site.up_to("main.hip-joints.made")
    assert {line.joint for line in lines_of(site, "hip-a", "hip-b")} == {None}
    site.answer("main.hip-joints.made", {"value": "supported"})
    assert {line.joint for line in lines_of(site, "hip-a", "hip-b")} == {Joint(3 * 225, 2)}


def test_the_order_buys_a_joined_ridge_in_two_with_its_scarf() -> None:
    """The scarf is 3 times 225; each of two pieces is (ridge + 675) / 2. Whole, no stick holds it."""
    site = Site(form="gabled", more={"verge": "0"})
    site.up_to("main.ridge-joints.made")
    site.answer("main.ridge-joints.made", {"value": "supported"})
    site.up_to("main.bearing.carries")
    site.answer("main.bearing.carries", {"value": "board"})
    (ridge,) = lines_of(site, "ridge")
    assert ridge.member and ridge.member.count == 1  # on the list it stays whole
    made = buy([ridge]).joined
    assert [(one.count, one.lap) for one in made] == [(2, 675)]
    assert made[0].length == pytest.approx((ridge.member.length + 675) / 2)

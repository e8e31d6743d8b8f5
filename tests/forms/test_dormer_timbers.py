"""What is cut for a curved head on formers, as its sheets say: bearers of two hands, noggins, cheek plates."""

import math

import pytest

from sitelog.job.members import Line, members
from sitelog.job.sticks import MemberStick, sticks
from tests.forms.dormers import dormer
from tests.reports.site import Site
from tests.shipped import library


@pytest.fixture(scope="module")
def head() -> Site:
    """A barrel on formers, its bearers square to the curve, up to where they are cut."""
    return dormer("barrel-dormer", "lead-code-5", "bearers.cut", on_formers=True)


def lines(site: Site, name: str) -> list[Line]:
    return [line for line in members(site.state, library(), "dormer") if line.id == name and line.member]


def marks(stick: MemberStick, line: str) -> dict[str, float]:
    assert stick.answer is not None
    rows = stick.answer.results["rows"]
    assert isinstance(rows, list)
    return {str(row["point"]): float(str(row["at"])) for row in rows if row["line"] == line}


def sticks_of(site: Site, name: str) -> list[MemberStick]:
    return [one for one in sticks(site.state, library(), "dormer") if one.lines[0].id == name]


def test_a_noggin_between_bearers_along_the_radii_is_longer_on_top_than_beneath(head: Site) -> None:
    """Its two mitres lean towards each other: a parallelogram of the same mitres would fit neither bearer."""
    (stick,) = sticks_of(head, "noggins")
    row = stick.lines[0].row or {}
    found = marks(stick, "face")
    top, bottom = (float(str(row[f"length_{edge}"])) for edge in ("top", "bottom"))
    assert top > bottom
    assert found["tail-top"] - found["head-top"] == pytest.approx(top)
    assert found["tail-bottom"] - found["head-bottom"] == pytest.approx(bottom)


def test_bearers_left_of_the_crown_are_one_hand_and_right_of_it_the_other(head: Site) -> None:
    """The long side is towards the crown; the crown's own is square across."""
    hands = [line.member.head.hand for line in lines(head, "bearers") if line.member]
    middle = len(hands) // 2
    assert hands == ["right"] * middle + [""] * (len(hands) % 2) + ["left"] * middle
    for stick in sticks_of(head, "bearers"):
        assert len({line.member.head.hand for line in stick.lines if line.member}) == 1


def test_a_cheek_plate_laid_flat_is_cut_through_its_thickness(head: Site) -> None:
    """The slope at 42 degrees takes 47 / tan 42 off its underside; over its width it is cut square."""
    (stick,) = sticks_of(head, "plates")
    long, short = marks(stick, "long"), marks(stick, "short")
    assert short["head-top"] - long["head-top"] == pytest.approx(47 / math.tan(math.radians(42)))
    assert long["head-top"] == long["head-bottom"]

"""A page for each pattern at the bench: two hands share one where each is the other in a mirror."""

import pytest
from msgspec.structs import replace

from sitelog.drawing.model import Drawing
from sitelog.job.sticks import MemberStick, sticks
from sitelog.reports.bench.sticks import LISTED, MIRRORED, stick_leaves
from sitelog.reports.model import Table, Words
from tests.reports.site import SIDES, Site
from tests.shipped import library


@pytest.fixture(scope="module")
def site() -> Site:
    made = Site()
    made.up_to("main.first-pair", {"main.plates.sides": SIDES})
    return made


@pytest.fixture(scope="module")
def hands(site: Site) -> tuple[MemberStick, MemberStick]:
    found = {stick.says: stick for stick in sticks(site.state, library(), "main")}
    return found["Jack at A, left hand"], found["Jack at A, right hand"]


def test_the_jacks_of_both_hands_of_a_corner_are_on_one_page_with_how_many_of_each(
    site: Site, hands: tuple[MemberStick, MemberStick]
) -> None:
    left, right = hands
    pages = {leaf.title: leaf for leaf in stick_leaves(site.state, library(), "main")}
    page = pages[f"Main roof: Jack at A, {left.count} left, {right.count} right"]
    assert not [title for title in pages if title.endswith("hand")]
    drawn = [block for block in page.blocks if isinstance(block, Drawing)]
    assert drawn and all("left hand" in drawing.title for drawing in drawn)
    assert MIRRORED in [block.text for block in page.blocks if isinstance(block, Words)]
    [listed] = [block for block in page.blocks if isinstance(block, Table) and block.heads == LISTED]
    assert sum(int(row[2]) for row in listed.rows if row[0].endswith(", left")) == left.count
    assert sum(int(row[2]) for row in listed.rows if row[0].endswith(", right")) == right.count
    assert len(listed.rows) == len(left.lines) + len(right.lines)


@pytest.mark.parametrize(
    ("way", "further", "mirrored"),
    [("at", 0.4, True), ("at", 0.6, False), ("down", 0.6, False)],
)
def test_hands_whose_marks_differ_by_more_than_half_a_mm_have_a_page_each(
    hands: tuple[MemberStick, MemberStick], way: str, further: float, mirrored: bool
) -> None:
    left, right = hands
    assert left.is_mirrored_by(right) and right.is_mirrored_by(left)
    assert right.answer
    rows = right.answer.results["rows"]
    assert isinstance(rows, list)
    last = {**rows[-1], way: float(str(rows[-1][way])) + further}
    other = replace(right, answer=replace(right.answer, results={**right.answer.results, "rows": [*rows[:-1], last]}))
    assert left.is_mirrored_by(other) == mirrored


def test_hands_at_other_angles_or_of_other_timbers_have_a_page_each(hands: tuple[MemberStick, MemberStick]) -> None:
    left, right = hands
    assert right.answer
    steeper = {**right.answer.results, "plumb_cut_from_square": 35.1}
    assert not left.is_mirrored_by(replace(right, answer=replace(right.answer, results=steeper)))
    assert not left.is_mirrored_by(left)
    assert not left.is_mirrored_by(replace(right, answer=None))
    elsewhere = replace(right, lines=tuple(replace(line, id="jacks-b") for line in right.lines))
    assert not left.is_mirrored_by(elsewhere)

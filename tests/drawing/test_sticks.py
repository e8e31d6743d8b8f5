"""A timber as it is drawn on the bench: its points are its marks, and a man can read them off at 80 by 24."""

import math

import pytest

from sitelog.drawing.terminal import render
from tests.calculators.results import cell, rows
from tests.drawing.drawn import drawn, has

COMMON = "pitch=35 run=3000 ridge=38mm overhang=300"
HIP = "kind=hip pitch=35 run=3000 common_height_above_plate=122 overhang=300"
JACK = "kind=jack pitch=35 side={side} at=900 overhang=300"


@pytest.mark.parametrize("words", [COMMON, f"{COMMON} zero=tail nick=20", HIP, JACK.format(side=1)])
def test_every_mark_of_its_head_is_as_far_from_its_furthest_point_as_the_tape_says(words: str) -> None:
    """Head on the left, y down from the top edge: the marks before the break are true."""
    answer, (stick, *_) = drawn("sticks", words)
    marks = [row for row in rows(answer, "rows") if str(row["point"]).startswith("head")]
    from_head = min if "tail" not in words else max
    zero = from_head(cell(row, "at") for row in marks)
    for row in marks:
        assert has(stick, abs(cell(row, "at") - zero), -cell(row, "down"))


def test_a_right_hand_is_turned_round_so_that_its_long_face_is_up() -> None:
    """Looking up the timber from its foot with its top edge up, the face that is seen is on the left where the head is
    on the left of the sheet."""
    left, right = (drawn("sticks", JACK.format(side=side))[1][0] for side in (1, 2))
    assert "left hand" in left.title and "right hand" in right.title
    assert "long face up" in left.title and "long face up" in right.title
    mirrored = {(-x, y) for line in left.lines for x, y in line.points}
    assert {at for line in right.lines if line.stroke == "bold" for at in line.points} <= mirrored


@pytest.mark.parametrize("words", [COMMON, HIP, JACK.format(side=2)])
def test_its_marks_are_numbered_in_the_order_they_are_made_and_all_read_at_80_by_24(words: str) -> None:
    answer, (stick, *_) = drawn("sticks", words)
    picture = "\n".join(render(stick, 80, 22))
    marks = [row for row in rows(answer, "rows") if row["line"] == rows(answer, "rows")[0]["line"]]
    for number, row in enumerate(marks, 1):
        assert f"{number}: {cell(row, 'at'):.0f}" in picture
        assert any(line.startswith(f"{number}: ") and f"{cell(row, 'at'):.0f}" in line for line in stick.says)
    assert "The first of a batch is the pattern: try it before you cut the rest." in picture


def test_a_compound_cut_is_drawn_on_the_top_edge_with_its_long_and_short_point() -> None:
    answer, (_, head) = drawn("sticks", JACK.format(side=1))
    backs = {str(row["line"]): cell(row, "at") for row in rows(answer, "rows") if row["point"] == "head-top"}
    assert has(head, 0.0, 23.5, "bold") and has(head, -backs["short"], -23.5, "bold")
    assert any("long point" in line for line in head.says)


def test_a_hip_s_ends_are_both_drawn_on_the_top_edge() -> None:
    _, made = drawn("sticks", HIP)
    assert [one.title for one in made[1:]] == [
        "Hip: head, square down on its top edge",
        "Hip: tail, square down on its top edge",
        "Hip: its top, cut square across, looking up it",
    ]


@pytest.mark.parametrize("top", ["dropped", "backed"])
def test_the_top_of_a_hip_between_unlike_slopes_is_drawn_under_both(top: str) -> None:
    """By hand at 35 and 45, 47 thick: on plan it is 55.00 degrees from the plate of the flatter slope and 35.00 from
    that of the steeper (tan 45 / tan 35), and climbs 29.84."""
    plan = math.degrees(math.atan2(math.tan(math.radians(45)), math.tan(math.radians(35))))
    climb = math.atan(math.tan(math.radians(35)) * math.sin(math.radians(plan)))
    _, made = drawn("sticks", f"{HIP} pitch2=45 top={top}")
    backing = [math.atan(math.sin(climb) / math.tan(math.radians(one))) for one in (plan, 90 - plan)]
    across = made[-1]
    down = 23.5 * math.tan(max(backing))
    for way, angle in zip((-1, 1), backing, strict=True):
        low = -23.5 * math.tan(angle) if top == "backed" else -down
        assert has(across, way * 23.5, low, "bold")
        assert has(across, way * 188.0, -188.0 * math.tan(angle), "thin")
    told = f"back it {math.degrees(backing[0]):.1f}" if top == "backed" else "arris 2 in its slope"
    assert any(told in line for line in made[0].says), made[0].says

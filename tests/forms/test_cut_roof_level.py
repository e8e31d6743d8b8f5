"""Purlins, struts and collars of a cut roof: on the list as many and as long as they are counted by hand.

By hand at 40: 1300 up is 1300 / tan 40 = 1549.3 in from a plate, 1800 up 2145.2 in. Sizes are the form's usual ones:
purlins 75x225 in pieces of 4800 at most, spliced over a strut by 675; struts 75x100 at most 1800 apart.
"""

import copy
import math

import pytest

from sitelog.job.buying import buy
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from sitelog.quantities.quantity import show_length
from tests.calculators.results import figure
from tests.forms.test_cut_roof import site, taped
from tests.reports.site import Site
from tests.shipped import library

TEXT = "main 10400x6200 40; wing off CD 0 from D 4200x3600 40 end gable; purlins 1300; collars 1800"
TAN, COS = math.tan(math.radians(40)), math.cos(math.radians(40))
IN, HIP, VALLEY = 1300 / TAN, 23.5 * math.sqrt(2), 23.5 * math.sqrt(2) - 75 * COS - 225 * math.sin(math.radians(40))
SPLICE, LONGEST, MOST = 675.0, 4800.0, 1800.0
# Each slope's purlin by hand: where it starts and ends along its wall, and what is taken off at each end.
STRETCHES = {
    "AB": (IN, 10400 - IN, HIP, HIP),
    "BC": (IN, 6200 - IN, HIP, HIP),
    "CE": (IN, 6200 + IN, HIP, VALLEY),
    "EF": (-IN, 3600.0, VALLEY, 0.0),
    "GA": (0.0, 9800 - IN, 0.0, HIP),
}


@pytest.fixture(scope="module")
def drawn() -> Site:
    return site(TEXT)


def lines(made: Site, start: str) -> list[Line]:
    return [line for line in members(made.state, library(), "main") if line.member and line.id.startswith(start)]


def lengths(made: Site, start: str) -> list[float]:
    return [line.member.length for line in lines(made, start) if line.member]


def by_hand(slope: str) -> list[float]:
    """The pieces of its purlin, each as far as the last strut that it reaches with half of its splice past it."""
    first, last, less_first, less_last = STRETCHES[slope]
    bays = math.ceil((last - first) / MOST)
    struts = [first + n * (last - first) / bays for n in range(1, bays)]
    at, end, past, found = first + less_first, last - less_last, 0.0, []
    while end - at + past > LONGEST:
        over = max(strut for strut in struts if strut - at + past + SPLICE / 2 <= LONGEST)
        found.append(over - at + past + SPLICE / 2)
        at, past = over, SPLICE / 2
    return [*found, end - at + past]


@pytest.mark.parametrize("slope", [*STRETCHES])
def test_the_purlin_of_a_slope_is_in_pieces_spliced_over_its_struts(slope: str, drawn: Site) -> None:
    assert lengths(drawn, f"purlin-slope-{slope.lower()}") == pytest.approx(by_hand(slope), abs=0.1)


@pytest.mark.parametrize("slope", [*STRETCHES])
def test_a_purlin_has_struts_at_equal_bays_no_wider_than_the_most(slope: str, drawn: Site) -> None:
    """By hand: plumb, 1300 less a rafter of 150 and a purlin of 225; seat to top is 100 / cos 40 over the line."""
    first, last, _, _ = STRETCHES[slope]
    plumb = 1300 - (150 + 225) / COS + 100 / COS
    long_point = plumb + 50 * TAN
    wanted = [long_point] * (math.ceil((last - first) / MOST) - 1)
    assert lengths(drawn, f"strut-slope-{slope.lower()}") == pytest.approx(wanted, abs=0.1)


def test_a_collar_is_on_each_pair_at_a_ridge_as_high_as_it() -> None:
    """Pairs at both ends of the main ridge, 4200 long, and at most 400 apart between: twelve. The wing's ridge is 1762
    up, under the collars."""
    made = site(TEXT)
    assert lengths(made, "collar") == pytest.approx([6200 - 2 * 1800 / TAN] * 12, abs=0.1)
    cuts = {(line.member.head.cut, line.member.foot.cut) for line in lines(made, "collar") if line.member}
    assert cuts == {(50.0, 50.0)}


def test_dormers_and_lean_tos_have_no_purlin_of_the_main_roof() -> None:
    made = site(
        f"{TEXT}; dormer off AB 4000 from A 2500x900 40 cheek 600; lean-to off BC 500 from B 3000x2000 15 plate -1200"
    )
    assert {line.says[-2:] for line in lines(made, "purlin")} == {*STRETCHES}


@pytest.fixture(scope="module")
def told() -> Site:
    """What the engineer's drawing says, entered."""
    made = site(TEXT)
    made.up_to("main.level.purlins", taped(TEXT))
    return made


def test_sizes_off_the_engineer_s_drawing_go_into_list_and_order(told: Site) -> None:
    made = copy.copy(told)
    assert {line.standing for line in lines(made, "purlin")} == {"drawn"}
    sizes = {
        "purlin": "75x200",
        "strut": "100x100",
        "most": "1500",
        "foot": "-100",
        "off": "0",
        "longest": "6000",
        "splice": "600",
    }
    made.answer("main.level.purlins", sizes)
    made.answer("main.level.collars", {"collar": "47x125", "each": "2"})
    found = lines(made, "purlin")
    assert {line.standing for line in found} == {"built"}
    assert {str(line.member.section) for line in found if line.member} == {"75x200"}
    assert len(lines(made, "collar")) == 6
    bays = [math.ceil((last - first) / 1500) - 1 for first, last, _, _ in STRETCHES.values()]
    assert len(lines(made, "strut")) == sum(bays)
    plumb = 1300 + 100 - (150 + 200) / COS + 100 / COS
    assert max(lengths(made, "strut")) == pytest.approx(plumb + 50 * TAN, abs=1)
    bought = buy(members(made.state, library(), "main"))
    assert {"75x200", "100x100", "47x125"} <= {str(row["section"]) for row in bought.answer.results["buy"]}  # type: ignore[union-attr, index]


def test_their_sticks_have_the_numbers_of_the_list(told: Site) -> None:
    made = [
        one for one in sticks(told.state, library(), "main") if one.lines[0].id.startswith(("purlin", "strut", "coll"))
    ]
    assert [one.says for one in made if not one.answer] == []
    for one in made:
        member = one.lines[0].member
        assert member and one.answer
        assert show_length(figure(one.answer, "overall_length")) == show_length(member.length)
        assert figure(one.answer, "plumb_cut_from_square") == pytest.approx(member.head.cut)
        for end, cuts in (("head", member.head), ("tail", member.foot)):
            if cuts.bevel:
                assert figure(one.answer, f"{end}_bevel_1_from_square") == pytest.approx(cuts.bevel)
                assert figure(one.answer, f"{end}_tilt_1") == pytest.approx(cuts.tilt)


def test_a_purlin_with_no_strut_to_splice_it_over_is_the_engineer_s(told: Site) -> None:
    made = copy.copy(told)
    sizes = {
        "purlin": "75x225",
        "strut": "75x100",
        "most": "5000",
        "foot": "0",
        "off": "0",
        "longest": "3600",
        "splice": "675",
    }
    made.answer("main.level.purlins", sizes)
    refused = {line.refusal for line in members(made.state, library(), "main") if line.id == "purlin-slope-ab"}
    assert any("ask the engineer for closer struts" in why for why in refused)

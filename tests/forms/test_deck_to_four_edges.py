"""A deck that falls to all four edges: every firring with its own end and its hand, diagonals, and two from one stick.

The skew deck is the one whose pieces were worked by points and by polygons; sizes are invented.
"""

from collections import Counter
from functools import cache

import pytest

from sitelog.calculators.timber.nests import Tapered, lengths_from, nested
from sitelog.job.buying import buy
from sitelog.job.members import Line, members
from sitelog.job.sticks import sticks
from sitelog.quantities.quantity import Section
from tests.forms.seen import check
from tests.forms.test_firred_deck import DECK, READ
from tests.reports.site import Site
from tests.shipped import library

SKEW = {"ab": "6000", "bc": "3490", "cd": "6331", "da": "3601", "ac": "7154", "bd": "7064"}
YARD = {"firring_spacing": "600", "firring_stick": "47x75"}


@cache
def deck(skew: bool) -> Site:
    """Up to its diagonals: 6000 x 3600 at 1:60, or skew at 1:40 with diagonals 75 thick."""
    more = YARD | ({"diagonal_thickness": "75"} if skew else {"fall": "1:60"})
    made = Site(parts=[("main", "Deck", "firred-deck", DECK | more)])
    fall = "1:40" if skew else "1:60"
    read = READ | {"main.finish.falls": {"value": "edges"}, "main.finish.fall": {"least": "1:80", "cut": fall}}
    made.up_to("main.firrings.list-edges", read | ({"main.joists.sides": SKEW} if skew else {}))
    return made


def lines(made: Site, name: str) -> list[Line]:
    return [line for line in members(made.state, library(), "main") if line.member and line.id == name]


def marks(made: Site, name: str, number: str) -> tuple[dict[str, float], dict[str, float]]:
    """Where the thick end is on each line of that firring's stick, from its thin end, and its angles."""
    pattern = next(one for one in sticks(made.state, library(), "main") if one.lines[0].number == number)
    assert pattern.lines[0].id == name and pattern.answer is not None
    rows = pattern.answer.results["rows"]
    assert isinstance(rows, list)
    heads = {str(row["line"]): float(str(row["at"])) for row in rows if row["point"] == "head-top"}
    return heads, {key: value for key, value in pattern.answer.results.items() if isinstance(value, float)}


@pytest.mark.parametrize("skew", [False, True])
def test_every_firring_and_diagonal_has_a_stick_that_comes_to_its_length(skew: bool) -> None:
    made = sticks(deck(skew).state, library(), "main")
    assert [(one.says, one.why) for one in made if one.why] == []
    edges = [line for one in made for line in one.lines if line.id == "firrings-edges"]
    assert len(edges) == (29 if skew else 28)
    assert sum(one.count for one in made if one.lines[0].id == "diagonals") == 4


def test_an_end_that_turns_is_marked_on_both_arrises_its_centre_and_where_it_turns() -> None:
    """Worked by points and by polygons: ab at 1800, 1762.20, 1782.11, 1781.89, break at -3.99, 45.63 and 0.54."""
    heads, angles = marks(deck(True), "firrings-edges", "3")
    assert heads == pytest.approx({"left": 1762.20, "centre": 1782.11, "right": 1781.89, "turn": 1782.15}, abs=0.01)
    bevels = (angles["head_bevel_1_from_square"], angles["head_bevel_2_from_square"])
    assert bevels == pytest.approx((45.63, 0.54), abs=0.01)


def test_a_diagonal_is_bought_to_the_arris_that_runs_past_the_ridges_end() -> None:
    """The same: A 2493.88 to P, its arrises -37.15 at 44.73 and 36.00 at 43.83 past it; the point 36.69 back."""
    heads, angles = marks(deck(True), "diagonals", "a")
    (a, *_) = lines(deck(True), "diagonals")
    rise = 1744.03 / 40  # P's height over the edge, at the fall
    top = (2493.88**2 + rise**2) ** 0.5 / 2493.88
    level = {"left": 2493.88 - 37.15, "centre": 2493.88, "right": 2493.88 + 36.00}
    assert heads == pytest.approx({name: along * top for name, along in level.items()}, abs=0.2)
    assert a.member is not None and a.member.length == pytest.approx((2493.88 + 36.00) * top, abs=0.2)
    told = ("head_bevel_1_from_square", "head_bevel_2_from_square", "tail_bevel_1_from_square")
    assert [angles[name] for name in told] == pytest.approx([44.73, 43.83, 44.37], abs=0.01)


def test_firrings_to_two_corners_are_two_hands_and_never_one_pattern() -> None:
    """From outside, what stands near A has its right arris longer, near B its left: each leans away from its corner."""
    made = deck(False)
    hands = {line.number: line.member.head.hand for line in lines(made, "firrings-edges") if line.member}
    assert [hands[str(n)] for n in range(1, 10)] == ["right"] * 3 + [""] * 3 + ["left"] * 3
    assert hands["12"] == "", "the point of edge BC has both"
    for one in sticks(made.state, library(), "main"):
        assert len({line.member.head.hand for line in one.lines if line.member}) == 1


def test_two_are_ripped_head_to_foot_from_one_stick_and_the_list_says_which() -> None:
    """6000 x 3600 at 1:60 from 47x75: 14 pairs of 28, worked by hand; 20 + 50 and 4 across the saw is within 75."""
    made = deck(False)
    rows = {int(str(line.row["n"])): line.row for line in lines(made, "firrings-edges") if line.row}
    for n, row in rows.items():
        other = rows[int(str(row["nested_with"]))]
        assert other["nested_with"] == n
        longer, shorter = sorted((row, other), key=lambda one: -float(str(one["long_point"])))
        assert float(str(longer["thin_end"])) + float(str(shorter["thick_long"])) + 4 <= 75.01
    found = check(made, "firrings.list-edges").answer
    assert found is not None and (found.results["nest_pairs"], found.results["nest_singles"]) == (14, 0)
    ordered = buy(lines(made, "firrings-edges"))
    assert ordered.pairs == ((Section(47, 75), 14),)
    sections = Counter(str(line.member.section) for line in lines(made, "firrings-edges") if line.member)
    assert sections == {"47x75": 28}


def test_from_one_section_the_most_pairs_are_sawn_and_what_is_too_thick_for_two_goes_alone() -> None:
    """60 deep ends: 20 + 60 + 4 is over 75, so each waits for one of 50 or less; two of three find none."""
    pieces = [Tapered(n, 2400.0, 20.0, 60.0) for n in range(3)] + [Tapered(3, 1200.0, 20.0, 40.0)]
    found = lengths_from(pieces, Section(47, 75), 1 / 60, 4.0)
    assert sorted(one.length for one in found if one.paired) == [2400.0]
    assert sorted(one.length for one in found if not one.paired) == [2400.0, 2400.0]
    assert len([one for one in found if one.paired]) == len(nested(pieces, 75, 1 / 60, 4.0))

"""Sticks on site are used first, packs are bought whole: orders worked by hand, and small ones by every way."""

import json
from collections import Counter
from itertools import product
from math import inf
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.timber.cutting.hand import hand_plan, tightest
from sitelog.calculators.timber.cutting.order import Order, Sawn
from sitelog.calculators.timber.cutting.packs import in_packs, least_sum
from sitelog.calculators.timber.cutting.watch import Progress, Watch, watched_by
from sitelog.calculators.timber.planning import told
from sitelog.refusal import Refusal
from tests.calculators.hard_sets import every_way
from tests.cli.conftest import Say, say

__all__ = ["say"]

solve = pytest.importorskip(
    "sitelog.calculators.timber.cutting.solve", reason="highspy is not installed (extra `order`)", exc_type=ImportError
)


def stock(**texts: str) -> Answer:
    return ask("stock", texts)


def rows(answer: Answer, name: str) -> list[dict[str, Any]]:
    found = answer.results[name]
    assert isinstance(found, list)
    return found


def cuts(answer: Answer, name: str, length: str) -> list[tuple[float, str]]:
    return [(row[length], row["cuts"]) for row in rows(answer, name)]


# Worked by hand, kerf 4: cuts, what else is typed, from site, to buy.
FROM_SITE: list[tuple[str, dict[str, str], list[tuple[float, str]], list[tuple[float, int]]]] = [
    # The rest of what three would take of 4800 is bought.
    ("47x150:2398:3", {"on_site": "47x150:4800:1"}, [(4800, "2 x 2398")], [(4800, 1)]),
    # All of it is there: nothing is bought.
    ("47x150:2398:2", {"on_site": "47x150:4800:1"}, [(4800, "2 x 2398")], []),
    # Each from the shortest that holds it, so that the long one stays whole.
    ("47x150:2000:1", {"on_site": "47x150:6000:1,47x150:2100:1"}, [(2100, "2000")], []),
    # Longer than any that is sold: only the stick on site holds it.
    ("47x150:8200:1,47x150:3000:1", {"on_site": "47x150:8400:1"}, [(8400, "8200")], [(4800, 1)]),
    # What squaring takes comes off it too: 4796 is too short for two of 2398 with a cut between.
    ("47x150:2398:2", {"on_site": "47x150:4800:1", "trim": "4"}, [(4800, "2398")], [(4800, 1)]),
    # 2x6 is 47x150. Sticks of another section, or too short for any piece, are passed over.
    ("47x150:2398:2", {"on_site": "2x6:4800:1,47x175:6000:9,47x150:900:5"}, [(4800, "2 x 2398")], []),
    # Not sold, not priced, but there.
    ("47x150:2398:2", {"on_site": "47x150:4800:1", "prices": "47x225:4800:20"}, [(4800, "2 x 2398")], []),
]


@pytest.mark.parametrize(("wanted", "more", "here", "buy"), FROM_SITE)
def test_what_is_on_site_is_used_before_any_is_bought(
    wanted: str, more: dict[str, str], here: list[tuple[float, str]], buy: list[tuple[float, int]]
) -> None:
    answer = stock(cuts=wanted, **{"lengths": "4800", **more})
    assert cuts(answer, "from_site", "length") == here
    assert [(row["stock_length"], row["count"]) for row in rows(answer, "buy")] == buy
    assert "no other plan from these lengths" in " ".join(answer.notes)


def test_an_offcut_of_a_stick_from_site_is_kept_and_counted() -> None:
    """6000 - 2000 - 4 is 3996. 2000 out of 6000 is sawn: two thirds are waste, though none of it was bought."""
    answer = stock(cuts="47x150:2000:1", on_site="47x150:6000:1")
    assert rows(answer, "from_site") == [{"section": "47x150", "length": 6000.0, "cuts": "2000", "offcut": 3996.0}]
    assert rows(answer, "offcuts") == [{"section": "47x150", "length": 3996.0, "count": 1}]
    assert rows(answer, "buy") == rows(answer, "plan") == []
    assert (answer.results["length_bought"], answer.results["bound"], answer.results["gap"]) == (0, 0, 0)
    assert answer.results["waste_percent"] == pytest.approx(100 * 4000 / 6000)
    assert answer.cautions == ()


def test_two_long_pieces_and_one_long_stick_are_refused_by_name() -> None:
    with pytest.raises(Refusal) as refused:
        stock(cuts="47x150:8200:2,47x150:3000:1", on_site="47x150:8400:1,47x150:6000:4")
    assert refused.value.message == (
        "stock: a 47x150 of 8200 doesn't fit the longest stock length, which gives 7200 mm, and no stick on site is"
        " left that holds it. Add a longer one; a joint is the engineer's to decide"
    )


def test_long_pieces_find_the_sticks_that_hold_them_all() -> None:
    """By hand: 7500 + 4 + 7400 = 14904 from 15000, and 8000 from 8000; the longest first would leave 7400 over."""
    answer = stock(cuts="47x150:8000:1,47x150:7500:1,47x150:7400:1", on_site="47x150:15000:1,47x150:8000:1")
    assert cuts(answer, "from_site", "length") == [(15000, "7500 + 7400"), (8000, "8000")]


# Packs. Cuts, what else is typed, to buy, as (length, sticks, packs, spare), and the note.
PACKED: list[tuple[str, dict[str, str], list[tuple[float, int, int, int]]]] = [
    # Three of 4800 are wanted: two packs of two, one stick over.
    ("47x150:4700:3", {"sold": "47x150:4800:2"}, [(4800, 4, 2, 1)]),
    # Single sticks would be one of each; a pack of each is 14.4 + 21.6 m, one of 7.2 alone 21.6.
    ("47x150:4700:1,47x150:7100:1", {"sold": "47x150:4800:3,47x150:7200:3"}, [(7200, 3, 1, 1)]),
    # Priced: 3 x 12 = 36 for three of 3000; four of 2700 in one pack are 32.
    (
        "47x150:2600:3",
        {"sold": "47x150:3000:1,47x150:2700:4", "prices": "47x150:3000:12,47x150:2700:8"},
        [(2700, 4, 1, 1)],
    ),
    # What is on site leaves one stick to buy: one pack, not two.
    ("47x150:4700:3", {"sold": "47x150:4800:2", "on_site": "47x150:5000:1"}, [(4800, 2, 1, 0)]),
]


@pytest.mark.parametrize(("wanted", "more", "bought"), PACKED)
def test_packs_are_bought_whole_and_the_rest_is_spare(
    wanted: str, more: dict[str, str], bought: list[tuple[float, int, int, int]]
) -> None:
    answer = stock(cuts=wanted, **more)
    sticks = {row["stock_length"]: row["count"] for row in rows(answer, "buy")}
    packs = [(row["stock_length"], sticks[row["stock_length"]], row["packs"], row["spare"]) for row in _packs(answer)]
    assert packs == bought
    assert answer.results["length_bought"] == sum(length * count for length, count in sticks.items())


def _packs(answer: Answer) -> list[dict[str, Any]]:
    return rows(answer, "packs")


def test_the_price_is_of_whole_packs() -> None:
    answer = stock(cuts="47x150:4700:3", sold="47x150:4800:2", prices="47x150:4800:20")
    assert answer.results["cost"] == 80.0
    assert answer.notes[0] == "no other plan from these lengths is cheaper"


def test_a_section_that_is_not_in_packs_is_sold_singly_and_in_all_lengths() -> None:
    answer = stock(cuts="47x150:4700:1,47x225:4700:1", sold="47x150:5400:2", lengths="4800,5400")
    assert [(row["section"], row["stock_length"], row["count"]) for row in rows(answer, "buy")] == [
        ("47x150", 5400.0, 2),
        ("47x225", 4800.0, 1),
    ]
    assert [row["section"] for row in rows(answer, "packs")] == ["47x150"]


REFUSED = [
    ({"on_site": "47x150:16000:1"}, "on_site has a stick of 16000 mm; it must be at most 15000"),
    ({"on_site": "47x150:3000:2001"}, "on_site has 2001 sticks; give at most 2000 at once"),
    ({"on_site": "47x150:3.6:2"}, "3.6 mm? Type 47x150:3.6m:2"),
    ({"on_site": "47x150:3600"}, "isn't section:length:count"),
    ({"sold": "47x150:3000:2,47x150:3000:3"}, "two packs for 47x150:3000; give one"),
    ({"sold": "47x150:16000:2"}, "sold has a stick of 16000 mm"),
    ({"sold": "47x150:3600:2", "lengths": "4800"}, "47x150 isn't sold at any of the lengths you gave"),
    ({"sold": "47x150:2000:2"}, "a 47x150 of 2400 doesn't fit the longest stock length, which gives 2000 mm. Add a"),
]


@pytest.mark.parametrize(("more", "says"), REFUSED)
def test_what_can_not_be_on_site_or_sold_is_refused(more: dict[str, str], says: str) -> None:
    with pytest.raises(Refusal) as refused:
        stock(cuts="47x150:2400:2", **more)
    assert says in refused.value.message
    assert "\n" not in refused.value.message


def test_the_command_takes_both(say: Say) -> None:
    said = say("calc", "stock", "cuts=47x150:2400:5", "on_site=47x150:3000:1", "sold=47x150:4800:3", "--json")
    answer = json.loads(said.out)
    assert answer["inputs"]["on_site"] == ["47x150:3000:1"]
    assert answer["results"]["from_site"][0]["cuts"] == "2400"
    assert answer["results"]["packs"][0]["packs"] * 3 == answer["results"]["buy"][0]["count"]


# Small orders by every way there is.

STOCK = st.dictionaries(st.integers(20, 40), st.tuples(st.integers(10, 40), st.integers(1, 3)), min_size=1, max_size=2)
WANTED = st.dictionaries(st.integers(1, 20), st.integers(1, 2), min_size=1, max_size=3)


def least_of_packs(order: Order, packs: dict[int, int]) -> float:
    """The cheapest of every choice of packs from whose sticks, and those on site, the pieces can be sawn."""
    pieces = [piece for piece, count in order.wanted.items() for _ in range(count)]
    shares = [
        sorted((sum(share) + order.kerf * (len(share) - 1) for share in one), reverse=True) for one in every_way(pieces)
    ]
    best = inf
    for counts in product(range(len(pieces) + 1), repeat=len(order.stock)):
        bought = dict(zip(order.stock, counts, strict=True))
        cost = sum(count * packs[stick] * order.stock[stick] for stick, count in bought.items())
        here = Counter(order.on_site) + Counter({stick: count * packs[stick] for stick, count in bought.items()})
        sticks = sorted(here.elements(), reverse=True)
        if cost < best and any(_fit(share, sticks) for share in shares):
            best = cost
    return best


def _fit(shares: list[int], sticks: list[int]) -> bool:
    return len(shares) <= len(sticks) and all(share <= stick for share, stick in zip(shares, sticks, strict=False))


@given(WANTED, STOCK, st.dictionaries(st.integers(1, 40), st.just(1), max_size=1), st.integers(0, 2))
@settings(max_examples=60, deadline=None)
def test_packs_hold_every_piece_and_cost_no_less_than_is_said(
    wanted: dict[int, int], sold: dict[int, tuple[int, int]], on_site: dict[int, int], kerf: int
) -> None:
    order = Order(wanted, {stick: cost for stick, (cost, _) in sold.items()}, kerf, on_site)
    packs = {stick: pack for stick, (_, pack) in sold.items()}
    least = least_of_packs(order, packs)
    for planner in (solve.plan, hand_plan):
        plan = in_packs(order, packs, planner)
        used = Counter(one.stick for one in plan.sticks if not one.on_site)
        assert Counter(piece for one in plan.sticks for piece in one.pieces) == Counter(order.wanted)
        assert all(sum(one.pieces) + kerf * (len(one.pieces) - 1) <= one.stick for one in plan.sticks)
        assert not Counter(one.stick for one in plan.sticks if one.on_site) - Counter(on_site)
        assert plan.cost == sum(
            -(-count // packs[stick]) * packs[stick] * order.stock[stick] for stick, count in used.items()
        )
        assert plan.bound <= least <= plan.cost
        assert not plan.least or plan.cost == least


def test_the_bound_of_packs_holds_the_longest_piece() -> None:
    """Packs cost 30 and 70. Sticks for 20 are a pack of 30; but only the one of 70 holds a piece of 9."""
    assert least_sum(Order({5: 1}, {6: 10, 10: 70}, 0), {6: 3}, 20, 100) == 30
    assert least_sum(Order({9: 1}, {6: 10, 10: 70}, 0), {6: 3}, 20, 100) == 70
    assert least_sum(Order({9: 1}, {6: 10, 10: 70}, 0), {6: 3}, 75, 100) == 100
    assert least_sum(Order({9: 1}, {6: 10, 10: 70}, 0, {9: 1}), {6: 3}, 20, 100) == 30
    assert least_sum(Order({9: 1}, {6: 10, 10: 70}, 0, {9: 1}), {6: 3}, 0, 0) == 0


@given(st.lists(st.tuples(st.integers(1, 30), st.integers(0, 20)), min_size=1, max_size=8), st.data())
def test_each_is_sawn_from_a_stick_that_holds_it_and_the_longest_stay(
    held: list[tuple[int, int]], data: st.DataObject
) -> None:
    """Any sticks that hold the pieces: none is lost, none is used twice, and those left are the longest there were."""
    sticks = [Sawn(need + more, (need,), on_site=True) for need, more in held]
    others = data.draw(st.lists(st.integers(1, 60), max_size=4))
    here = Counter([one.stick for one in sticks] + others)
    found = [*tightest(sticks, 0, here)]
    assert Counter(one.pieces for one in found) == Counter(one.pieces for one in sticks)
    assert all(one.pieces[0] <= one.stick for one in found)
    used = Counter(one.stick for one in found)
    assert not used - here
    assert sum((here - used).elements()) >= sum(others)


class Hears(Watch):
    """Keeps what it hears, and stops after so many looks."""

    def __init__(self, looks: int = 1_000_000) -> None:
        self.looks, self.heard = looks, list[Progress]()

    def hear(self, progress: Progress) -> None:
        self.heard.append(progress)

    def should_stop(self) -> bool:
        self.looks -= 1
        return self.looks < 0


def test_whoever_watches_hears_whose_order_it_is_and_what_it_is_in() -> None:
    watch = Hears()
    with watched_by(watch):
        stock(cuts="47x150:2398:3,47x225:2400:1", lengths="4800")
    assert list(dict.fromkeys(one.subject for one in watch.heard)) == ["47x150", "47x225"]
    assert told(watch.heard[0]) == "47x150: 9.6 m so far"
    assert told(Progress(12_345, 12_000, "47x150", priced=True)) == "47x150: 123.45 so far, at least 120.00"


@pytest.mark.parametrize("looks", [0, 3, 12])
def test_packs_stopped_at_any_time_are_whole(looks: int) -> None:
    wanted = {4962: 4, 4721: 6, 3662: 22, 3290: 8, 2918: 8, 2546: 8, 2174: 8}
    order = Order(wanted, {length: length for length in range(3_000, 6_001, 600)}, 4)
    packs = dict.fromkeys(order.stock, 5)
    watch = Hears(looks)
    with watched_by(watch):
        plan = in_packs(order, packs, solve.plan)
    assert Counter(piece for one in plan.sticks for piece in one.pieces) == Counter(wanted)
    assert plan.stopped
    costs = [one.cost for one in watch.heard]
    assert costs == sorted(costs, reverse=True) and costs[-1] == plan.cost

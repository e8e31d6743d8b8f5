"""Cutting plans that are hard to find: the count they come to, not the time it takes."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.timber.cutting.hand import hand_plan
from sitelog.calculators.timber.cutting.order import Order, Plan
from sitelog.calculators.timber.cutting.watch import Progress, Watch, current_watch, watched_by
from tests.calculators.hard_sets import about, alike, every_way, long_sticks, triplets, uniform

solve = pytest.importorskip(
    "sitelog.calculators.timber.cutting.solve", reason="highspy is not installed (extra `order`)", exc_type=ImportError
)

HARD = [
    *(pytest.param(triplets(pieces, seed), id=f"triplets {pieces}") for pieces in (60, 120, 249) for seed in (0, 1)),
    pytest.param(triplets(501, 0), id="triplets 501"),
    *(pytest.param(uniform(pieces, 0), id=f"uniform {pieces}") for pieces in (120, 250, 500, 1000)),
    *(pytest.param(alike(pieces, 0), id=f"alike {pieces}") for pieces in (100, 120)),
    *(
        pytest.param(about(share, spread, 100, 0), id=f"about {share} {spread}")
        for share in (3, 5, 7, 9)
        for spread in (0.2, 0.5, 0.9)
    ),
    pytest.param(long_sticks(0), id="long sticks", marks=pytest.mark.long),
]


def sound(order: Order, plan: Plan) -> bool:
    """Every piece once, no stick over its length, none more often on site than there is, the cost that of the rest."""
    on_site = Counter(one.stick for one in plan.sticks if one.on_site)
    return (
        Counter(piece for one in plan.sticks for piece in one.pieces) == Counter(order.wanted)
        and all(sum(one.pieces) + order.kerf * (len(one.pieces) - 1) <= one.stick for one in plan.sticks)
        and all(count <= order.on_site[stick] for stick, count in on_site.items())
        and plan.cost == sum(order.stock[one.stick] for one in plan.sticks if not one.on_site)
    )


@pytest.mark.parametrize("order", HARD)
def test_the_hard_orders_of_one_length_are_cut_from_the_fewest_sticks(order: Order) -> None:
    """No plan buys fewer than the bound that is proved with it; the rules of the orders are in hard_sets.py."""
    plan = solve.plan(order)
    assert sound(order, plan)
    assert plan.cost == plan.bound
    assert plan.least


@pytest.mark.parametrize("pieces", [60, 120, 249])
def test_triplets_are_cut_from_a_third_as_many_sticks_with_nothing_left(pieces: int) -> None:
    plan = solve.plan(triplets(pieces, 2))
    assert plan.cost == pieces // 3
    assert not any(one.offcut(0) for one in plan.sticks)


def many(pieces: int, lengths: int, scale: int = 1) -> Order:
    """Lengths spread evenly from a noggin to a long hip, in a fixed disorder; sticks of 1.8 to 7.2 m, 4 mm."""
    wanted = Counter((350 + nth * 7919 % 5550) * scale + nth % scale for nth in range(lengths))
    found = list(wanted)
    wanted.update(found[nth * nth % lengths] for nth in range(pieces - lengths))
    return Order(dict(wanted), {stick * scale: stick * scale for stick in range(1800, 7201, 300)}, 4 * scale)


@pytest.mark.parametrize(
    "order",
    [
        pytest.param(many(300, 100), id="300 of 100 lengths"),
        pytest.param(many(300, 200), id="300 of 200 lengths"),
        pytest.param(many(1000, 300), id="1000 of 300 lengths"),
        pytest.param(many(1000, 300, 10), id="1000 of 300 lengths in tenths", marks=pytest.mark.long),
    ],
)
def test_of_many_stock_lengths_no_more_than_0_3_percent_over_the_bound_is_bought(order: Order) -> None:
    plan = solve.plan(order)
    assert sound(order, plan)
    assert plan.cost <= 1.003 * plan.bound


@pytest.mark.parametrize("order", [triplets(120, 3), many(100, 60)], ids=["triplets", "many lengths"])
def test_a_plan_by_hand_holds_every_piece_and_is_never_under_the_bound(order: Order) -> None:
    plan, solved = hand_plan(order), solve.plan(order)
    assert sound(order, plan)
    assert plan.bound <= solved.bound <= solved.cost <= plan.cost <= 1.06 * solved.cost


# Whoever looks on.


class Impatient(Watch):
    """Stops after so many looks, and keeps what it heard."""

    def __init__(self, looks: int) -> None:
        self.looks = looks
        self.heard: list[Progress] = []

    def hear(self, progress: Progress) -> None:
        self.heard.append(progress)

    def should_stop(self) -> bool:
        self.looks -= 1
        return self.looks < 0


@pytest.mark.parametrize("looks", [0, 1, 30, 200, 250])
def test_stopped_at_any_time_the_best_so_far_is_whole(looks: int) -> None:
    order = triplets(120, 10)
    plan = solve.plan(order, Impatient(looks))
    assert sound(order, plan)
    assert plan.stopped != plan.least
    assert plan.bound <= 40 <= plan.cost


def test_whoever_watches_hears_of_plans_and_bounds_that_only_get_better() -> None:
    watch = Impatient(1_000_000)
    with watched_by(watch):
        plan = solve.plan(triplets(120, 0))
    assert [one.cost for one in watch.heard] == sorted((one.cost for one in watch.heard), reverse=True)
    assert [one.bound for one in watch.heard] == sorted(one.bound for one in watch.heard)
    assert (watch.heard[-1].cost, watch.heard[-1].bound) == (plan.cost, plan.bound) == (40, 40)
    assert not plan.stopped
    assert type(current_watch()) is Watch


def test_watched_or_not_the_plan_is_the_same() -> None:
    assert solve.plan(triplets(60, 5)) == solve.plan(triplets(60, 5), Impatient(1_000_000))


# Sticks on site.


def least_to_buy(order: Order) -> int:
    """The cheapest of every way to share the pieces, with those shares from site that save the most."""

    def cost(shares: list[int], on_site: list[int]) -> float:
        if not shares:
            return 0.0
        first, *rest = shares
        bought = min((price for stick, price in order.stock.items() if stick >= first), default=float("inf"))
        ways = [bought + cost(rest, on_site)]
        for at, stick in enumerate(on_site):
            if stick >= first:
                ways.append(cost(rest, on_site[:at] + on_site[at + 1 :]))
        return min(ways)

    pieces = [piece for piece, count in order.wanted.items() for _ in range(count)]
    on_site = [stick for stick, count in order.on_site.items() for _ in range(count)]
    shared = ([sum(share) + order.kerf * (len(share) - 1) for share in shares] for shares in every_way(pieces))
    return int(min(cost(shares, on_site) for shares in shared))


@given(
    st.dictionaries(st.integers(1, 20), st.integers(1, 2), min_size=1, max_size=4),
    st.dictionaries(st.integers(20, 45), st.integers(10, 60), min_size=1, max_size=3),
    st.dictionaries(st.integers(1, 50), st.integers(1, 2), min_size=1, max_size=2),
    st.integers(0, 3),
)
@settings(max_examples=100, deadline=None)
def test_no_way_to_use_what_is_on_site_buys_less(
    wanted: dict[int, int], stock: dict[int, int], on_site: dict[int, int], kerf: int
) -> None:
    order = Order(wanted, stock, kerf, on_site)
    plan = solve.plan(order)
    assert sound(order, plan)
    assert plan.bound <= plan.cost == least_to_buy(order)
    assert plan.least
    by_hand = hand_plan(order)
    assert sound(order, by_hand)
    assert by_hand.bound <= plan.cost <= by_hand.cost


def test_offcuts_take_the_pieces_that_save_a_stick() -> None:
    """By hand: 2 of 2400 out of 4804 on site, then 1 of 3000 alone; longest first would put the 3000 on site."""
    plan = solve.plan(Order({3000: 1, 2400: 2}, {4200: 4200}, 4, {4804: 1}))
    assert [(one.stick, one.pieces, one.on_site) for one in plan.sticks] == [
        (4804, (2400, 2400), True),
        (4200, (3000,), False),
    ]

"""Cutting plans: what is bought against the least that could be, and the time: roofs, many lengths, and hard orders."""

import random
from collections.abc import Iterable
from time import perf_counter

from sitelog.calculators.timber.cutting.order import Order
from sitelog.calculators.timber.cutting.solve import plan
from tests.bench.row import Row
from tests.calculators.hard_sets import about, alike, long_sticks, triplets, uniform

SIZES = ((20, 12), (100, 12), (300, 30), (300, 100), (1000, 300))  # pieces, and lengths among them
SETS = 10  # orders of each size
STOCK = range(3_000, 6_001, 600)  # six lengths
KERF = 4
BOUGHT = 1.003
SECONDS = {20: 1.0, 100: 1.0, 300: 1.0, 1000: 5.0}
HARD_SETS = 5
HARD_SECONDS = 5.0
HARD = {
    **{f"triplets {pieces}": [triplets(pieces, seed) for seed in range(HARD_SETS)] for pieces in (60, 120, 249, 501)},
    **{f"uniform {pieces}": [uniform(pieces, seed) for seed in range(HARD_SETS)] for pieces in (120, 250, 500, 1000)},
    "alike 120": [alike(120, seed) for seed in range(HARD_SETS)],
    "about 3 to 9, 200": [about(share, spread, 200, 0) for share in (3, 5, 7, 9) for spread in (0.2, 0.5, 0.9)],
    "long sticks 200": [long_sticks(seed) for seed in range(HARD_SETS)],
}  # of one stock length; the rules are in hard_sets.py


class Bought(Row):
    """What is bought and the bound, in metres or sticks, in the places of the ms."""

    def __str__(self) -> str:
        kept = "kept" if self.kept else "NOT KEPT"
        return (
            f"{self.what:<52}{self.measured:9.1f}   {self.floor:9.1f}   {self.ratio:7.4f} x"
            f"  at most {self.allowed:.3f}  {kept}"
        )


def rows() -> list[Row]:
    """The worst of each size, in metres; then all of each hard set together, in sticks; and the slowest."""
    made = [row for pieces, lengths in SIZES for row in _roofs(pieces, lengths)]
    return made + [row for what, orders in HARD.items() for row in _hard(what, orders)]


def _roofs(pieces: int, lengths: int) -> list[Row]:
    orders = [_order(random.Random(f"{seed} of {pieces}"), pieces, lengths) for seed in range(SETS)]
    plans, slowest = _timed(orders)
    ratio, bought, bound = max((cost / bound, cost / 1000, bound / 1000) for cost, bound in plans)
    what, seconds = f"{pieces} pieces of {lengths} lengths", SECONDS[pieces]
    return [
        Bought(f"{what}, m bought against the bound", bought, bound, ratio, BOUGHT),
        Row(f"{what}, against {seconds:g} s", slowest * 1000, seconds * 1000, slowest / seconds, 1.0),
    ]


def _hard(what: str, orders: Iterable[Order]) -> list[Row]:
    plans, slowest = _timed(orders)
    bought, bound = sum(cost for cost, _ in plans), sum(bound for _, bound in plans)
    return [
        Bought(f"{what}, sticks against the bound", bought, bound, bought / bound, 1.0),
        Row(f"{what}, against {HARD_SECONDS:g} s", slowest * 1000, 5000.0, slowest / HARD_SECONDS, 1.0),
    ]


def _timed(orders: Iterable[Order]) -> tuple[list[tuple[int, int]], float]:
    """The cost and the bound of each, and the seconds of the slowest."""
    found, slowest = [], 0.0
    for order in orders:
        start = perf_counter()
        made = plan(order)
        slowest = max(slowest, perf_counter() - start)
        found.append((made.cost, made.bound))
    return found, slowest


def _order(chance: random.Random, pieces: int, lengths: int) -> Order:
    """Lengths from a noggin to a long hip, each wanted at least once."""
    wanted = dict.fromkeys(chance.sample(range(350, 5_900), lengths), 1)
    for length in chance.choices(list(wanted), k=pieces - lengths):
        wanted[length] += 1
    return Order(wanted, {length: length for length in STOCK}, KERF)

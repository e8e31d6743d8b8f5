"""Cutting plans: what is bought against the least that could be, and the time, at 20, 100 and 300 pieces."""

import random
from time import perf_counter

from sitelog.calculators.timber.cutting_lp import plan
from sitelog.calculators.timber.cutting_plans import Order
from tests.bench.row import Row

SIZES = ((20, 12), (100, 12), (300, 30))  # pieces, and lengths among them
SETS = 10  # orders of each size
STOCK = range(3_000, 6_001, 600)  # six lengths
KERF = 4
BOUGHT = 1.01
SECONDS = 2.0


class Metres(Row):
    """Metres bought and metres of the bound, in the places of the ms."""

    def __str__(self) -> str:
        kept = "kept" if self.kept else "NOT KEPT"
        return (
            f"{self.what:<52}{self.measured:9.1f} m {self.floor:9.1f} m {self.ratio:7.4f} x"
            f"  at most {self.allowed:.2f}  {kept}"
        )


def rows() -> list[Row]:
    """The worst of each size: metres bought over the bound, and ms over the time allowed."""
    return [row for pieces, lengths in SIZES for row in _rows(pieces, lengths)]


def _rows(pieces: int, lengths: int) -> list[Row]:
    found = []
    for seed in range(SETS):
        order = _order(random.Random(f"{seed} of {pieces}"), pieces, lengths)
        start = perf_counter()
        made = plan(order)
        found.append((made.cost / made.bound, made.cost / 1000, made.bound / 1000, perf_counter() - start))
    ratio, bought, bound, _ = max(found)
    slowest = max(seconds for *_, seconds in found)
    return [
        Metres(f"{pieces} pieces, bought against the bound", bought, bound, ratio, BOUGHT),
        Row(f"{pieces} pieces, against {SECONDS:g} s", slowest * 1000, SECONDS * 1000, slowest / SECONDS, 1.0),
    ]


def _order(chance: random.Random, pieces: int, lengths: int) -> Order:
    """Lengths from a noggin to a long hip, each wanted at least once."""
    wanted = dict.fromkeys(chance.sample(range(350, 5_900), lengths), 1)
    for length in chance.choices(list(wanted), k=pieces - lengths):
        wanted[length] += 1
    return Order(wanted, {length: length for length in STOCK}, KERF)

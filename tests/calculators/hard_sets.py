"""Orders of one stock length that are known to be hard, made by the rules in print. The rules are from memory: what
holds a plan is the bound that is proved of it, and of the triplets the answer that they are made with."""

import random
from collections import Counter
from collections.abc import Iterable, Iterator

from sitelog.calculators.timber.cutting.order import Order


def triplets(pieces: int, seed: int) -> Order:
    """Three pieces fill each stick of 1000 to the last unit: the answer is a third of the pieces.

    E. Falkenauer, "A hybrid grouping genetic algorithm for bin packing", Journal of Heuristics 2, 1996: the first of
    three is from 380 to 490, the second from 250 to under half of what is left.
    """
    chance, found = random.Random(f"triplets {pieces} {seed}"), []
    for _ in range(pieces // 3):
        first = chance.randint(380, 490)
        second = chance.randint(250, (1000 - first - 1) // 2)
        found += [first, second, 1000 - first - second]
    return _order(found, 1000)


def uniform(pieces: int, seed: int) -> Order:
    """From 20 to 100 out of 150. Falkenauer 1996, as above."""
    chance = random.Random(f"uniform {pieces} {seed}")
    return _order((chance.randint(20, 100) for _ in range(pieces)), 150)


def about(share: int, spread: float, pieces: int, seed: int) -> Order:
    """A stick of 1000 holds about `share`, give or take `spread`. A. Scholl, R. Klein and C. Jürgens, "BISON",
    Computers and Operations Research 24, 1997, the second set."""
    chance, mean = random.Random(f"about {share} {spread} {pieces} {seed}"), 1000 / share
    return _order((round(chance.uniform(mean * (1 - spread), mean * (1 + spread))) for _ in range(pieces)), 1000)


def long_sticks(seed: int) -> Order:
    """Two hundred from 20000 to 35000 out of 100000. Scholl, Klein and Jürgens 1997, the third set."""
    chance = random.Random(f"long sticks {seed}")
    return _order((chance.randint(20_000, 35_000) for _ in range(200)), 100_000)


def alike(pieces: int, seed: int) -> Order:
    """From 150 to 200 out of 1000. P. Schwerin and G. Wäscher, "The bin-packing problem: a problem generator and some
    numerical experiments", International Transactions in Operational Research 4, 1997."""
    chance = random.Random(f"alike {pieces} {seed}")
    return _order((chance.randint(150, 200) for _ in range(pieces)), 1000)


def every_way(pieces: list[int]) -> Iterator[list[list[int]]]:
    """Every way to share pieces among sticks."""
    if not pieces:
        yield []
        return
    first, *rest = pieces
    for shared in every_way(rest):
        yield [[first], *shared]
        for at, stick in enumerate(shared):
            yield [*shared[:at], [first, *stick], *shared[at + 1 :]]


def _order(pieces: Iterable[int], stick: int) -> Order:
    return Order(dict(Counter(pieces)), {stick: 1}, 0)

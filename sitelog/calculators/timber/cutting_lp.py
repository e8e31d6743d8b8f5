"""The cheapest plan and the least that any could cost: a linear programme over cutting patterns, by HiGHS.

The only module that loads the solver and numpy. One thread, a fixed seed, and limits in rounds and nodes, never in
time: the same order gives the same plan.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from math import ceil, isfinite

import highspy
import numpy as np
from msgspec import Struct

from sitelog.calculators.timber.cutting_plans import Order, Pattern, Plan, alone, by_hand, exact, sawn

CLOSE = 0.001  # of the bound: a plan that near is not bettered
MOST_ROUNDS = 400  # of new patterns; the bound holds wherever they stop
MOST_NODES = 20  # of the search for whole sticks
MOST_LOOKED_AT = 40_000  # patterns tried as parts of a better plan
MOST_NEAR = 500  # of them kept
SLACK = 1e-7  # of a step of cost: what floating point may be out by


class Solver(highspy.Highs):
    """HiGHS, silent and the same every time."""

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]
        self.setOptionValue("output_flag", False)
        self.setOptionValue("parallel", "off")
        self.setOptionValue("threads", 1)
        self.setOptionValue("random_seed", 0)

    def enableCallbacks(self) -> None:  # noqa: N802
        """Left out: none are used, and setting them prints a banner before it can be turned off."""


class Relaxed(Struct, frozen=True):
    """The linear programme solved: the patterns it met, what a piece is worth in it, and the bound on any plan."""

    patterns: list[Pattern]
    worth: tuple[float, ...]  # no stick's pieces are worth more than it costs
    bound: int
    whole: bool = False  # the patterns are all that a better plan could hold

    def value(self, pattern: Pattern) -> float:
        """What the pattern's pieces are worth, in what the order costs in."""
        return sum(count * worth for count, worth in zip(pattern, self.worth, strict=True))


def plan(order: Order) -> Plan:
    """The cheapest plan found, and the bound that the linear programme proves.

    Every piece must fit in some stick. Patterns are added until no other would lower the linear programme (after
    Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961),
    and whole sticks are chosen among them; where that leaves a gap, the patterns that a better plan could hold are
    added and they are chosen again.
    """
    tried = by_hand(order)
    relaxed, best = relax(order, tried), min(tried, key=order.total)
    known = relaxed.bound
    for wider in (False, True):
        if order.total(best) <= relaxed.bound * (1 + CLOSE):
            break
        if wider:
            relaxed = near(order, relaxed, order.total(best) - order.step)
        chosen, no_less = whole(order, relaxed.patterns)
        best = min(best, exact(order, chosen) or best, key=order.total)
        known = max(known, no_less) if relaxed.whole else known
    cost = order.total(best)
    return Plan(tuple(sawn(order, best)), cost, relaxed.bound, least=cost <= known)


def least(order: Order) -> int:
    """What any plan costs at least."""
    return relax(order, by_hand(order)).bound


def relax(order: Order, plans: Iterable[Iterable[Pattern]]) -> Relaxed:
    """Sticks in any fraction: patterns are added to those of the plans while one would save.

    The bound needs no trust in the solver. Prices for the pieces under which no stick's are worth more than it
    costs prove that all the pieces cost at least their worth (Farley, "A note on bounding a class of linear
    programming problems", Operations Research 38, 1990), and a plan costs a whole number of steps.
    """
    known = dict.fromkeys([*alone(order), *(pattern for patterns in plans for pattern in patterns)])
    solver = _covering(order, known)
    most, worth = 0.0, tuple(0.0 for _ in order.counts)
    for _ in range(MOST_ROUNDS):
        solver.run()
        asked = [max(0.0, price) * order.step for price in solver.getSolution().row_dual]
        packed = Knapsack(order, asked)
        fair = tuple(price * packed.fair for price in asked)
        if (value := sum(price * count for price, count in zip(fair, order.counts, strict=True))) > most:
            most, worth = value, fair
        fresh = dict.fromkeys(pattern for pattern in packed.saving() if pattern not in known)
        steps = solver.getInfo().objective_function_value  # no further round can prove more than this
        if not fresh or ceil(steps - SLACK) <= ceil(most / order.step - SLACK):
            break
        for pattern in fresh:
            _add(solver, order, pattern)
        known |= fresh
    return Relaxed(list(known), worth, ceil(most / order.step - SLACK) * order.step)


class Knapsack:
    """The most that one stick's pieces can be worth, for every room at once, no piece more often than wanted."""

    def __init__(self, order: Order, worth: Sequence[float]) -> None:
        self.order = order
        self.best = np.zeros(order.rooms[-1] + 1)
        self._taken: list[tuple[int, int, int, np.ndarray[tuple[int], np.dtype[np.bool_]]]] = []
        for place, price in enumerate(worth):
            if price > 0:
                self._put_in(place, price)

    def _put_in(self, place: int, price: float) -> None:
        """In bundles of 1, 2, 4 ..., from which any number can be made up."""
        width = self.order.widths[place]
        rest, bundle = min(self.order.counts[place], (len(self.best) - 1) // width), 1
        while rest:
            count = min(bundle, rest)
            without, room = self.best[count * width :], self.best[: -count * width]
            with_it = room + count * price
            better = with_it > without
            np.copyto(without, with_it, where=better)
            self._taken.append((place, count, count * width, better))
            rest, bundle = rest - count, bundle * 2

    @property
    def _shares(self) -> list[tuple[float, int]]:
        """What each stick costs for what it can hold, and its room; the best bargain first."""
        costs = (self.order.stock[stick] for stick in self.order.sticks)
        rooms = zip(costs, self.order.rooms, strict=True)
        return sorted((cost / self.best[room], room) for cost, room in rooms if self.best[room] > 0)

    @property
    def fair(self) -> float:
        """What the prices must be multiplied by, so that no stick's pieces are worth more than it costs."""
        return min(1.0, self._shares[0][0]) if self._shares else 1.0

    def saving(self) -> Iterator[Pattern]:
        """The best pattern of each stick whose pieces are worth more than it costs."""
        return (self._pattern(room) for share, room in self._shares if share < 1 - 1e-9)

    def _pattern(self, room: int) -> Pattern:
        counts = [0] * len(self.order.counts)
        for place, count, wide, better in reversed(self._taken):
            if room >= wide and better[room - wide]:
                counts[place] += count
                room -= wide
        return tuple(counts)


def near(order: Order, relaxed: Relaxed, most: int) -> Relaxed:
    """The same with every other pattern that a plan costing `most` or less could hold; the least wasteful, if there
    are too many.

    What the sticks cost over the worth of their pieces adds up, so no stick of such a plan can be wasteful by more
    than `most` is over the worth of all the pieces.
    """
    spare = most - relaxed.value(order.counts) + SLACK * order.step
    rest = _worth_least(order, relaxed.worth, spare)
    known = dict.fromkeys(relaxed.patterns)
    found = [pattern for pattern in islice(rest, MOST_LOOKED_AT) if pattern and pattern not in known]
    found.sort(key=lambda pattern: order.cost(pattern) - relaxed.value(pattern))
    known |= dict.fromkeys(found[:MOST_NEAR])
    everything = len(found) <= MOST_NEAR and next(rest, False) is False
    return Relaxed(list(known), relaxed.worth, relaxed.bound, whole=everything)


def _worth_least(order: Order, worth: Sequence[float], spare: float) -> Iterator[Pattern | None]:
    """The patterns whose worth is within `spare` of their stick's cost; None for each of the others looked at."""
    rates = [price / width for price, width in zip(worth, order.widths, strict=True)]
    ranked = sorted(range(len(rates)), key=lambda place: -rates[place])
    for stick, room in zip(order.sticks, order.rooms, strict=True):
        wanted = order.stock[stick] - spare
        waiting = [((0,) * len(rates), 0, room, 0.0)]
        while waiting:
            counts, start, left, value = waiting.pop()
            yield counts if value >= wanted and value > 0 else None
            for rank in reversed(range(start, len(ranked))):
                place, width = ranked[rank], order.widths[ranked[rank]]
                holds = width <= left and counts[place] < order.counts[place]
                if holds and value + left * rates[place] >= wanted:
                    grown = (*counts[:place], counts[place] + 1, *counts[place + 1 :])
                    waiting.append((grown, rank, left - width, value + worth[place]))


def whole(order: Order, patterns: Sequence[Pattern]) -> tuple[list[Pattern], int]:
    """Whole sticks that hold at least what is wanted, each pattern as often as it is bought; and the cost below
    which no choice among the patterns can be."""
    solver = _covering(order, patterns)
    places = np.arange(len(patterns), dtype=np.int32)
    solver.changeColsIntegrality(len(patterns), places, np.ones(len(patterns), dtype=np.uint8))
    solver.setOptionValue("mip_max_nodes", MOST_NODES)
    solver.setOptionValue("mip_rel_gap", CLOSE)
    solver.setOptionValue("mip_abs_gap", 0.99)  # the next better plan is a whole step cheaper
    solver.run()
    times = [round(value) for value in solver.getSolution().col_value]
    chosen = [pattern for pattern, often in zip(patterns, times, strict=True) for _ in range(often)]
    proved = solver.getInfo().mip_dual_bound
    return chosen, ceil(proved - 1e-6) * order.step if isfinite(proved) else 0


def _covering(order: Order, patterns: Iterable[Pattern]) -> Solver:
    """A row a piece, at least as many as wanted; a column a pattern, at its cost in steps."""
    solver = Solver()
    none = (np.empty(0, dtype=np.int32), np.empty(0))
    for count in order.counts:
        solver.addRow(float(count), highspy.kHighsInf, 0, *none)
    for pattern in patterns:
        _add(solver, order, pattern)
    return solver


def _add(solver: Solver, order: Order, pattern: Pattern) -> None:
    rows = np.array([place for place, count in enumerate(pattern) if count], dtype=np.int32)
    counts = np.array([float(count) for count in pattern if count])
    solver.addCol(order.cost(pattern) / order.step, 0.0, highspy.kHighsInf, len(rows), rows, counts)

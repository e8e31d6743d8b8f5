"""Every pattern that a better plan could hold, and the best choice among them: a proof, where there are few."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from math import ceil, isfinite

import highspy
import numpy as np

from sitelog.calculators.timber.cutting.hand import exact
from sitelog.calculators.timber.cutting.master import SLACK, Prices
from sitelog.calculators.timber.cutting.model import add_column, covering
from sitelog.calculators.timber.cutting.order import NEW, Cutting, Order, Pattern

LOOKED_AT = 40_000  # patterns tried as parts of a better plan
KEPT = 600  # of them, for a choice
ROWS = 120  # lengths wanted, for a choice among only some of the patterns
NODES = 20  # of the search for whole sticks


def better(order: Order, prices: Prices, most: int, known: Sequence[Cutting]) -> tuple[list[Cutting], int]:
    """The cheapest plan of those that cost at most that, empty where none is found; and the cost that none is below.

    What the sticks cost over the worth of their pieces adds up, so no stick of such a plan can be wasteful by more
    than `most` is over the bound. Where too many cuttings are no more wasteful, the least so of those seen are chosen
    among, and nothing is proved.
    """
    spare = most / order.step - prices.bound + SLACK
    most_looked_at = LOOKED_AT if len(order.counts) <= ROWS else LOOKED_AT // 10
    looked_at = list(islice(_worth_least(order, prices, spare), most_looked_at))
    found = [cutting for cutting in looked_at if cutting]
    if len(looked_at) < most_looked_at and len(found) <= KEPT:
        chosen, none_below = _whole(order, found)
        return exact(order, chosen), min(none_below, most + order.step)
    if len(order.counts) > ROWS:
        return [], 0
    pools = (known, dict.fromkeys([*known, *found]))
    plans = [exact(order, _whole(order, _least_wasteful(order, prices, pool))[0]) for pool in pools]
    return min(filter(None, plans), key=order.total, default=[]), 0


def _least_wasteful(order: Order, prices: Prices, cuttings: Iterable[Cutting]) -> list[Cutting]:
    """As many as can be chosen among."""

    def waste(cutting: Cutting) -> float:
        worth = sum(count * prices.pieces[place] for place, count in cutting.pattern)
        return (order.cost(cutting) / order.step if cutting.site == NEW else prices.sticks[cutting.site]) - worth

    return sorted(cuttings, key=lambda cutting: (waste(cutting), cutting))[:KEPT]


def _worth_least(order: Order, prices: Prices, spare: float) -> Iterator[Cutting | None]:
    """The cuttings whose worth is within `spare` of their stick's cost; None for each of the others looked at."""
    costs = [cost / order.step for cost in order.costs]
    new = ((NEW, room, cost) for room, cost in zip(order.rooms, costs, strict=True))
    on_site = zip(range(len(order.site_rooms)), order.site_rooms, prices.sticks, strict=True)
    for site, room, cost in [*new, *on_site]:
        for pattern in _patterns(order, prices.pieces, room, cost - spare):
            yield Cutting(pattern, site) if pattern else None


def _patterns(order: Order, worth: tuple[float, ...], room: int, least: float) -> Iterator[Pattern]:
    """Every pattern of the room that is worth that much; an empty one for each of the others looked at."""
    rates = [price / width for price, width in zip(worth, order.widths, strict=True)]
    ranked = sorted(range(len(rates)), key=lambda place: -rates[place])
    waiting: list[tuple[Pattern, int, int, float]] = [((), 0, room, 0.0)]
    while waiting:
        pattern, start, left, value = waiting.pop()
        yield tuple(sorted(pattern)) if value >= least else ()
        for rank in range(start, len(ranked)):
            place = ranked[rank]
            if value + left * rates[place] < least:
                break
            for count in range(1, min(order.counts[place], left // order.widths[place]) + 1):
                rest = left - count * order.widths[place]
                waiting.append(((*pattern, (place, count)), rank + 1, rest, value + count * worth[place]))


def _whole(order: Order, cuttings: list[Cutting]) -> tuple[list[Cutting], int]:
    """Whole sticks that hold at least what is wanted, each cutting as often as it is taken; and the cost below
    which no choice among them can be."""
    solver = covering(order)
    for cutting in cuttings:
        add_column(solver, order, cutting)
    places = np.arange(len(cuttings), dtype=np.int32)
    solver.changeColsIntegrality(len(cuttings), places, np.ones(len(cuttings), dtype=np.uint8))
    solver.setOptionValue("mip_max_nodes", NODES)
    solver.setOptionValue("mip_abs_gap", 0.99)  # the next better plan is a whole step cheaper
    solver.run()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return [], sum(order.costs) * sum(order.counts)
    times = [round(value) for value in solver.getSolution().col_value]
    chosen = [cutting for cutting, often in zip(cuttings, times, strict=False) for _ in range(often)]
    proved = solver.getInfo().mip_dual_bound
    return chosen, ceil(proved - 1e-6) * order.step if isfinite(proved) else 0

"""The cheapest plan and the least that any could cost. The only door to the solver and numpy."""

from collections.abc import Iterator
from math import ceil

from sitelog.calculators.timber.cutting.dive import SURE, Dive
from sitelog.calculators.timber.cutting.hand import alone, by_hand
from sitelog.calculators.timber.cutting.master import SLACK, Master
from sitelog.calculators.timber.cutting.near import better
from sitelog.calculators.timber.cutting.order import Order, Plan
from sitelog.calculators.timber.cutting.search import Best, Stopped
from sitelog.calculators.timber.cutting.watch import Watch, current_watch

NODES = 1_000  # looked at in all dives for a plan at the bound, where there is one length of stick
NODES_OF_MANY = 80  # where there are more, and costs differ by less; and in those for each cost above the bound
CLOSE = 0.001  # of the bound: nearer than that no plan above it is looked for


def plan(order: Order, watch: Watch | None = None) -> Plan:
    """The cheapest plan found, and the bound that the linear programme proves.

    Every piece must fit in some stick that can be bought. Sticks on site are used first. Where the first dives do not
    come to the bound, costs above it are tried; and where few patterns can be part of a better plan, all are looked
    at. Stopped by its watch, it gives the best so far; the limits are counts, not times, so that otherwise the same
    order gives the same plan.
    """
    best = Best(order, watch or current_watch())
    hands = by_hand(order)
    for cuttings in hands:
        best.offer(cuttings)
    try:
        master = Master(order, [*alone(order), *(cutting for cuttings in hands for cutting in cuttings)], best.pause)
        _search(master, best)
    except Stopped:
        return best.plan(stopped=True)
    return best.plan(stopped=False)


def least(order: Order) -> int:
    """What any plan costs at least."""
    hands = by_hand(order)
    master = Master(order, [*alone(order), *(cutting for cuttings in hands for cutting in cuttings)], lambda: None)
    master.relax()
    return _whole_steps(order, master.prices.bound)


def _whole_steps(order: Order, steps: float) -> int:
    return max(0, ceil(steps - SLACK)) * order.step


def _search(master: Master, best: Best) -> None:
    order = master.order
    master.relax()
    prices = master.prices
    best.bound_by(_whole_steps(order, prices.bound))
    for most, nodes in _targets(best):
        _dive(master, best, most, nodes)
    if not best.is_least:
        cuttings, none_below = better(order, prices, int(best.cost) - order.step, master.cuttings)
        if cuttings:
            best.offer(cuttings)
        best.proved = max(best.bound, min(none_below, int(best.cost)))


def _targets(best: Best) -> Iterator[tuple[int, int]]:
    """The bound; then, half-way to the best each time, what is above it and still worth while."""
    low = best.bound
    if not best.is_least:
        yield low, NODES if len(best.order.sticks) == 1 else NODES_OF_MANY
    while best.cost - low > best.order.step and not _is_close(best):
        low += -(-(int(best.cost) - low) // (2 * best.order.step)) * best.order.step
        yield low, NODES_OF_MANY


def _dive(master: Master, best: Best, most: int, nodes: int) -> None:
    """Dives for a plan of that cost, no two alike."""
    many = len(master.order.sticks) > 1
    for sure in SURE:
        dive = Dive(master, best, sure, nodes)
        if dive.run(most / master.order.step) or dive.nodes <= 0 or (many and _is_close(best)):
            return
        nodes = dive.nodes


def _is_close(best: Best) -> bool:
    return best.cost <= best.bound * (1 + CLOSE)

"""A plan whose sticks are sold in packs: whole packs are paid for, and what is over is spare.

A plan for single sticks may ask for one or two of many lengths, each a pack of its own. So plans from few lengths are
tried beside it, and then the best again with one pack fewer, whatever is in the others free to use.
"""

from collections import Counter
from collections.abc import Callable, Mapping
from functools import cached_property
from math import gcd

from msgspec import Struct

from sitelog.calculators.timber.cutting.hand import tightest
from sitelog.calculators.timber.cutting.order import Order, Plan, Sawn
from sitelog.calculators.timber.cutting.watch import Progress, Watch, current_watch, watched_by

Planner = Callable[[Order], Plan]
Counts = Mapping[int, int]
CLOSE = 0.005  # of the bound: nearer than that nothing more is tried
TRIES, FEWEST, EFFORT = 40, 6, 1_200  # plans made at most in each way; fewer where there are many lengths to saw
FINE = 1_000_000  # steps of cost up to which every sum of packs is looked at


class _Packed(Struct, frozen=True, dict=True):
    """What is sawn, with what is on site, and the packs that the rest comes out of."""

    order: Order
    packs: Counts
    sticks: tuple[Sawn, ...]

    @cached_property
    def bought(self) -> Counter[int]:
        """How many packs, by length."""
        used = Counter(one.stick for one in self.sticks if not one.on_site)
        return Counter({stick: -(-count // self.packs.get(stick, 1)) for stick, count in used.items()})

    @cached_property
    def cost(self) -> int:
        """Of all the packs."""
        return sum(count * _pack_cost(self.order, self.packs, stick) for stick, count in self.bought.items())

    def without_one(self, stick: int) -> Counter[int]:
        """The sticks that are paid for, less one pack of that length."""
        left = self.bought - Counter({stick: 1})
        return Counter({each: count * self.packs.get(each, 1) for each, count in left.items()})


class _Quiet(Watch):
    """Stops when the one behind it would, and tells it nothing."""

    def __init__(self, behind: Watch) -> None:
        self.should_stop = behind.should_stop  # type: ignore[method-assign]


class _Search:
    """The cheapest so far, and the bound that it is held to."""

    def __init__(self, order: Order, packs: Counts, plan: Planner, watch: Watch) -> None:
        self.order, self.packs, self.plan, self.watch = order, packs, plan, watch
        single = plan(order)
        self.best = _Packed(order, packs, single.sticks)
        self.bound = least_sum(order, packs, single.cost if single.least else single.bound, self.best.cost)
        self._tell()

    def run(self) -> None:
        """Offer plans from few lengths, then with packs taken away, until none is cheaper."""
        most = min(TRIES, max(FEWEST, EFFORT // len(self.order.pieces)))
        for stick in self.order.sticks[-most:]:
            if self._is_enough():
                return
            self._offer(self.plan(_from_few(self.order, stick)).sticks)
        tries, better = most, True
        while better:
            better = False
            for stick in sorted(self.best.bought, key=lambda one: -_pack_cost(self.order, self.packs, one)):
                tries -= 1
                if tries < 0 or self._is_enough():
                    return
                if better := self._offer(self._with_fewer(stick)):
                    break

    def _is_enough(self) -> bool:
        return self.watch.should_stop() or self.best.cost <= self.bound * (1 + CLOSE)

    def _with_fewer(self, stick: int) -> tuple[Sawn, ...]:
        """What is sawn if a pack of that length isn't bought, and others are where that takes them."""
        order, paid = self.order, self.best.without_one(stick)
        found = self.plan(Order(order.wanted, order.stock, order.kerf, Counter(order.on_site) + paid))
        free = tightest((one for one in found.sticks if one.on_site), order.kerf, order.on_site, paid)
        return (*free, *(one for one in found.sticks if not one.on_site))

    def _offer(self, sticks: tuple[Sawn, ...]) -> bool:
        found = _Packed(self.order, self.packs, tuple(sorted(sticks, key=_as_told, reverse=True)))
        if found.cost >= self.best.cost:
            return False
        self.best = found
        self._tell()
        return True

    def _tell(self) -> None:
        self.watch.hear(Progress(self.best.cost, self.bound))


def in_packs(order: Order, packs: Counts, plan: Planner) -> Plan:
    """The cheapest found in whole packs (`packs`: how many in one; 1 where it isn't named); its cost is of the packs.

    The bound is that of single sticks, taken up to what packs can add up to.
    """
    watch = current_watch()
    with watched_by(_Quiet(watch)):
        search = _Search(order, packs, plan, watch)
        search.run()
    best, bound = search.best, search.bound
    least = best.cost <= bound
    return Plan(best.sticks, best.cost, bound, least, watch.should_stop() and not least)


def least_sum(order: Order, packs: Counts, least: int, most: int) -> int:
    """The least that whole packs can cost, if single sticks cost `least` and some packs are known to cost `most`.

    A pack that holds the longest piece is one of them, where no stick on site does.
    """
    costs = {stick: cost for stick in order.stock if (cost := _pack_cost(order, packs, stick)) <= most}
    step = gcd(*costs.values())
    if not step or most // step > FINE:
        return least
    sums = _sums([cost // step for cost in costs.values()], most // step)
    rest = -(-least // step)
    found = (one + _next(sums, max(rest - one, 0)) for one in _first(order, costs, step))
    return step * min(found, default=most // step)


def _first(order: Order, costs: Counts, step: int) -> list[int]:
    """What a pack costs, in steps, that must be bought: one that holds the longest piece; 0 where one on site does."""
    longest = order.pieces[0]
    if max(order.on_site, default=0) >= longest:
        return [0]
    return [cost // step for stick, cost in costs.items() if stick >= longest]


def _sums(costs: list[int], most: int) -> int:
    """Every sum of the costs up to `most`, each taken as often as it goes, as bits of a whole number."""
    sums, within = 1, (1 << most + 1) - 1
    for cost in costs:
        shift = cost
        while shift <= most:
            sums |= sums << shift & within
            shift *= 2
    return sums


def _next(sums: int, least: int) -> int:
    """The least of the sums from `least` up."""
    above = sums >> least
    return least + max((above & -above).bit_length() - 1, 0)


def _pack_cost(order: Order, packs: Counts, stick: int) -> int:
    return packs.get(stick, 1) * order.stock[stick]


def _from_few(order: Order, stick: int) -> Order:
    """The same from that length alone, and from the shortest that holds the longest piece."""
    holds = [each for each in order.sticks if each >= order.pieces[0]]
    return Order(order.wanted, {each: order.stock[each] for each in {stick, *holds[:1]}}, order.kerf, order.on_site)


def _as_told(one: Sawn) -> tuple[bool, int, tuple[int, ...]]:
    return one.on_site, one.stick, one.pieces

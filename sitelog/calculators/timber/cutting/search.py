"""The best plan so far, kept and told to whoever watches, who may end the search."""

from collections.abc import Sequence
from math import inf

from sitelog.calculators.timber.cutting.hand import sawn
from sitelog.calculators.timber.cutting.order import Cutting, Order, Plan
from sitelog.calculators.timber.cutting.watch import Progress, Watch


class Stopped(Exception):
    """Whoever watches has ended the search."""


class Best:
    """The cheapest plan offered, and the greatest bound: `proved` of any plan, `bound` by the linear programme."""

    def __init__(self, order: Order, watch: Watch) -> None:
        self.order, self.watch = order, watch
        self.cuttings: list[Cutting] = []
        self.cost: float = inf
        self.bound = self.proved = 0

    def offer(self, cuttings: Sequence[Cutting]) -> None:
        """Keep it, if it is cheaper."""
        if (cost := self.order.total(cuttings)) < self.cost:
            self.cost, self.cuttings = cost, list(cuttings)
            self._tell()

    def bound_by(self, bound: int) -> None:
        """No plan costs less than that."""
        self.bound = self.proved = bound
        self._tell()

    @property
    def is_least(self) -> bool:
        """None can be cheaper."""
        return self.cost <= self.proved

    def pause(self) -> None:
        """Raises Stopped where whoever watches asks for it."""
        if self.watch.should_stop():
            raise Stopped

    def plan(self, *, stopped: bool) -> Plan:
        """The best so far."""
        cuttings = sawn(self.order, self.cuttings)
        return Plan(tuple(cuttings), int(self.cost), self.bound, self.is_least, stopped and not self.is_least)

    def _tell(self) -> None:
        if self.cuttings:
            self.watch.hear(Progress(int(self.cost), self.bound))

"""The linear programme of an order: sticks in any fraction, over cutting patterns that are added while one saves.

After Gilmore and Gomory, "A linear programming approach to the cutting-stock problem", Operations Research 9, 1961.
Limits are in rounds, never in time: the same order gives the same plan.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from heapq import nlargest
from math import ceil, inf

import highspy
from msgspec import Struct

from sitelog.calculators.timber.cutting.knapsack import Knapsack
from sitelog.calculators.timber.cutting.model import add_column, covering
from sitelog.calculators.timber.cutting.order import Cutting, Order, Pattern

ROUNDS = 600  # of new patterns; the bound holds wherever they stop
AT_ONCE = 12  # patterns added in a round
CELLS = 4_000  # of a knapsack that is looked at before the one in full detail
CLOSE = 0.0002  # of the bound: it is not worked nearer, where sticks of several lengths make steps small
SLACK = 1e-7  # of a step of cost: what floating point may be out by
OVER = 1e-9  # by which a pattern must be worth more than its stick


class Prices(Struct, frozen=True):
    """What each piece and each stick on site is worth, in steps of cost; no stick's pieces are worth more than it
    costs, or than it is worth. `bound`: what all the pieces wanted are worth, less the sticks on site."""

    pieces: tuple[float, ...]
    sticks: tuple[float, ...]
    bound: float


class Master:
    """The programme with the cuttings met so far, for what is `wanted` of each piece and `left` of each stick on site.

    `pause` is called in each round; it may raise to end the work.
    """

    def __init__(self, order: Order, cuttings: Iterable[Cutting], pause: Callable[[], None]) -> None:
        self.order, self.pause = order, pause
        self.wanted, self.left = list(order.counts), list(order.site_counts)
        self.cuttings: list[Cutting] = []
        self.prices = Prices(tuple(0.0 for _ in order.counts), tuple(0.0 for _ in order.site_counts), 0.0)
        self._known: set[Cutting] = set()
        self._longest = max(order.rooms[-1:] + order.site_rooms[:1])
        self._costs = [cost // order.step for cost in order.costs]
        self._solver = covering(order)
        self._solver.setOptionValue("presolve", "off")
        self._solver.setOptionValue("simplex_strategy", 4)  # primal: new columns leave the last answer good
        self.add(cuttings)

    def add(self, cuttings: Iterable[Cutting]) -> int:
        """How many of them are new."""
        fresh = [cutting for cutting in dict.fromkeys(cuttings) if cutting not in self._known]
        for cutting in fresh:
            add_column(self._solver, self.order, cutting)
        self._known.update(fresh)
        self.cuttings += fresh
        return len(fresh)

    def want(self, wanted: Sequence[int], left: Sequence[int]) -> None:
        """Change what is wanted and what is left on site."""
        for row, (before, count) in enumerate(zip(self.wanted, wanted, strict=True)):
            if before != count:
                self._solver.changeRowBounds(row, float(count), highspy.kHighsInf)
        for row, (before, count) in enumerate(zip(self.left, left, strict=True), len(self.wanted)):
            if before != count:
                self._solver.changeRowBounds(row, -highspy.kHighsInf, float(count))
        self.wanted, self.left = list(wanted), list(left)

    def relax(self, enough: float = -inf, rounds: int = ROUNDS) -> float:
        """The least cost in steps, with `prices` that bound it; no nearer than to be `enough` or over it for certain.

        The bound needs no trust in the solver. Prices for the pieces under which no stick's are worth more than it
        costs prove that all the pieces cost at least their worth (Farley, "A note on bounding a class of linear
        programming problems", Operations Research 38, 1990), and a plan costs a whole number of steps.
        """
        best, coarse = Prices((), (), -inf), self.order.rooms[-1] > CELLS
        for _ in range(rounds):
            self.pause()
            self._solver.run()
            cost = float(self._solver.getInfo().objective_function_value)
            if cost <= enough + SLACK:
                break
            duals = self._solver.getSolution().row_dual
            if coarse and self.add(self._saving(duals, self._packed(duals, -(-self.order.rooms[-1] // CELLS)))):
                continue
            packed = self._packed(duals, 1)
            best = max(best, self._fair(duals, packed), key=lambda prices: prices.bound)
            if self._near(cost, best.bound) or best.bound > enough + SLACK > -inf:
                break
            if not self.add(self._saving(duals, packed)):
                break
        self.prices = best
        return cost

    def _near(self, cost: float, bound: float) -> bool:
        """No further round can prove more that matters."""
        if ceil(cost - SLACK) <= ceil(bound - SLACK):
            return True
        return len(self._costs) > 1 and cost - bound <= CLOSE * bound

    def chosen(self) -> list[tuple[float, Cutting]]:
        """The cuttings in the answer, in sticks, the most first."""
        amounts = enumerate(self._solver.getSolution().col_value)
        ranked = sorted((-amount, at) for at, amount in amounts if amount > 1e-6)
        return [(-negative, self.cuttings[at]) for negative, at in ranked]

    def _packed(self, duals: Sequence[float], cell: int) -> "_Packed":
        order = self.order
        widths = order.widths if cell == 1 else [-(-width // cell) for width in order.widths]
        worth = [max(0.0, dual) for dual in duals[: len(order.counts)]]
        return _Packed(Knapsack(widths, self.wanted, worth, self._longest // cell), cell)

    def _saving(self, duals: Sequence[float], packed: "_Packed") -> Iterator[Cutting]:
        """Cuttings whose pieces are worth more than their stick, the best bargains first."""
        order = self.order
        bargains = [
            (share, room)
            for room, cost in zip(order.rooms, self._costs, strict=True)
            if (share := packed.worth(room) / cost) > 1 + OVER
        ]
        for _, room in nlargest(AT_ONCE, bargains):
            yield Cutting(packed.pattern(room))
        if len(bargains) < AT_ONCE and self._longest == order.rooms[-1]:
            yield from map(Cutting, packed.knapsack.others(self._costs[-1] * (1 + OVER), AT_ONCE - len(bargains)))
        for site, (room, left) in enumerate(zip(order.site_rooms, self.left, strict=True)):
            if left and packed.worth(room) > -duals[len(order.counts) + site] + OVER:
                yield Cutting(packed.pattern(room), site)

    def _fair(self, duals: Sequence[float], packed: "_Packed") -> Prices:
        """The prices, lowered until no stick's pieces are worth more than it costs."""
        shares = (packed.worth(room) / cost for room, cost in zip(self.order.rooms, self._costs, strict=True))
        factor = 1 / max(1.0, *shares)
        pieces = tuple(max(0.0, dual) * factor for dual in duals[: len(self.wanted)])
        sticks = tuple(packed.worth(room) * factor for room in self.order.site_rooms)
        wanted = sum(price * count for price, count in zip(pieces, self.wanted, strict=True))
        return Prices(pieces, sticks, wanted - sum(price * left for price, left in zip(sticks, self.left, strict=True)))


class _Packed(Struct, frozen=True):
    """A knapsack in cells of so many units: pieces taken up to whole cells, rooms down to them."""

    knapsack: Knapsack
    cell: int

    def worth(self, room: int) -> float:
        return float(self.knapsack.best[room // self.cell])

    def pattern(self, room: int) -> Pattern:
        return self.knapsack.pattern(room // self.cell)

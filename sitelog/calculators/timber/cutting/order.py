"""What a cutting plan is: pieces sawn from sticks of one section, which sticks hold which, and what they cost.

Lengths, kerf and costs are whole numbers here, in any units.
"""

from bisect import bisect_left
from collections.abc import Iterable, Mapping
from functools import cached_property
from math import gcd
from typing import NamedTuple

from msgspec import Struct

NEW = -1
# What comes out of one stick: the place of a piece in `Order.pieces`, and how many of it; in the order of places.
Pattern = tuple[tuple[int, int], ...]


class Cutting(NamedTuple):
    """One stick: what is sawn from it, and its place in `Order.site_sticks`; NEW for one that is bought."""

    pattern: Pattern
    site: int = NEW


class Order(Struct, frozen=True, dict=True):
    """Pieces wanted as length to count; stock as length to the cost of a stick; sticks on site as length to count.

    Those on site cost nothing. A stick holds n pieces when they and the n - 1 cuts between them are no longer than it
    is. The cut that frees the last one takes what is left up to the width of the kerf, and nothing where nothing is
    left.
    """

    wanted: Mapping[int, int]
    stock: Mapping[int, int]
    kerf: int
    on_site: Mapping[int, int] = {}

    @cached_property
    def pieces(self) -> tuple[int, ...]:
        """The different lengths wanted, the longest first."""
        return tuple(sorted(self.wanted, reverse=True))

    @cached_property
    def counts(self) -> tuple[int, ...]:
        """How many are wanted of each of `pieces`."""
        return tuple(self.wanted[piece] for piece in self.pieces)

    @cached_property
    def sticks(self) -> tuple[int, ...]:
        """The lengths in stock that are worth buying, the shortest first: no longer one is cheaper."""
        worth_buying: list[int] = []
        for stick in sorted(self.stock, reverse=True):
            if not worth_buying or self.stock[stick] <= self.stock[worth_buying[-1]]:
                worth_buying.append(stick)
        return tuple(reversed(worth_buying))

    @cached_property
    def costs(self) -> tuple[int, ...]:
        """What each of `sticks` costs: no longer one costs less."""
        return tuple(self.stock[stick] for stick in self.sticks)

    @cached_property
    def _unit(self) -> int:
        return gcd(*(piece + self.kerf for piece in self.pieces))

    @cached_property
    def widths(self) -> tuple[int, ...]:
        """What each piece takes of a stick with its cut, in the largest unit that divides them all."""
        return tuple((piece + self.kerf) // self._unit for piece in self.pieces)

    @cached_property
    def rooms(self) -> tuple[int, ...]:
        """What each of `sticks` holds, in that unit: the last piece's cut may fall past its end."""
        return tuple((stick + self.kerf) // self._unit for stick in self.sticks)

    @cached_property
    def site_sticks(self) -> tuple[int, ...]:
        """The different lengths on site, the longest first."""
        return tuple(sorted(self.on_site, reverse=True))

    @cached_property
    def site_rooms(self) -> tuple[int, ...]:
        """What each of `site_sticks` holds, in the unit of `widths`."""
        return tuple((stick + self.kerf) // self._unit for stick in self.site_sticks)

    @cached_property
    def site_counts(self) -> tuple[int, ...]:
        """How many there are of each of `site_sticks`."""
        return tuple(self.on_site[stick] for stick in self.site_sticks)

    @cached_property
    def step(self) -> int:
        """The least by which the costs of two plans can differ."""
        return gcd(*self.stock.values())

    def width(self, pattern: Pattern) -> int:
        """What the pattern takes of a stick, in the unit of `widths`."""
        return sum(count * self.widths[place] for place, count in pattern)

    def stick(self, cutting: Cutting) -> int:
        """The stick on site; or the cheapest to buy that holds the pattern, the shortest of those."""
        if cutting.site != NEW:
            return self.site_sticks[cutting.site]
        return self.sticks[bisect_left(self.rooms, self.width(cutting.pattern))]

    def cost(self, cutting: Cutting) -> int:
        """What its stick costs."""
        if cutting.site != NEW:
            return 0
        return self.costs[bisect_left(self.rooms, self.width(cutting.pattern))]

    def total(self, cuttings: Iterable[Cutting]) -> int:
        """What all the sticks cost."""
        return sum(map(self.cost, cuttings))


class Sawn(Struct, frozen=True):
    """One stick and the pieces it is sawn into, the longest first; bought, or one that is on site."""

    stick: int
    pieces: tuple[int, ...]
    on_site: bool = False

    def offcut(self, kerf: int) -> int:
        """What is left after the last cut."""
        return max(0, self.stick - sum(self.pieces) - kerf * len(self.pieces))


class Plan(Struct, frozen=True):
    """The sticks, what they cost, and the bound, below which no plan can be.

    `least`: it is known that no plan costs less than this one, which a search can find out above the bound.
    `stopped`: whoever watched ended the search, and this is the best until then.
    """

    sticks: tuple[Sawn, ...]
    cost: int
    bound: int
    least: bool
    stopped: bool = False

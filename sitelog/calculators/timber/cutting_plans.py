"""What a cutting plan is: pieces sawn from sticks of one section, which sticks hold which, and what they cost.

Lengths, kerf and costs are whole numbers here, in any units.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from math import gcd

from msgspec import Struct

Pattern = tuple[int, ...]  # how many of each piece come out of one stick, in the order of `Order.pieces`


class Order(Struct, frozen=True, dict=True):
    """Pieces wanted, the longest first, as length to count; stock as length to the cost of one stick.

    A stick holds n pieces when they and the n - 1 cuts between them are no longer than it is. The cut that frees
    the last one takes what is left up to the width of the kerf, and nothing where nothing is left.
    """

    wanted: Mapping[int, int]
    stock: Mapping[int, int]
    kerf: int

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
        """The different lengths in stock, the shortest first."""
        return tuple(sorted(self.stock))

    @cached_property
    def _unit(self) -> int:
        return gcd(*(piece + self.kerf for piece in self.pieces))

    @cached_property
    def widths(self) -> tuple[int, ...]:
        """What each piece takes of a stick with its cut, in the largest unit that divides them all."""
        return tuple((piece + self.kerf) // self._unit for piece in self.pieces)

    @cached_property
    def rooms(self) -> tuple[int, ...]:
        """What each stick holds, in that unit: the last piece's cut may fall past its end."""
        return tuple((stick + self.kerf) // self._unit for stick in self.sticks)

    @cached_property
    def step(self) -> int:
        """The least by which the costs of two plans can differ."""
        return gcd(*self.stock.values())

    def width(self, pattern: Pattern) -> int:
        """What the pattern takes of a stick, in the unit of `widths`."""
        return sum(count * width for count, width in zip(pattern, self.widths, strict=True))

    def stick(self, pattern: Pattern) -> int:
        """The cheapest stick that holds the pattern, the shortest of those."""
        width = self.width(pattern)
        fitting = (stick for stick, room in zip(self.sticks, self.rooms, strict=True) if room >= width)
        return min(fitting, key=lambda stick: (self.stock[stick], stick))

    def cost(self, pattern: Pattern) -> int:
        """What the cheapest stick that holds the pattern costs."""
        return self.stock[self.stick(pattern)]

    def total(self, patterns: Iterable[Pattern]) -> int:
        """What all the patterns cost, each in its cheapest stick."""
        return sum(map(self.cost, patterns))


class Sawn(Struct, frozen=True):
    """One stick to buy and the pieces it is sawn into, the longest first."""

    stick: int
    pieces: tuple[int, ...]

    def offcut(self, kerf: int) -> int:
        """What is left after the last cut."""
        return max(0, self.stick - sum(self.pieces) - kerf * len(self.pieces))


class Plan(Struct, frozen=True):
    """The sticks, what they cost, and the bound, below which no plan can be; `least` where it is known that none
    costs less than this one, which a search can find out above the bound."""

    sticks: tuple[Sawn, ...]
    cost: int
    bound: int
    least: bool


def by_hand(order: Order) -> list[list[Pattern]]:
    """For each length of stick that takes the longest piece, a plan as a saw bench makes it: the longest that still
    goes in, stick by stick."""
    return [_longest_first(order, room) for room in order.rooms if room >= order.widths[0]]


def alone(order: Order) -> Iterator[Pattern]:
    """Each piece by itself, as often as each stick holds it."""
    for place, (count, width) in enumerate(zip(order.counts, order.widths, strict=True)):
        for room in order.rooms:
            if room >= width:
                yield tuple(min(count, room // width) if at == place else 0 for at in range(len(order.counts)))


def _longest_first(order: Order, room: int) -> list[Pattern]:
    rest, patterns = list(order.counts), []
    while any(rest):
        left, pattern = room, []
        for place, width in enumerate(order.widths):
            pattern.append(min(rest[place], left // width))
            rest[place] -= pattern[-1]
            left -= pattern[-1] * width
        patterns.append(tuple(pattern))
    return patterns


def exact(order: Order, patterns: list[Pattern]) -> list[Pattern]:
    """The same sticks without the pieces that are over, taken out of the most wasteful; none if any is wanting."""
    rest, exact = list(order.counts), []
    for pattern in sorted(patterns, key=lambda one: (order.cost(one) / order.width(one), one)):
        kept = tuple(map(min, pattern, rest))
        rest = [count - taken for count, taken in zip(rest, kept, strict=True)]
        if any(kept):
            exact.append(kept)
    return [] if any(rest) else exact


def sawn(order: Order, patterns: list[Pattern]) -> Iterator[Sawn]:
    """The longest sticks first, alike ones together."""
    for stick, pattern in sorted(((order.stick(one), one) for one in patterns), reverse=True):
        pieces = (piece for piece, count in zip(order.pieces, pattern, strict=True) for _ in range(count))
        yield Sawn(stick, tuple(pieces))

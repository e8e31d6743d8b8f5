"""Whole sticks out of the linear programme: some are fixed, what is left is relaxed again, until nothing is wanted.

A dive is after a plan of at most one cost. Where what is left can't be had for the rest of it, the dive goes back to
the next best choice, and by and by further back. What it doesn't find may still be there.
"""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.calculators.timber.cutting.hand import fullest, longest_first, take
from sitelog.calculators.timber.cutting.master import SLACK, Master
from sitelog.calculators.timber.cutting.order import NEW, Cutting
from sitelog.calculators.timber.cutting.search import Best

ROUNDS = 60  # of new patterns after a choice
CHOICES = 4  # single cuttings tried at one place
FEW, EACH = 6, 0.6  # turns back below one place: so many, and so many more for a stick that is still to come
SURE = (0.7, 2.0, 0.5, 0.85, 0.6, 0.4)  # of a stick: cuttings of so much are fixed together; another in each dive


class Node(Struct, frozen=True):
    """What is fixed, what is still wanted and left on site, and what may still be spent, in steps."""

    fixed: tuple[Cutting, ...]
    wanted: tuple[int, ...]
    left: tuple[int, ...]
    budget: float

    @property
    def done(self) -> bool:
        """Nothing is wanted any more."""
        return not any(self.wanted)


class Dive:
    """One search for a plan of at most `most` steps, among at most so many `nodes`."""

    def __init__(self, master: Master, best: Best, sure: float, nodes: int) -> None:
        self.master, self.best, self.sure, self.nodes = master, best, sure, nodes
        self.turns = 0

    def run(self, most: float) -> bool:
        """Whether it was found; it is then offered, as is what comes of each turn if it is finished by hand."""
        order = self.master.order
        found = self._below(Node((), order.counts, order.site_counts, most))
        self.master.want(order.counts, order.site_counts)
        return found

    def _below(self, node: Node) -> bool:
        order = self.master.order
        sticks = sum(count * width for count, width in zip(node.wanted, order.widths, strict=True)) / order.rooms[-1]
        turns = self.turns + FEW + EACH * sticks
        node, chosen = self._with_whole_sticks(node)
        if node.done:
            self.best.offer(node.fixed)
            return True
        return any(self._below(self._fixed(node, choice)) for choice in self._choices(chosen) if self.turns < turns)

    def _with_whole_sticks(self, node: Node) -> tuple[Node, list[tuple[float, Cutting]]]:
        """With every whole stick fixed, until none is; and the fractions that are left, none where it is no use."""
        while not node.done and (chosen := self._relaxed(node)):
            whole = [cutting for amount, cutting in chosen for _ in range(int(amount + 1e-6))]
            if not whole:
                return node, chosen
            node = self._fixed(node, whole)
        return node, []

    def _relaxed(self, node: Node) -> list[tuple[float, Cutting]]:
        """Its sticks in any fraction; none where they cost too much, or no more may be looked at."""
        if self.nodes <= 0:
            return []
        self.nodes -= 1
        self.master.want(node.wanted, node.left)
        if self.master.relax(node.budget, ROUNDS) <= node.budget + 10 * SLACK:
            return self.master.chosen()
        self.turns += 1
        order = self.master.order
        self.best.offer([*node.fixed, *longest_first(order, node.wanted, node.left, order.rooms[-1:])])
        self.best.offer([*node.fixed, *fullest(order, node.wanted, node.left)])
        return []

    def _choices(self, chosen: Sequence[tuple[float, Cutting]]) -> Iterator[list[Cutting]]:
        """All that are all but whole sticks; then one at a time, the most first."""
        sure = [cutting for amount, cutting in chosen if amount >= self.sure]
        if len(sure) > 1:
            yield sure
        yield from ([cutting] for _, cutting in chosen[:CHOICES])

    def _fixed(self, node: Node, cuttings: Sequence[Cutting]) -> Node:
        """With as many of the cuttings as are still wanted, the first of them in any case."""
        wanted, left = list(node.wanted), list(node.left)
        fixed: list[Cutting] = []
        for cutting in cuttings:
            whole = all(wanted[place] >= count for place, count in cutting.pattern)
            there = cutting.site == NEW or left[cutting.site] > 0
            if there and (whole or not fixed) and (taken := take(wanted, cutting)).pattern:
                fixed.append(taken)
                if taken.site != NEW:
                    left[taken.site] -= 1
        spent = self.master.order.total(fixed) / self.master.order.step
        return Node((*node.fixed, *fixed), tuple(wanted), tuple(left), node.budget - spent)

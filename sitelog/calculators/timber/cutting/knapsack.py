"""What the pieces of one stick can be worth at most, by dynamic programming over every room at once."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from msgspec import Struct

from sitelog.calculators.timber.cutting.order import Pattern


class _Bundle(Struct, frozen=True):
    """So many of a piece, put in together; `better` for each room from `wide` up: it is worth more with them."""

    place: int
    count: int
    wide: int
    better: "np.ndarray[tuple[int], np.dtype[np.bool_]]"


class Knapsack:
    """The most that a room's pieces can be worth, for all rooms up to `room`, no piece more often than wanted."""

    def __init__(self, widths: Sequence[int], counts: Sequence[int], worth: Sequence[float], room: int) -> None:
        self.best = np.zeros(room + 1)
        self._bundles: list[_Bundle] = []
        self._rises: list[tuple[int, float]] = []  # after how many bundles the last room was worth more, and how much
        self._trial = np.empty(room + 1)
        put_in = (place for place, each in enumerate(worth) if each > 0 and counts[place] and widths[place] <= room)
        for place in sorted(put_in, key=lambda place: -worth[place] / widths[place]):
            for count in _doubling(min(counts[place], room // widths[place])):
                self._put_in(place, count, count * widths[place], count * worth[place])

    def _put_in(self, place: int, count: int, wide: int, worth: float) -> None:
        best, trial = self.best[wide:], self._trial[wide:]
        before = float(self.best[-1])
        np.add(self.best[:-wide], worth, out=trial)
        self._bundles.append(_Bundle(place, count, wide, trial > best))
        np.maximum(best, trial, out=best)
        if self.best[-1] > before:
            self._rises.append((len(self._bundles), float(self.best[-1])))

    def pattern(self, room: int, bundles: int | None = None) -> Pattern:
        """The pieces that are worth the most in that room, of the first so many bundles."""
        counts: dict[int, int] = {}
        for bundle in reversed(self._bundles[:bundles]):
            if room >= bundle.wide and bundle.better[room - bundle.wide]:
                counts[bundle.place] = counts.get(bundle.place, 0) + bundle.count
                room -= bundle.wide
        return tuple(sorted(counts.items()))

    def others(self, least: float, most: int) -> Iterator[Pattern]:
        """Patterns of the last room that are worth more than `least` but not the most; the best first."""
        found = [bundles for (bundles, worth), _ in pairwise(self._rises) if worth > least]
        return (self.pattern(len(self.best) - 1, bundles) for bundles in reversed(found[-most:]))


def _doubling(count: int) -> Iterator[int]:
    """Bundles of 1, 2, 4 ... and a rest, from which any number up to `count` can be made up."""
    bundle = 1
    while count:
        yield min(bundle, count)
        count -= min(bundle, count)
        bundle *= 2

"""A roof over a loop worked a third way: its level cut, walked inwards event by event from the plates up.

For plans in general, where no two things happen at one height. It knows of no blocks and no planes: an edge moves in at
its own speed, is used up, or is hit by a corner that turns in and parts the cut in two.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

Point = tuple[float, float]
Ring = list[int]  # edges by their places
AFTER = 1e-9  # mm: what happens next is higher than this


@dataclass(frozen=True)
class Loop:
    """Corners [mm] anticlockwise, and the pitch [deg] over the wall that leaves each; 90 is a gable."""

    corners: Sequence[Point]
    pitches: Sequence[float]

    def way(self, edge: int) -> Point:
        (x, y), (x_end, y_end) = self.corners[edge], self.corners[(edge + 1) % len(self.corners)]
        long = math.dist((x, y), (x_end, y_end))
        return (x_end - x) / long, (y_end - y) / long

    def off(self, edge: int, at: Point, height: float) -> float:
        """How far [mm] a point is inside an edge that has moved in so far as it has at a height."""
        (dx, dy), (x, y) = self.way(edge), self.corners[edge]
        speed = 0.0 if self.pitches[edge] == 90 else 1 / math.tan(math.radians(self.pitches[edge]))
        return dx * (at[1] - y) - dy * (at[0] - x) - speed * height

    def corner(self, first: int, second: int, height: float) -> Point:
        """Where two edges meet at a height."""
        (ax, ay), (bx, by) = self.way(first), self.way(second)
        a, b = self.off(first, (0.0, 0.0), height), self.off(second, (0.0, 0.0), height)
        turn = ax * by - ay * bx
        return (ax * b - bx * a) / turn, (ay * b - by * a) / turn

    def turn(self, first: int, second: int) -> float:
        (ax, ay), (bx, by) = self.way(first), self.way(second)
        return ax * by - ay * bx

    def cut(self, height: float) -> list[list[Point]]:
        """The rings of the level cut at a height."""
        whole = list(range(len(self.corners)))
        return [ring for ring in self._cut(whole, 0.0, height) if ring]

    def _cut(self, ring: Ring, now: float, height: float) -> Iterator[list[Point]]:
        """What a ring at one height has become at another."""
        while len(ring) > 2:
            event = min(self._events(ring, now), default=None)
            if event is None or event[0] > height:
                yield [self.corner(ring[n - 1], ring[n], height) for n in range(len(ring))]
                return
            now, place, hit = event
            if hit < 0:
                ring = ring[:place] + ring[place + 1 :]
            else:
                turned = ring[place:] + ring[:place]  # from the edge after the corner, to the one before it
                at = turned.index(ring[hit])
                yield from self._cut(turned[: at + 1], now, height)
                ring = turned[at:]

    def _events(self, ring: Ring, now: float) -> Iterator[tuple[float, int, int]]:
        """The height, the place in the ring, and the place of the edge that is hit; -1 where an edge is used up."""
        count = len(ring)
        for place in range(count):
            before, edge, after = ring[place - 1], ring[place], ring[(place + 1) % count]
            used_up = self._falls_to_0(now, partial(self._long, before, edge, after))
            if used_up is not None:
                yield used_up, place, -1
            if self.turn(before, edge) >= 0:
                continue
            for hit in range(count):
                other = ring[hit]
                if other in (before, edge):
                    continue
                height = self._falls_to_0(now, partial(self._corner_off, before, edge, other))
                if height is None:
                    continue
                dx, dy = self.way(other)
                along = [
                    dx * x + dy * y
                    for x, y in (
                        self.corner(ring[hit - 1], other, height),
                        self.corner(before, edge, height),
                        self.corner(other, ring[(hit + 1) % count], height),
                    )
                ]
                if along[0] <= along[1] <= along[2]:
                    yield height, place, hit

    def _long(self, before: int, edge: int, after: int, height: float) -> float:
        (dx, dy), start, end = self.way(edge), self.corner(before, edge, height), self.corner(edge, after, height)
        return dx * (end[0] - start[0]) + dy * (end[1] - start[1])

    def _corner_off(self, before: int, edge: int, other: int, height: float) -> float:
        return self.off(other, self.corner(before, edge, height), height)

    @staticmethod
    def _falls_to_0(now: float, size: Callable[[float], float]) -> float | None:
        """The height after now at which a size that changes evenly is 0, if it falls to it."""
        low, high = size(now), size(now + 1000.0)
        if high >= low:
            return None
        height = now + 1000.0 * low / (low - high)
        return height if height > now + AFTER else None


def is_inside(rings: Sequence[Sequence[Point]], x: float, y: float) -> bool:
    inside = False
    for ring in rings:
        for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
                inside = not inside
    return inside

"""Marks of rafters in pairs: at each hip and valley those of one slope stand opposite those of the other.

A mark on one slope is followed over every hip and valley that its rafter meets, to the mark opposite on the next slope,
and so on down to the plates; all of them stand, or none. Over a ridge or a break it is followed where that puts no two
rafters nearer than half the spacing.
"""

import math
from bisect import bisect, bisect_left, insort
from collections.abc import Collection, Iterator, Mapping, Sequence
from types import MappingProxyType

from sitelog.geometry.read_off.scanned import EDGES, OUT_OF_SQUARE, Scan, flat_edges
from sitelog.geometry.spacings import bays
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.surface.surface import Surface
from sitelog.refusal import Refusal

PAIRS = "pairs"  # the way of setting out
WITHIN = 10.0  # mm that the bay which closes up may be over the spacing, as for `jacks` and `commons` on the lists
SAME_MARK = 0.5  # mm: marks no further apart are one
MOST = 5_000  # rafters
MOST_FOLLOWED = 60  # marks that one is followed to
SOFT = ("ridge", "break", "level valley")
Mark = tuple[int, float]  # a slope by its place, and how far along its wall [mm]


def paired_marks(
    found: Surface,
    slopes: Collection[int],
    spacing: float,
    thickness: float,
    *,
    over_valleys: bool = True,
    beside: Mapping[int, list[float]] = MappingProxyType({}),
) -> dict[int, list[float]]:
    """The marks [mm] of each of the slopes by its place, no bay over the spacing, and none that touch.

    A rafter stands along each verge and a common at the head of each hip. Jacks go from the foot of each hip, then of
    each valley, at the spacing on the slope where they come wider apart; the rest of a slope from its first end. A bay
    that closes up is what is left, at the head or the last end: it may be over the spacing by WITHIN, and a rafter that
    would touch the next goes midway. On a slope so much steeper that jacks opposite would come nearer than half the
    spacing, only those stand that it needs. Without `over_valleys` none is followed over a valley, as of boards. What
    stands on other slopes already is `beside`: these are set out to it, and it stays.
    """
    marks = _Marks(found, {*slopes, *beside}, spacing, thickness, ("hip", "valley") if over_valleys else ("hip",))
    marks.begin(beside)
    for line in marks.lines():
        marks.fill_line(line)
    for slope in marks.free():
        marks.fill_slope(slope)
    return {slope: marks.on[slope] for slope in marks.free()}


class _Marks:
    """Marks as they are set out, those of each slope by its place."""

    def __init__(
        self, found: Surface, slopes: Collection[int], spacing: float, thickness: float, hard: Sequence[str]
    ) -> None:
        self.found, self.spacing, self.thickness, self.hard = found, spacing, thickness, hard
        self.near = max(thickness, SAME_MARK)  # marks no further apart can't both have a rafter
        along = [line.kind in EDGES for line in found.lines]
        edges = {slope: flat_edges(found, slope) for slope in slopes}
        self.scans = {slope: Scan(rings, along) for slope, rings in edges.items() if rings}
        self.on: dict[int, list[float]] = {slope: [] for slope in self.scans}  # in order
        self.fixed: frozenset[int] = frozenset()
        self.count = 0

    # --- what stands first ---

    def begin(self, beside: Mapping[int, list[float]]) -> None:
        """The rafters along verges, those opposite what stands already, and the commons at the heads of hips."""
        self.fixed = frozenset(beside)
        self.on |= {slope: list(marks) for slope, marks in beside.items() if slope in self.scans}
        for one in (*self._verges(), *self._met()):
            self._take(self._followed([one], []))
        for mark in list(self._heads()):
            self.stand(mark)

    def _verges(self) -> Iterator[tuple[Mark, float]]:
        """Where edges run up a slope that a rafter stands along, and how near to another it can't be [mm]."""
        for slope in self.free():
            for edge in self.scans[slope].edges:
                wide, high = edge.end[0] - edge.start[0], edge.end[1] - edge.start[1]
                kind = self.found.lines[edge.line].kind
                if kind in ("verge", "abutment") and abs(wide) <= OUT_OF_SQUARE * abs(high):
                    yield (slope, (edge.start[0] + edge.end[0]) / 2), self.near

    def _met(self) -> Iterator[tuple[Mark, float]]:
        """The marks opposite those of the slopes that were set out before."""
        for slope in sorted(self.fixed & self.on.keys()):
            for at in self.on[slope]:
                yield from self._opposite(slope, at, self.hard)

    def _heads(self) -> Iterator[Mark]:
        """The heads of hips."""
        for line in self.found.lines:
            if line.kind == "hip":
                yield from ((slope, self._place(slope, line.end)) for slope in self._own(line))

    def free(self) -> list[int]:
        """The slopes that are set out here."""
        return [slope for slope in self.scans if slope not in self.fixed]

    def lines(self) -> list[RoofLine]:
        """Hips, then valleys, those off the plates before those between other timbers."""
        own = [line for line in self.found.lines if line.kind in ("hip", "valley") and self._own(line)]
        return sorted(own, key=lambda line: (not self.found.points[line.start].walls, line.kind))

    def _own(self, line: RoofLine) -> list[int]:
        """Those of its slopes that are set out here."""
        return [slope for slope in line.between if slope in self.scans and slope not in self.fixed]

    # --- the bays ---

    def fill_line(self, line: RoofLine) -> None:
        """Jacks along a hip or a valley, from its foot: first on the slope where they come wider apart."""
        ends = {slope: (self._place(slope, line.start), self._place(slope, line.end)) for slope in self._own(line)}
        for slope in sorted(ends, key=lambda one: -abs(ends[one][1] - ends[one][0])):
            self._fill(slope, *ends[slope])

    def fill_slope(self, slope: int) -> None:
        """What of a slope is left, from its first end."""
        for first, last in self.scans[slope].spans():
            self._fill(slope, first, last)

    def _fill(self, slope: int, first: float, last: float) -> None:
        """Marks between two places, in that direction, so that no bay between them is too wide."""
        way = 1.0 if last > first else -1.0
        at = first
        while (last - at) * way > SAME_MARK:
            room = self._room(slope, at, last)
            step = room if bays(room, self.spacing, WITHIN) == 1 else self._step(slope, at, way, room)
            if step < room:
                self.stand((slope, at + way * step))
            at += way * step

    def _room(self, slope: int, at: float, last: float) -> float:
        """From a place to the next mark towards the last, or to the last [mm]."""
        own = self.on[slope]
        if last > at:
            nth = bisect(own, at + SAME_MARK)
            return min([last, *own[nth : nth + 1]]) - at
        nth = bisect_left(own, at - SAME_MARK)
        return at - max([last, *own[max(nth - 1, 0) : nth]])

    def _step(self, slope: int, at: float, way: float, room: float) -> float:
        """How far on the next stands: at the spacing, or nearer where it or one opposite would touch another."""
        step = self.spacing
        if self.spacing < 2 * self.thickness:
            return step
        if room - step < self.thickness:
            step = room / 2
        off = self.thickness / 2 or SAME_MARK
        down = [step - off * nth for nth in range(int((step - self.thickness) / off))]
        up = [step + off * nth for nth in range(int((min(room - self.thickness, self.spacing) - step) / off) + 1)]
        return next((one for one in (*down, *up) if not self._is_alone((slope, at + way * one))), step)

    def _is_alone(self, mark: Mark) -> bool:
        """Whether one opposite can't stand: it would touch a rafter, or the slope is set out without it."""
        own = self._followed([(mark, SAME_MARK)], [])
        over = [one for each in own for one, _ in self._opposite(*each, self.hard)]
        return any(
            (one[0] in self.fixed or self._is_near(*one, self.near, own)) and not self._is_near(*one, SAME_MARK, own)
            for one in over
        )

    # --- marks opposite one another ---

    def stand(self, mark: Mark) -> None:
        """A rafter at a mark, and at all those opposite; over a ridge where it is alone there and near no other."""
        taken = self._followed([(mark, self.near)], [])
        for one in list(taken):
            for over, _ in self._opposite(*one, SOFT):
                alone = self._followed([(over, self.spacing / 2)], taken)
                if len(alone) == 1:
                    taken += alone
        self._take(taken)

    def _take(self, marks: Sequence[Mark]) -> None:
        for slope, at in marks:
            insort(self.on[slope], at)
        self.count += len(marks)
        if self.count > MOST:
            raise Refusal(f"spacing: more than {MOST} rafters; give a wider spacing")

    def _followed(self, marks: Sequence[tuple[Mark, float]], taken: Sequence[Mark]) -> list[Mark]:
        """Those of the marks that are no nearer to another than is said, and all opposite over hips and valleys."""
        found: list[Mark] = []
        waiting = list(marks)
        while waiting and len(found) + len(taken) < MOST_FOLLOWED:
            (slope, at), near = waiting.pop(0)
            if slope in self.fixed:
                continue
            at = self.scans[slope].drawn_in(at)
            if not self._is_near(slope, at, near, [*taken, *found]) and self.scans[slope].at(at):
                found.append((slope, at))
                waiting += self._opposite(slope, at, self.hard)
        return found

    def _opposite(self, slope: int, at: float, kinds: Sequence[str]) -> Iterator[tuple[Mark, float]]:
        """The marks that meet both ends of the rafters at one, over lines of those kinds, and how near is too near."""
        for part in self.scans[slope].at(at):
            for end in (part.low, part.high):
                x, y, _ = self.found.slopes[slope].raised(at, end.at)
                for line in (self.found.lines[place] for place in end.lines):
                    if line.kind in kinds:
                        for one in (one for one in line.between if one != slope and one in self.scans):
                            mark = one, self.found.slopes[one].flat(x, y)[0]
                            yield mark, self._too_near(line, slope, mark)

    def _too_near(self, line: RoofLine, slope: int, mark: Mark) -> float:
        """How near to another a mark opposite can't be [mm]: it would touch it.

        On a slope so much steeper that they would come nearer than half the spacing, each that the spacing needs.
        """
        own, other = (abs(self._place(one, line.end) - self._place(one, line.start)) for one in (slope, mark[0]))
        if other >= own / 2:
            return self.near
        step = self.spacing * other / own
        room = abs(mark[1] - self._place(mark[0], line.start))
        return math.inf if room < self.spacing - step else self.spacing - step

    def _is_near(self, slope: int, at: float, near: float, more: Sequence[Mark]) -> bool:
        own = self.on[slope]
        nth = bisect_left(own, at - near)
        if nth < len(own) and own[nth] <= at + near:
            return True
        return any(place == slope and abs(mark - at) <= near for place, mark in more)

    def _place(self, slope: int, point: int) -> float:
        """How far along a slope's wall a point of the roof is [mm]."""
        return self.found.slopes[slope].flat(*self.found.points[point].at[:2])[0]

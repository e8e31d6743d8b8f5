"""Taped lengths over a plan with any number of corners: where its points are by them, and which to take."""

import itertools
import math
from collections.abc import Collection, Iterator, Mapping, Sequence

from sitelog.geometry.least_squares import Fit, Measured, Point, fit
from sitelog.geometry.vectors import atan2_deg, cos_deg, sin_deg
from sitelog.refusal import Refusal

FREE = 1e6  # how loosely points are held before anything is taped, against a tape's own doubt
LOOSE = 1e-3 * FREE  # a doubt over which nothing yet holds a length
MOST_SWAPS = 300_000  # tries by the cube of the corners: what a person waits for
LEAST_CHECK = 1e-3  # of a length's variance: under it the spare length says next to nothing about that one
ALONG = 1e-6  # of a tie's length: a corner this near to it is on it
Pair = tuple[str, str]
Matrix = list[list[float]]


def fitted_points(points: Mapping[str, Point], lengths: Sequence[Measured]) -> Fit:
    """Every point of the plan by its taped lengths, from its drawn places; the first stays, the second keeps its way.

    Lengths are mm. Refusal for a length to a point that isn't there, a point that nothing is taped to, or lengths that
    leave a point loose or make no shape.
    """
    _check_taped(points, lengths)
    (_, (x, y)), (_, (x_next, y_next)) = list(points.items())[:2]
    turn = atan2_deg(y_next - y, x_next - x)
    laid = {name: _turned((px - x, py - y), -turn) for name, (px, py) in points.items()}
    found = fit(lengths, laid)
    back = {name: _turned(point, turn) for name, point in found.points.items()}
    return Fit(
        {name: (px + x, py + y) for name, (px, py) in back.items()},
        found.residuals, found.standard, found.spare, found.misfit,
    )  # fmt: skip


def _check_taped(points: Mapping[str, Point], lengths: Sequence[Measured]) -> None:
    taped = {end: length.tie for length in lengths for end in (length.tie.start, length.tie.end)}
    for end, tie in taped.items():
        if end not in points:
            raise Refusal(f"ties: {tie.start}-{tie.end}: {end} isn't a point. The points are {', '.join(points)}")
    for name in points:
        if name not in taped:
            raise Refusal(f"ties: nothing is taped to {name}. Tape it from at least two other points")


def _turned(point: Point, by: float) -> Point:
    return point[0] * cos_deg(by) - point[1] * sin_deg(by), point[0] * sin_deg(by) + point[1] * cos_deg(by)


def ties_to_take(
    points: Mapping[str, Point], sides: Sequence[Pair], most_swaps: int = MOST_SWAPS
) -> list[tuple[Pair, float]]:
    """The fewest ties that, with every side, fix the plan, and one to spare that proves each; at times two.

    Each tie comes with its length as drawn [mm]. Of all pairs of points the one that the lengths so far know least is
    taken each time, first to corners that have no tie and over the building; the last is that which best proves the
    length that is proved the worst. Pairs of points are from `points` [mm]; `sides` go round the plan. Refusal where
    no ties fix it. With fewer swaps tried there may be one more tie to take.
    """
    pairs = _open_pairs(points, sides)
    inside = {pair for pair in pairs if _is_over(pair, points, sides)}
    web = _Web(points, sides)
    taken = _fixing(web, pairs, inside, 2 * len(points) - 3 - len(sides))
    spare, proof = _spare(web, [*sides, *taken], pairs, inside)
    if spare and proof <= LEAST_CHECK:
        better = _swapped(points, sides, taken, pairs, most_swaps)
        if better is None:  # one to spare can't prove each: one more can
            web.take(spare[0])
            more, _ = _spare(web, [*sides, *taken, *spare], pairs, inside)
            better = taken, [*spare, *more]
        taken, spare = better
    return [(pair, math.dist(points[pair[0]], points[pair[1]])) for pair in (*taken, *spare)]


def _open_pairs(points: Mapping[str, Point], sides: Sequence[Pair]) -> list[Pair]:
    """Pairs of points that are no side, with no corner on the line between them."""
    known = {frozenset(side) for side in sides}
    pairs = [pair for pair in itertools.combinations(points, 2) if frozenset(pair) not in known]
    return [pair for pair in pairs if not _runs_over_another(pair, points)]


def _spare(
    web: "_Web", every: Sequence[Pair], pairs: Sequence[Pair], inside: Collection[Pair]
) -> tuple[list[Pair], float]:
    """The tie that best proves the length that is proved the worst, and how well; none where all are taken."""
    proof = {pair: web.least_proof(every, pair) for pair in pairs if pair not in every}
    if not proof:
        return [], 0.0
    best = max(proof, key=lambda pair: (proof[pair] > LEAST_CHECK and pair in inside, proof[pair]))
    return [best], proof[best]


def _swapped(
    points: Mapping[str, Point], sides: Sequence[Pair], taken: Sequence[Pair], pairs: Sequence[Pair], most_swaps: int
) -> tuple[list[Pair], list[Pair]] | None:
    """The ties with one changed for another, and a spare that then proves each length; None if none is soon found."""
    swaps = ((old, new) for old in reversed(taken) for new in pairs if new not in taken)
    for old, new in itertools.islice(swaps, most_swaps // len(points) ** 3):
        tried = [pair for pair in taken if pair != old] + [new]
        web = _Web(points, (*sides, *tried))
        spare, proof = _spare(web, [*sides, *tried], pairs, pairs)
        if proof > LEAST_CHECK and max(web.doubt(pair) for pair in pairs) < LOOSE:
            return tried, spare
    return None


def _fixing(web: "_Web", pairs: Sequence[Pair], inside: Collection[Pair], needed: int) -> list[Pair]:
    """The ties that with the sides fix every point: of the loosest, those to corners that have none, and inside."""
    taken: list[Pair] = []
    tied: set[str] = set()

    def worth(pair: Pair) -> tuple[bool, int, bool, float]:
        doubt = web.doubt(pair)
        return doubt > LOOSE, len(set(pair) - tied), pair in inside, doubt

    for _ in range(needed):
        open_to_take = [pair for pair in pairs if pair not in taken]
        best = max(open_to_take, key=worth, default=None)
        if best is None or web.doubt(best) < LOOSE:
            raise Refusal("ties: no ties between these points fix them all: too many are in line with others")
        web.take(best)
        taken.append(best)
        tied.update(best)
    return taken


class _Web:
    """How well lengths so far hold the points: the variances of their places, for a tape's doubt of 1."""

    def __init__(self, points: Mapping[str, Point], taped: Sequence[Pair]) -> None:
        self.points = points
        self.place = {name: 2 * nth for nth, name in enumerate(points)}
        size = 2 * len(points)
        self.variance: Matrix = [[FREE * (row == column) for column in range(size)] for row in range(size)]
        for pair in taped:
            self.take(pair)

    def _slope(self, pair: Pair) -> list[tuple[int, float]]:
        """How the length grows as each of the four coordinates does."""
        (x, y), (x_end, y_end) = self.points[pair[0]], self.points[pair[1]]
        long = math.dist((x, y), (x_end, y_end))
        along, up = (x_end - x) / long, (y_end - y) / long
        first, last = self.place[pair[0]], self.place[pair[1]]
        return [(first, -along), (first + 1, -up), (last, along), (last + 1, up)]

    def shared(self, pair: Pair, other: Pair) -> float:
        """How what is known of one length hangs on another."""
        slope, slope_other = self._slope(pair), self._slope(other)
        return sum(a * self.variance[i][j] * b for i, a in slope for j, b in slope_other)

    def doubt(self, pair: Pair) -> float:
        """The variance of a length by those taken so far."""
        return self.shared(pair, pair)

    def take(self, pair: Pair) -> None:
        """One more length is taped."""
        slope = self._slope(pair)
        column = [sum(row[i] * a for i, a in slope) for row in self.variance]
        weight = 1 + sum(column[i] * a for i, a in slope)
        self.variance = [
            [held - high * low / weight for held, low in zip(row, column, strict=True)]
            for row, high in zip(self.variance, column, strict=True)
        ]

    def least_proof(self, taken: Sequence[Pair], spare: Pair) -> float:
        """How much of the worst proved length's variance the others check, once the spare is taped too."""
        weight = 1 + self.doubt(spare)
        return min(1 - self.doubt(pair) + self.shared(pair, spare) ** 2 / weight for pair in taken)


def _runs_over_another(pair: Pair, points: Mapping[str, Point]) -> bool:
    """Whether a third corner lies on the line between two: the tape would bend round it."""
    start, end = points[pair[0]], points[pair[1]]
    long = math.dist(start, end)
    return long == 0 or any(
        math.dist(start, at) + math.dist(at, end) - long < ALONG * long
        for name, at in points.items()
        if name not in pair
    )


def _is_over(pair: Pair, points: Mapping[str, Point], sides: Sequence[Pair]) -> bool:
    """Whether the line between two points crosses no side and has its middle inside."""
    start, end = points[pair[0]], points[pair[1]]
    for side in sides:
        if not set(side) & set(pair) and _cross(start, end, points[side[0]], points[side[1]]):
            return False
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    return sum(_crossings((x, y), points, sides)) % 2 == 1


def _crossings(at: Point, points: Mapping[str, Point], sides: Sequence[Pair]) -> Iterator[bool]:
    for side in sides:
        (x, y), (x_end, y_end) = points[side[0]], points[side[1]]
        yield (y > at[1]) != (y_end > at[1]) and at[0] < x + (at[1] - y) / (y_end - y) * (x_end - x)


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

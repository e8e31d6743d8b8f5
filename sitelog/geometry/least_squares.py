"""Where points lie that best fit more taped lengths than they need, and whether those lengths agree."""

import math
from collections.abc import Mapping, Sequence

from msgspec import Struct

from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal

Point = tuple[float, float]
Points = Mapping[str, Point]
Free = Sequence[tuple[str, int]]  # a point's name and the axis it may move along
Matrix = list[list[float]]

_MOST_TURNS = 200
_SETTLED = 1e-8  # mm
_MOST_DAMPING = 1e9
_LOOSE = 1e-9  # of a pivot's own size: below it nothing holds the point in that direction
_UNCHECKED = 1e-4  # of a length's variance: below it no other length checks it
_DECIDED = 9.0  # difference of two sums of squares: 90 to 1 in likelihood


class Measured(Struct, frozen=True):
    """A taped length and its standard uncertainty [mm]."""

    tie: Tie
    sigma: float


class Fit(Struct, frozen=True):
    """Points [mm] fitted to lengths, and how the lengths stand to them, in the order they were given.

    `residuals` are fitted less taped [mm]. `standard` are residuals over their own standard deviation, None
    where no other length checks that one. `spare` counts the lengths beyond those the points need, and
    `misfit` is the sum of the squares of residual over sigma.
    """

    points: Points
    residuals: tuple[float, ...]
    standard: tuple[float | None, ...]
    spare: int
    misfit: float

    @property
    def worst(self) -> float:
        """The largest standard residual; 0 where no length checks another."""
        return max((abs(residual) for residual in self.standard if residual is not None), default=0.0)

    @property
    def agrees(self) -> bool:
        """Whether the lengths can all be true, but for one chance in twenty."""
        return self.worst <= critical(self.spare)


class _LooseError(Exception):
    """Nothing holds the unknown at this place of the list."""

    def __init__(self, place: int) -> None:
        super().__init__(place)
        self.place = place


def critical(spare: int) -> float:
    """The standard residual that true lengths pass once in twenty jobs, with that many spare lengths.

    The w-test (W. Baarda, A testing procedure for use in geodetic networks, 1968), its one chance in twenty
    shared among the spare lengths.
    """
    from statistics import NormalDist  # loads much

    return NormalDist().inv_cdf(1 - 0.025 / max(spare, 1))


def fit(lengths: Sequence[Measured], start: Points) -> Fit:
    """Fit points to lengths from a rough start; the first point stays put, the second moves along x only.

    Least squares by Gauss-Newton, damped where a full step would not help. Refusal where a point is held too
    loosely to have one place, or where the lengths are so far from any shape that no fit settles.
    """
    free = [(name, axis) for name in start for axis in (0, 1)]
    free = free[2:3] + free[4:]
    points, misfit, damping = dict(start), _misfit(lengths, start), 0.0
    for _ in range(_MOST_TURNS):
        step = _step(lengths, points, free, damping)
        if step is not None and max(map(abs, step)) < _SETTLED:
            return _fitted(lengths, points, free)
        moved = _moved(points, free, step) if step is not None else points
        found = _misfit(lengths, moved)
        if step is not None and found <= misfit * (1 + 1e-12):
            points, misfit, damping = moved, found, damping / 10 if damping > 1e-6 else 0.0
        elif damping > _MOST_DAMPING:
            break
        else:
            damping = max(damping * 10, 1e-3)
    raise Refusal("these lengths can't make any shape; measure them all again")


def suspects(lengths: Sequence[Measured], whole: Fit) -> tuple[int, ...]:
    """The places of the lengths that may be the wrong one: with it left out the rest agree.

    A length also counts if leaving it out is within 90 to 1 as likely as the best is, so that a place that
    stands alone is a length that can be named. Empty if all agree, or if no single length explains it.
    """
    if whole.agrees:
        return ()
    without = {
        place: fit([*lengths[:place], *lengths[place + 1 :]], whole.points)
        for place, standard in enumerate(whole.standard)
        if standard is not None
    }
    agreeing = [left.misfit for left in without.values() if left.agrees]
    if not agreeing:
        return ()
    return tuple(place for place, left in without.items() if left.misfit <= min(agreeing) + _DECIDED)


def _misfit(lengths: Sequence[Measured], points: Points) -> float:
    return math.fsum((_residual(length, points) / length.sigma) ** 2 for length in lengths)


def _residual(length: Measured, points: Points) -> float:
    return math.dist(points[length.tie.start], points[length.tie.end]) - length.tie.length


def _moved(points: Points, free: Free, step: Sequence[float]) -> dict[str, Point]:
    moved = {name: list(point) for name, point in points.items()}
    for (name, axis), change in zip(free, step, strict=True):
        moved[name][axis] += change
    return {name: (x, y) for name, (x, y) in moved.items()}


def _slopes(length: Measured, points: Points, free: Free) -> list[float]:
    """How the length grows as each free coordinate does."""
    start, end = points[length.tie.start], points[length.tie.end]
    long = math.dist(start, end) or 1.0
    towards = {length.tie.start: -1.0, length.tie.end: 1.0}
    return [towards.get(name, 0.0) * (end[axis] - start[axis]) / long for name, axis in free]


def _normal(lengths: Sequence[Measured], points: Points, free: Free) -> Matrix:
    rows = [(_slopes(length, points, free), length.sigma**-2) for length in lengths]
    size = range(len(free))
    return [[math.fsum(s[i] * s[j] * weight for s, weight in rows) for j in size] for i in size]


def _step(lengths: Sequence[Measured], points: Points, free: Free, damping: float) -> list[float] | None:
    """The move of each free coordinate towards the best fit, or None where nothing says which way."""
    normal = _normal(lengths, points, free)
    pull = [0.0] * len(free)
    for length in lengths:
        short = -_residual(length, points) * length.sigma**-2
        pull = [p + slope * short for p, slope in zip(pull, _slopes(length, points, free), strict=True)]
    most = max(normal[i][i] for i in range(len(free)))
    for i in range(len(free)):
        normal[i][i] += damping * most
    try:
        return _solved(_cholesky(normal), pull)
    except _LooseError:
        return None


def _cholesky(matrix: Matrix) -> Matrix:
    """The lower root of a symmetric matrix. _LooseError at the first pivot that is next to nothing."""
    low: Matrix = []
    for i, row in enumerate(matrix):
        low.append([])
        for j in range(i):
            low[i].append((row[j] - math.fsum(a * b for a, b in zip(low[i], low[j], strict=False))) / low[j][j])
        left = row[i] - math.fsum(a * a for a in low[i])
        if left <= _LOOSE * row[i]:
            raise _LooseError(i)
        low[i].append(math.sqrt(left))
    return low


def _solved(low: Matrix, right: Sequence[float]) -> list[float]:
    down: list[float] = []
    for row, value in zip(low, right, strict=True):
        down.append((value - math.fsum(a * b for a, b in zip(row, down, strict=False))) / row[-1])
    up = [0.0] * len(low)
    for i in reversed(range(len(low))):
        above = math.fsum(low[j][i] * up[j] for j in range(i + 1, len(low)))
        up[i] = (down[i] - above) / low[i][i]
    return up


def _fitted(lengths: Sequence[Measured], points: Points, free: Free) -> Fit:
    try:
        low = _cholesky(_normal(lengths, points, free))
    except _LooseError as loose:
        name = free[loose.place][0]
        raise Refusal(
            f"point {name} is in line with the points it was measured from; measure it from one to the side too"
        ) from None
    residuals = tuple(_residual(length, points) for length in lengths)
    return Fit(
        points=points,
        residuals=residuals,
        standard=tuple(
            _standard(residual, length, _slopes(length, points, free), low)
            for residual, length in zip(residuals, lengths, strict=True)
        ),
        spare=len(lengths) - len(free),
        misfit=_misfit(lengths, points),
    )


def _standard(residual: float, length: Measured, slopes: Sequence[float], low: Matrix) -> float | None:
    """Residual over its standard deviation: what the fit leaves of the length's own variance."""
    taken_up = math.fsum(a * b for a, b in zip(slopes, _solved(low, slopes), strict=True)) / length.sigma**2
    checked = 1 - taken_up
    if checked > _UNCHECKED:
        return residual / (length.sigma * math.sqrt(checked))
    return None

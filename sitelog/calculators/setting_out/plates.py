"""Where the corners of four taped plates are: A at 0,0, B along x, ABCD anticlockwise seen from above."""

import itertools
import math
from collections.abc import Mapping, Sequence

from sitelog.calculators.setting_out.verdicts import READING, uncertainty
from sitelog.geometry.least_squares import Fit, Measured, Point, Points, fit
from sitelog.quantities.quantity import Tie
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal

CORNERS = ("A", "B", "C", "D")
SIX = ("AB", "BC", "CD", "DA", "AC", "BD")
_TRIANGLES = ("ABC", "BCD", "CDA", "DAB")


def six(ab: float, bc: float, cd: float, da: float, ac: float, bd: float) -> tuple[Tie, ...]:
    """The four sides and two diagonals [mm] as ties, in that order."""
    lengths = (ab, bc, cd, da, ac, bd)
    return tuple(Tie(pair[0], pair[1], length) for pair, length in zip(SIX, lengths, strict=True))


def weighed(ties: Sequence[Tie], tape: str, reading: float = READING) -> list[Measured]:
    """Lengths [mm] that all weigh alike, with the standard uncertainty that tape and reading [mm] give.

    Alike, because what goes wrong over an open building (sag, pull, a corner hard to hook) is no less on a
    short side than on a long one.
    """
    sigma = math.sqrt(_mean([uncertainty(tie.length, tape, reading) ** 2 for tie in ties])) / 2
    return [Measured(tie, sigma) for tie in ties]


def adjusted(ties: Sequence[Tie], tape: str, reading: float = READING) -> Fit:
    """Corners and every other point of the ties, by least squares; the first six ties are those of `six`.

    Refusal where three lengths do not close a triangle, the plates would cross, or a point is not held.
    """
    _check_closes(ties[:6])
    found = fit(weighed(ties, tape, reading), _placed(ties[6:], _rough_corners(ties)))
    if abs(sum(angle(name, found.points) for name in CORNERS) - 360) > 1:
        raise Refusal("the plates would cross: a length is wrong, or two are swapped")
    return found


def angle(corner: str, points: Points) -> float:
    """The interior angle [deg] at a corner A to D; over 180 where the plan turns in."""
    at = CORNERS.index(corner)
    here, after, before = (points[CORNERS[(at + turn) % 4]] for turn in (0, 1, -1))
    to_before = math.atan2(before[1] - here[1], before[0] - here[0])
    to_after = math.atan2(after[1] - here[1], after[0] - here[0])
    return math.degrees(to_before - to_after) % 360


def area(points: Points) -> float:
    """The area [m2] inside A, B, C, D [mm]: half the cross product of the diagonals."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = (points[name] for name in CORNERS)
    return ((cx - ax) * (dy - by) - (cy - ay) * (dx - bx)) / 2e6


def _check_closes(ties: Sequence[Tie]) -> None:
    """Refusal that names the length to check: the one in every triangle that can't close, or all three of one."""
    length = dict(zip(SIX, (tie.length for tie in ties), strict=True))
    broken = _open_triangles(length)
    if not broken:
        return
    first, second, long = broken[0]
    shared = set(SIX).intersection(*broken)
    told = {side: f"{side} {as_worked(length[side])}" for side in (first, second, long)}
    if len(shared) == 1 and long not in shared:
        (side,) = shared
        raise Refusal(f"{told[side]} can't be right with {told[long]}: check {side}")
    check = long if shared == {long} else "all three"
    raise Refusal(f"{told[long]} can't be longer than {told[first]} and {told[second]} together: check {check}")


def _open_triangles(length: Mapping[str, float]) -> list[tuple[str, str, str]]:
    """The sides of each triangle that can't close, its longest last."""
    found = []
    for triangle in _TRIANGLES:
        sides = [side for side in SIX if set(side) <= set(triangle)]
        first, second, long = sorted(sides, key=length.__getitem__)
        if length[long] >= length[first] + length[second]:
            found.append((first, second, long))
    return found


def _rough_corners(ties: Sequence[Tie]) -> dict[str, Point]:
    ab, bc, _, da, ac, bd = (tie.length for tie in ties[:6])
    a, b = (0.0, 0.0), (ab, 0.0)
    return {"A": a, "B": b, "C": _meet(a, ac, b, bc)[0], "D": _meet(a, da, b, bd)[0]}


def _meet(first: Point, first_length: float, second: Point, second_length: float) -> tuple[Point, Point]:
    """The two points at those lengths from two points, the one on the left of first to second first.

    Where the arcs just miss each other both are the point of the line that comes nearest.
    """
    apart = math.dist(first, second)
    along = (first_length**2 - second_length**2 + apart**2) / (2 * apart)
    across = math.sqrt(max(first_length**2 - along**2, 0.0))
    ux, uy = (second[0] - first[0]) / apart, (second[1] - first[1]) / apart
    x, y = first[0] + along * ux, first[1] + along * uy
    return (x - across * uy, y + across * ux), (x + across * uy, y - across * ux)


def _mean(figures: Sequence[float]) -> float:
    return math.fsum(figures) / len(figures)


def _placed(ties: Sequence[Tie], known: Points) -> dict[str, Point]:
    """Known points with a rough place for every other point of the ties.

    A point with two ties only could lie on either side of their line: it is put on the side of the middle.
    """
    points = dict(known)
    middle = (_mean([x for x, _ in known.values()]), _mean([y for _, y in known.values()]))
    waiting = list(dict.fromkeys(name for tie in ties for name in (tie.start, tie.end) if name not in known))
    while waiting:
        held = {name: _held(name, ties, points) for name in waiting}
        name = max(waiting, key=lambda point: len(held[point]))
        points[name] = _rough(name, held[name], middle)
        waiting.remove(name)
    return points


def _held(name: str, ties: Sequence[Tie], points: Points) -> list[tuple[Point, float]]:
    ends = [(tie.end if tie.start == name else tie.start, tie) for tie in ties if name in (tie.start, tie.end)]
    return [(points[other], tie.length) for other, tie in ends if other in points]


def _rough(name: str, held: Sequence[tuple[Point, float]], middle: Point) -> Point:
    pairs = [(a, b) for a, b in itertools.combinations(held, 2) if math.dist(a[0], b[0]) > 0]
    if not pairs:
        raise Refusal(f"point {name} must be measured from at least two other points")

    def miss(point: Point) -> tuple[int, float]:
        # Counted in steps of 10 mm, so that two places that fit as well as each other are told apart by side.
        out = math.hypot(*(math.dist(point, other) - length for other, length in held))
        return round(out / 10), math.dist(point, middle)

    return min((point for a, b in pairs for point in _meet(*a, *b)), key=miss)

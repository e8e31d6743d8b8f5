"""Where the ridge and hips over four plates run: with every slope a true plane, or with a level ridge."""

import math
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.vectors import (
    Plane,
    Vector,
    angle_between,
    atan2_deg,
    cross,
    dot,
    level,
    meeting_point,
    minus,
    size,
    slope_over,
    unit,
)
from sitelog.refusal import Refusal

CORNERS = ("a", "b", "c", "d")
SIDES = ("ab", "bc", "cd", "da")
Four = tuple[float, float, float, float]


class Hip(Struct, frozen=True):
    """One hip, from its corner to its end of the ridge: a vector in mm, and angles on plan in degrees."""

    corner: str
    angle: float
    line: Vector
    plan_angle_1: float
    plan_angle_2: float

    @property
    def length(self) -> float:
        """Along the hip [mm]."""
        return size(self.line)

    @property
    def run(self) -> float:
        """Level, from the corner to the ridge's end [mm]."""
        return size(level(self.line))

    @property
    def pitch(self) -> float:
        """Of the hip [deg]."""
        return atan2_deg(self.line[2], self.run)


class RoofLines(Struct, frozen=True):
    """Four corners, anticlockwise from above, and the ridge from P, the end nearer to A, to Q; mm.

    `ends` are the places in SIDES of the two hipped ends, the one that rises to P first.
    """

    corners: tuple[Vector, ...]
    p: Vector
    q: Vector
    ends: tuple[int, int]

    @property
    def fall(self) -> float:
        """Level difference of the ridge's ends [mm]."""
        return abs(self.p[2] - self.q[2])

    @property
    def ridge_length(self) -> float:
        """From P to Q along the ridge [mm]."""
        return size(minus(self.q, self.p))

    @property
    def long_sides(self) -> tuple[str, str]:
        """The two sides whose slopes meet at the ridge."""
        first, second = (place for place in range(4) if place not in self.ends)
        return SIDES[first], SIDES[second]

    def level_ridge(self) -> "RoofLines":
        """The same lines on plan with the ridge set level, at the mean of its ends' heights."""
        height = (self.p[2] + self.q[2]) / 2
        return replace(self, p=(*self.p[:2], height), q=(*self.q[:2], height))

    def run_to(self, side: int, point: Vector) -> float:
        """Level, square to the side's plate, out to a point [mm]."""
        along = unit(minus(self.corners[(side + 1) % 4], self.corners[side]))
        return cross(along, level(minus(point, self.corners[side])))[2]

    def along(self, side: int, point: Vector) -> float:
        """Along the side's plate, from its first corner to square below a point [mm]."""
        here, after = self.corners[side], self.corners[(side + 1) % 4]
        return dot(unit(minus(after, here)), level(minus(point, here)))

    def ends_on(self, side: int) -> dict[str, Vector]:
        """The ends of the ridge that the side's slope reaches, by name p and q."""
        both = {"p": self.p, "q": self.q}
        if side not in self.ends:
            return both
        name = "pq"[self.ends.index(side)]
        return {name: both[name]}

    def hip(self, corner: int) -> Hip:
        """The hip over a corner; side 1 is the side before it, on the left from outside."""
        here, before, after = (self.corners[(corner + turn) % 4] for turn in (0, -1, 1))
        to_p = self.ends[0] in (corner, (corner - 1) % 4)
        line = minus(self.p if to_p else self.q, here)
        to_before, to_after = minus(before, here), minus(after, here)
        plan = level(line)
        return Hip(
            CORNERS[corner],
            angle_between(to_before, to_after),
            line,
            angle_between(plan, to_before),
            angle_between(plan, to_after),
        )


def true_slopes(corners: Sequence[tuple[float, float]], pitches: Four, calculator: str = "roof") -> RoofLines:
    """Ridge and hips [mm] where each side's slope is a true plane at its pitch [deg], in the order of SIDES.

    The roof is the lowest of the four planes, so the ends of the ridge are where three planes meet under the
    fourth. Refusal, in the name of the calculator, for an outline that is not convex.
    """
    points = tuple((x, y, 0.0) for x, y in corners)
    _check_convex(calculator, points)
    slopes = [slope_over(points[side], points[(side + 1) % 4], pitch) for side, pitch in enumerate(pitches)]
    # The ridge runs one way or the other: the way that has both its ends under the fourth slope.
    along_ab, along_bc = (_ends(slopes, *ends) for ends in ((3, 1), (0, 2)))
    room, p, q = max(along_ab, along_bc)
    if room == -math.inf:
        raise Refusal(f"{calculator}: these slopes never meet. Check the lengths and pitches")
    return RoofLines(points, p, q, (3, 1) if room == along_ab[0] else (0, 2))


def _ends(slopes: Sequence[Plane], first: int, last: int) -> tuple[float, Vector, Vector]:
    """The ridge with hipped ends over those sides, after how far [mm] the fourth slope clears it at worst."""
    found = []
    for end, other in ((first, last), (last, first)):
        point = meeting_point(slopes[end - 1], slopes[end], slopes[(end + 1) % 4])
        if point is None:
            return -math.inf, (0.0, 0.0, 0.0), (0.0, 0.0, 0.0)
        found.append((slopes[other].height_over(*point[:2]) - point[2], point))
    return min(room for room, _ in found), found[0][1], found[1][1]


def _check_convex(calculator: str, points: Sequence[Vector]) -> None:
    for place, name in enumerate(CORNERS):
        here, before, after = (points[(place + turn) % 4] for turn in (0, -1, 1))
        if cross(minus(here, before), minus(after, here))[2] <= 0:
            raise Refusal(
                f"{calculator}: the plates turn in, or run straight on, at corner {name.upper()}. Split the "
                "outline there into roofs with outside corners only"
            )

"""Four sides hinged at their corners, pushed over until the two diagonals are alike: what a carpenter calls racking."""

import math
from collections.abc import Mapping

CORNERS = "abcd"
Place = tuple[float, float]
FURTHEST = math.radians(20)  # either way: a frame that is out by more is no rectangle out of square


def racked(places: Mapping[str, Place]) -> dict[str, Place] | None:
    """The corners a to d [mm] with a and b where they are, every side as long as it was, and both diagonals alike.

    None where there is no such place within 20 degrees. The longer diagonal shrinks all the way as it is pushed over,
    and the other grows: so the angle is halved in on.
    """
    a, b = places["a"], places["b"]
    begin = math.atan2(places["d"][1] - a[1], places["d"][0] - a[0])
    ends = begin - FURTHEST, begin + FURTHEST
    sizes = [_longer(_pushed(places, end)) for end in ends]
    if None in sizes or sizes[0] * sizes[1] > 0:  # type: ignore[operator]
        return None
    low, high = ends
    for _ in range(60):
        middle = (low + high) / 2
        size = _longer(_pushed(places, middle))
        if size is None:
            return None
        if size > 0:
            low = middle
        else:
            high = middle
    found = _pushed(places, (low + high) / 2)
    return found and {**found, "a": a, "b": b}


def _longer(places: Mapping[str, Place] | None) -> float | None:
    """How much longer ac is than bd."""
    if places is None:
        return None
    return math.dist(places["a"], places["c"]) - math.dist(places["b"], places["d"])


def _pushed(places: Mapping[str, Place], bearing: float) -> dict[str, Place] | None:
    """The same frame with its side ad at that bearing [radians]; None where the other two sides don't reach."""
    a, b = places["a"], places["b"]
    ad, bc, cd = (math.dist(places[one], places[other]) for one, other in ("ad", "bc", "cd"))
    d = (a[0] + ad * math.cos(bearing), a[1] + ad * math.sin(bearing))
    base = math.dist(b, d)
    if not abs(bc - cd) < base < bc + cd:
        return None
    along = (bc * bc - cd * cd + base * base) / (2 * base)
    off = math.sqrt(bc * bc - along * along)
    to_d = ((d[0] - b[0]) / base, (d[1] - b[1]) / base)
    c = (b[0] + along * to_d[0] + off * to_d[1], b[1] + along * to_d[1] - off * to_d[0])
    return {"a": a, "b": b, "c": c, "d": d}

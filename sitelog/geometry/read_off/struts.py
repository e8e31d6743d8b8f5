"""Struts under purlins: where each stands along its purlin, and from the purlin down to what it stands on."""

import math
from collections.abc import Iterator, Sequence

from msgspec import Struct

from sitelog.geometry.read_off.level_members import Purlin
from sitelog.geometry.surface.surface import Surface
from sitelog.geometry.vectors import Vector, atan2_deg
from sitelog.quantities.rounding import as_worked
from sitelog.refusal import Refusal


class Bearing(Struct, frozen=True):
    """What struts reach from and to [mm].

    Their heads are `under` the measuring line, plumb; their feet at a `height` over the datum, and `inward`, level,
    from the slope's plate line, or plumb under their heads where that is None.
    """

    spacing: float
    under: float = 0.0
    height: float = 0.0
    inward: float | None = None


class Strut(Struct, frozen=True):
    """A strut in the upright plane square to its slope's wall, `at` along that wall; lengths [mm], angles [deg].

    `start` is its foot. `lean` is from plumb, plus with its foot further in. `head_cut` is from square, to the
    underside of a purlin that is square to the rafters; that of the foot, on something level, is the lean.
    """

    purlin: Purlin
    n: int
    at: float
    lean: float
    head_cut: float
    start: Vector
    end: Vector

    @property
    def slope(self) -> int:
        """The place of its slope."""
        return self.purlin.slope

    @property
    def length(self) -> float:
        """From foot to head, on its middle line [mm]."""
        return math.dist(self.start, self.end)


def struts(found: Surface, purlins: Sequence[Purlin], bearing: Bearing) -> list[Strut]:
    """The struts of every purlin, none at its ends: bays are equal, as few as keep within the spacing.

    Refusal for feet that aren't under the heads.
    """
    return [strut for purlin in purlins for strut in _under(found, purlin, bearing)]


def _under(found: Surface, purlin: Purlin, bearing: Bearing) -> Iterator[Strut]:
    own = found.slopes[purlin.slope]
    up = purlin.height - bearing.under
    if up <= bearing.height:
        raise Refusal(
            f"strut_foot: {as_worked(bearing.height)} isn't under the purlin on {own.name}: the heads of its struts "
            f"are at {as_worked(up)}. Give a lower strut_foot"
        )
    inward = (purlin.start[0] - own.start[0]) * own.inward[0] + (purlin.start[1] - own.start[1]) * own.inward[1]
    off = 0.0 if bearing.inward is None else bearing.inward - inward
    lean = atan2_deg(off, up - bearing.height)
    bays = purlin.bays(bearing.spacing)
    for n in range(1, bays):
        share = n / bays
        x, y = (low + share * (high - low) for low, high in zip(purlin.start[:2], purlin.end[:2], strict=True))
        foot = x + off * own.inward[0], y + off * own.inward[1], bearing.height
        at = purlin.first + share * purlin.length
        yield Strut(purlin, n, at, lean, abs(own.pitch - lean), foot, (x, y, up))

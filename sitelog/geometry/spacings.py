"""Where members at a spacing stand between two ends: from the first, from the last, from the middle, or evened."""

import math
from collections.abc import Callable

WAYS = ("first", "last", "middle", "evened")
EXACT = 1e-9  # of a spacing: rounding of a sum makes no bay more


def bays(room: float, spacing: float, within: float = 0.0) -> int:
    """The fewest bays over a room [mm] that are none over the spacing; at least one.

    An end bay may be over it by `within` [mm], so that plates out by no more than that have the same number.
    """
    return max(math.ceil((room - within) / spacing - EXACT), 1)


def inside(room: float, spacing: float, way: str, within: float = 0.0) -> list[float]:
    """Centres [mm] from the first end, both ends left out, set out in one of WAYS.

    From an end the other bay is what is left; from the middle the two end bays are alike, half a spacing or more.
    """
    return _BY_WAY[way](room, spacing, bays(room, spacing, within))


def _from_first(room: float, spacing: float, count: int) -> list[float]:
    return [spacing * nth for nth in range(1, count)]


def _from_last(room: float, spacing: float, count: int) -> list[float]:
    return [room - spacing * nth for nth in range(count - 1, 0, -1)]


def _from_middle(room: float, spacing: float, count: int) -> list[float]:
    end = (room - (count - 2) * spacing) / 2
    return [end + spacing * nth for nth in range(count - 1)]


def _evened(room: float, spacing: float, count: int) -> list[float]:
    return [room * nth / count for nth in range(1, count)]


_BY_WAY: dict[str, Callable[[float, float, int], list[float]]] = dict(
    zip(WAYS, (_from_first, _from_last, _from_middle, _evened), strict=True)
)

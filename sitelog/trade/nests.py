"""Tapered pieces laid head to foot in pairs, two in one stick of the yard's timber."""

import math
from collections.abc import Sequence

from msgspec import Struct


class Tapered(Struct, frozen=True):
    """A piece by its number: its length on plan, and how thick it is at its thin and its thick end, mm."""

    n: int
    length: float
    thin: float
    thick: float


class Nest(Struct, frozen=True):
    """Two pieces in one stick, and how deep [mm] it must be for them."""

    long: Tapered
    short: Tapered
    depth: float


def depth_for(long: Tapered, short: Tapered, fall: float, kerf: float) -> float:
    """How deep a stick holds both: the shorter's thick end beside the longer's thin one, the saw's cut between."""
    return max(long.thin + short.thick + kerf * math.sqrt(1 + fall**2), long.thick)


def nested(pieces: Sequence[Tapered], stick: float, fall: float, kerf: float) -> list[Nest]:
    """The most pairs that go in sticks of that depth [mm], pieces of like lengths together."""
    fitting = sorted((one for one in pieces if one.thick <= stick), key=lambda one: (-round(one.length, 6), one.n))
    small = [one for one in fitting if depth_for(one, one, fall, kerf) <= stick]
    big = fitting[: len(fitting) - len(small)]
    over = max(len(big) - len(small), 0)  # the longest of the big ones, for which no small one is left
    rest = small[len(big) :]
    pairs = [*zip(big[over:], small, strict=False), *zip(rest[::2], rest[1::2], strict=False)]
    return [Nest(long, short, depth_for(long, short, fall, kerf)) for long, short in pairs]

"""Tapered pieces laid head to foot in pairs, two in one stick of the yard's timber."""

import math
from collections.abc import Collection, Iterable, Sequence

from msgspec import Struct

from sitelog.calculators.timber.weights import ripped_from
from sitelog.quantities.quantity import Section
from sitelog.refusal import Refusal


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


class Length(Struct, frozen=True):
    """What is sawn off a stick of the section: one piece, or two to be ripped from it head to foot."""

    section: Section
    length: float
    paired: bool = False

    @property
    def timber(self) -> float:
        """Its depth by its length [mm2]: all are of one thickness."""
        return self.section.depth * self.length


def depth_for(long: Tapered, short: Tapered, fall: float, kerf: float) -> float:
    """How deep a stick holds both: the shorter's thick end beside the longer's thin one, the saw's cut between."""
    return max(long.thin + short.thick + kerf * math.sqrt(1 + fall**2), long.thick)


def nested(pieces: Sequence[Tapered], stick: float, fall: float, kerf: float) -> list[Nest]:
    """The most pairs that go in sticks of that depth [mm], pieces of like lengths together."""
    fitting = sorted(
        (piece for piece in pieces if piece.thick <= stick), key=lambda piece: (-round(piece.length, 6), piece.n)
    )
    small = [piece for piece in fitting if depth_for(piece, piece, fall, kerf) <= stick]
    big = fitting[: len(fitting) - len(small)]
    over = max(len(big) - len(small), 0)  # the longest of the big ones, for which no small one is left
    rest = small[len(big) :]
    pairs = [*zip(big[over:], small, strict=False), *zip(rest[::2], rest[1::2], strict=False)]
    return [Nest(long, short, depth_for(long, short, fall, kerf)) for long, short in pairs]


def lengths_for(
    pieces: Iterable[Tapered], thickness: float, fall: float, kerf: float, depths: Collection[float] | None = None
) -> list[Length]:
    """The pieces of one fall as they are ordered: two of like lengths from one stick wherever that takes less timber.

    Each is of the least section that a yard keeps; two together only of `depths` [mm], where these are given. Refusal
    where a piece is thicker than any.
    """
    found: list[Length] = []
    waiting: Tapered | None = None
    for piece in sorted(pieces, key=lambda piece: (-piece.length, piece.n)):
        pair = _pair(waiting, piece, thickness, fall, kerf, depths) if waiting else None
        if pair and pair.timber < found[-1].timber + _alone(piece, thickness).timber:
            found[-1], waiting = pair, None
        else:
            found.append(_alone(piece, thickness))
            waiting = piece
    return found


def _alone(piece: Tapered, thickness: float) -> Length:
    return Length(ripped_from(thickness, piece.thick), piece.length)


def _pair(
    long: Tapered, short: Tapered, thickness: float, fall: float, kerf: float, depths: Collection[float] | None
) -> Length | None:
    try:
        section = ripped_from(thickness, depth_for(long, short, fall, kerf))
    except Refusal:
        return None  # no stick is so deep
    return Length(section, long.length, paired=True) if depths is None or section.depth in depths else None

"""Tapered pieces laid head to foot in pairs, two in one stick of the yard's timber."""

import math
from collections.abc import Iterable, Mapping, Sequence

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
    pieces: Iterable[Tapered], thickness: float, fall: float, kerf: float, depths: Mapping[float, float] | None = None
) -> list[Length]:
    """The pieces of one fall as they are ordered: two of like lengths from one stick wherever that takes less timber.

    `depths` [mm] are those that can be had, each with its longest stick [mm]; left out, any that a yard keeps. Each
    piece is of the least of them. Refusal where it is thicker than any that a yard keeps.
    """
    found: list[Length] = []
    waiting: Tapered | None = None
    for piece in sorted(pieces, key=lambda piece: (-piece.length, piece.n)):
        pair = _pair(waiting, piece, thickness, fall, kerf, depths) if waiting else None
        if pair and pair.timber < found[-1].timber + _alone(piece, thickness, depths).timber:
            found[-1], waiting = pair, None
        else:
            found.append(_alone(piece, thickness, depths))
            waiting = piece
    return found


def lengths_from(pieces: Sequence[Tapered], stick: Section, fall: float, kerf: float) -> list[Length]:
    """The pieces of one fall as they are sawn off sticks of one section: the most pairs, and the rest singly."""
    pairs = nested(pieces, stick.depth, fall, kerf)
    paired = {piece.n for pair in pairs for piece in (pair.long, pair.short)}
    return [
        *(Length(stick, pair.long.length, paired=True) for pair in pairs),
        *(Length(stick, piece.length) for piece in pieces if piece.n not in paired),
    ]


def section_for(thickness: float, thick: float, length: float, depths: Mapping[float, float] | None) -> Section | None:
    """The least section that can be had of that thickness for a piece so thick and so long, mm; None if there is none.

    Refusal where it is thicker than any that a yard keeps, and it isn't said what can be had.
    """
    if depths is None:
        return ripped_from(thickness, thick)
    deep = (depth for depth, longest in depths.items() if thick <= depth + 1e-6 and length <= longest + 1e-6)
    least = min(deep, default=None)
    if least is None:
        return None
    return Section(thickness, least)


def _alone(piece: Tapered, thickness: float, depths: Mapping[float, float] | None) -> Length:
    section = section_for(thickness, piece.thick, piece.length, depths)
    return Length(section or ripped_from(thickness, piece.thick), piece.length)


def _pair(
    long: Tapered, short: Tapered, thickness: float, fall: float, kerf: float, depths: Mapping[float, float] | None
) -> Length | None:
    try:
        section = section_for(thickness, depth_for(long, short, fall, kerf), long.length, depths)
    except Refusal:
        return None  # no stick is so deep
    if not section:
        return None
    return Length(section, long.length, paired=True)

"""Openings in a slope: rectangles on it laid flat, wholly inside its outline.

    AB 3000,1000 900x1200

On slope AB, 3000 along the wall from its first point and 1000 up the slope to the lower left corner, 900 wide, 1200 up.
"""

import re
from collections.abc import Sequence

from msgspec import Struct

from sitelog.geometry.surface.plan_text import nearest
from sitelog.geometry.surface.surface import FlatRing, Surface
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import length_mm, offset_mm
from sitelog.refusal import Refusal
from sitelog.text import clean

MOST = 50
_OPENING = re.compile(r"(\S+)\s+([^,]+),\s*(\S+)\s+([^x]+)x(.+)")


class Opening(Struct, frozen=True):
    """An opening in a slope, by its place: its lower left corner on the slope laid flat, its width and height [mm]."""

    slope: int
    left: float
    low: float
    width: float
    height: float

    @property
    def ring(self) -> FlatRing:
        """Its corners on the slope laid flat, from the lower left, clockwise as a hole is."""
        right, high = self.left + self.width, self.low + self.height
        return [(self.left, self.low), (self.left, high), (right, high), (right, self.low)]


def read_openings(text: str, found: Surface) -> list[Opening]:
    """The openings in a text, on the slopes of a surface. Refusal for one that can't be read, or isn't in its slope."""
    parts = [part.strip() for part in " ".join(text.split()).split(";") if part.strip()]
    if len(parts) > MOST:
        raise Refusal(f"openings: {len(parts)} are given; give at most {MOST}")
    return [_opening(nth, part, found) for nth, part in enumerate(parts, 1)]


def _opening(nth: int, part: str, found: Surface) -> Opening:
    read = _OPENING.fullmatch(part)
    if not read:
        raise Refusal(f"openings: '{clean(part, most=40)}' isn't an opening. Type AB 3000,1000 900x1200")
    names = [slope.name for slope in found.slopes]
    upper = {name.upper(): place for place, name in enumerate(names)}
    slope = upper.get(read[1].upper())
    if slope is None:
        raise Refusal(f"openings: opening {nth}: {clean(read[1], most=20)} isn't a slope; {nearest(read[1], names)}")
    try:
        opening = Opening(slope, offset_mm(read[2]), offset_mm(read[3]), length_mm(read[4]), length_mm(read[5]))
    except Doubt as doubt:
        raise Refusal(
            f"openings: opening {nth}: '{clean(part, most=40)}' {doubt}. Type AB 3000,1000 900x1200"
        ) from None
    if opening.width <= 0 or opening.height <= 0 or not _is_inside(opening, found.flat(slope)):
        raise Refusal(f"openings: opening {nth} isn't inside slope {names[slope]}. Check its place and size")
    return opening


def _is_inside(opening: Opening, rings: Sequence[FlatRing]) -> bool:
    """Whether the outline has the opening in it and no corner or edge of its own inside the opening."""
    left, low = opening.left, opening.low
    right, high = left + opening.width, low + opening.height
    middle = (left + right) / 2, (low + high) / 2
    crossed = False
    for ring in rings:
        for (x, y), (x_end, y_end) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if _enters((x, y), (x_end, y_end), (left, low, right, high)):
                return False
            if (y > middle[1]) != (y_end > middle[1]):
                crossed ^= middle[0] < x + (middle[1] - y) / (y_end - y) * (x_end - x)
    return crossed


def _enters(start: tuple[float, float], end: tuple[float, float], box: tuple[float, float, float, float]) -> bool:
    """Whether a straight edge has some of itself inside a box (Liang and Barsky's clipping)."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        way = end[axis] - start[axis]
        near, far = box[axis] - start[axis], box[axis + 2] - start[axis]
        if way == 0:
            if near >= 0 or far <= 0:
                return False
            continue
        first, last = sorted((near / way, far / way))
        low, high = max(low, first), min(high, last)
        if low >= high:
            return False
    return True

"""The openings under dormers whose valleys are laid: the rafters of the main slope stop at them, and run on above."""

from collections.abc import Collection, Iterator

from sitelog.geometry.read_off.openings import Opening
from sitelog.geometry.read_off.scanned import AT_A_CORNER
from sitelog.geometry.surface.surface import Surface


def dormer_rooms(found: Surface, names: Collection[str]) -> list[Opening]:
    """The openings of the dormers of those names, in each slope that they stand on.

    From cheek to cheek, and from the face up to where the dormer's plates come out on the slope: behind that its roof
    lies on whole rafters. Each is a mm narrower on both sides, so that a rafter on a cheek's line is whole beside it.
    """
    return [opening for name in names for opening in _rooms(found, name)]


def _rooms(found: Surface, name: str) -> Iterator[Opening]:
    own = _own_slopes(found, name)
    under = {slope for line in found.lines if line.kind == "step" and own & {*line.between} for slope in line.between}
    for slope in sorted(under - own):
        xs, ys = zip(*_steps(found, slope, own), strict=True)
        left, low = min(xs) + AT_A_CORNER, min(ys)
        yield Opening(slope, left, low, max(xs) - AT_A_CORNER - left, max(ys) - low)


def _own_slopes(found: Surface, name: str) -> set[int]:
    """The slopes that no other block has: not the one that it runs back to."""
    others = {slope for block in found.plan.blocks if block.name != name for slope in block.slopes}
    return {slope for block in found.plan.blocks if block.name == name for slope in block.slopes} - others


def _steps(found: Surface, slope: int, own: set[int]) -> Iterator[tuple[float, float]]:
    """The ends of the steps down from those slopes on to this one, on it laid flat [mm]."""
    for line in found.lines:
        if line.kind == "step" and slope in line.between and own & {*line.between}:
            for end in (line.start, line.end):
                yield found.slopes[slope].flat(*found.points[end].at[:2])

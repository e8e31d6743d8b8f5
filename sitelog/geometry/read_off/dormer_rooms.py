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
    steps: dict[int, list[tuple[float, float]]] = {}
    own = _own_slopes(found, name)
    for line in found.lines:
        if line.kind == "step" and line.between[0] in own:
            under = line.between[-1]
            ends = (found.points[end].at[:2] for end in (line.start, line.end))
            steps.setdefault(under, []).extend(found.slopes[under].flat(*end) for end in ends)
    for slope, points in steps.items():
        xs, ys = zip(*points, strict=True)
        left, low = min(xs) + AT_A_CORNER, min(ys)
        yield Opening(slope, left, low, max(xs) - AT_A_CORNER - left, max(ys) - low)


def _own_slopes(found: Surface, name: str) -> set[int]:
    """The slopes that no other block has: not the one that it runs back to."""
    blocks = {block.name: {*block.slopes} for block in found.plan.blocks}
    own = blocks.pop(name)
    return own.difference(*blocks.values())

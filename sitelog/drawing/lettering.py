"""Where words stand on paper: clear of each other, and of the lines as far as there is room."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from sitelog.drawing.model import Drawing, Point, Stroke, Words, extent, thinned

LETTER = 3.1  # mm, height of type
LETTER_WIDTH = 0.56  # of its height, as a sans face runs on the whole
ROW = 1.25  # of its height
REACH = 4  # rows and pairs of letters that words may be moved to stand clear
SOLID: tuple[Stroke, ...] = ("built", "bold")

Block = tuple[float, float, float, float]  # left, bottom, right, top
Segment = tuple[Point, Point, bool]  # True where it is solid


def placed(drawing: Drawing, scale: float) -> tuple[Words, ...]:
    """The words where they stand, `scale` mm of paper to a mm of the roof. What finds no room is left to `says`."""
    whole = box(drawing, scale)
    segments = [(a, b, line.stroke in SOLID) for line in drawing.lines for a, b in pairwise(line.run)]
    taken: list[Block] = []
    found = []
    for words in thinned(drawing.words, lambda one, other: _clash(_block(one, scale), _block(other, scale), scale)):
        best: tuple[float, Words, Block] | None = None
        for far, moved in _tries(words, scale):
            block = _block(moved, scale)
            if best and far >= best[0]:
                break
            if any(_clash(block, other, scale) for other in taken) or not _inside(block, whole):
                continue
            cost = far + _on_lines(block, segments)
            if best is None or cost < best[0]:
                best = cost, moved, block
        if best:
            taken.append(best[2])
            found.append(best[1])
    return tuple(found)


def _tries(words: Words, scale: float) -> Iterator[tuple[float, Words]]:
    """The words where they were meant to stand, then further and further off."""
    reach = 1 if words.series else 2 * REACH
    steps = [(x, y) for x in range(-reach, reach + 1) for y in range(-reach, reach + 1)]
    for x, y in sorted(steps, key=lambda step: abs(step[0]) + abs(step[1])):
        at = words.at[0] + x * LETTER * LETTER_WIDTH / scale, words.at[1] + y * LETTER * ROW / 2 / scale
        yield abs(x) + abs(y), replace(words, at=at)


def _on_lines(block: Block, segments: list[Segment]) -> float:
    """How ill a block stands: on a solid line worse than on another."""
    return sum((12 if solid else 5) for start, end, solid in segments if _crosses(block, start, end))


def _crosses(block: Block, start: Point, end: Point) -> bool:
    """True where a straight piece enters a block (Liang and Barsky's clipping)."""
    low, high = 0.0, 1.0
    for axis in (0, 1):
        way = end[axis] - start[axis]
        edges = block[axis] - start[axis], block[axis + 2] - start[axis]
        if way == 0:
            if edges[0] > 0 or edges[1] < 0:
                return False
            continue
        first, last = sorted((edges[0] / way, edges[1] / way))
        low, high = max(low, first), min(high, last)
        if low > high:
            return False
    return True


def _inside(block: Block, whole: Block) -> bool:
    slack = 1e-6 * max(whole[2] - whole[0], whole[3] - whole[1])
    return (
        block[0] >= whole[0] - slack
        and block[1] >= whole[1] - slack
        and block[2] <= whole[2] + slack
        and block[3] <= whole[3] + slack
    )


def box(drawing: Drawing, scale: float) -> Block:
    left, bottom, right, top = extent(drawing)
    for words in drawing.words:
        if words.angle:
            continue  # turned words lie along a line that is inside already
        start, low, end, high = _block(words, scale)
        left, right = min(left, start), max(right, end)
        bottom, top = min(bottom, low), max(top, high)
    return left, bottom, right, top


def _block(words: Words, scale: float) -> Block:
    """Left, bottom, right and top [mm of the roof] of a block of words."""
    length = words.longest * LETTER * LETTER_WIDTH / scale
    half = len(words.rows) * LETTER * ROW / 2 / scale
    start = words.at[0] + words.left_of(length)
    middle = words.at[1] + words.raised * LETTER * ROW / scale
    return start, middle - half, start + length, middle + half


def _clash(a: Block, b: Block, scale: float) -> bool:
    """True where two blocks are less than a letter apart."""
    gap = LETTER * LETTER_WIDTH / scale
    return a[0] < b[2] + gap and b[0] < a[2] + gap and a[1] < b[3] and b[1] < a[3]

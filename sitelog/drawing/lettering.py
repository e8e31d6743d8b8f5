"""Where words stand on paper: clear of each other, and of the lines as far as there is room."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from sitelog.drawing.model import SOLID, Drawing, Point, Words, extent
from sitelog.drawing.placing import placed

LETTER = 3.1  # mm, height of type
LETTER_WIDTH = 0.56  # of its height, as a sans face runs on the whole
ROW = 1.25  # of its height
REACH = 4  # rows and pairs of letters that words may be moved to stand clear

Block = tuple[float, float, float, float]  # left, bottom, right, top
Segment = tuple[Point, Point, bool]  # True where it is solid


@lru_cache(maxsize=128)  # a drawing stands on a page of HTML and on one of a PDF
def lettered(drawing: Drawing, scale: float) -> tuple[Words, ...]:
    """The words where they stand, `scale` mm of paper to a mm of the roof. What finds no room is left to `says`."""
    segments = [(start, end, line.stroke in SOLID) for line in drawing.lines for start, end in pairwise(line.run)]
    paper = _Paper(scale, box(drawing, scale), segments, [])
    return tuple(place.words for _, place in placed(drawing.words, paper))


@dataclass(frozen=True)
class _Place:
    """Words moved to where they could stand, and their block; `nth` of the places tried."""

    words: Words
    block: Block
    nth: int


@dataclass(frozen=True)
class _Paper:
    """A sheet of paper, in mm of the roof. `taken` are the blocks of the words placed so far."""

    scale: float
    whole: Block
    segments: list[Segment]
    taken: list[Block]

    def clash(self, words: Words, other: Words) -> bool:
        return _clash(_block(words, self.scale), _block(other, self.scale), self.scale)

    def tries(self, words: Words) -> Iterator[tuple[float, _Place]]:
        reach = 1 if words.series else 2 * REACH
        steps = [(x, y) for x in range(-reach, reach + 1) for y in range(-reach, reach + 1)]
        for nth, (x, y) in enumerate(sorted(steps, key=lambda step: abs(step[0]) + abs(step[1]))):
            along, up = x * LETTER * LETTER_WIDTH / self.scale, y * LETTER * ROW / 2 / self.scale
            moved = replace(words, at=(words.at[0] + along, words.at[1] + up))
            yield abs(x) + abs(y), _Place(moved, _block(moved, self.scale), nth)

    def burden(self, words: Words, place: _Place) -> float | None:
        block = place.block
        if not _inside(block, self.whole) or any(_clash(block, other, self.scale) for other in self.taken):
            return None
        return sum((12 if solid else 5) for start, end, solid in self.segments if _crosses(block, start, end))

    def tie(self, place: _Place) -> tuple[int, ...]:
        return (place.nth,)

    def take(self, place: _Place) -> None:
        self.taken.append(place.block)


def _crosses(block: Block, start: Point, end: Point) -> bool:
    """True where a straight piece enters a block (Liang and Barsky's clipping)."""
    if _beside(block, start, end, 0) or _beside(block, start, end, 1):
        return False
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


def _beside(block: Block, start: Point, end: Point, axis: int) -> bool:
    """True where both ends lie beyond the same edge of a block."""
    first, last = sorted((start[axis], end[axis]))
    return last < block[axis] or first > block[axis + 2]


def _inside(block: Block, whole: Block) -> bool:
    slack = 1e-6 * max(whole[2] - whole[0], whole[3] - whole[1])
    return (
        block[0] >= whole[0] - slack
        and block[1] >= whole[1] - slack
        and block[2] <= whole[2] + slack
        and block[3] <= whole[3] + slack
    )


def box(drawing: Drawing, scale: float) -> Block:
    """Left, bottom, right and top [mm of the roof] of all lines and words, `scale` mm of paper to a mm of the roof."""
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


def _clash(block: Block, other: Block, scale: float) -> bool:
    """True where two blocks are less than a letter apart."""
    gap = LETTER * LETTER_WIDTH / scale
    apart = other[0] >= block[2] + gap or block[0] >= other[2] + gap or block[1] >= other[3] or other[1] >= block[3]
    return not apart

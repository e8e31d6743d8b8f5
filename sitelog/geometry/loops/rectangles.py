"""The largest rectangles inside a loop of walls whose corners are all square.

With one pitch the highest of them all is the roof, as the largest square about a point that fits inside lies in one.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from sitelog.geometry.surface.clipping import TOUCH
from sitelog.geometry.surface.plan_text import WallText
from sitelog.geometry.surface.walls import Point
from sitelog.quantities.rounding import as_worked

OUT_OF_SQUARE = 3.0  # deg: a measured corner this near to 90 counts as square

Span = tuple[int, int]


def is_by_rectangles(walls: Sequence[WallText], angles: Sequence[float]) -> bool:
    """Whether the loop is square at every corner [deg] and every wall a slope of one pitch from one plate height."""
    square = all(min(abs(angle - 90), abs(angle - 270)) <= OUT_OF_SQUARE for angle in angles)
    plain = all(wall.kind == "slope" and not wall.up and not wall.inset for wall in walls)
    return square and plain and len({wall.pitch for wall in walls if not wall.same_as}) == 1


def rectangles(walls: Sequence[WallText], at: Mapping[str, Point]) -> list[list[WallText]]:
    """The walls of every largest rectangle inside the loop, the largest first."""
    turn = _turned_by(walls[0], at)
    across, up = _ranked(walls, at, turn, axis=0), _ranked(walls, at, turn, axis=1)
    columns, rows = [walls_on for _, walls_on in across], [walls_on for _, walls_on in up]
    filled = _filled_rows(columns, rows)
    found: list[tuple[float, list[WallText]]] = []
    for low, high, left, right in _largest(filled, len(columns) - 1):
        sides = (
            _facing(rows[low], columns, (left, right), forward=True),
            _facing(columns[right], rows, (low, high), forward=True),
            _facing(rows[high], columns, (left, right), forward=False),
            _facing(columns[left], rows, (low, high), forward=False),
        )
        size = (across[right][0] - across[left][0]) * (up[high][0] - up[low][0])
        found.append((size, list(sides)))
    return [sides for _, sides in sorted(found, key=lambda one: -one[0])]


def _turned_by(wall: WallText, at: Mapping[str, Point]) -> Point:
    """The direction of the first wall, along which the plan is laid."""
    (x, y), (x_end, y_end) = at[wall.start], at[wall.end]
    long = math.hypot(x_end - x, y_end - y)
    return (x_end - x) / long, (y_end - y) / long


def _ranked(
    walls: Sequence[WallText], at: Mapping[str, Point], turn: Point, *, axis: int
) -> list[tuple[float, list[WallText]]]:
    """The lines that walls stand on, those up the plan for axis 0 and across it for 1, in order of their place."""
    placed: list[tuple[float, WallText]] = []
    for wall in walls:
        (x, y), (x_end, y_end) = at[wall.start], at[wall.end]
        dx, dy = x_end - x, y_end - y
        runs_across = abs(dx * turn[0] + dy * turn[1]) > abs(dy * turn[0] - dx * turn[1])
        if runs_across == (axis == 1):
            mid_x, mid_y = (x + x_end) / 2, (y + y_end) / 2
            place = mid_x * turn[0] + mid_y * turn[1] if axis == 0 else mid_y * turn[0] - mid_x * turn[1]
            placed.append((place, wall))
    lines: list[tuple[float, list[WallText]]] = []
    for place, wall in sorted(placed, key=lambda one: one[0]):
        if lines and place - lines[-1][0] <= TOUCH:
            lines[-1][1].append(wall)
        else:
            lines.append((place, [wall]))
    return lines


def _line_of_point(lines: Sequence[Sequence[WallText]]) -> dict[str, int]:
    return {end: place for place, walls in enumerate(lines) for wall in walls for end in (wall.start, wall.end)}


def _filled_rows(columns: Sequence[Sequence[WallText]], rows: Sequence[Sequence[WallText]]) -> list[int]:
    """For each strip between two lines across, the spaces between lines up the plan that are inside, as bits."""
    rank_y = _line_of_point(rows)
    filled = []
    for strip in range(len(rows) - 1):
        bits, inside = 0, False
        for place, walls in enumerate(columns[:-1]):
            for wall in walls:
                low, high = sorted((rank_y[wall.start], rank_y[wall.end]))
                inside ^= low <= strip < high
            bits |= inside << place
        filled.append(bits)
    return filled


def _largest(filled: Sequence[int], width: int) -> Iterator[tuple[int, int, int, int]]:
    """Low, high, left and right lines of each rectangle of inside that no larger one holds."""
    for low in range(len(filled)):
        shared = (1 << width) - 1
        for high in range(low, len(filled)):
            shared &= filled[high]
            for left, right in _runs(shared, width):
                run = ((1 << (right - left)) - 1) << left
                below = low > 0 and filled[low - 1] & run == run
                above = high + 1 < len(filled) and filled[high + 1] & run == run
                if not below and not above:
                    yield low, high + 1, left, right


def _runs(bits: int, width: int) -> Iterator[Span]:
    place = 0
    while place < width:
        if bits >> place & 1:
            start = place
            while place < width and bits >> place & 1:
                place += 1
            yield start, place
        place += 1


def _facing(line: Sequence[WallText], crossing: Sequence[Sequence[WallText]], span: Span, *, forward: bool) -> WallText:
    """The wall on a line that stops a rectangle of that span: of those that overlap it, the first that faces it."""
    rank = _line_of_point(crossing)
    for wall in line:
        start, end = rank[wall.start], rank[wall.end]
        overlaps = min(start, end) < span[1] and max(start, end) > span[0]
        if overlaps and (start < end) == forward:
            return wall
    raise AssertionError("a largest rectangle has a wall on each side")


def nearly_in_line(walls: Sequence[WallText], at: Mapping[str, Point]) -> list[str]:
    """A line for each two walls that face the same way a few mm apart: they may be meant as one slope."""
    turn = _turned_by(walls[0], at)
    said = []
    for axis in (0, 1):
        lines = _ranked(walls, at, turn, axis=axis)
        for (place, here), (after, there) in pairwise(lines):
            first, other = here[0], there[0]
            same_way = _turned_by(first, at), _turned_by(other, at)
            faces = same_way[0][0] * same_way[1][0] + same_way[0][1] * same_way[1][1] > 0
            if faces and after - place < 25.0 and other.same_as != first.name and first.same_as != other.name:
                said.append(
                    f"walls {first.name} and {other.name} are {as_worked(after - place)} mm out of line: write "
                    f"{other.name} ={first.name} if they are one slope"
                )
    return said

"""Lines in the cells of a terminal: dots of braille, or plain letters."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from math import hypot

from sitelog.drawing.model import SOLID, Drawing, Line, Point, Stroke

# A cell is about twice as high as wide: two dots across and four up make square dots, and true proportion.
ACROSS, UP = 2, 4
BRAILLE = 0x2800
BIT = {
    (0, 0): 0x01, (0, 1): 0x02, (0, 2): 0x04, (0, 3): 0x40,
    (1, 0): 0x08, (1, 1): 0x10, (1, 2): 0x20, (1, 3): 0x80,
}  # fmt: skip
PATTERN: Mapping[Stroke, tuple[int, int]] = {  # dots on, of how many
    "built": (1, 1), "bold": (1, 1), "thin": (1, 2), "drawn": (1, 4), "hidden": (3, 6),
}  # fmt: skip

Cell = tuple[int, int]  # column, row


@dataclass(frozen=True)
class View:
    """How mm become dots: `size` mm a dot, the dot (0, 0) at the top left of the first cell."""

    size: float
    left: float
    top: float

    def dot(self, point: Point) -> Point:
        """Where a point [mm] is in dots, across and down from the top left."""
        return (point[0] - self.left) / self.size, (self.top - point[1]) / self.size

    def cell(self, point: Point) -> Cell:
        """The cell that a point [mm] is in."""
        x, y = self.dot(point)
        return int(x // ACROSS), int(y // UP)


@dataclass
class Ink:
    """What stands in each cell, and the cells where a solid line runs."""

    cells: dict[Cell, str] = field(default_factory=dict)
    solid: set[Cell] = field(default_factory=set)


# --- dots of braille ----------------------------------------------------------------------------------------------


def dots(drawing: Drawing, view: View) -> Ink:
    """The lines as dots; a drawn line leaves out those that can't be told from a solid one."""
    solid = {dot for line in drawing.lines if line.stroke in SOLID for dot in _solid(line, view)}
    found = set(solid)
    for line in drawing.lines:
        if line.stroke not in SOLID:
            found.update(_broken(line, view, solid))
    ink = Ink(solid={(x // ACROSS, y // UP) for x, y in solid})
    bits: dict[Cell, int] = {}
    for x, y in found:
        cell = (x // ACROSS, y // UP)
        bits[cell] = bits.get(cell, 0) | BIT[x % ACROSS, y % UP]
    ink.cells.update({cell: chr(BRAILLE + bit) for cell, bit in bits.items()})
    return ink


def _steps(line: Line, view: View) -> Iterator[tuple[int, int, bool]]:
    """Every dot along a line, one step of its longer way at a time; True where it runs more up than along."""
    for start, end in pairwise(line.run):
        (x0, y0), (x1, y1) = view.dot(start), view.dot(end)
        along, down = x1 - x0, y1 - y0
        count = max(1, round(max(abs(along), abs(down))))
        for step in range(count + 1):
            yield int((x0 + along * step / count) // 1), int((y0 + down * step / count) // 1), abs(down) > abs(along)


def _solid(line: Line, view: View) -> Iterator[Cell]:
    for x, y, steep in _steps(line, view):
        yield x, y
        if line.stroke == "bold":
            yield (x + 1, y) if steep else (x, y + 1)


def _broken(line: Line, view: View, solid: set[Cell]) -> Iterator[Cell]:
    """The dots of a line that isn't solid, by its pattern."""
    shown, period = PATTERN[line.stroke]
    for step, (x, y, _) in enumerate(_steps(line, view)):
        hidden = line.stroke == "drawn" and _near(x, y, solid)
        if step % period < shown and not hidden:
            yield x, y


def _near(x: int, y: int, solid: set[Cell]) -> bool:
    """True where a solid dot is less than a cell away, so that the two lines can't be told apart."""
    return any((x + across, y + down) in solid for across in range(1 - ACROSS, ACROSS) for down in range(1 - UP, UP))


# --- plain letters ------------------------------------------------------------------------------------------------


def letters(drawing: Drawing, view: View) -> Ink:
    """The lines as plain letters, the solid ones over the others."""
    ink = Ink()
    for stroke in ("thin", "hidden", "drawn", "built", "bold"):
        for line in drawing.lines:
            if line.stroke == stroke:
                _write(ink, line, view)
    return ink


def _write(ink: Ink, line: Line, view: View) -> None:
    solid = line.stroke in SOLID
    for start, end in pairwise(line.run):
        letter, by_row = _slope(end[0] - start[0], end[1] - start[1])
        cells = list(_cells(view.cell(start), view.cell(end), by_row))
        if solid:
            ink.cells.update(dict.fromkeys(cells, "o" if line.stroke == "bold" else letter))
            ink.solid.update(cells)
        else:
            shown = cells if by_row else cells[::2]
            ink.cells.update(dict.fromkeys(shown, "." if line.stroke == "drawn" else letter))
    if solid and (line.closed or len(line.points) > 2):
        ink.cells.update({view.cell(point): "+" for point in line.points})


def _cells(start: Cell, end: Cell, by_row: bool) -> Iterator[Cell]:
    """The cells from one to another, one a row or one a column."""
    across, down = end[0] - start[0], end[1] - start[1]
    count = abs(down) if by_row else abs(across)
    for step in range(count + 1):
        share = step / max(count, 1)
        yield round(start[0] + across * share), round(start[1] + down * share)


def _slope(dx: float, dy: float) -> tuple[str, bool]:
    """The letter that lies along a direction, and whether it is written once a row (True) or once a column."""
    size = hypot(dx, dy) or 1.0
    if abs(dy) < 0.45 * size:
        return "-", False
    if abs(dx) < 0.2 * size:
        return "|", True
    return ("/" if dx * dy > 0 else "\\"), True

"""The covering: the same planes over wall lines moved out by the overhang, laid in courses that are level lines."""

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from sitelog.geometry.read_off.scanned import Part, Scan, flat_edges, turned
from sitelog.geometry.surface.surface import Surface, surface
from sitelog.geometry.surface.walls import Block, Plan, Wall
from sitelog.refusal import Refusal

MOST = 5_000  # courses
SQUARE_ENDS = ("verge", "abutment", "step")  # lines that a course ends at without a cut along a hip or valley
HAIR = 0.01  # mm: a course's line is looked at this far inside its band


class Course(Struct, frozen=True):
    """A course on its slope, the first at the eaves: how far up the slope its lower edge is [mm], and its parts.

    Each part is from one place along the wall to another [mm], as far as the course reaches between its lower and its
    upper edge. `cuts` counts its ends along hips and valleys; `batten` is the length of its lower edge.
    """

    slope: int
    n: int
    up: float
    parts: tuple[tuple[float, float], ...]
    cuts: int
    batten: float


def covered(plan: Plan, overhang: float, verge: float) -> Surface:
    """The surface of the covering: eaves moved out by the overhang and gables by the verge [mm], level on plan.

    A wall that is both, as at a half-hip, is moved out by the smaller; one that stands against something is not moved.
    """
    return surface(replace(plan, blocks=tuple(_moved_out(block, overhang, verge) for block in plan.blocks)))


def _moved_out(block: Block, overhang: float, verge: float) -> Block:
    by = {"slope": overhang, "gable": verge, "against": 0.0}
    walls = []
    for wall in block.walls:
        a, b, c = wall.inside
        walls.append(Wall(wall.name, wall.kind, wall.slope, (a, b, c + by[wall.kind])))
    return Block(block.name, tuple(walls))


def courses(found: Surface, gauge: float) -> list[Course]:
    """Every course at a gauge [mm], slope by slope from the eaves. Refusal for too many."""
    every: list[Course] = []
    for slope in range(len(found.slopes)):
        rings = turned(flat_edges(found, slope))
        if not rings:
            continue
        scan = Scan(rings, [line.kind != "ridge" for line in found.lines])
        if (scan.last - scan.first) / gauge > MOST - len(every):
            raise Refusal(f"gauge: more than {MOST} courses; give a wider gauge")
        every += _on_slope(found, slope, scan, gauge)
    return every


def _on_slope(found: Surface, slope: int, scan: Scan, gauge: float) -> Iterator[Course]:
    low, n = scan.first, 1
    while low < scan.last - HAIR:
        tails = scan.at(low + HAIR)
        heads = scan.at(min(low + gauge, scan.last) - HAIR)
        parts = _widest([*tails, *heads])
        cuts = sum(not _is_square(found, end.lines) for part in tails for end in (part.low, part.high))
        yield Course(slope, n, low, tuple(parts), cuts, sum(part.length for part in tails))
        low, n = low + gauge, n + 1


def _is_square(found: Surface, lines: Sequence[int]) -> bool:
    return any(found.lines[line].kind in SQUARE_ENDS for line in lines)


def _widest(parts: Sequence[Part]) -> list[tuple[float, float]]:
    """Spans that overlap joined into one."""
    joined: list[tuple[float, float]] = []
    for low, high in sorted((part.low.at, part.high.at) for part in parts):
        if joined and low <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], high)
        else:
            joined.append((low, high))
    return joined

"""What a roof has several of, each by a name that stays its own while plates move a little: lines, slopes, blocks."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache

from msgspec import Struct

from sitelog.geometry.building.laying import plates_of
from sitelog.geometry.building.plates import Block, Plates
from sitelog.geometry.building.reading import read_building
from sitelog.geometry.building.said import COLLARS, DORMER, LEAN_TO, MAIN, PURLINS, Said
from sitelog.geometry.building.taped import as_taped
from sitelog.geometry.building.walls import plan_of, sprockets_of
from sitelog.geometry.least_squares import Measured
from sitelog.geometry.plan_ties import fitted_points, ties_to_take
from sitelog.geometry.surface.lines import RoofLine
from sitelog.geometry.surface.planned import planned
from sitelog.geometry.surface.short_lines import SHORT
from sitelog.geometry.surface.surface import Surface, surface
from sitelog.geometry.surface.walls import Point

# The words of a checklist's `each`, in the order of work.
EACH = (
    "sides", "ties", "blocks", "slopes", "ridges", "hips", "valleys", "lines", "gables", "lean-tos", "dormers",
    "verges", "abutments",
)  # fmt: skip
KINDS: Mapping[str, str] = {"ridge": "ridges", "hip": "hips", "valley": "valleys", "level valley": "valleys"}
EDGES: Mapping[str, str] = {"verge": "verges", "abutment": "abutments", "step": "abutments"}
SOON = 30_000  # swaps of ties by the cube of the corners: a job is opened far more often than a roof is taped


class Named(Struct, frozen=True):
    """One line, slope, side or block: `id` for paths (`valley-cd-ef`), `name` for people, and the block it is of.

    `each` are the words under which it is asked about; `blocks` are all blocks whose slopes it lies between.
    """

    each: tuple[str, ...]
    id: str
    name: str
    block: str
    blocks: tuple[str, ...] = ()
    place: int = -1  # in the surface's lines or slopes; -1 of what is neither
    between: tuple[str, str] = ("", "")  # the corners of a side or a tie


class Roof(Struct, frozen=True):
    """A building over its plates, as drawn or as measured, with all that it has several of by name."""

    said: tuple[Said, ...]
    plates: Plates
    found: Surface
    named: tuple[Named, ...]
    block_of: tuple[str, ...]  # each slope's block, by the slope's place

    def of(self, each: str) -> list[Named]:
        """All of one word, in the order of work."""
        return [one for one in self.named if each in one.each]

    def heights(self, kind: str) -> tuple[float, ...]:
        """Heights [mm] of purlins or collars."""
        return next((said.heights for said in self.said if said.kind == kind), ())

    @property
    def dormers(self) -> tuple[str, ...]:
        """The names of the dormers, which are built on rafters that stand."""
        return tuple(block.name for block in self.plates.blocks if block.said.kind == DORMER)

    @property
    def purlins(self) -> tuple[float, ...]:
        """Heights of purlins over the main plates [mm]."""
        return self.heights(PURLINS)

    @property
    def collars(self) -> tuple[float, ...]:
        """Heights of collars over the main plates [mm]."""
        return self.heights(COLLARS)


def roof_of(text: str, lengths: Sequence[Measured] = (), carried: str = "") -> Roof:
    """The roof of a building as it is typed, over plates fitted to taped lengths if there are any [mm].

    `carried` is what was taped of lean-tos and dormers, as `lean-to left 1798; dormer front 1495`.

    Refusal, by the block's name, for what can't be; and for lengths that leave a corner loose.
    """
    return _roof(text, tuple(lengths), carried)


@lru_cache(maxsize=64)
def _roof(text: str, lengths: tuple[Measured, ...], carried: str) -> Roof:
    said = as_taped(read_building(text), carried)
    plates = plates_of(said)
    points = fitted_points(plates.points, lengths).points if lengths else None
    return roof_over(said, plates, points)


def roof_over(said: tuple[Said, ...], plates: Plates, points: Mapping[str, Point] | None) -> Roof:
    """The roof over plates as drawn, or with their corners at those points [mm]."""
    found = surface(planned(plan_of(plates, points, sprockets_of(said)), merged=False))
    blocks = _blocks_of_slopes(found, plates)
    named = (
        *_sides(plates),
        *_ties(plates),
        *_blocks(plates),
        *_slopes(found, plates, blocks),
        *_lines(found, plates, blocks),
        *_gables(plates),
        *_edges(found, plates, blocks),
    )
    return Roof(said, plates, found, named, blocks)


def slope_words(name: str) -> str:
    """A slope's name for people: of a mansard's two, of a bay's square ones, and of a sprocket, which it is."""
    whole, plus, up = name.partition("+")
    block, _, wall = whole.rpartition(".")
    square = re.fullmatch(r"(.+)-(?:\1)0|(.+)0-\2", wall)
    if square:
        wall = f"{square[1] or square[2]} side"
    said = f"{wall} {'lower' if up == '0' else 'upper'}" if plus else wall
    return f"{said} sprocket" if block.endswith("-sprockets") else said


def id_of(name: str) -> str:
    """A name as a path has it: small letters, figures and hyphens."""
    return re.sub("[^a-z0-9]+", "-", name.lower()).strip("-")


def _blocks_of_slopes(found: Surface, plates: Plates) -> tuple[str, ...]:
    """The first block that has each slope."""
    owner: dict[int, str] = {}
    for block in found.plan.blocks:
        for slope in block.slopes:
            owner.setdefault(slope, block.name.removesuffix("-sprockets"))
    return tuple(owner[slope] for slope in range(len(found.slopes)))


def _sides(plates: Plates) -> Iterator[Named]:
    for start, end in plates.ring:
        name = start + end if len(start + end) == 2 else f"{start}-{end}"
        yield Named(("sides",), id_of(f"{start}-{end}"), name, plates.blocks[0].name, between=(start, end))


def _ties(plates: Plates) -> Iterator[Named]:
    for start, end in _pairs(tuple(plates.points.items()), tuple(plates.ring)):
        yield Named(
            ("ties",), id_of(f"{start}-{end}"), f"{start} to {end}", plates.blocks[0].name, between=(start, end)
        )


@lru_cache(maxsize=64)
def _pairs(points: tuple[tuple[str, Point], ...], ring: tuple[tuple[str, str], ...]) -> tuple[tuple[str, str], ...]:
    return tuple(pair for pair, _ in ties_to_take(dict(points), ring, SOON))


def _blocks(plates: Plates) -> Iterator[Named]:
    for block in plates.blocks:
        kind = {LEAN_TO: "lean-tos", DORMER: "dormers"}.get(block.said.kind, "blocks")
        yield Named((kind,), block.name, _called(block), block.name, (block.name,))


def _called(block: Block) -> str:
    """As people call it: Main roof, Wing 2, Lean-to."""
    kind = block.said.kind
    number = block.name.removeprefix(kind)
    name = "Main roof" if kind == MAIN else kind.capitalize()
    return f"{name} {number}" if number else name


def _slopes(found: Surface, plates: Plates, blocks: Sequence[str]) -> Iterator[Named]:
    """Each slope that shows, of its block and of the dormers on it."""
    dormers = [block.name for block in plates.blocks if block.said.kind == DORMER]
    for place, slope in enumerate(found.slopes):
        if found.rings[place]:
            beside = _beside(found, blocks, place)
            own = dict.fromkeys((blocks[place], *(dormer for dormer in dormers if dormer in beside)))
            name = slope_words(slope.name)
            yield Named(("slopes",), f"slope-{id_of(name)}", name, blocks[place], tuple(own), place)


def _beside(found: Surface, blocks: Sequence[str], place: int) -> set[str]:
    """The blocks that a slope has a line with."""
    return {blocks[other] for line in found.lines if place in line.between for other in line.between}


def _lines(found: Surface, plates: Plates, blocks: Sequence[str]) -> Iterator[Named]:
    order = [block.name for block in plates.blocks]
    taken: Counter[str] = Counter()
    for place in sorted(range(len(found.lines)), key=lambda place: _along(found, place)):
        line = found.lines[place]
        if line.kind not in KINDS or line.plan_length < SHORT:
            continue
        owners = sorted({blocks[slope] for slope in line.between}, key=order.index)
        between = "-".join(sorted(slope_words(found.slopes[slope].name) for slope in line.between))
        said = f"{line.kind} {between}"
        taken[said] += 1
        name = said if taken[said] == 1 else f"{said} ({taken[said]})"
        each = (KINDS[line.kind], "lines")
        yield Named(each, id_of(name), name[0].upper() + name[1:], owners[-1], tuple(owners), place)


def _along(found: Surface, place: int) -> tuple[int, tuple[int, ...], float]:
    """In the order of kind, then slopes, then along the first slope's wall, so that a number stays its own."""
    line = found.lines[place]
    kinds = list(KINDS)
    first = found.slopes[min(line.between)]
    at = min(first.flat(*found.points[end].at[:2])[0] for end in (line.start, line.end))
    return kinds.index(line.kind) if line.kind in kinds else len(kinds), tuple(sorted(line.between)), at


def _gables(plates: Plates) -> Iterator[Named]:
    """Each gable, whole or under a half-hip."""
    for block in plates.blocks:
        for side in block.sides:
            if side.side.kind in ("gable", "half-hip"):
                name = side.start + side.end
                yield Named(("gables",), f"gable-{id_of(name)}", f"Gable {name}", block.name, (block.name,))


def _edges(found: Surface, plates: Plates, blocks: Sequence[str]) -> Iterator[Named]:
    """Each verge, and each line where a slope stops against a wall or a higher block: it is flashed there."""
    order = [block.name for block in plates.blocks]
    taken: Counter[str] = Counter()
    for line_place, line in enumerate(found.lines):
        if line.kind not in EDGES or line.length < SHORT:
            continue
        owners = sorted({blocks[slope] for slope in line.between}, key=order.index)
        said = f"{EDGES[line.kind][:-1].capitalize()} {_edge_between(found, line)}"
        taken[said] += 1
        name = said if taken[said] == 1 else f"{said} ({taken[said]})"
        yield Named((EDGES[line.kind],), id_of(name), name, owners[-1], tuple(owners), line_place)


def _edge_between(found: Surface, line: RoofLine) -> str:
    """The two slopes of an edge; the slope and the wall that it stops at."""
    slopes = sorted(slope_words(found.slopes[slope].name) for slope in line.between)
    return "-".join((*slopes, line.wall) if len(slopes) == 1 else slopes)

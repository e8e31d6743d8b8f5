"""What to ask about a roof as it is said: blocks higher than the main roof, and dormers that run past a hip."""

from collections.abc import Iterator

from sitelog.geometry.building.named import Named, Roof
from sitelog.geometry.building.said import BAY, DORMER, MAIN
from sitelog.quantities.rounding import as_worked

OVER = 1.0  # mm


def doubts(roof: Roof) -> Iterator[tuple[str, str]]:
    """Each block that is doubted by its name, and what of it, with what to change."""
    tops = {block.name: _top(roof, block.name) for block in roof.plates.blocks}
    tops[MAIN] = _ridge(roof) or tops[MAIN]
    for block in roof.plates.blocks:
        over = tops[block.name] - tops[MAIN]
        if block.name != MAIN and over > OVER:
            ways = "flatter, narrower or level" if block.said.kind == BAY else "flatter or narrower"
            yield block.name, f"its top is {as_worked(over)} over the main roof's. If that's wrong, make it {ways}"
        if block.said.kind == DORMER:
            yield from ((block.name, words) for words in _past_a_hip(roof, block.name))


def _ridge(roof: Roof) -> float:
    """How high [mm] the main roof's ridge is; nought without one. Its slopes may run on up under a bay's."""
    own = [roof.found.lines[one.place] for one in roof.of("ridges") if one.block == MAIN]
    return max((roof.found.points[line.end].at[2] for line in own), default=0.0)


def _top(roof: Roof, block: str) -> float:
    heights = [
        point[2]
        for one in roof.of("slopes")
        if one.block == block
        for ring in roof.found.outline(one.place)
        for point in ring
    ]
    return max(heights, default=0.0)


def _past_a_hip(roof: Roof, dormer: str) -> Iterator[str]:
    """The slopes that a dormer's own meet beside that which it is on: its cheeks or its ridge run past a hip."""
    own = [one for one in roof.of("slopes") if one.block == dormer]
    met = {other.name: other for one in own for other in _met(roof, one) if other.block != dormer}
    if len(met) > 1:
        names = ", ".join(sorted(met))
        yield f"it runs on to slopes {names}: move it along, or make it narrower or lower"


def _met(roof: Roof, one: Named) -> Iterator[Named]:
    for line in roof.found.lines:
        if one.place in line.between:
            yield from (other for other in roof.of("slopes") if other.place in line.between and other is not one)

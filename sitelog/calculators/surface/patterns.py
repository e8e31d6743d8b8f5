"""Which pattern a slope of a building is cut to: that of its block's first pair, of its other slope, or its own."""

from collections.abc import Mapping

from msgspec import Struct

from sitelog.calculators.surface.named_rows import first_pair, sides_of_line
from sitelog.calculators.surface.named_slopes import SAME_PITCH
from sitelog.geometry.building.named import Named, Roof

KINDS = ("first", "other", "alone")


class Pattern(Struct, frozen=True):
    """The pattern of one slope: one of KINDS, and the slope."""

    kind: str
    slope: Named


def patterns_of(roof: Roof) -> Mapping[str, tuple[Pattern, ...]]:
    """By id: of each slope its own; of each hip, valley and ridge those of its two slopes, `pitch_1` first."""
    pairs = _pairs(roof)
    own = {one.place: Pattern(_kind(roof, one, pairs[one.block]), one) for one in roof.of("slopes")}
    found: dict[str, tuple[Pattern, ...]] = {pattern.slope.id: (pattern,) for pattern in own.values()}
    for one in roof.of("lines"):
        found[one.id] = tuple(own[place] for place in sides_of_line(roof, roof.found.lines[one.place]))
    return found


def _pairs(roof: Roof) -> dict[str, tuple[float, float]]:
    """The pitches [deg] of each block's first pair, of blocks that have a slope."""
    shown = {one.block for one in roof.of("slopes")}
    pairs = {block.name: first_pair(roof, block) for block in roof.plates.blocks if block.name in shown}
    slopes = roof.found.slopes
    return {name: (slopes[first].pitch, slopes[other].pitch) for name, (first, other, *_) in pairs.items()}


def _kind(roof: Roof, one: Named, pair: tuple[float, float]) -> str:
    pitch = roof.found.slopes[one.place].pitch
    alike = [abs(pitch - other) <= SAME_PITCH and not one.name.endswith("sprocket") for other in pair]
    return next((kind for kind, same in zip(KINDS, alike, strict=False) if same), "alone")

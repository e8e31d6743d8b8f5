"""Lean-tos and dormers as they were taped: each as it was said, with its own sizes in place of those drawn."""

import math
from collections.abc import Mapping, Sequence

from msgspec.structs import replace

from sitelog.geometry.building.said import DORMER, LEAN_TO, Said
from sitelog.quantities.measure import Doubt
from sitelog.quantities.reading import offset_mm
from sitelog.refusal import Refusal
from sitelog.text import clean

# What is taped of each, in mm. A lean-to: its two projections, left and right as you face the wall; along the wall;
# its outer plate up to its wall plate. A dormer: between its plates at the face and at the back; its face in from the
# main plate; its plates over the main ones. Both: how far along from the corner that they were said from.
TAPED: Mapping[str, tuple[str, ...]] = {
    LEAN_TO: ("left", "right", "wide", "rise", "along"),
    DORMER: ("front", "back", "in", "up", "along"),
}
EXAMPLE = "lean-to left 1798; dormer front 1495"
Sizes = dict[str, float]


def as_taped(every: Sequence[Said], text: str) -> tuple[Said, ...]:
    """The blocks with what was taped of them. Refusal for what can't be read, or is no block or size of this roof."""
    if not text.strip():
        return tuple(every)
    taped = _read(text, {said.name: said.kind for said in every if said.kind in TAPED})
    return tuple(_taped(said, taped[said.name]) if said.name in taped else said for said in every)


def _read(text: str, kinds: Mapping[str, str]) -> dict[str, Sizes]:
    taped: dict[str, Sizes] = {}
    for part in filter(None, (part.strip() for part in text.split(";"))):
        words = part.split()
        if len(words) != 3 or words[0] not in kinds or words[1] not in TAPED[kinds[words[0]]]:
            known = "; ".join(f"{name}: {', '.join(TAPED[kind])}" for name, kind in kinds.items())
            raise Refusal(
                f"building: '{clean(part, most=40)}' isn't a size of a lean-to or dormer here. "
                f"{f'There are {known}' if known else 'This roof has none'}. Type it as {EXAMPLE}"
            )
        try:
            taped.setdefault(words[0], {})[words[1]] = offset_mm(words[2])
        except Doubt as doubt:
            raise Refusal(f"building: {words[0]} {words[1]}: '{clean(words[2], most=20)}' {doubt}") from None
    return taped


def _taped(said: Said, sizes: Sizes) -> Said:
    if "along" in sizes and said.place is not None:
        said = replace(said, place=replace(said.place, distance=sizes["along"]))
    if said.kind == DORMER:
        return _dormer(said, sizes)
    return _lean_to(said, sizes)


def _lean_to(said: Said, sizes: Sizes) -> Said:
    left, right = sizes.get("left", said.size[1]), sizes.get("right", said.size[1])
    out = (left + right) / 2
    own = replace(said, size=(sizes.get("wide", said.size[0]), out), ends=(left, right), taped=True)
    if "rise" not in sizes:
        return own
    return replace(own, pitch=math.degrees(math.atan2(sizes["rise"], out)), top=None)


def _dormer(said: Said, sizes: Sizes) -> Said:
    across = [sizes[key] for key in ("front", "back") if key in sizes] or [said.size[0]]
    size = math.fsum(across) / len(across), sizes.get("in", said.size[1])
    return replace(said, size=size, up=sizes.get("up"), taped=True)

"""A building in words: each block in a row, and the corners and lines that the blocks come to."""

from collections.abc import Iterator

from sitelog.geometry.building.doubts import doubts
from sitelog.geometry.building.named import Roof
from sitelog.geometry.building.said import BAY, DORMER, LEAN_TO, MAIN, SPROCKETS, Said, Side
from sitelog.quantities.quantity import Units, show_length
from sitelog.quantities.rounding import as_typed, as_worked
from sitelog.text import counted
from sitelog.wording.building.blocks import called

COUNTED = (("hips", "hip"), ("valleys", "valley"), ("ridges", "ridge"), ("gables", "gable"))


def row_of(said: Said, units: Units = "metric") -> str:
    """A block in one line: `Wing off CD, 1000 from D: 4000 x 4000, 40; end gable`."""
    name = called(said.name)
    if said.heights:
        return f"{name} at {', '.join(_mm(height, units) for height in said.heights)}"
    if said.place:
        place = said.place
        on = "on" if said.kind == DORMER else "off"
        name = f"{name} {on} {place.side}, {_mm(place.distance, units)} from {place.corner}:"
    return "; ".join([f"{name} {_size(said, units)}", *_more(said, units)])


def _size(said: Said, units: Units) -> str:
    first, other = (_mm(size, units) for size in said.size)
    pitch = f", {as_typed(said.pitch)}" if said.pitch else ""
    if said.shape:
        return f"{said.shape} {first}{pitch}"
    if said.kind == SPROCKETS:
        return f"{first}{pitch}"
    if said.kind == DORMER:
        return f"{first} wide, face {other} in{pitch}"
    return f"{first} x {other}{pitch}"


def _more(said: Said, units: Units) -> Iterator[str]:
    if said.kind == DORMER:
        yield f"cheek {_mm(said.cheek, units)}"
        if "end" not in said.sides:
            yield "gable"
    for name, side in said.sides.items():
        yield f"{_cover(side, units)} at {name}" if said.kind == MAIN else f"{name} {_cover(side, units)}"
    if said.kind == BAY:
        yield f"splay {as_typed(said.splay)}"
    if said.level:
        yield "level ridge"
    if said.top is not None:
        yield f"top at {_mm(said.top, units)}"
    if said.plate or said.kind == LEAN_TO:
        yield f"plate at {_mm(said.plate, units)}"


def _cover(side: Side, units: Units) -> str:
    if side.kind == "slope":
        return as_typed(side.pitch)
    if side.kind == "half-hip":
        return f"half-hip from {_mm(side.height, units)}"
    if side.kind == "mansard":
        return f"mansard {as_typed(side.lower)} to {_mm(side.height, units)}, then {as_typed(side.pitch)}"
    return side.kind


def _mm(length: float, units: Units) -> str:
    return show_length(length, units, typed=True)


def lines_in_short(roof: Roof) -> str:
    """How many of each line, valleys by name: `hips 4, valley 1 CE-EF, ridges 2, gable 1 FG`."""
    return ", ".join(
        f"{one if len(names) == 1 else many} {len(names)}{_few(names) if many in ('valleys', 'gables') else ''}"
        for many, one, names in _counted(roof)
    )


def _few(names: list[str]) -> str:
    return f" {' '.join(names)}" if len(names) <= 3 else ""


def _counted(roof: Roof) -> Iterator[tuple[str, str, list[str]]]:
    for many, one in COUNTED:
        names = [each.name.removeprefix("Level ").partition(" ")[2] for each in roof.of(many)]
        if names:
            yield many, one, names


def told_of(roof: Roof, units: Units = "metric") -> Iterator[tuple[str, str]]:
    """The corners, the lines, and how high it is over the main plates; last what to check and what holds water."""
    yield "Corners", ", ".join(roof.plates.points)
    yield "Lines", lines_in_short(roof)
    top = max(point.at[2] for point in roof.found.points)
    height = as_worked(top) if units == "metric" else show_length(top, units)
    yield "Top", f"{height} over the main plates"
    yield from (("Check", f"{called(block)}: {words}") for block, words in doubts(roof))
    yield from (("Water", words) for words in _level(roof))


def lines_in_full(roof: Roof) -> Iterator[str]:
    """Each kind of line with all its names, as line mode says it."""
    for many, one, names in _counted(roof):
        yield f"{counted(len(names), one, many)}: {', '.join(names)}."
    yield from (f"Check {called(block)}: {words}." for block, words in doubts(roof))
    yield from (f"{words}." for words in _level(roof))


def _level(roof: Roof) -> Iterator[str]:
    for each in roof.of("valleys"):
        if roof.found.lines[each.place].kind == "level valley":
            yield f"{each.name} holds water: change a block, or drain it"

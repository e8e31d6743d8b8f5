"""The ends of a cut roof's ridges where hips meet: where rafters stand on each face, from the end, for a template."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer
from sitelog.calculators.surface.building import rafters_as_given, roof_as_given
from sitelog.geometry.building.named import Roof, slope_words
from sitelog.geometry.read_off.rafters import Rafter
from sitelog.geometry.surface.lines import RoofLine
from sitelog.job.members import Line

LED = "ridge-"  # the id of a ridge in the cutting list, before its own
SAME_MARK = 0.5  # mm: rafters on both faces no further apart are a pair, and have one mark
HIPS = 2  # that meet at an end with a common of the hipped slope against it
MARKED = 2  # rafters on each face, the last ones


@dataclass(frozen=True)
class RidgeEnd:
    """One face of a ridge at one end, or both where rafters stand in pairs: its stick, the end for its head."""

    says: str
    answer: Answer
    lines: tuple[Line, ...]  # of the cutting list, under its marks


def ridge_ends(lines: Sequence[Line]) -> Iterator[RidgeEnd]:
    """Each end of each ridge of a roof said block by block; none of another form's list."""
    rafters = [line for line in lines if line.answer and line.answer.inputs.get("timber") == "rafters"]
    ridges = [line for line in lines if line.member and line.id.startswith(LED)]
    for line in ridges if rafters else ():
        yield from _of_ridge(line, rafters)


def _of_ridge(line: Line, rafters: Sequence[Line]) -> Iterator[RidgeEnd]:
    own = [rafter for rafter in rafters if rafter.id.endswith(_slopes(_roof(rafters[0]), line))]
    if not own:
        return
    roof, every = _roof(own[0]), rafters_as_given(_inputs(own[0]))
    for ridge in _named(roof, line):
        for end in (ridge.start, ridge.end):
            over = _hipped_slopes(roof, ridge, end)
            faces = _faces(every, roof, ridge, end)
            for face, places in faces.items() if over else ():
                yield RidgeEnd(f"{line.says} at {over}{face}", _stick(line, ridge, places), (line, *own))


def _inputs(rafter: Line) -> Mapping[str, object]:
    assert rafter.answer
    return rafter.answer.inputs


def _roof(rafter: Line) -> Roof:
    return roof_as_given(_inputs(rafter))


def _named(roof: Roof, line: Line) -> list[RoofLine]:
    """A ridge of the list as it is in the roof; none where the tape has left none of it."""
    return [roof.found.lines[one.place] for one in roof.of("ridges") if f"{LED}{one.id}" == line.id]


def _slopes(roof: Roof, line: Line) -> tuple[str, ...]:
    """How the ids of the rafters of a ridge's two slopes end."""
    places = {place for ridge in _named(roof, line) for place in ridge.between}
    return tuple(f"-{one.id}" for one in roof.of("slopes") if one.place in places)


def _hipped_slopes(roof: Roof, ridge: RoofLine, end: int) -> str:
    """The slope or slopes between the hips that meet at that end of a ridge; "" where fewer meet there."""
    hips = [line for line in roof.found.lines if line.kind == "hip" and end in (line.start, line.end)]
    over = {slope for line in hips for slope in line.between} - {*ridge.between}
    names = [slope.name for slope in roof.of("slopes") if slope.place in over]
    return " and ".join(names) if len(hips) >= HIPS else ""


def _faces(every: Sequence[Rafter], roof: Roof, ridge: RoofLine, end: int) -> dict[str, list[float]]:
    """How far from that end of the ridge's line its last rafters stand [mm], by the face; of pairs by one."""
    on = _places(every, roof, ridge, end)
    one, other = on.values()
    apart = [abs(place - pair) for place, pair in zip(one, other, strict=False)]
    if apart and len(one) == len(other) and max(apart) <= SAME_MARK:
        return {"": one}
    words = {slope: slope_words(roof.found.slopes[slope].name) for slope in on}
    return {f", face to {words[slope]}": places for slope, places in on.items() if places}


def _places(every: Sequence[Rafter], roof: Roof, ridge: RoofLine, end: int) -> dict[int, list[float]]:
    """The same of each of its two slopes, by the slope's place."""
    point, name = roof.found.points[end].at, f"ridge {roof.found.line_name(ridge)}"
    on: dict[int, list[float]] = {place: [] for place in ridge.between}
    for rafter in every:
        if rafter.slope in on and rafter.head.name == name:
            on[rafter.slope].append(math.dist(rafter.end, point))
    return {slope: sorted(places)[:MARKED] for slope, places in on.items()}


def _stick(line: Line, ridge: RoofLine, places: Sequence[float]) -> Answer:
    """The ridge with those rafters marked from its head; it is cut half a rafter past the last pair's centre."""
    assert line.member
    past = (line.member.length - ridge.length) / 2
    marks = tuple(past + place for place in places)
    return index.find("sticks")(kind="ridge", section=line.member.section, length=line.member.length, marks=marks)

"""Points off a string: brought to it; or, along a hip, the jacks cut to where the points are."""

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import Line, lines_of
from sitelog.job.remedies.lengths import group_of
from sitelog.job.remedies.read import LEAST, cell, drawn_by, fact, number, rows
from sitelog.job.remedies.remedy import Act, Kind, Remedy, Shift
from sitelog.job.state.views import CheckView, State

HIP = "hip_cut_"  # the fact that a hip's string is as long as, before its corner
STILL = (Shift("hips", 0.0, 0.0), Shift("jacks", 0.0, 0.0))
Bow = Sequence[tuple[float, float]]  # along the string from its foot, and off it, up is plus [mm]


def of_line(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """Each point brought to the string, the high ones eased and the low ones packed; along a hip, what its jacks become
    where the points stay as they are."""
    bow = [(number(row["at"]) or 0.0, number(row["off_line"]) or 0.0) for row in rows(view, "stations")]
    jacks = _cut_to(state, library, view, bow)
    brought: dict[Kind, tuple[Act, ...]] = {"ease": _off(bow, 1), "pack": _off(bow, -1)}
    for kind, acts in brought.items():
        if acts:
            yield Remedy(kind, acts, STILL if jacks else ())
    if jacks and any(brought.values()):
        yield Remedy("as-built", (), (Shift("jacks", min(jacks), max(jacks)),))


def _off(bow: Bow, way: int) -> tuple[Act, ...]:
    """The points above the string (1), or below it (-1), and by how much."""
    return tuple(Act(str(at), way * by) for at, by in bow if way * by > LEAST)


def _cut_to(state: State, library: Library, view: CheckView, bow: Bow) -> list[float]:
    """How much longer [mm] each jack of that hip becomes with its foot where it is; nothing where it is no hip."""
    name = _strung_along(view)
    corner = name.removeprefix(HIP)
    resolver = FactResolver.of(library, state)
    hip, pitch = fact(resolver, view.part, f"hip_{corner}"), fact(resolver, view.part, "pitch")
    run = fact(resolver, view.part, "run")
    if not name or hip is None or pitch is None or run is None or len(bow) < 2:
        return []
    rise = run * math.tan(math.radians(pitch))
    plumb = hip / math.sqrt(hip * hip - rise * rise)  # for one off the string, square to it
    found = (_longer(line, pitch, hip, bow, plumb) for line in _jacks(resolver, view.part, corner))
    return [by for by in found if by is not None]


def _strung_along(view: CheckView) -> str:
    """The fact that the string of a hip is as long as; "" along anything else. Older lists have it taped."""
    names = (
        *(given.fact.rpartition(".")[2] for given in view.inputs),
        *(drawn_by(view.check, figure.key) for figure in view.figures),
    )
    return next((name for name in names if name.startswith(HIP)), "")


def _jacks(resolver: FactResolver, part: str, corner: str) -> Iterator[Line]:
    lines = lines_of(resolver, part)
    return (line for line in lines if group_of(line) == "jacks" and line.id.endswith(f"-{corner}"))


def _longer(line: Line, pitch: float, hip: float, bow: Bow, plumb: float) -> float | None:
    """One jack whose head is as far up as the points are off the string there."""
    long, up = cell(line, "length_centre"), cell(line, "up_the_hip")
    if long is None or up is None:
        return None
    slope, head = math.radians(pitch), off_at(bow, up / hip * bow[-1][0]) * plumb
    return math.hypot(long * math.cos(slope), long * math.sin(slope) + head) - long


def off_at(bow: Bow, at: float) -> float:
    """How far off the string [mm] it is there: straight from one point to the next."""
    after = min(max(bisect_right([place for place, _ in bow], at), 1), len(bow) - 1)
    (begin, low), (end, high) = bow[after - 1], bow[after]
    return low + (high - low) * (at - begin) / (end - begin)

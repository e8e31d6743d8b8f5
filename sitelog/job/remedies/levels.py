"""Plates out of level: packed up, the seats eased down to the lowest, or each timber cut to the plate as it is."""

import math
from collections.abc import Iterator, Mapping, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import Line, lines_of
from sitelog.job.remedies.lengths import group_of
from sitelog.job.remedies.low_plates import let_down
from sitelog.job.remedies.read import LEAST, cell, fact, number, rows
from sitelog.job.remedies.remedy import GROUPS, Act, Group, Remedy, Shift
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import Section

RIDGE_END = {"a": "p", "b": "q", "c": "q", "d": "p"}  # the end of the ridge that a corner's hip meets
LONG_SIDE = {"a": "ab", "b": "ab", "c": "cd", "d": "cd"}  # the longer plate at a corner, whose middle was read


def of_levels(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for the points that `levels` has read. What the roof becomes is worked where rafters sit on them."""
    low = {str(row["point"]): number(row["packing"]) or 0.0 for row in rows(view, "packing")}
    if not low:
        return
    resolver = FactResolver.of(library, state)
    lines = lines_of(resolver, view.part)
    held = {group_of(line) for line in lines}
    still = tuple(Shift(group, 0.0, 0.0) for group in GROUPS if group in held)
    yield Remedy("pack", _acts(low), still, passes=True)
    seat = _seat(resolver, view.part)
    if seat and view.stage == "plates":
        yield _eased(resolver, view.part, low, seat, still)
        yield Remedy("as-built", (), let_down(lines, low) or tuple(_cut_to(resolver, view.part, lines, low)))


def _acts(by: Mapping[str, float]) -> tuple[Act, ...]:
    return tuple(Act(name, size) for name, size in by.items() if size >= LEAST)


def _seat(resolver: FactResolver, part: str) -> tuple[float, float] | None:
    """The birdsmouth's depth and the rafter's, square to the rafter [mm]; None of a part without."""
    share, section = fact(resolver, part, "birdsmouth"), resolver.now(part, "section")
    if share is None or not isinstance(section, Section):
        return None
    return share * section.depth, section.depth


def _eased(
    resolver: FactResolver, part: str, low: Mapping[str, float], seat: tuple[float, float], still: tuple[Shift, ...]
) -> Remedy:
    """Every seat cut deeper by what its place is above the lowest: plumb at the seat, less square to the rafter."""
    deepest = max(low.values())
    square = deepest * math.cos(math.radians(fact(resolver, part, "pitch") or 0.0))
    return Remedy(
        "ease", _acts({name: deepest - by for name, by in low.items()}), still, seat=(seat[0] + square, seat[1])
    )


def _cut_to(resolver: FactResolver, part: str, lines: Sequence[Line], low: Mapping[str, float]) -> Iterator[Shift]:
    """How much longer each group becomes with its heads where they are and its feet on the low places."""
    moved: dict[Group, list[float]] = {}
    for line in lines:
        group = group_of(line)
        shift = _shift(resolver, part, line, low)
        if group and shift is not None:
            moved.setdefault(group, []).append(shift)
    yield from (Shift(group, min(moved[group]), max(moved[group])) for group in GROUPS if group in moved)


def _shift(resolver: FactResolver, part: str, line: Line, low: Mapping[str, float]) -> float | None:
    """How much longer [mm] one timber becomes; None of one whose foot is not at a point that was read."""
    corner, group = line.id.rpartition("-")[2], group_of(line)
    if corner.upper() not in low:
        return None
    if group == "hips":
        return _hip(resolver, part, corner, low)
    if group == "jacks":
        return _jack(resolver, part, line, low)
    if group == "commons":
        return _longer(fact(resolver, part, "run"), fact(resolver, part, "rafter_rise"), low[corner.upper()])
    return None


def _longer(level: float | None, rise: float | None, down: float) -> float | None:
    """A slope of that level distance and rise with its foot let down."""
    if level is None or rise is None:
        return None
    return math.hypot(level, rise + down) - math.hypot(level, rise)


def _hip(resolver: FactResolver, part: str, corner: str, low: Mapping[str, float]) -> float | None:
    length = fact(resolver, part, f"hip_{corner}")
    rise = fact(resolver, part, f"ridge_height_{RIDGE_END.get(corner)}")
    if length is None or rise is None:
        return None
    return _longer(math.sqrt(length * length - rise * rise), rise, low[corner.upper()])


def _jack(resolver: FactResolver, part: str, line: Line, low: Mapping[str, float]) -> float | None:
    """Its foot goes down with the plate, from the corner to the middle; its head with the hip, less the higher up."""
    corner = line.id[-1]
    side = LONG_SIDE.get(corner, "")
    cells = [cell(line, name) for name in ("length_centre", "up_the_hip", "at")]
    facts = [fact(resolver, part, name) for name in (f"hip_{corner}", "pitch", side)]
    known = [value for value in (*cells, *facts, low.get(side.upper())) if value is not None]
    if len(known) < 7:
        return None
    length, up, at, hip, pitch, long, middle = known
    begin, slope = low[corner.upper()], math.radians(pitch)
    foot = begin + (middle - begin) * min(at / (long / 2), 1.0)
    head = begin * (1 - up / hip)
    return _longer(length * math.cos(slope), length * math.sin(slope), foot - head)

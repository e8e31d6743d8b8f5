"""Plates of any plan whose diagonals are out: racked as near the drawing as the sides let them, moved, or cut to."""

import math
from collections.abc import Iterator, Mapping, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.geometry.building.named import Roof, roof_of
from sitelog.geometry.least_squares import Measured, Point
from sitelog.geometry.plan_ties import fitted_points
from sitelog.job.remedies.lengths import Timbers, answered, lengths, longer, shifts, undone
from sitelog.job.remedies.read import LEAST, limit_of, result
from sitelog.job.remedies.remedy import Act, Kind, Remedy
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import Tie

FIRM, LOOSE = 0.1, 1.0  # mm: a side keeps its length, a diagonal is brought to the drawing as far as that lets it
TAPED = "sides"  # the check before it, of the sides
Places = Mapping[str, Point]


def of_plan(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for diagonals that `building` was fitted to; none where the lengths don't agree: tape them again."""
    limit, taped = limit_of(view), _taped(view)
    if limit is None or not taped or not _agree(view, limit):
        return
    roof = _roof(view)
    drawn = roof.plates.points
    built = _fitted(drawn, taped)
    before = lengths(undone(state, library, view, TAPED), view.part)

    def worked(kind: Kind, end: Places) -> Remedy:
        after = lengths(answered(state, library, view, _sizes(roof, view, end)), view.part)
        acts = (_pushed(name, built[name], end[name], built) for name in drawn)
        moved = tuple(act for act in acts if act.by >= LEAST)
        return Remedy(kind, moved, shifts(before, after), _run_out(before, after))

    true = _fitted(built, [*_along(roof.plates.ring, built, FIRM), *_ties(roof, drawn)])
    yield worked("rack", true)
    if _is_off(roof, built, limit):
        yield Remedy("move", tuple(_moved(built, _laid(drawn, built))))
    yield worked("as-built", built)


def _agree(view: CheckView, limit: float) -> bool:
    """Whether the taped lengths can all be true."""
    misclosure = result(view, "misclosure")
    return misclosure is not None and abs(misclosure) <= limit


def _given(view: CheckView, name: str) -> object:
    return next((one.value for one in view.inputs if one.name == name), None)


def _taped(view: CheckView) -> list[Measured]:
    """The taped sides and diagonals."""
    taped = _given(view, "ties")
    return [Measured(tie, LOOSE) for tie in taped if isinstance(tie, Tie)] if isinstance(taped, tuple) else []


def _roof(view: CheckView) -> Roof:
    """The roof as it was said, to the drawing."""
    return roof_of(str(_given(view, "building")))


def _is_off(roof: Roof, built: Places, limit: float) -> bool:
    """Whether a side is itself off by more than the limit: then no rack mends it."""
    return any(abs(_side(built, pair) - _side(roof.plates.points, pair)) > limit for pair in roof.plates.ring)


def _side(at: Places, pair: tuple[str, str]) -> float:
    return math.dist(at[pair[0]], at[pair[1]])


def _fitted(start: Places, lengths: Sequence[Measured]) -> Places:
    return fitted_points(start, lengths).points


def _along(pairs: Sequence[tuple[str, str]], at: Places, sigma: float) -> Iterator[Measured]:
    """Those lengths as they are between these places."""
    return (Measured(Tie(a, b, math.dist(at[a], at[b])), sigma) for a, b in pairs)


def _ties(roof: Roof, at: Places) -> Iterator[Measured]:
    return _along([one.between for one in roof.of("ties")], at, LOOSE)


def _sizes(roof: Roof, view: CheckView, at: Places) -> dict[str, float]:
    """The check's own lengths between these places."""
    keys = {figure.key for figure in view.figures}
    found = {one.id.replace("-", "_"): math.dist(*(at[end] for end in one.between)) for one in roof.of("ties")}
    return {key: size for key, size in found.items() if key in keys}


def _pushed(name: str, begin: Point, end: Point, at: Places) -> Act:
    """A corner pushed, and which way by the first side: along it, or in or out over it."""
    (first, a), (second, b) = list(at.items())[:2]
    ahead = ((b[0] - a[0]) / math.dist(a, b), (b[1] - a[1]) / math.dist(a, b))
    by = (end[0] - begin[0], end[1] - begin[1])
    along, off = by[0] * ahead[0] + by[1] * ahead[1], ahead[0] * by[1] - ahead[1] * by[0]
    if abs(along) >= abs(off):
        way = f"the way from {first} to {second}" if along > 0 else f"the way from {second} to {first}"
    else:
        way = f"away from {first}{second}" if off > 0 else f"in to {first}{second}"
    return Act(name, math.dist(begin, end), way)


def _laid(drawn: Places, built: Places) -> Places:
    """The drawing with its first corner on the built one, and its first side along that."""
    (first, a), (second, _) = list(drawn.items())[:2]
    begin, ahead = built[first], built[second]
    turn = math.atan2(ahead[1] - begin[1], ahead[0] - begin[0])
    turn -= math.atan2(drawn[second][1] - a[1], drawn[second][0] - a[0])
    cos, sin = math.cos(turn), math.sin(turn)
    off = {name: (x - a[0], y - a[1]) for name, (x, y) in drawn.items()}
    return {name: (begin[0] + x * cos - y * sin, begin[1] + x * sin + y * cos) for name, (x, y) in off.items()}


def _moved(built: Places, drawn: Places) -> Iterator[Act]:
    acts = (Act(name, math.dist(built[name], drawn[name])) for name in drawn)
    yield from (act for act in acts if act.by >= LEAST)


def _run_out(before: Timbers, after: Timbers) -> float | None:
    """How far courses run out over the worst slope: what its commons have grown, the most less the least."""
    grown: dict[str, list[float]] = {}
    for timber in before.get("commons", ()):
        grown.setdefault(timber.id, []).extend(longer(timber, after.get("commons", ())))
    return max((max(by) - min(by) for by in grown.values() if by), default=None)

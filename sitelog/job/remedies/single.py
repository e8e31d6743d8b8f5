"""A pitch, a pair or one size that is out: turned, or taken into the cuts as it is."""

import math
from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.remedies.lengths import answered, drawn_as, lengths, shifts, sizes_read, without
from sitelog.job.remedies.read import fact, number, result
from sitelog.job.remedies.remedy import Act, Remedy
from sitelog.job.state.views import CheckView, FigureView, State

NOT_GOOD = ("fail", "unsure")


def of_pitches(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """A first pair at another pitch than drawn: the ridge set to the height, or the roof cut to the pitch it has."""
    angles = [figure for figure in view.figures if figure.unit == "deg"]
    built = {figure.says: number(figure.value) or 0.0 for figure in angles}
    out = _out(angles)
    resolver = FactResolver.of(library, state)
    run, pitch = fact(resolver, view.part, "run"), fact(resolver, view.part, "pitch")
    if not out or run is None or pitch is None:
        return
    yield Remedy("lift", tuple(Act(says, run * (_tan(pitch) - _tan(built[says]))) for says in out), passes=True)
    other = drawn_as(resolver, view.part, "pitch", sum(built.values()) / len(built))
    yield Remedy("as-built", (), shifts(lengths(resolver, view.part), lengths(other, view.part)))


def _out(figures: Sequence[FigureView]) -> list[str]:
    """What the figures that are out, or too near to call, are called."""
    return [figure.says for figure in figures if figure.verdict in NOT_GOOD]


def of_twist(view: CheckView) -> Iterator[Remedy]:
    """Two rafters in wind: the lower head is raised by all of it, or the other foot is packed."""
    wind = result(view, "wind")
    if wind:
        yield Remedy("turn", (Act("right", wind),), passes=True)


def of_sizes(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """Sizes that the cuts are worked from: each moved to the drawing, or the timbers cut to them as they are."""
    out = tuple(Act(figure.says, -by) for figure in view.figures if (by := _off(figure)))
    if not out:
        return
    yield Remedy("move", out)
    if not any(figure.sets for figure in view.check.figures):
        return
    before = lengths(without(state, library, view), view.part)
    moved = shifts(before, lengths(answered(state, library, view, sizes_read(view)), view.part))
    if moved:
        yield Remedy("as-built", (), moved)


def _off(figure: FigureView) -> float:
    """How far a length is from its drawn figure, where that is more than its limit or too near to call."""
    within = figure.kind == "length" and figure.limit is not None and figure.limit.rule == "within"
    if within and figure.verdict in NOT_GOOD:
        return figure.difference or 0.0
    return 0.0


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))

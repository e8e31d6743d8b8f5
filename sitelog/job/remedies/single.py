"""A pitch, a pair or one size that is out: turned, or taken into the cuts as it is."""

import math
from collections.abc import Iterator, Mapping, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.batches import same_length
from sitelog.job.facts.facts import FactResolver
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.lengths import answered, drawn_as, lengths, shifts, sizes_read, without
from sitelog.job.remedies.read import NOT_GOOD, all_off, fact, number, result, set_right
from sitelog.job.remedies.remedy import Act, Kind, Remedy
from sitelog.job.state.views import CheckView, FigureView, State


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
    before, after = lengths(resolver, view.part), lengths(other, view.part)
    yield Remedy("as-built", (), shifts(before, after), changes(before, after, same_length(state)))


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
    out = all_off(view)
    if not out:
        return
    acts = tuple(Act(figure.says, -out[figure.key]) for figure in view.figures if figure.key in out)
    if not any(figure.sets for figure in view.check.figures):
        yield Remedy("move", acts)
        return
    before = lengths(without(state, library, view), view.part)
    read = sizes_read(view)

    def worked(kind: Kind, acts: tuple[Act, ...], sizes: Mapping[str, float]) -> Remedy:
        after = lengths(answered(state, library, (view, sizes)), view.part)
        return Remedy(kind, acts, shifts(before, after), changes(before, after, same_length(state)))

    yield worked("move", acts, set_right(read, out))
    as_built = worked("as-built", (), read)
    if as_built.shifts:
        yield as_built


def _tan(degrees: float) -> float:
    return math.tan(math.radians(degrees))

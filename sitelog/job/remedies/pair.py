"""A first pair at another pitch than drawn: the ridge set to the height, or the timbers cut to the pitch it has."""

import math
from collections.abc import Iterator, Sequence

from sitelog.checklist.schema.model import Library
from sitelog.job.batches import same_length
from sitelog.job.facts.facts import FactResolver
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.lengths import cut_at, drawn_as, lengths, shifts
from sitelog.job.remedies.read import NOT_GOOD, drawn_by, fact
from sitelog.job.remedies.remedy import Act, Remedy
from sitelog.job.state.views import CheckView, FigureView, State

PITCH = "pitch"  # the fact of a part that has one; of a block `main_pitch_1` and `main_pitch_2`, its runs likewise


def of_pitches(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for a pair of rafters, of the whole part or of one block of a cut roof; none for one rafter alone."""
    angles = [figure for figure in view.figures if figure.unit == "deg" and figure.value is not None]
    resolver = FactResolver.of(library, state)
    acts = tuple(act for figure in angles for act in _lifted(resolver, view, figure))
    if len(angles) < 2 or not acts:
        return
    yield Remedy("lift", acts, passes=True)
    before, after = lengths(resolver, view.part), lengths(_cut_to(resolver, view, angles), view.part)
    yield Remedy("as-built", (), shifts(before, after), changes(before, after, same_length(state)))


def _lifted(resolver: FactResolver, view: CheckView, figure: FigureView) -> Iterator[Act]:
    """How far the ridge is to be raised by a rafter whose pitch is out, or too near to call [mm]."""
    run = fact(resolver, view.part, drawn_by(view.check, figure.key).replace(PITCH, "run"))
    if figure.verdict in NOT_GOOD and run is not None:
        yield Act(figure.says, run * (_tan(figure.drawn) - _tan(figure.value)))


def _tan(degrees: object) -> float:
    return math.tan(math.radians(float(str(degrees))))


def _cut_to(resolver: FactResolver, view: CheckView, angles: Sequence[FigureView]) -> FactResolver:
    """The facts with the timbers cut to those pitches: midway between the two, or each slope of a block at its own.

    In a cut roof rafters stay as they are on plan: the block's other slopes and its hips are cut to the same pattern.
    """
    built = {drawn_by(view.check, figure.key): float(str(figure.value)) for figure in angles}
    first, midway = next(iter(built)), sum(float(str(figure.value)) for figure in angles) / len(angles)
    block = first.removesuffix(f"{PITCH}_1")
    if block == first:
        return drawn_as(resolver, view.part, first, midway)
    if resolver.now(view.part, f"{block}two_pitches") == "yes":
        pitches = dict(zip((f"{block}first_pitch", f"{block}other_pitch"), built.values(), strict=True))
        return cut_at(resolver, view.part, pitches)
    return cut_at(resolver, view.part, {f"{block}first_pitch": midway})

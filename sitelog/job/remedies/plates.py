"""Plates or a frame out of square: racked true, set to the drawing, or cut to as they are."""

import math
from collections.abc import Iterator, Mapping

from sitelog.checklist.schema.model import Library
from sitelog.geometry.racking import CORNERS, Place, racked
from sitelog.job.batches import same_length
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.lengths import answered, courses, lengths, shifts, sizes_read, without
from sitelog.job.remedies.read import LEAST, limit_of, result
from sitelog.job.remedies.remedy import Act, Kind, Remedy
from sitelog.job.state.views import CheckView, State

SIDES = ("ab", "bc", "cd", "da")
SIX = (*SIDES, "ac", "bd")
SIDES_OF_AB = ("DA", "BC")  # what a corner is pushed towards, along AB: back, or on


def of_plates(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for six lengths that `squareness` has fitted; none where they can't all be true: tape them again."""
    places = _fitted(view)
    if not places:
        return
    before = lengths(without(state, library, view), view.part)

    def worked(kind: Kind, acts: tuple[Act, ...], sizes: Mapping[str, float]) -> Remedy:
        resolver = answered(state, library, (view, sizes))
        after = lengths(resolver, view.part)
        told = changes(before, after, same_length(state))
        return Remedy(kind, acts, shifts(before, after), told, courses(resolver, view.part))

    true = racked(places)
    if true:
        acts = tuple(_pushed(name, places[name], true[name]) for name in "cd")
        if any(act.by >= LEAST for act in acts):
            yield worked("rack", acts, _sizes(true))
    drawn = _drawn(view)
    if drawn and _is_off(view):
        acts = tuple(act for act in _moved(places, drawn) if act.by >= LEAST)
        yield worked("move", acts, _sizes(drawn))
    yield worked("as-built", (), sizes_read(view))


def _fitted(view: CheckView) -> dict[str, Place]:
    """The corners as fitted [mm]; none where the sum has not been worked."""
    found: dict[str, Place] = {}
    for name in CORNERS:
        x, y = result(view, f"{name}_x"), result(view, f"{name}_y")
        if x is None or y is None:
            return {}
        found[name] = (x, y)
    return found


def _sizes(places: Mapping[str, Place]) -> dict[str, float]:
    """The six lengths between the corners [mm]."""
    return {pair: math.dist(places[pair[0]], places[pair[1]]) for pair in SIX}


def _pushed(name: str, begin: Place, end: Place) -> Act:
    """A corner pushed along AB: to the side of BC, or to that of DA."""
    return Act(name.upper(), math.dist(begin, end), SIDES_OF_AB[end[0] > begin[0]])


def _drawn(view: CheckView) -> dict[str, Place]:
    """The rectangle of the drawing, A at 0,0; none where its sides aren't all known."""
    sizes = {figure.key: figure.drawn for figure in view.figures if isinstance(figure.drawn, float)}
    if not set(SIX) <= sizes.keys():
        return {}
    long, wide = sizes["ab"], sizes["bc"]
    return {"a": (0.0, 0.0), "b": (long, 0.0), "c": (long, wide), "d": (0.0, wide)}


def _is_off(view: CheckView) -> bool:
    """Whether a side is itself off by more than the limit: then equal diagonals are not enough."""
    amount = limit_of(view)
    return amount is not None and any(
        abs(figure.difference or 0) > amount for figure in view.figures if figure.key in SIDES
    )


def _moved(places: Mapping[str, Place], drawn: Mapping[str, Place]) -> Iterator[Act]:
    """How far each corner goes to that of the drawing, with A where it is and AB along the same line."""
    yield from (Act(name.upper(), math.dist(places[name], drawn[name])) for name in CORNERS)

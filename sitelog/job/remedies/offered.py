"""Which ways out there are for a check that is out, each with what it moves, before one is chosen."""

from collections.abc import Callable, Iterator, Mapping

from sitelog.checklist.schema.model import Library
from sitelog.job.remedies.levels import of_levels
from sitelog.job.remedies.line import of_line
from sitelog.job.remedies.pair import of_pitches
from sitelog.job.remedies.plan import is_of_sides, of_plan, of_sides
from sitelog.job.remedies.plates import of_plates
from sitelog.job.remedies.remedy import Remedy
from sitelog.job.remedies.ridge import is_of_ridge, of_ridge
from sitelog.job.remedies.single import of_sizes, of_twist
from sitelog.job.state.views import CheckView, State

_OF_SUMS: Mapping[str, Callable[[State, Library, CheckView], Iterator[Remedy]]] = {
    "squareness": of_plates,
    "building": of_plan,
    "levels": of_levels,
    "string": of_line,
}


def remedies(state: State, library: Library, view: CheckView) -> tuple[Remedy, ...]:
    """The ways, the one that mends it first; none for a check whose figures nothing is worked from."""
    if view.check.calculator == "twist":
        return tuple(of_twist(view))
    if view.check.calculator in _OF_SUMS:
        return tuple(_OF_SUMS[view.check.calculator](state, library, view))
    if any(figure.kind == "pitch" and not figure.sets for figure in view.check.figures):
        return tuple(of_pitches(state, library, view))
    if is_of_ridge(view.check):
        return tuple(of_ridge(state, library, view))
    if is_of_sides(state, view):
        return tuple(of_sides(state, library, view))
    return tuple(of_sizes(state, library, view))

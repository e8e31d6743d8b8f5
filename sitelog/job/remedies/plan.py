"""Plates of any plan whose diagonals are out: racked as near the drawing as the sides let them, moved, or cut to."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Self

from msgspec import Struct

from sitelog.checklist.schema.model import Library
from sitelog.checklist.scoped import BUILDING
from sitelog.geometry.building.named import Named, Roof, roof_of
from sitelog.geometry.least_squares import Measured
from sitelog.geometry.plan_ties import fitted_points
from sitelog.job.batches import same_length
from sitelog.job.facts.facts import FactResolver
from sitelog.job.remedies.changes import changes
from sitelog.job.remedies.corners import Places, laid, moved, pushed
from sitelog.job.remedies.lengths import Timbers, answered, lengths, longer, shifts, sizes_read, undone
from sitelog.job.remedies.read import LEAST, all_off, limit_of, result, set_right
from sitelog.job.remedies.remedy import Act, Kind, Remedy
from sitelog.job.state.views import CheckView, State
from sitelog.quantities.quantity import Tie
from sitelog.refusal import Refusal

FIRM, LOOSE = 0.1, 1.0  # mm: a side keeps its length, a diagonal is brought to the drawing as far as that lets it
SIDES, TIES = "sides", "ties"  # the two checks of the plates


def is_of_sides(state: State, view: CheckView) -> bool:
    """Whether it is the check of the sides of any plan, its diagonals in a check of their own."""
    ties = _beside(state, view, TIES)
    return view.check.id == SIDES and ties is not None and ties.check.calculator == "building"


def of_plan(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for diagonals that `building` was fitted to; none where the lengths don't agree: tape them again."""
    limit, taped, sides = limit_of(view), _taped(view), _beside(state, view, SIDES)
    if limit is None or not taped or not sides or not _agree(view, limit):
        return
    roof = roof_of(str(_given(view, "building")))
    plates = _Plates.of(state, library, sides, view, roof)
    drawn = roof.plates.points
    built = _fitted(drawn, taped)
    true = _fitted(built, [*_along(roof.plates.ring, built, FIRM), *_ties(roof, drawn, LOOSE)])
    acts = (pushed(name, built[name], true[name], built) for name in drawn)
    yield plates.way("rack", tuple(act for act in acts if act.by >= LEAST), true)
    if _is_off(roof, built, limit):
        yield plates.way("move", tuple(moved(built, laid(drawn, built))), drawn)
    yield plates.way("as-built", (), built)


def of_sides(state: State, library: Library, view: CheckView) -> Iterator[Remedy]:
    """The ways for sides that are out: each to the drawing, or cut to.

    Diagonals are as taped; where a side is moved, or none is taped yet, as near the drawing as the sides let them.
    """
    ties, out, read = _beside(state, view, TIES), all_off(view), sizes_read(view)
    if not out or not ties or len(read) < len(view.figures):
        return
    roof = roof_of(str(FactResolver.of(library, state).now(view.part, BUILDING)))
    plates = _Plates.of(state, library, view, ties, roof)
    acts = tuple(Act(figure.says, -out[figure.key]) for figure in view.figures if figure.key in out)
    try:
        true = plates.fitted(set_right(read, out), {})
        built = plates.fitted(read, sizes_read(ties))
    except Refusal:  # sides that close round no plan: tape them again
        return
    yield plates.way("move", acts, true)
    yield plates.way("as-built", (), built)


class _Plates(Struct, frozen=True):
    """Plates of any plan: the checks of their sides and of their diagonals, and the roof over them to the drawing."""

    state: State
    library: Library
    sides: CheckView
    ties: CheckView
    roof: Roof
    before: Timbers

    @classmethod
    def of(cls, state: State, library: Library, sides: CheckView, ties: CheckView, roof: Roof) -> Self:
        """With its timbers to the drawing."""
        return cls(state, library, sides, ties, roof, lengths(undone(state, library, sides, ties), sides.part))

    def way(self, kind: Kind, acts: tuple[Act, ...], at: Places) -> Remedy:
        """What corners at those places move in the timbers, from the drawing."""
        entered = [(view, _sizes(self.roof, view, at)) for view in (self.sides, self.ties)]
        after = lengths(answered(self.state, self.library, *entered), self.sides.part)
        told = changes(self.before, after, same_length(self.state))
        return Remedy(kind, acts, shifts(self.before, after), told, _run_out(self.before, after))

    def fitted(self, sides: Mapping[str, float], ties: Mapping[str, float]) -> Places:
        """The corners with sides of those lengths [mm], by their figures' keys, and those diagonals if there are any.

        Refusal for lengths that make no shape.
        """
        drawn = self.roof.plates.points
        firm = [Measured(Tie(*one.between, sides[_key(one)]), FIRM) for one in self.roof.of("sides")]
        across = [one for one in self.roof.of("ties") if _key(one) in ties]
        taped = [Measured(Tie(*one.between, ties[_key(one)]), LOOSE) for one in across]
        return _fitted(drawn, [*firm, *(taped or _ties(self.roof, drawn, LOOSE))])


def _beside(state: State, view: CheckView, id: str) -> CheckView | None:
    """The check of that id in its stage."""
    return state.check(f"{view.path.rpartition('.')[0]}.{id}")


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


def _ties(roof: Roof, at: Places, sigma: float) -> Iterator[Measured]:
    return _along([one.between for one in roof.of("ties")], at, sigma)


def _key(one: Named) -> str:
    """The key of the figure that a side or a tie is taped in."""
    return one.id.replace("-", "_")


def _sizes(roof: Roof, view: CheckView, at: Places) -> dict[str, float]:
    """The check's own lengths between these places."""
    keys = {figure.key for figure in view.figures}
    every = (*roof.of("sides"), *roof.of("ties"))
    return {_key(one): math.dist(*(at[end] for end in one.between)) for one in every if _key(one) in keys}


def _run_out(before: Timbers, after: Timbers) -> float | None:
    """How far courses run out over the worst slope: what its commons have grown, the most less the least."""
    grown: dict[str, list[float]] = {}
    for timber in before.get("commons", ()):
        grown.setdefault(timber.id, []).extend(longer(timber, after.get("commons", ())))
    return max((max(by) - min(by) for by in grown.values() if by), default=None)

"""The points of a pack: which there are for a trade, under which numbers, and whether one has changed since."""

import hashlib
from typing import Any

import msgspec

from sitelog.job.facts.given import decided
from sitelog.job.facts.schema import JOB
from sitelog.job.log.parts import items
from sitelog.job.log.values import to_plain
from sitelog.job.state.record_views import Point
from sitelog.job.state.views import CheckView, State

Marked = tuple[tuple[str, str], ...]  # path and mark of each point, in the order of their numbers
MARK_LENGTH = 8  # hex digits


def takes(view: CheckView, to: str) -> bool:
    """Whether this trade takes the check over. What the job's own stages hand over goes to every trade."""
    return to in view.trades or (view.part == JOB and bool(view.trades))


def numbered(state: State, to: str) -> tuple[CheckView, ...]:
    """The points for a trade in the order of their numbers, which begin at 1: the job's own, then part by part."""
    found = [view for view in state.checks() if takes(view, to)]
    order = {part.id: place for place, part in enumerate(state.parts)}  # the job's own part is first
    return tuple(sorted(found, key=lambda view: order[view.part]))


def mark(view: CheckView) -> str:
    """A short print of what a check was found to be: another answer, verdict or question gives another.

    A snag on it changes nothing, nor does who answered it: only what the next trade has in its hands.
    """
    last = decided(view.history)
    told = [
        view.check.ask_in_full,
        last.act if last else "",
        bool(view.stale_because),
        view.verdict or "",
        _rounded(view.value),
        [[figure.key, _rounded(figure.value)] for figure in view.figures],
    ]
    return hashlib.sha256(msgspec.json.encode(told)).hexdigest()[:MARK_LENGTH]


def marked(state: State, to: str) -> Marked:
    """The points for a trade as they stand."""
    return tuple((view.path, mark(view)) for view in numbered(state, to))


def print_of(points: Marked) -> str:
    """A short print of all the points of a pack, numbers and all: a reply carries it."""
    return hashlib.sha256(msgspec.json.encode(points)).hexdigest()[:MARK_LENGTH]


def kept_points(value: object) -> Marked:
    """The points that a handover keeps; none where it is an older one, or not as it should be."""
    rows = [items(row) for row in items(value)]
    if not all(len(row) == 2 and all(isinstance(word, str) for word in row) for row in rows):
        return ()
    return tuple((str(path), str(print_)) for path, print_ in rows)


def changed_since(state: State, point: Point) -> bool:
    """Whether a point is other now than it was in the pack that was answered; an older answer does not say."""
    return _is_another(state.check(point.point), point)


def standing(state: State) -> dict[str, Point]:
    """By its path, what the next trade said last of each point that is still as it was then."""
    views = {view.path: view for view in state.checks()}
    return {point.point: point for point in state.points if not _is_another(views.get(point.point), point)}


def _is_another(view: CheckView | None, point: Point) -> bool:
    return bool(point.mark) and (view is None or mark(view) != point.mark)


def _rounded(value: Any) -> object:
    """A value as JSON has it, so that no last digit of a sum makes another."""
    plain = to_plain(value)
    if isinstance(plain, float):
        return round(plain, 3)
    if isinstance(plain, list | tuple):
        return [_rounded(item) for item in plain]
    return plain

"""What may be typed for one figure of a check: as drawn, else what its limit passes, else what it usually is."""

from collections.abc import Iterator
from typing import Any

from sitelog.calculators.catalogue import LIMITS, Value
from sitelog.checklist.schema.model import Figure, Library, Limit
from sitelog.job.actions.made_up import names_of, often
from sitelog.job.actions.preview import preview
from sitelog.job.state.verdicts import against, numbers, uncertainty_of
from sitelog.job.state.views import CheckView, FigureView, State
from sitelog.quantities.quantity import Kind, example, read
from sitelog.quantities.rounding import as_typed
from sitelog.quantities.slips import question, usual
from sitelog.refusal import Refusal
from sitelog.text import text_if

TIMES = (1.0, 0.8, 1.25, 0.5, 2.0)  # of a limit's amount: what is tried, the amount itself first
MORE = (-5.0, 5.0)  # than it: where the amount is nought
FEW = 4  # readings where nothing says how many


def examples_of(state: State, library: Library | None, view: CheckView) -> dict[str, str]:
    """One for each figure of a check, by key: the first that the check reads, doesn't ask about and doesn't find out.

    Where none is known to be so, one of its kind. Without `library` no figure is held to another of the same check.
    """
    found: dict[str, str] = {}
    given: dict[str, str] = {}
    for figure in view.check.figures:
        stands = view
        if library and _rests_on_another(figure):
            stands, _ = preview(state, library, view, given)
        seen = next((one for one in stands.figures if one.key == figure.key), None)
        found[figure.key] = _example(view, figure, seen)
        if not figure.optional:
            given[figure.key] = found[figure.key]
    return found


def _rests_on_another(figure: Figure) -> bool:
    operands = (figure.drawn, figure.limit.of if figure.limit else None)
    return any(term.kind == "figure" for operand in operands if operand for term in operand.terms)


def _example(view: CheckView, figure: Figure, seen: FigureView | None) -> str:
    tried = filter(None, _tried(view, figure, seen))
    return next((text for text in tried if _is_good(text, view, figure, seen)), example(figure.kind))


def _tried(view: CheckView, figure: Figure, seen: FigureView | None) -> Iterator[str]:
    if seen is not None:
        yield _typed(figure.kind, seen.drawn)
    yield _even(view, figure.kind)
    if seen is not None and seen.limit is not None:
        yield from (_typed(figure.kind, size) for size in _near(seen.limit))
    yield from often(figure.kind, names_of(view, figure))


def _even(view: CheckView, kind: Kind) -> str:
    """Readings of what is as it should be, where the figures of the check say; else ""."""
    if kind in ("offset", "offsets"):
        return _level(view, kind)
    if kind == "lengths" and view.check.calculator == "ordinates":
        return _typed("lengths", _heights(view))
    return ""


def _near(limit: Limit) -> Iterator[float]:
    """Sizes at what a figure may be at most, or must be at least, and near it."""
    if limit.amount is not None and limit.rule != "within":
        yield from (limit.amount * times for times in TIMES)
        yield from (limit.amount + more for more in MORE)


def _heights(view: CheckView) -> tuple[float, ...] | None:
    """What a curve of these figures would read, where all of them are known."""
    from sitelog.calculators.curves.ordinates import OrdinatesInputs, should_read

    inputs: dict[str, Any] = {given.name: given.value for given in view.inputs} | {"readings": ()}
    try:
        return tuple(should_read(OrdinatesInputs(**inputs)))
    except (Refusal, TypeError):
        return None


def _level(view: CheckView, kind: Kind) -> str:
    """Nothing out: one reading for each point, where the check says which."""
    if kind == "offset":
        return "0"
    points = next((given.value for given in view.inputs if given.name == "points"), None)
    many = len(points.split(",")) if isinstance(points, str) and points else FEW
    return ",".join("0" * many)


def _typed(kind: Kind, value: Value) -> str:
    """A value as it may be typed, "" where there is none: a tenth of a mm, a hundredth of a degree."""
    if value is None:
        return ""
    if isinstance(value, tuple):
        return ",".join(_typed("offset" if kind == "offsets" else "length", item) for item in numbers(value))
    if not isinstance(value, (int, float)):
        return str(value)
    if kind == "fall":
        return text_if(value > 0, f"1:{as_typed(round(1 / value, 1))}") if value else ""
    if kind == "count":
        return str(round(value))
    return as_typed(round(value, 1 if kind in ("length", "offset") else 2))


def _is_good(text: str, view: CheckView, figure: Figure, seen: FigureView | None) -> bool:
    try:
        value = read(figure.kind, text)
        question(figure.kind, text, usual(figure.kind, *names_of(view, figure)))
    except Refusal:
        return False
    low, high = LIMITS.get(figure.kind, (float("-inf"), float("inf")))
    if not all(low <= size <= high for size in numbers(value)):
        return False
    return seen is None or seen.limit is None or _is_passed(value, figure, seen, seen.limit)


def _is_passed(value: Value, figure: Figure, seen: FigureView, limit: Limit) -> bool:
    """As figures.py judges a figure once it is read; what can't be judged yet is passed."""
    if limit.amount is None:
        return True
    uncertainty = None if figure.exact else uncertainty_of(figure.kind, value, figure.read_with, None)
    return against(limit, value, seen.drawn, uncertainty or 0.0) in ("pass", None)

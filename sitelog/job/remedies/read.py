"""What the ways out read of a check and of the facts: numbers, and the rows of its sum."""

from collections.abc import Mapping

from sitelog.calculators.catalogue import Row
from sitelog.checklist.schema.model import Check
from sitelog.job.facts.facts import FactResolver
from sitelog.job.members import Line
from sitelog.job.state.views import CheckView, FigureView

NOT_GOOD = ("fail", "unsure")
LEAST = 0.5  # mm: what is off by less is neither packed nor pushed


def number(value: object) -> float | None:
    """It, where it is a number."""
    if isinstance(value, (int, float)):
        return float(value)
    return None


def fact(resolver: FactResolver, part: str, name: str) -> float | None:
    """The figure of a fact as it is now, where it is a number."""
    return number(resolver.now(part, name))


def result(view: CheckView, name: str) -> float | None:
    """One result of the check's sum; None where it has not been worked."""
    if not view.answer:
        return None
    return number(view.answer.results.get(name))


def rows(view: CheckView, name: str) -> list[Row]:
    """The rows of a result of the check's sum; none where it has not been worked."""
    found = view.answer and view.answer.results.get(name)
    if isinstance(found, list):
        return found
    return []


def cell(line: Line, name: str) -> float | None:
    """A figure of the row of the cutting list that a line is."""
    return number((line.row or {}).get(name))


def drawn_by(check: Check, key: str) -> str:
    """The fact that a figure of a check is held to; "" where it isn't one."""
    figure = check.figure(key)
    if figure and figure.drawn and len(figure.drawn.terms) == 1:
        return figure.drawn.terms[0].name
    return ""


def limit_of(view: CheckView) -> float | None:
    """What the check as a whole is held to."""
    if view.limit is None:
        return None
    return view.limit.amount


def all_off(view: CheckView) -> dict[str, float]:
    """The figures of a check that are off their drawn ones, by their keys, each with how far [mm]."""
    return {figure.key: by for figure in view.figures if (by := _off(figure))}


def set_right(read: Mapping[str, float], out: Mapping[str, float]) -> dict[str, float]:
    """The sizes as they were read, those that are off taken back to the drawing [mm]."""
    return {key: size - out.get(key, 0.0) for key, size in read.items()}


def _off(figure: FigureView) -> float:
    """How far a length or a height is from its drawn figure, where that is over its limit or too near to call."""
    within = figure.drawn is not None and figure.limit is not None and figure.limit.rule == "within"
    if within and figure.kind in ("length", "offset") and figure.verdict in NOT_GOOD:
        return figure.difference or 0.0
    return 0.0

"""One figure of a check as it was read: how far from what was meant, and whether that can be called."""

from collections.abc import Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from sitelog.calculators.catalogue import Value, Verdict
from sitelog.checklist.schema.instruments import ReadWith
from sitelog.checklist.schema.model import Figure, Limit
from sitelog.job.facts.given import named
from sitelog.job.log.values import same
from sitelog.job.state.meant import MeantFigures
from sitelog.job.state.verdicts import against, uncertainty_of, worst
from sitelog.job.state.views import FigureView


class FigureReader(Struct, frozen=True):
    """Holds what was read to what was meant. `values` is what was answered, plain, by key.

    `grade` is the class of the tape it was read with, "" for another instrument, None where none was named.
    """

    meant: MeantFigures
    values: Mapping[str, Any]
    grade: str | None

    def view(self, figure: Figure, drawn: Value, own: Limit | None) -> FigureView:
        """The figure against `drawn`; `own` is the limit of its check. No verdict before it is read."""
        value = self.meant.read[figure.key]
        limit = self.meant.limit_on(figure, own)
        view = FigureView(
            key=figure.key,
            says=figure.says or self.meant.check.ask,
            kind=figure.kind,
            unit=figure.unit,
            drawn=drawn,
            value=value,
            whence=self.meant.whence(figure),
            drawn_typed=self.meant.typed(figure),
            limit=limit,
            read_with=figure.read_with,
        )
        if value is None:
            return view
        target = 0.0 if figure.drawn is None and _is_within(limit) else drawn
        uncertainty = None
        if not figure.exact:
            uncertainty = uncertainty_of(figure.kind, value, self._read_with(figure), self.grade)
        return replace(
            view,
            difference=_difference(figure, value, target),
            uncertainty=uncertainty,
            verdict=self._verdict(figure, view, target, uncertainty or 0.0),
        )

    def _read_with(self, figure: Figure) -> ReadWith:
        """What it is read with; a tape where one was named at a check of which the list has nothing taped."""
        taped = any(other.read_with in ("", "tape") for other in self.meant.check.figures)
        if self.grade and not taped:
            return "tape"
        return figure.read_with

    def _verdict(self, figure: Figure, view: FigureView, target: Value, uncertainty: float) -> Verdict | None:
        limit = view.limit
        if _is_within(limit) and target is None:
            return "unsure"
        if limit and limit.unless and named(self.values.get(limit.unless)):
            return "pass"
        verdict = against(limit, view.value, target, uncertainty) if limit else None
        if self.typed_over(figure, view):
            return worst([verdict, "unsure"])
        return verdict

    def typed_over(self, figure: Figure, view: FigureView) -> bool:
        """Whether another figure than the printed one is told, or one from memory, and nobody is named who says so."""
        if not figure.agreed_by or view.drawn is None:
            return False
        facts = self.meant.facts(figure.drawn) if figure.drawn else []
        if same(view.value, view.drawn) and not any(fact.unagreed for fact in facts):
            return False
        return not named(self.values.get(figure.agreed_by))


def _is_within(limit: Limit | None) -> bool:
    return limit is not None and limit.rule == "within"


def _difference(figure: Figure, value: Value, target: Value) -> float | None:
    """In the figure's unit. Falls don't add up: 1:40 and 1:80 are no third fall apart."""
    if figure.kind == "fall" or not isinstance(value, (int, float)) or not isinstance(target, (int, float)):
        return None
    return value - target

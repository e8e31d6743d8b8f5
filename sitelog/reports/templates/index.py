"""Which calculators have templates, and where they are made: the one list."""

from importlib import import_module

from sitelog.calculators.catalogue import Answer
from sitelog.drawing.pen import DrawnAnswer
from sitelog.quantities.quantity import Units
from sitelog.reports.templates.model import Template

# Each calculator and its module in `subjects`. The function has the calculator's name, is given the answer as
# `DrawnAnswer` and gives its templates.
WHERE: dict[str, str] = {
    "rib": "curves",
    "formers": "formers",
    "barrel": "curves",
    "eyebrow": "curves",
    "birdsmouth": "rafters",
    "hip": "rafters",
    "sticks": "rafters",
    "scarf": "scarfs",
}


def has_templates(calculator: str) -> bool:
    """Whether the answers of that calculator have templates."""
    return calculator in WHERE


def templates_of(answer: Answer, units: Units = "metric") -> tuple[Template, ...]:
    """The templates of an answer, none where its calculator has none. Words follow `units`; points are in mm."""
    if answer.calculator not in WHERE:
        return ()
    module = import_module(f"sitelog.reports.templates.subjects.{WHERE[answer.calculator]}")
    return tuple(getattr(module, answer.calculator)(DrawnAnswer(answer, units)))

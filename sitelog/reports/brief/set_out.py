"""What a slope is set out by: the facts and answers of its roof, and gauge, courses and units from its lengths."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.facts import FactResolver
from sitelog.job.state.views import CheckView, PartView
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter

POINT = "a point"


@dataclass(frozen=True)
class Slope:
    """One slope in words, "" for what is not known yet. Lengths as the record tells them, off the drawing or as built.

    `area` in m2, and what follows from the lengths after it.
    """

    side: str
    eaves: str
    top: str
    up: str
    area: str
    pitch: str
    gauge: str = ""
    courses: str = ""
    first_batten: str = ""
    units: str = ""


@dataclass(frozen=True)
class Roof:
    """What the slopes of one part are read from."""

    tell: Formatter
    part: PartView
    answers: dict[str, Answer]  # of the part's sums, by calculator

    def fact(self, name: str) -> Fact | None:
        return self.tell.state.facts.get(f"{self.part.id}.{name}")

    def length(self, name: str) -> float | None:
        """A length of the roof as it stands [mm]; None while it is not known, or rests on what is out of date."""
        fact = self.fact(name)
        if fact is None or self.tell.stale_fact(fact) or not isinstance(fact.now, (int, float)):
            return None
        return float(fact.now)

    def told(self, name: str) -> str:
        """The same as the record tells it: as built, or drawn, or out of date; "" while it is not known."""
        fact = self.fact(name)
        if fact is None or fact.now is None:
            return ""
        return self.tell.fact(self.part.id, name)


def answers_of(tell: Formatter, part: PartView) -> dict[str, Answer]:
    """The part's sums by calculator, each as it was first worked."""
    answers: dict[str, Answer] = {}
    for worked, answer, _ in FactResolver.of(tell.library, tell.state).answers(part.id):
        if answer is not None:
            answers.setdefault(worked.calculator, answer)
    return answers


def views_of(roof: Roof, stage: str) -> Iterator[CheckView]:
    """The checks of one of its stages."""
    return (view for view in roof.tell.state.checks() if view.path.startswith(f"{roof.part.id}.{stage}."))


def set_out(roof: Roof, up: float | None, wide: float | None) -> dict[str, str]:
    """Gauge, courses, first batten and units of a slope, by the sums that the list has for slope AB."""
    gauge = next((view for view in views_of(roof, "tiler") if view.check.calculator == "gauge"), None)
    if gauge is None or gauge.answer is None or up is None or roof.tell.stale_under(gauge):
        return {}
    try:
        answer = index.find("gauge")(**{**gauge.answer.inputs, "slope": up})
    except Refusal:
        return {}
    marks = answer.results.get("marks")
    first = marks[0]["mark_at"] if isinstance(marks, list) and marks else None
    own = answer.results["gauge"]
    told = {
        "gauge": _length(roof, own),
        "courses": str(answer.results["courses"]),
        "first_batten": _length(roof, first),
    }
    return {**told, "units": _units(roof, own, up, wide)}


def _length(roof: Roof, value: object) -> str:
    """A length [mm] as it is told; nothing for what is no figure."""
    if not isinstance(value, (int, float)):
        return ""
    return roof.tell.figure("mm", value)


def _units(roof: Roof, gauge: object, up: float, wide: float | None) -> str:
    cover = next((view for view in views_of(roof, "tiler") if view.check.calculator == "cover"), None)
    if cover is None or cover.answer is None or wide is None or roof.tell.stale_under(cover):
        return ""
    if not isinstance(gauge, (int, float)):
        return ""
    of_all = "area" in cover.answer.inputs
    sizes = {"area": up * wide / 1e6} if of_all else {"slope": up, "length": wide}
    try:
        answer = index.find("cover")(**{**cover.answer.inputs, **sizes, "gauge": gauge})
    except Refusal:
        return ""
    return str(answer.results.get("units", ""))

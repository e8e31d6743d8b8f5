"""The slopes of a part as the next trade sets them out: lengths, area, pitch, and the gauge that each one takes."""

from collections.abc import Iterator
from dataclasses import dataclass

from sitelog.calculators import index
from sitelog.calculators.catalogue import Answer
from sitelog.geometry.roof_lines import SIDES
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.facts import FactResolver
from sitelog.job.state.views import CheckView, PartView
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.formatting import Formatter
from sitelog.reports.phrases import joined

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
class _Roof:
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


def slopes(tell: Formatter, part: PartView) -> tuple[Slope, ...]:
    """Every slope of the part, by its plate; none for a part without slopes."""
    answers: dict[str, Answer] = {}
    for worked, answer, _ in FactResolver.of(tell.library, tell.state).answers(part.id):
        if answer is not None:
            answers.setdefault(worked.calculator, answer)
    roof = _Roof(tell, part, answers)
    return tuple(_slope(roof, side) for side in SIDES if roof.fact(f"slope_{side}"))


def _slope(roof: _Roof, side: str) -> Slope:
    at_top = _top_fact(roof, side)
    top = 0.0 if at_top == POINT else roof.length(at_top)
    eaves, up = roof.length(f"eaves_{side}"), roof.length(f"slope_{side}")
    wide = None if top is None or eaves is None else (eaves + top) / 2
    return Slope(
        side=side,
        eaves=roof.told(f"eaves_{side}"),
        top=POINT if at_top == POINT else roof.told(at_top),
        up=joined([roof.told(f"slope_{side}"), _spread(roof, side)], " "),
        area="" if wide is None or up is None else places(wide * up / 1e6, 1),
        pitch=_pitch(roof, side),
        **_set_out(roof, up, wide),
    )


def _top_fact(roof: _Roof, side: str) -> str:
    """The fact that says how long the slope is at its top, at a ridge or a table; POINT where it comes to one."""
    for name in (f"ridge_{side}", f"flat_{side}"):
        if roof.fact(name):
            return name
    along = None
    if "roof" in roof.answers:
        along = roof.answers["roof"].results.get("ridge_along")
    if along is None:
        return ""
    if side.upper() in str(along).split():
        return "ridge"
    return POINT


def _views(roof: _Roof, stage: str) -> Iterator[CheckView]:
    return (view for view in roof.tell.state.checks() if view.path.startswith(f"{roof.part.id}.{stage}."))


def _read(roof: _Roof, check: str, side: str) -> list[float]:
    """What was read of the slope in a check of the handover to the tiler, at one end or at both."""
    path = f"{roof.part.id}.tiler.{check}"
    if path in roof.tell.stale_paths:
        return []
    return [
        float(figure.value)
        for view in _views(roof, "tiler")
        if view.path == path
        for figure in view.figures
        if figure.key.partition("_")[0] == side and isinstance(figure.value, (int, float))
    ]


def _spread(roof: _Roof, side: str) -> str:
    """Least and most up the slope where it was read at two ends and they differ."""
    read = _read(roof, "slopes", side)
    if not read or max(read) - min(read) < 0.5:
        return ""
    return f"({roof.tell.figure('mm', min(read))} to {roof.tell.figure('mm', max(read))})"


def _pitch(roof: _Roof, side: str) -> str:
    read = _read(roof, "pitches", side)
    if read:
        return joined(dict.fromkeys(roof.tell.figure("deg", value, typed=True) for value in read), " to ")
    return roof.told("pitch")


def _set_out(roof: _Roof, up: float | None, wide: float | None) -> dict[str, str]:
    """Gauge, courses, first batten and units of a slope, by the sums that the list has for slope AB."""
    gauge = next((view for view in _views(roof, "tiler") if view.check.calculator == "gauge"), None)
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


def _length(roof: _Roof, value: object) -> str:
    """A length [mm] as it is told; nothing for what is no figure."""
    if not isinstance(value, (int, float)):
        return ""
    return roof.tell.figure("mm", value)


def _units(roof: _Roof, gauge: object, up: float, wide: float | None) -> str:
    cover = next((view for view in _views(roof, "tiler") if view.check.calculator == "cover"), None)
    if cover is None or cover.answer is None or wide is None or roof.tell.stale_under(cover):
        return ""
    if not isinstance(gauge, (int, float)):
        return ""
    try:
        answer = index.find("cover")(**{**cover.answer.inputs, "gauge": gauge, "slope": up, "length": wide})
    except Refusal:
        return ""
    return str(answer.results.get("units", ""))

"""Whether a figure has moved by more than timber is cut to: less than that puts no answer out of date."""

from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from sitelog.calculators import index
from sitelog.checklist.schema.kinds import unit_of_kind
from sitelog.checklist.schema.model import Check
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.sums import unit_of
from sitelog.job.log.parts import mapping
from sitelog.job.log.values import same

SAME_LENGTH = "same_length"  # the fact of the job that says how near lengths are cut as one
CUTTING = 2.0  # mm, unless the firm says otherwise: the lengths that are cut as one
ANGLE = 0.1  # degrees: as near as a saw is set
SHARE = 0.01  # of an area, a weight or a rate: house, they follow lengths that have not moved by more than the saw's
ROUNDING = 1e-6


def moved(then: Any, now: Any, unit: str, cutting: float = CUTTING) -> bool:
    """Whether a plain value is another by more than its unit allows; a word or a count when it is another at all.

    `cutting` is in mm. A list or a mapping has moved when one of its items has, or there are more or fewer.
    """
    if _is_number(then) and _is_number(now):
        return bool(abs(now - then) > _allowed(then, unit, cutting) + ROUNDING)
    if isinstance(then, Mapping) and isinstance(now, Mapping):
        return then.keys() != now.keys() or any(moved(then[key], now[key], unit, cutting) for key in then)
    if _is_list(then) and _is_list(now):
        return len(then) != len(now) or any(
            moved(one, other, unit, cutting) for one, other in zip(then, now, strict=True)
        )
    alike: bool = same(then, now)
    return not alike


class EvidenceUnits(Struct, frozen=True):
    """What the evidence of one check is measured in, by the key it is kept under and its name."""

    resolver: FactResolver
    part: str
    check: Check

    def moved(self, key: str, name: str, then: Any, now: Mapping[str, Any]) -> bool:
        """Whether what was kept under that key has moved by more than timber is cut to.

        An input hasn't where its results were kept and tell all: they have no rows. A figure that decides whether
        the check is asked hasn't either: it is asked still.
        """
        other = mapping(now.get(key)).get(name)
        if key == "@when":
            return not (_is_number(then) and _is_number(other)) and moved(then, other, "")
        if key == "@inputs" and now.get("@results") and not self._has_rows:
            return False
        return moved(then, other, self.unit(key, name), self._cutting)

    def results_moved(self, kept: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
        """Whether a result of the sum that was accepted has moved by more than timber is cut to."""
        return any(self.moved("@results", name, then, now) for name, then in mapping(kept.get("@results")).items())

    @property
    def _has_rows(self) -> bool:
        return any(output.columns for output in index.find(self.check.calculator).results)

    @property
    def _cutting(self) -> float:
        own = self.resolver.now(JOB, SAME_LENGTH)
        return float(own) if isinstance(own, (int, float)) else CUTTING

    def unit(self, key: str, name: str) -> str:
        """ "mm", "deg", another, or "" for a count or a word."""
        figures = {figure.key: figure.unit for figure in self.check.figures}
        if key in ("@drawn", "@limits") and figures:
            return figures.get(name, next(iter(figures.values())))  # "@" is the limit of the whole check
        return self._of_sum(key, name)

    def _of_sum(self, key: str, name: str) -> str:
        if not self.check.calculator:
            return ""  # the lists have changed since
        calculator = index.find(self.check.calculator)
        if key == "@inputs":
            return next((unit_of_kind(one.kind) for one in calculator.inputs if one.name == name), "")
        return unit_of(calculator, next(iter(self.check.shows), name) if key == "@limits" else name)[0]


def verdict_moved(kept: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether what was good is no longer, or the other way; an older answer that kept no verdict was good."""
    then = mapping(kept.get("@verdict")).get("word", "pass")
    return bool(then != mapping(now.get("@verdict")).get("word", then))


def _allowed(then: float, unit: str, cutting: float) -> float:
    if unit == "mm":
        return cutting
    if unit == "deg":
        return ANGLE
    return abs(then) * SHARE if unit else 0.0


def _is_number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _is_list(value: Any) -> bool:
    return isinstance(value, Sequence) and not isinstance(value, str)

"""How a case is worked by hand, as on an offcut with a tape and a scientific calculator, and held to the calculator.

Every line of the working is `what: sum = figure`, the figure rounded as written and carried on so: the sum on each
line is proved to its last digit. Where `-> result +- limit` follows, the calculator's answer to the inputs as typed
must be within the limit of the figure worked by hand; the limit is what the rounding on the way may add up to.
"""

import re
import shlex
from dataclasses import dataclass

import pytest

from sitelog.calculators.ask import ask
from sitelog.calculators.catalogue import Answer
from tests.calculators.formulas import value_of

LINE = re.compile(r"(?P<what>[^:=]+): (?P<sum>.+) = (?P<figure>-?[\d.]+)(?: -> (?P<path>\S+) \+- (?P<limit>[\d.]+))?")


@dataclass(frozen=True)
class Case:
    """A job in words, what is typed for it, and its working by hand."""

    job: str
    typed: str
    worked: str
    verdict: str | None = None

    @property
    def calculator(self) -> str:
        return shlex.split(self.typed)[0]

    @property
    def lines(self) -> list[re.Match[str]]:
        found = [LINE.fullmatch(line.strip()) for line in self.worked.strip().splitlines()]
        assert all(found), self.job
        return [line for line in found if line]

    def answer(self) -> Answer:
        name, *pairs = shlex.split(self.typed)
        return ask(name, dict(pair.split("=", 1) for pair in pairs))


def prove_lines(case: Case) -> None:
    """Every line worked by hand is right to its last digit."""
    for line in case.lines:
        _, _, decimals = line["figure"].partition(".")
        half = 0.5 * 10 ** -len(decimals)
        assert value_of(line["sum"], {}) == pytest.approx(float(line["figure"]), abs=half * 1.0001, rel=0), line[0]


def prove_answer(case: Case) -> None:
    """The calculator comes to what was worked by hand, three figures of it at least."""
    answer = case.answer()
    told = [line for line in case.lines if line["path"]]
    assert len(told) >= 3
    for line in told:
        by_hand, limit = float(line["figure"]), float(line["limit"])
        assert figure_at(answer, line["path"]) == pytest.approx(by_hand, abs=limit, rel=0), line[0]
    assert answer.verdict == case.verdict


def figure_at(answer: Answer, path: str) -> float:
    """The figure at a path such as `hips.a.length`, where rows are picked by their first column."""
    name, *rest = path.split(".", 1)
    found = answer.results[name]
    if isinstance(found, list):
        key, _, column = rest[0].rpartition(".")
        [found] = [row for row in found if str(next(iter(row.values()))) == key]
        found = found[column]
    elif isinstance(found, dict):
        found = found[rest[0]]
    assert isinstance(found, (int, float)), path
    return float(found)

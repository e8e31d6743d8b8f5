"""Jacks of a cut roof stand in pairs at each hip and valley, and a plain hipped roof has the timbers of `hipped`."""

from collections.abc import Sequence

import pytest

from sitelog.calculators.surface.building import building
from sitelog.job.members import members
from sitelog.quantities.quantity import Section, Tie
from tests.forms.test_cut_roof import site
from tests.reports.site import Site
from tests.shipped import library

PLAIN = "main 9000x6000 35"
WING = "main 9000x6000 40; wing off CD 2000 from D 4000x3000 40 end gable"
OUT = (
    Tie("A", "B", 9004.0),
    Tie("B", "C", 6003.0),
    Tie("C", "D", 8998.0),
    Tie("D", "A", 5997.0),
    Tie("A", "C", 10822.0),
)


def jacks(text: str, slope: str, hand: str, kind: str = "hip jack", ties: Sequence[Tie] | None = None) -> list[float]:
    """Lengths [mm] of the jacks of one hand on a slope, from long to short."""
    found = building(
        building=text, ties=tuple(ties) if ties else None, slope=slope, rafter=kind, hand=hand, spacing=400,
        set_out="pairs", section=Section(47, 150), hip_section=Section(47, 225),
    )  # fmt: skip
    return sorted((float(str(row["length"])) for row in found.results["slope_rafters"]), reverse=True)  # type: ignore[union-attr, index]


@pytest.mark.parametrize(("one", "other"), [("ab", "bc"), ("bc", "cd"), ("cd", "da"), ("da", "ab")])
@pytest.mark.parametrize("ties", [None, OUT])
def test_jacks_of_both_slopes_of_a_hip_are_pairs(one: str, other: str, ties: Sequence[Tie] | None) -> None:
    """By hand: 3000 of run at 400 is 7 jacks each side; a corner out by mm keeps the number, and its pairs near."""
    left = jacks(PLAIN, f"slope-{other}", "left", ties=ties) or jacks(PLAIN, f"slope-{one}", "left", ties=ties)
    right = jacks(PLAIN, f"slope-{one}", "right", ties=ties)
    assert len(left) == len(right) == 7
    assert left == pytest.approx(right, abs=0.01 if ties is None else 10)


def test_jacks_of_both_slopes_of_a_valley_are_pairs() -> None:
    """By hand: 2000 of run at 400 is 4 jacks to a valley. The hip at D runs over H: two are cripples."""
    wings = jacks(WING, "slope-ef", "left", "valley jack"), jacks(WING, "slope-gh", "right", "valley jack")
    assert wings[0] == pytest.approx(wings[1]) and len(wings[0]) == 4
    right, left = jacks(WING, "slope-cd", "right", "valley jack"), jacks(WING, "slope-cd", "left", "valley jack")
    assert len(right) == 4 and left[:2] == pytest.approx(right[2:])
    assert len(jacks(WING, "slope-cd", "left", "cripple")) == 2


def test_a_plain_hipped_roof_has_every_timber_of_the_form_hipped() -> None:
    """Plates, commons, crown commons, jacks, hips and ridge: as many of each, each as long as there."""
    figures = {"length": "9000", "width": "6000", "pitch": "35", "design_mass": "70"}

    def lengths(made: Site) -> list[float]:
        lines = members(made.state, library(), "main")
        return sorted(line.member.length for line in lines if line.member for _ in range(line.member.count))

    own, other = lengths(site(PLAIN)), lengths(Site(more=figures))
    assert own == pytest.approx(other, abs=0.2)

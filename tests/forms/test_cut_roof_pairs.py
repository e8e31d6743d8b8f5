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
    """By hand: 2000 of run at 400 is 4 jacks to the valley EF, whose other slope has the same.

    The valley at H is 2000 from D and the hip at D runs over it, at 400 to its head at 3000 from D: 400, 800 and the
    common's 1000 from H, then two more. Below the head two are cripples. Over the wing's ridge, between the last of
    both valleys, one more runs up the main slope: they are 600 apart.
    """
    wings = jacks(WING, "slope-ef", "any", "valley jack"), jacks(WING, "slope-gh", "any", "valley jack")
    main = [*jacks(WING, "slope-cd", "any", "valley jack"), *jacks(WING, "slope-cd", "any", "cripple")]
    assert (len(wings[0]), len(wings[1]), len(main)) == (4, 5, 4 + 5 + 1)
    assert len(jacks(WING, "slope-cd", "any", "cripple")) == 2


@pytest.mark.parametrize(
    ("long", "wide", "pitch"), [(9000, 6000, "35"), (8000, 5000, "42.5"), (10450, 7210, "30"), (9000, 6420, "50")]
)
def test_a_plain_hipped_roof_has_every_timber_of_the_form_hipped(long: int, wide: int, pitch: str) -> None:
    """Plates, commons, crown commons, jacks, hips and ridge: as many of each, each as long as there.

    Of 6420 the run is 3210: the bay that closes up at the crown is 410, no jack more, in both.
    """
    figures = {"length": f"{long}", "width": f"{wide}", "pitch": pitch, "design_mass": "70"}

    def lengths(made: Site) -> list[float]:
        lines = members(made.state, library(), "main")
        return sorted(line.member.length for line in lines if line.member for _ in range(line.member.count))

    own, other = lengths(site(f"main {long}x{wide} {pitch}")), lengths(Site(more=figures))
    assert own == pytest.approx(other, abs=0.2)

"""Jacks of a cut roof stand in pairs at each hip and valley, and a plain hipped roof has the timbers of `hipped`."""

import math
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


def test_what_would_miss_the_plate_at_a_hips_foot_is_no_jack_and_is_told() -> None:
    """From A every 400 the last mark of AB is 10400: 4 of plate before a hip that takes 33 of it. Its jack is none."""
    sections = {"section": Section(47, 150), "hip_section": Section(47, 225)}
    found = building(building="main 10404x6206 40", spacing=400, **sections)
    rows = [row for row in found.results["rafters"] if row["slope"] == "AB"]  # type: ignore[union-attr, index]
    assert max(float(str(row["at"])) for row in rows) == 10000  # type: ignore[index]
    assert [note for note in found.notes if "slope AB: no jack at 10400" in note and "short tail" in note]
    listed = building(
        building="main 10404x6206 40", spacing=400, slope="slope-ab", rafter="hip jack", overhang=300, **sections
    )
    assert max(float(str(row["at"])) for row in listed.results["slope_rafters"]) == 10000  # type: ignore[union-attr, index]


def test_the_crowns_common_is_no_longer_than_its_slope_over_a_ridge_out_of_line() -> None:
    """By hand: the ridge turns off square to BC; 3000 of run at 35 degrees, its plumb cut, less half of the pair."""
    ties = (Tie("A", "B", 9000.0), Tie("B", "C", 6000.0), Tie("C", "D", 9006.0), Tie("D", "A", 6000.0))
    found = building(
        building=PLAIN, ties=(*ties, Tie("A", "C", 10817.0), Tie("B", "D", 10822.0)), slope="slope-bc", spacing=400,
        set_out="pairs", section=Section(47, 150), hip_section=Section(47, 225), ridge=38,
    )  # fmt: skip
    lengths = [float(str(row["length"])) for row in found.results["slope_rafters"]]  # type: ignore[union-attr, index]
    pitch = math.radians(35)
    assert lengths == pytest.approx([(3000 - 47 / 2) / math.cos(pitch) + 150 * math.tan(pitch)], abs=6)


def test_a_rafter_on_the_line_of_a_dormers_cheek_runs_whole_beside_it() -> None:
    """The cheeks are at 3200 and 4400 from A, both marks at 400: both are commons, and none is cut at the face."""
    found = building(building="main 9000x6000 40; dormer off AB 3200 from A 1200x900 40 cheek 500", spacing=400)
    rows = [row for row in found.results["rafters"] if row["slope"] == "AB"]  # type: ignore[union-attr, index]
    for at in (3200, 4400):
        assert [row["kind"] for row in rows if abs(float(str(row["at"])) - at) < 1] == ["common"]  # type: ignore[index]


@pytest.mark.parametrize("off", [-0.8, -0.006, 0.006, 0.8])
def test_a_rafter_within_a_mm_of_a_dormers_cheek_runs_whole_beside_it(off: float) -> None:
    """Plates are taped: a mark that was on the cheek's line comes a hair into the dormer, and none is cut for it."""
    at = 3200 + off
    found = building(building=f"main 9000x6000 40; dormer off AB {at} from A 1200x900 40 cheek 500", spacing=400)
    rows = [row for row in found.results["rafters"] if row["slope"] == "AB"]  # type: ignore[union-attr, index]
    for cheek in (3200, 4400):
        assert [row["kind"] for row in rows if abs(float(str(row["at"])) - cheek) < 2] == ["common"]  # type: ignore[index]

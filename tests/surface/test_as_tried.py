"""Rafters cut to what a pattern gave are those of a roof drawn at that pitch, where all its slopes are tried alike."""

from math import cos, radians

import pytest

from sitelog.calculators.catalogue import Row
from sitelog.calculators.surface.building import building
from sitelog.quantities.quantity import Section

DRAWN, TRIED, OVER = 40.0, 40.6, 7.0
ROOF = "main 9000x6000 {main}; wing off CD 1100 from D 4000x3400 {wing} end gable"
KINDS = ("common", "hip jack", "valley jack", "cripple", "other")
TO_THE_TOP = ("common", "valley jack", "other")


def rafters(slope: str, kind: str, main: float, wing: float, **more: float | str) -> list[Row]:
    found = building(
        building=ROOF.format(main=main, wing=wing), slope=slope, rafter=kind, spacing=400, set_out="pairs",
        section=Section(47, 150), hip_section=Section(47, 225), ridge=38.0, overhang=300.0, **more,
    )  # fmt: skip
    return found.results["slope_rafters"]  # type: ignore[return-value]


def figures(row: Row) -> dict[str, float]:
    return {name: float(value) for name, value in row.items() if isinstance(value, (int, float))}


@pytest.mark.parametrize("slope", ["slope-ab", "slope-bc", "slope-cd", "slope-ef", "slope-gh"])
def test_jacks_and_commons_as_tried_are_those_of_the_roof_drawn_so(slope: str) -> None:
    """All slopes at one pitch keep their lines on plan, whatever the pitch: so both ways give every figure."""
    for kind in KINDS:
        own = rafters(slope, kind, DRAWN, DRAWN, tried_pitch=TRIED)
        drawn = rafters(slope, kind, TRIED, TRIED)
        assert len(own) == len(drawn)
        for row, other in zip(own, drawn, strict=True):
            assert figures(row) == pytest.approx(figures(other), abs=1e-6)


def test_the_foot_on_the_boards_of_a_laid_wing_is_cut_for_the_pitch_that_was_tried() -> None:
    """Drawn again with the wing alone at that pitch: its cuts don't hang on where the valley is."""
    laid: dict[str, float | str] = {"laid": "wing", "board": 25.0}
    cuts = ("head_cut", "head_bevel", "foot_cut", "foot_bevel", "foot_tilt")
    for slope in ("slope-ef", "slope-gh"):
        own = rafters(slope, "valley jack", DRAWN, 35.0, tried_pitch=35.5, **laid)[0]
        drawn = rafters(slope, "valley jack", DRAWN, 35.5, **laid)[0]
        assert figures(drawn)["foot_bevel"] > 1
        assert [own[name] for name in cuts] == pytest.approx([drawn[name] for name in cuts], abs=1e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_only_what_runs_to_the_top_is_longer_where_the_ridge_is_further(kind: str) -> None:
    own = rafters("slope-cd", kind, DRAWN, DRAWN, tried_pitch=TRIED, tried_over=OVER)
    as_near = rafters("slope-cd", kind, DRAWN, DRAWN, tried_pitch=TRIED)
    more = OVER / cos(radians(TRIED)) if kind in TO_THE_TOP else 0.0
    lengths = [figures(row)["length"] for row in own], [figures(row)["length"] + more for row in as_near]
    assert lengths[0] == pytest.approx(lengths[1])

"""An opening in a slope: by hand, by the printed rule, and by counting rafters set out one by one."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer
from sitelog.calculators.rafters.openings import opening
from sitelog.refusal import Refusal
from tests.calculators.formulas import prove_working
from tests.calculators.results import cell, column, figure, rows


def cut_by(width: float, spacing: float = 400, thickness: float = 47) -> Answer:
    return opening(pitch=40, level_width=width, level_depth=1800, spacing=spacing, thickness=thickness)


def test_1800_level_at_40_is_2349_73_up_the_slope() -> None:
    """1800 / cos 40 = 1800 / 0.766044; with two doubled trimmers of 47 the rafters lose 188 more."""
    answer = cut_by(1153)
    assert figure(answer, "slope_length") == pytest.approx(2349.73, abs=5e-3)
    assert figure(answer, "cut_out") == pytest.approx(2537.73, abs=5e-3)


def test_an_opening_on_a_slope_of_three_to_four_comes_out_in_fives() -> None:
    """3-4-5: 1600 level is 2000 up the slope; foot 800 in is 1000 up, the rest 1600 of 4000 is 2000; trimmers 100."""
    answer = opening(
        pitch=float(np.degrees(np.arctan(3 / 4))),
        level_width=1150,
        level_depth=1600,
        spacing=600,
        thickness=50,
        trimmer=50,
        run=4000,
        foot=800,
    )
    assert figure(answer, "slope_length") == pytest.approx(2000)
    assert figure(answer, "cut_out") == pytest.approx(2200)
    assert {str(row["where"]): cell(row, "length") for row in rows(answer, "trimmed_rafters")} == pytest.approx(
        {"foot": 900, "head": 1900}
    )
    assert [(row["where"], row["count"], row["length"]) for row in rows(answer, "trimmers")] == [
        ("head", 2, 1150),
        ("foot", 2, 1150),
    ]
    prove_working(answer, rel=1e-8)


@pytest.mark.parametrize(
    ("width", "cut", "added"),
    [
        (353, 0, 0),  # just between two rafters at 400, 47 thick
        (354, 1, 2),
        (753, 1, 2),
        (1153, 2, 2),
        (1154, 3, 4),
        (1553, 3, 4),
        (1953, 4, 4),
        (1954, 5, None),
    ],
)
def test_rafters_are_added_by_how_many_are_cut(width: float, cut: int, added: int | None) -> None:
    """1 or 2 cut, 2 added; 3 or 4 cut, 4 added: Mindham, Roof Construction and Loft Conversion, Fig 3.18b."""
    answer = cut_by(width)
    assert answer.results["rafters_cut"] == cut
    assert answer.results["rafters_added"] == added
    assert any("rule for added rafters stops at 4" in note for note in answer.notes) == (added is None)
    assert [row["count"] for row in rows(answer, "trimmed_rafters")] == ([cut, cut] if cut else [])


@given(width=st.floats(200, 4000), spacing=st.floats(300, 650), thickness=st.floats(30, 75))
@settings(max_examples=60, deadline=None)
def test_rafters_cut_are_the_fewest_that_any_place_along_the_slope_gives(
    width: float, spacing: float, thickness: float
) -> None:
    """Rafters are drawn along the plate and the opening is slid over one spacing of it."""
    answer = cut_by(width, spacing, thickness)
    centres = np.arange(-2, int(width / spacing) + 4) * spacing
    counts = []
    for slide in [*np.linspace(0, spacing, 97), thickness / 2 + 1e-6]:
        left = centres - thickness / 2 - slide
        counts.append(int(np.sum((left + thickness > 1e-5) & (left < width - 1e-5))))
    assert min(counts) == answer.results["rafters_cut"]
    between = figure(answer, "between_rafters")
    assert between >= width - 1e-5
    assert between - spacing < width


@given(
    pitch=st.floats(15, 65),
    run=st.floats(3000, 8000),
    shares=st.tuples(st.floats(0.1, 0.4), st.floats(0.2, 0.4)),
    doubled=st.sampled_from((1, 2, 3)),
)
@settings(max_examples=40, deadline=None)
def test_what_is_left_and_what_is_cut_out_make_up_the_rafter(
    pitch: float, run: float, shares: tuple[float, float], doubled: int
) -> None:
    answer = opening(
        pitch=pitch,
        level_width=1000,
        level_depth=run * shares[1],
        spacing=400,
        run=run,
        foot=run * shares[0],
        doubled=doubled,
    )
    left = sum(column(answer, "trimmed_rafters", "length"))
    assert left + figure(answer, "cut_out") == pytest.approx(run / np.cos(np.radians(pitch)))
    prove_working(answer, rel=1e-8)


def test_without_run_and_foot_the_trimmed_rafters_are_counted_and_not_measured() -> None:
    assert [row["length"] for row in rows(cut_by(1153), "trimmed_rafters")] == [None, None]
    assert not any("centre of the ridge" in note for note in cut_by(1153).notes)


def test_an_opening_that_does_not_fit_the_spacing_says_by_how_much() -> None:
    """1000 wide at 400 with 47: the rafters that stay are 3 x 400 - 47 = 1153 apart."""
    answer = cut_by(1000)
    assert figure(answer, "between_rafters") == 1153
    assert any("153 mm further apart" in note and "trimmers 1153 long" in note for note in answer.notes)
    assert not any("further apart" in note for note in cut_by(1153).notes)


def test_every_opening_is_the_engineers() -> None:
    """NHBC Standards 2022, 7.2.13: sized for the main roof, the dormer's frame and its cladding."""
    assert any("the engineer sizes" in note for note in cut_by(1153).notes)
    assert any("cheek studs on a doubled rafter" in note for note in cut_by(1153).notes)


@pytest.mark.parametrize(
    ("inputs", "rule"),
    [
        ({"pitch": 0}, "at least 0.1"),
        ({"level_width": 0}, "over 0"),
        ({"level_depth": 0}, "over 0"),
        ({"spacing": 47}, "rafters 47 thick at a spacing of 47 leave no gap between them"),
        ({"doubled": 0}, "at least 1"),
        ({"doubled": 1.5}, "doubled is 1.5; it must be a whole number"),
        ({"run": 3600}, "both run= and foot=, or neither"),
        ({"foot": 900}, "both run= and foot=, or neither"),
        ({"run": 3600, "foot": 70}, "no room for the trimmer above the plate; it must be over 72"),
        ({"run": 2750, "foot": 900}, "reaches the ridge at 2750"),
    ],
)
def test_an_opening_that_cannot_be_is_refused(inputs: dict[str, float], rule: str) -> None:
    with pytest.raises(Refusal, match=rule):
        opening(**{"pitch": 40, "level_width": 1153, "level_depth": 1800, "spacing": 400, **inputs})

"""Gauge and cover against published setting-out and the data pages of coverings."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.coverings.coursing import whole
from sitelog.calculators.coverings.covers import cover, load_change
from sitelog.calculators.coverings.slopes import gauge
from sitelog.refusal import Refusal

PLAIN: dict[str, Value] = {"unit_length": 265.0, "headlap": 65.0, "lap": "double"}


def marks(answer: Answer) -> list[float]:
    rows = answer.results["marks"]
    assert isinstance(rows, list)
    return [float(row["mark_at"] or 0.0) for row in rows]


def number(answer: Answer, key: str) -> float:
    value = answer.results[key]
    assert isinstance(value, (int, float))
    return value


@pytest.mark.parametrize(
    ("slope", "largest", "courses", "equal"),
    [
        # roofing manual, setting out, step 5 (read): 4.325 m between first and top batten, 320 at most -> 309
        (4325.0, 320.0, 14, 309.0),
        # the same rule on plain tiles at the 100 of a tile maker's data page (derived): 48.7 -> 49 -> 99.4
        (4870.0, 100.0, 49, 99.4),
    ],
)
def test_the_published_setting_out_comes_back(slope: float, largest: float, courses: int, equal: float) -> None:
    answer = gauge(slope=slope, max_gauge=largest)
    assert answer.results["courses"] == courses
    assert number(answer, "gauge") == pytest.approx(equal, abs=0.1 if equal < 100 else 0.5)


@pytest.mark.parametrize(
    ("unit_length", "headlap", "lap", "largest"),
    [
        (
            420.0,
            75.0,
            "single",
            345.0,
        ),  # tile maker's data page (read): 420 tile, 75 headlap, largest gauge 345
        (265.0, 65.0, "double", 100.0),  # plain tile data page (read): headlap 65 at 100 gauge
        (500.0, 100.0, "double", 200.0),  # two slate suppliers' pages (read): (500 - 100) / 2
    ],
)
def test_a_headlap_becomes_the_gauge_of_the_data_page(
    unit_length: float, headlap: float, lap: str, largest: float
) -> None:
    answer = gauge(slope=largest * 20, unit_length=unit_length, headlap=headlap, lap=lap)
    assert number(answer, "largest_gauge") == pytest.approx(largest)
    assert answer.results["courses"] == 20, "a slope of whole courses takes no course more"
    assert number(answer, "resulting_lap") == pytest.approx(headlap)


def test_a_gauge_that_does_not_leave_the_headlap_is_named() -> None:
    """(265 - 75)/2 is 95: at 100 a plain tile laps 65."""
    told = gauge(slope=4870.0, unit_length=265.0, headlap=75.0, lap="double", max_gauge=100.0)
    assert told.results["largest_gauge"] == 95.0
    assert any("leaves a headlap of 65, less than the 75 given" in note for note in told.notes)
    agreed = gauge(slope=4870.0, unit_length=265.0, headlap=65.0, lap="double", max_gauge=100.0)
    assert not any("leaves a headlap" in note for note in agreed.notes)


def test_headlap_and_largest_gauge_together_keep_both() -> None:
    assert number(gauge(slope=5000.0, max_gauge=95.0, **PLAIN), "largest_gauge") == 95.0
    assert number(gauge(slope=5000.0, max_gauge=115.0, **PLAIN), "largest_gauge") == 100.0


def test_the_first_batten_stands_a_hang_less_the_overhang_up_from_the_eaves() -> None:
    """A full plain tile is 240 nib to tail (slating and tiling handbook, ch. 7, read): 50 over leaves 190."""
    answer = gauge(slope=5090.0, hang=240.0, eaves=50.0, top=30.0, **PLAIN)
    assert marks(answer)[0] == pytest.approx(190.0)
    assert marks(answer)[-1] == pytest.approx(5060.0)
    assert answer.results["courses"] == 49
    assert number(answer, "gauge") == pytest.approx(4870 / 49)


@given(
    slope=st.floats(500, 20_000),
    largest=st.floats(60, 400),
    first=st.floats(1, 200),
    top=st.floats(0, 200),
)
def test_courses_are_equal_fewest_and_none_over_the_largest(
    slope: float, largest: float, first: float, top: float
) -> None:
    answer = gauge(slope=slope, max_gauge=largest, hang=first, top=top)
    at, equal, courses = marks(answer), number(answer, "gauge"), int(number(answer, "courses"))
    shared = slope - first - top
    assert equal <= largest * (1 + 1e-8)
    assert courses == 1 or shared / (courses - 1) > largest * (1 - 1e-8), "one course less would be too wide"
    assert len(at) == courses + 1
    assert (at[0], at[-1]) == pytest.approx((first, slope - top))
    assert all(b - a == pytest.approx(equal) for a, b in pairwise(at))


@given(slope=st.floats(300, 20_000), headlap=st.floats(40, 120), lap=st.sampled_from(["single", "double"]))
def test_closing_the_gauge_never_costs_headlap(slope: float, headlap: float, lap: str) -> None:
    answer = gauge(slope=slope, unit_length=420.0, headlap=headlap, lap=lap)
    assert number(answer, "resulting_lap") >= headlap - 1e-6


def test_a_gauge_that_closes_under_the_least_fails_and_says_what_would_put_it_right() -> None:
    """Plain tiles close from 100 to 88 and no further (tile maker's data page, read)."""
    good = gauge(slope=4870.0, min_gauge=88.0, **PLAIN)
    bad = gauge(slope=210.0, min_gauge=88.0, **PLAIN)
    assert (good.verdict, bad.verdict) == ("pass", "fail")
    assert "54 longer for 3 courses, or 10 shorter for 2" in bad.notes[0]
    assert gauge(slope=264.0, min_gauge=88.0, **PLAIN).verdict == "pass"
    assert gauge(slope=200.0, min_gauge=88.0, **PLAIN).verdict == "pass"
    assert gauge(slope=4870.0, **PLAIN).verdict is None, "without a least gauge there is nothing to judge"


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"slope": 4870.0}, "max_gauge=, or headlap="),
        ({"slope": 4870.0, "headlap": 65.0}, "as unit_length=500"),
        (
            {"slope": 4870.0, "headlap": 265.0, "unit_length": 265.0, "lap": "double"},
            "must be under unit_length,",
        ),
        ({"slope": 4870.0, "max_gauge": 140.0, "unit_length": 265.0, "lap": "double"}, "leaves no headlap"),
        ({"slope": 4870.0, "headlap": 0.0, "unit_length": 265.0, "lap": "single"}, "leaves no headlap"),
        (
            {"slope": 4870.0, "max_gauge": 270.0, "unit_length": 265.0},
            "leaves no headlap on a slate or tile 265 long in any lap",
        ),
        ({"slope": 4870.0, "max_gauge": 100.0, "min_gauge": 110.0}, "must not be over the largest"),
        ({"slope": 4870.0, "max_gauge": 100.0, "eaves": 50.0}, "also give hang="),
        ({"slope": 4870.0, "max_gauge": 100.0, "eaves": 250.0, "hang": 240.0}, "must be under hang"),
        ({"slope": 200.0, "max_gauge": 100.0, "hang": 240.0}, "leave no slope between them"),
        ({"slope": 200_000.0, "max_gauge": 10.0}, "at most 1999"),
        ({"slope": 0.0, "max_gauge": 100.0}, "must be over 0"),
        ({"slope": math.nan, "max_gauge": 100.0}, "finite"),
    ],
)
def test_a_slope_that_cannot_be_shared_out_is_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        gauge(**given)
    assert refusal.value.message.startswith("gauge") and "\n" not in refusal.value.message


@pytest.mark.parametrize(
    ("equal", "cover_width", "published", "within"),
    [
        # plain tiles 265 x 165 (trade page, data page, read): 60 per m2 at 100; 68.9 at 88 (derived)
        (100.0, 165.0, 60.0, 1.0),
        (88.0, 165.0, 68.9, 0.05),
        # 420 x 330 interlocking tile, data page (read): 9.7 per m2 at 345, 10.5 at 320; it covers about 299
        (345.0, 299.0, 9.7, 0.05),
        (320.0, 299.0, 10.5, 0.06),
    ],
)
def test_units_in_a_square_metre_agree_with_the_data_page(
    equal: float, cover_width: float, published: float, within: float
) -> None:
    answer = cover(area=1.0, gauge=equal, cover_width=cover_width)
    assert number(answer, "per_m2") == pytest.approx(published, abs=within)


def test_a_slope_counted_tile_by_tile_gives_the_same() -> None:
    """Whole courses of whole tiles, counted: 49 courses of 60 tiles on 9900 x 4900."""
    answer = cover(length=9900.0, slope=4900.0, gauge=100.0, cover_width=165.0, unit_mass=1.2)
    assert answer.results["units_on_roof"] == answer.results["units"] == 49 * 60
    assert number(answer, "batten_run") == pytest.approx(49 * 9.9)
    assert number(answer, "mass") == pytest.approx(49 * 60 * 1.2)
    assert "No waste" in answer.notes[0]


def test_the_waste_is_ordered_but_not_carried_by_the_roof() -> None:
    answer = cover(area=10.0, gauge=100.0, cover_width=100.0, waste=0.05, unit_mass=1.0)
    assert (answer.results["units_on_roof"], answer.results["units"]) == (1000, 1050)
    assert number(answer, "mass") == pytest.approx(1000.0)
    assert answer.notes == ()


@pytest.mark.parametrize(
    ("new", "cautions", "told"),
    [
        # A council's re-roofing page (read): 15 % up or down; another's (read): 10 %; Approved Document A
        # section 4 (2013, from memory): over 15 % is significant, and a lighter roof is looked at for uplift
        (50.0, (), None),
        (55.0, (), None),
        (55.5, (), "from 10 %"),
        (57.5, (), "from 10 %"),
        (57.6, ("load-change",), "over 15 %: the engineer and building control agree it first"),
        (73.8, ("load-change",), "48 % heavier"),  # concrete plain tile, a maker's figure (read), for 50
        (42.5, (), None),
        (20.0, (), "60 % lighter"),
    ],
)
def test_a_heavier_covering_is_the_engineers(new: float, cautions: tuple[str, ...], told: str | None) -> None:
    answer = cover(area=50.0, gauge=100.0, cover_width=165.0, waste=0.05, mass_per_m2=new, design_mass=50.0)
    assert answer.cautions == cautions
    assert answer.verdict is None, "a change of load is never passed here"
    assert bool(answer.notes) == bool(told)
    assert told is None or told in answer.notes[0]


@pytest.mark.parametrize(
    ("new", "change", "cautions", "verdict"),
    [
        (57.5, 7.5, (), None),
        (57.6, 7.6, ("load-change",), "unsure"),
        (42.5, -7.5, (), None),
        (42.4, -7.6, (), "unsure"),
        (50.0, 0.0, (), None),
    ],
)
def test_a_weight_is_told_beside_the_one_designed_for(
    new: float, change: float, cautions: tuple[str, ...], verdict: str | None
) -> None:
    """15 %: a council's re-roofing page (read); Approved Document A, section 4, from memory."""
    answer = load_change(mass=new, design_mass=50.0)
    assert number(answer, "mass_change") == pytest.approx(change)
    assert number(answer, "mass_change_percent") == pytest.approx(change * 2)
    assert (answer.cautions, answer.verdict) == (cautions, verdict)
    assert any("building control" in note for note in answer.notes) == bool(cautions or change == 7.5)


@given(area=st.floats(0.1, 2_000), equal=st.floats(60, 400), width=st.floats(100, 400), waste=st.floats(0, 0.5))
def test_the_units_ordered_cover_the_area_and_not_one_too_many(
    area: float, equal: float, width: float, waste: float
) -> None:
    answer = cover(area=area, gauge=equal, cover_width=width, waste=waste)
    covered = number(answer, "units_on_roof") * equal * width / 1e6
    assert area <= covered + 1e-6 and covered - area <= equal * width / 1e6 + 1e-6
    assert number(answer, "units") >= number(answer, "units_on_roof")


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, "give area=, or length= and slope=,"),
        ({"length": 9000.0}, "give area=, or length= and slope=,"),
        ({"area": 40.0, "length": 9000.0, "slope": 4870.0}, "not both"),
        ({"area": 40.0, "unit_mass": 1.2, "mass_per_m2": 60.0}, "not both"),
        ({"area": 40.0, "design_mass": 60.0}, "unit_mass= or mass_per_m2="),
        ({"area": 40.0, "gauge": 0.0}, "at least 10"),
        ({"area": 0.0}, "over 0"),
        ({"area": 40.0, "waste": 5.0}, "at most 1"),
    ],
)
def test_a_count_without_one_clear_area_and_mass_is_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        cover(**({"gauge": 100.0, "cover_width": 165.0} | given))
    assert refusal.value.message.startswith("cover") and "\n" not in refusal.value.message


def test_a_headlap_whose_lap_nobody_names_is_of_slates_or_plain_tiles_and_says_so() -> None:
    """(265 - 65) / 2 = 100, the closer gauge of the two."""
    answer = gauge(slope=4870.0, unit_length=265.0, headlap=65.0)
    named = gauge(slope=4870.0, unit_length=265.0, headlap=65.0, lap="double")
    assert answer.results == named.results
    assert "given, so double" in answer.notes[0]
    assert not any("given, so double" in note for note in named.notes)


@pytest.mark.parametrize(
    ("number", "made_up"), [(0, 0), (1e-15, 1), (0.2, 1), (1, 1), (1 + 1e-12, 1), (1.001, 2), (48.7, 49)]
)
def test_a_part_of_a_course_takes_a_whole_one_and_a_floats_dust_takes_none(number: float, made_up: int) -> None:
    assert whole(number) == made_up

"""Headlaps, least pitches and gauges of slates and tiles against the printed tables."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.coverings.headlaps import headlap
from sitelog.calculators.coverings.slate_laps import SLATES, Rain
from sitelog.refusal import Refusal

VALUES: dict[str, dict[str, Any]] = {
    one["id"]: one
    for one in tomllib.loads((Path(__file__).parents[1] / "reference/lap_values.toml").read_text())["value"]
}
SMALL = ((450, 220), (400, 250), (400, 220), (400, 200), (350, 200), (300, 200))
# Which sizes a printed row is for, and how exposed.
PRINTED: list[tuple[str, tuple[tuple[int, int], ...], Rain]] = [
    ("slate-lap-a-600x300-mod", ((600, 300),), "moderate"),
    ("slate-lap-a-500x300-mod", ((500, 300),), "moderate"),
    ("slate-lap-a-500x250-mod", ((500, 250),), "moderate"),
    ("slate-lap-a-small-mod", SMALL, "moderate"),
    ("slate-lap-a-600x300-sev", ((600, 300),), "severe"),
    ("slate-lap-a-500x300-sev", ((500, 300),), "severe"),
    ("slate-lap-a-500x250-sev", ((500, 250),), "severe"),
    ("slate-lap-a-450x220-sev", ((450, 220),), "severe"),
    ("slate-lap-a-400x250-sev", ((400, 250), (400, 220), (350, 200), (300, 200)), "severe"),
    ("slate-lap-a-400x200-sev", ((400, 200),), "severe"),
    ("slate-lap-b-500x250-mod", ((500, 250),), "moderate"),
    ("slate-lap-b-500x250-sev", ((500, 250),), "severe"),
    ("slate-lap-b-600x300-sev", ((600, 300),), "severe"),
    ("slate-lap-b-400-mod", ((400, 250), (400, 200)), "moderate"),
    ("slate-lap-c-500x250-mod", ((500, 250),), "moderate"),
    ("slate-lap-c-450x250-mod", SMALL, "moderate"),
]
SIZES = [(size, rain) for size, by_rain in SLATES.items() for rain in by_rain]


def rows(id: str) -> tuple[tuple[float, float], ...]:
    return tuple(zip(*VALUES[id]["value"], strict=True))


def test_every_row_that_was_read_is_in_its_table_and_no_other() -> None:
    read = {(size, rain, rows(id)) for id, sizes, rain in PRINTED for size in sizes}
    kept = {(size, rain, one.rows) for size, rain in SIZES for one in SLATES[size][rain]}
    assert kept == read
    assert {id for id, _, _ in PRINTED} == set(VALUES)


def slates(size: tuple[float, float], **more: Value) -> dict[str, Value]:
    return {"covering": "slates", "unit_length": float(size[0]), "unit_width": float(size[1]), **more}


@pytest.mark.parametrize(
    ("size", "pitch", "exposure", "least_pitch", "lap"),
    [
        ((500, 250), 25.0, "moderate", 25.0, 100.0),  # two tables print 95
        ((500, 250), 26.0, "sheltered", 25.0, 100.0),  # between two rows the flatter holds
        ((500, 250), 30.0, "severe", 30.0, 120.0),  # an older table prints 100
        ((500, 250), 44.9, "very-severe", 30.0, 100.0),
        ((500, 250), 60.0, "severe", 30.0, 95.0),
        ((600, 300), 30.0, "severe", 30.0, 120.0),
        ((500, 300), 20.0, "moderate", 20.0, 115.0),
        ((400, 200), 35.0, "severe", 35.0, 110.0),
    ],
)
def test_of_two_tables_the_safer_is_taken(
    size: tuple[float, float], pitch: float, exposure: str, least_pitch: float, lap: float
) -> None:
    results = headlap(**slates(size), pitch=pitch, exposure=exposure).results
    assert (results["least_pitch"], results["least_headlap"]) == (least_pitch, lap)


def test_every_table_that_has_the_size_is_named() -> None:
    told = headlap(**slates((500, 250)), pitch=30.0, exposure="severe").results["tables"]
    assert isinstance(told, list)
    assert [(row["from_pitch"], row["lap"]) for row in told] == [(30.0, 120.0), (27.5, 100.0)]
    assert all("BS 5534" in str(row["table"]) for row in told)


def test_a_roof_flatter_than_one_of_two_tables_goes_has_no_lap() -> None:
    """27.5 degrees on a severe site: one table has 110, the other nothing under 30."""
    answer = headlap(**slates((500, 250)), pitch=27.5, exposure="severe", headlap=110.0)
    assert "least_headlap" not in answer.results
    assert answer.verdict == "fail"
    assert "flatter than the minimum of 30.0" in answer.notes[0]


@given(st.sampled_from(SIZES), st.floats(20, 75), st.floats(0, 10))
@settings(deadline=None)
def test_a_steeper_roof_never_laps_more_and_a_wetter_site_never_less(
    size: tuple[tuple[float, float], Rain], pitch: float, more: float
) -> None:
    def lap(at: float, rain: str) -> float:
        return float(headlap(**slates(size[0]), pitch=at, exposure=rain).results.get("least_headlap", 999.0))  # type: ignore[arg-type]

    assert lap(pitch + more, size[1]) <= lap(pitch, size[1])
    assert lap(pitch, "severe") >= lap(pitch, "moderate")


PLAIN: dict[str, Value] = {"covering": "plain-tiles", "unit_length": 265.0}


@pytest.mark.parametrize(
    ("exposure", "lap", "gauge"),
    # NHBC Standards 2020, 7.2.19, Table 12: 65, severe 75; (265 - 65)/2 and (265 - 75)/2
    [("sheltered", 65.0, 100.0), ("moderate", 65.0, 100.0), ("severe", 75.0, 95.0), ("very-severe", 75.0, 95.0)],
)
def test_plain_tiles_lap_75_on_a_severe_site(exposure: str, lap: float, gauge: float) -> None:
    results = headlap(**PLAIN, pitch=40.0, exposure=exposure).results
    assert (results["least_pitch"], results["least_headlap"], results["largest_gauge"]) == (35.0, lap, gauge)
    assert headlap(**PLAIN, pitch=40.0, exposure=exposure, headlap=lap).verdict == "pass"
    assert headlap(**PLAIN, pitch=40.0, exposure=exposure, headlap=lap - 1).verdict == "fail"
    assert headlap(**PLAIN, pitch=34.0, exposure=exposure).verdict == "fail"


SHEET: dict[str, Value] = {
    "covering": "single-lap", "unit_length": 420.0, "exposure": "moderate",
    "least": 17.5, "least_lap": 75.0, "low": 15.0, "low_lap": 100.0,
}  # fmt: skip


@pytest.mark.parametrize(
    ("pitch", "laid", "verdict", "least_pitch", "lap", "gauge"),
    [  # tile brochure, p. 37: 17.5 degrees at 75 (gauge 345), 15 at 100 (gauge 320)
        (20.0, 75.0, "pass", 17.5, 75.0, 345.0),
        (16.0, 75.0, "fail", 17.5, 100.0, 345.0),
        (16.0, 100.0, "pass", 15.0, 100.0, 320.0),
        (14.0, 100.0, "fail", 15.0, None, 320.0),
    ],
)
def test_a_lower_pitch_takes_the_longer_lap_of_the_tiles_sheet(
    pitch: float, laid: float, verdict: str, least_pitch: float, lap: float | None, gauge: float
) -> None:
    answer = headlap(**SHEET, pitch=pitch, headlap=laid)
    assert answer.verdict == verdict
    assert answer.results["least_pitch"] == least_pitch
    assert answer.results.get("least_headlap") == lap
    assert answer.results["largest_gauge"] == gauge
    assert any("NHBC needs evidence" in note for note in answer.notes)


def test_tiles_of_one_lap_without_a_sheet_go_down_to_thirty() -> None:
    """NHBC Standards 2020, 7.2.19, Table 12, note 2: 30 degrees without evidence, and 75 of headlap."""
    bare: dict[str, Value] = {"covering": "single-lap", "unit_length": 420.0, "exposure": "moderate"}
    assert headlap(**bare, pitch=30.0, headlap=75.0).verdict == "pass"
    assert headlap(**bare, pitch=29.0, headlap=75.0).verdict == "fail"
    assert headlap(**bare, pitch=30.0, headlap=70.0).verdict == "fail"


@pytest.mark.parametrize(
    ("given", "left"),
    [
        (slates((500, 250), headlap=120.0, gauge=200.0, exposure="severe"), "190"),
        ({**PLAIN, "headlap": 75.0, "gauge": 100.0, "exposure": "severe"}, "95"),
        ({**SHEET, "headlap": 100.0, "gauge": 345.0}, "320"),
    ],
)
def test_a_gauge_and_a_headlap_that_contradict_each_other_are_named(given: dict[str, Value], left: str) -> None:
    answer = headlap(**given, pitch=40.0)
    assert answer.verdict == "fail"
    assert "contradict each other" in answer.notes[0] and f"allows at most {left}" in answer.notes[0]


@pytest.mark.parametrize(
    ("pitch", "exposure", "rafter", "verdict"),
    [  # a third supplier's note: 9 m, severe 6 m; the first's: at 30 degrees and under
        (30.0, "moderate", 9000.0, "pass"),
        (30.0, "moderate", 9100.0, "unsure"),
        (35.0, "moderate", 9100.0, "pass"),
        (30.0, "severe", 6100.0, "unsure"),
    ],
)
def test_a_long_slope_is_the_suppliers_to_judge(pitch: float, exposure: str, rafter: float, verdict: str) -> None:
    answer = headlap(**slates((500, 250)), pitch=pitch, exposure=exposure, headlap=130.0, rafter=rafter)
    assert answer.verdict == verdict


def test_no_verdict_goes_against_a_makers_own_document() -> None:
    answer = headlap(**slates((500, 250)), pitch=35.0, exposure="moderate", headlap=60.0, who="data sheet 7")
    assert answer.verdict is None
    assert any("data sheet 7" in note for note in answer.notes)


def test_a_slate_of_which_no_table_was_read_is_not_judged() -> None:
    answer = headlap(**slates((550, 300)), pitch=35.0, exposure="moderate", headlap=100.0)
    assert (answer.verdict, answer.results["largest_gauge"]) == ("unsure", 225.0)
    assert "least_headlap" not in answer.results


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"covering": "slates", "unit_length": 500.0}, "need both sizes"),
        ({"covering": "other"}, "maker's minimum pitch"),
        ({**PLAIN, "headlap": 265.0}, "must be under the length of the tile or slate"),
    ],
)
def test_what_can_not_be_looked_up_is_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told):
        headlap(**given, pitch=40.0, exposure="moderate")

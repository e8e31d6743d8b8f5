"""Ventilation of cold roofs against BS 5250 as a manufacturer's guidance gives it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Value
from sitelog.calculators.decks.ventilation import ventilation
from sitelog.refusal import Refusal

# BS 5250 in a manufacturer's guidance (read): eaves 10 over 15 degrees, 25 at 15 or less; high level 5 where
# the pitch is over 35, the span over 10 m, or the roof a lean-to or mono-pitch. Clear path 50 over the
# insulation at the eaves (BRE and NHBC summary, read).
PITCHED = [
    (15.0, 8_000.0, "duo-pitch", 25.0, 0.0),
    (15.1, 8_000.0, "duo-pitch", 10.0, 0.0),
    (35.0, 10_000.0, "duo-pitch", 10.0, 0.0),
    (35.1, 8_000.0, "duo-pitch", 10.0, 5.0),
    (30.0, 10_001.0, "duo-pitch", 10.0, 5.0),
    (12.0, 4_000.0, "mono-pitch", 25.0, 5.0),
    (30.0, 4_000.0, "mono-pitch", 10.0, 5.0),
]


@pytest.mark.parametrize(("pitch", "span", "shape", "eaves", "high"), PITCHED)
def test_openings_of_a_cold_pitched_roof(pitch: float, span: float, shape: str, eaves: float, high: float) -> None:
    results = ventilation(kind="cold-pitched", pitch=pitch, span=span, shape=shape).results
    assert (results["eaves_gap"], results["high_gap"], results["air_space"]) == (eaves, high, 50.0)


@pytest.mark.parametrize("pitch", [12.0, 30.0, 50.0])
def test_insulation_along_the_rafters_wants_25_at_the_eaves_and_5_at_the_ridge_at_any_pitch(pitch: float) -> None:
    """25, 5 and 50 clear: a manufacturer's guidance on a pitched roof whose insulation follows the rafters."""
    results = ventilation(kind="cold-pitched", pitch=pitch, span=8_000.0, insulation="rafters").results
    assert (results["eaves_gap"], results["high_gap"], results["air_space"]) == (25.0, 5.0, 50.0)


@pytest.mark.parametrize(
    ("span", "edges", "space", "standings"),
    [
        # 50: BS 5250:2011 in a manufacturer's guidance (read); 25, and 30 with 60 over 5 m: from memory
        (5_000.0, 25.0, 50.0, ["memory", "read"]),
        (5_001.0, 30.0, 60.0, ["memory", "memory"]),
        (10_000.0, 30.0, 60.0, ["memory", "memory"]),
    ],
)
def test_openings_of_a_cold_flat_roof_say_what_is_from_memory(
    span: float, edges: float, space: float, standings: list[str]
) -> None:
    answer = ventilation(kind="cold-flat", span=span)
    results = answer.results
    assert (results["eaves_gap"], results["high_gap"], results["air_space"]) == (edges, 0.0, space)
    assert isinstance(results["sources"], list)
    assert [row["standing"] for row in results["sources"]] == standings
    assert ("for the designer" in answer.notes[0]) == (span > 5_000.0)
    assert any("guidance, never a limit" in note for note in answer.notes)
    assert answer.cautions == ("vent-check",)


def test_free_area_is_the_gap_over_the_length_of_the_eaves() -> None:
    """10 mm continuous is 10 000 mm2 a metre: 9 m of eaves wants 0.09 m2 a side, and 5 mm of ridge 0.045."""
    results = ventilation(kind="cold-pitched", pitch=40.0, span=8_000.0, length=9_000.0).results
    assert results["eaves_area"] == pytest.approx(0.09)
    assert results["high_area"] == pytest.approx(0.045)
    assert ventilation(kind="cold-pitched", pitch=40.0, span=8_000.0).results["eaves_area"] == pytest.approx(0.01)


@given(kind=st.sampled_from(["cold-pitched", "cold-flat"]), pitch=st.floats(0.5, 10), span=st.floats(500, 10_000))
def test_no_roof_is_ever_passed_or_failed_and_every_figure_names_its_source(
    kind: str, pitch: float, span: float
) -> None:
    answer = ventilation(kind=kind, pitch=pitch, span=span)
    assert answer.verdict is None
    told = answer.results["sources"]
    assert isinstance(told, list)
    asked = {name for name in ("eaves_gap", "high_gap", "air_space") if answer.results[name]}
    assert {row["figure"] for row in told} == asked
    assert all(row["source"] and row["standing"] in ("read", "memory") for row in told)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"kind": "cold-pitched", "span": 8_000.0}, "also give pitch="),
        ({"kind": "cold-flat", "span": 4_000.0, "pitch": 12.0}, "a flat roof is up to 10"),
        ({"kind": "cold-flat", "span": 10_001.0}, "designer must give"),
        ({"kind": "warm", "span": 8_000.0}, "must be one of cold-pitched, cold-flat"),
        ({"kind": "cold-pitched", "span": 0.0, "pitch": 30.0}, "over 0"),
    ],
)
def test_a_roof_the_figures_do_not_reach_is_refused(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        ventilation(**given)
    assert "\n" not in refusal.value.message

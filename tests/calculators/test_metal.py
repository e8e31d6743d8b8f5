"""Lead and copper: bays, movement and mass against the codes' tables and worked figures."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.calculators.catalogue import Answer, Value
from sitelog.calculators.coverings.metal import metal_bays
from sitelog.refusal import Refusal
from tests.calculators.results import figure, rows

USES = ("flat", "pitched", "gutter", "cladding")


def standings(answer: Answer) -> dict[str, str]:
    return {str(row["figure"]): str(row["standing"]) for row in rows(answer, "sources")}


# Growth a K: lead 29e-6, copper 17e-6 (trade pages, read); the sums over 60 K are derived.
@pytest.mark.parametrize(
    ("metal", "length", "movement"),
    [("lead-code-4", 1500.0, 2.6), ("copper-06", 1800.0, 1.8), ("copper-long-strip", 10_000.0, 10.2)],
)
def test_a_bay_moves_as_far_as_was_worked(metal: str, length: float, movement: float) -> None:
    answer = metal_bays(metal=metal, use="flat", length=length, girth=500, temperature_range=60)
    assert answer.results["bays"] == 1
    assert figure(answer, "movement") == pytest.approx(movement, abs=0.05)


# BS EN 12588 code table as trade pages list it; copper by publication 156, p. 2 (read). Pieces' masses derived.
@pytest.mark.parametrize(
    ("metal", "use", "length", "girth", "mass"),
    [
        ("lead-code-6", "flat", 2250.0, 675.0, 45.6),  # a flat bay, net
        ("lead-code-4", "gutter", 1500.0, 450.0, 55.1 / 4),  # a quarter of a roll 450 x 6 m
        ("lead-code-4", "flat", 1000.0, 500.0, 20.41 / 2),
        ("lead-code-5", "flat", 1000.0, 500.0, 25.40 / 2),
        ("lead-code-7", "flat", 1000.0, 500.0, 35.72 / 2),
        ("lead-code-8", "flat", 1000.0, 500.0, 40.26 / 2),
        ("copper-06", "flat", 1000.0, 500.0, 5.45 / 2),
        ("copper-07", "flat", 1000.0, 500.0, 6.35 / 2),
    ],
)
def test_a_piece_weighs_what_the_table_says(metal: str, use: str, length: float, girth: float, mass: float) -> None:
    answer = metal_bays(metal=metal, use=use, length=length, girth=girth)
    assert answer.results["pieces"] == 1
    assert figure(answer, "mass_each") == pytest.approx(mass, abs=0.06)


# BS 6915:2001+A1 and the tables that go with it, from memory, largest girth x length; the lesser of two for code 8 flat
# (700 or 750) and code 7 gutter (2500 or 2700). Copper: CP 143-12:1970, traditional bay (read).
TABLE = {
    "flat": [(500, 1500), (600, 2000), (675, 2250), (675, 2500), (700, 3000)],
    "pitched": [(500, 1500), (600, 2000), (675, 2250), (675, 2400), (750, 2500)],
    "gutter": [(750, 1500), (800, 2000), (850, 2250), (900, 2500), (1000, 3000)],
    "cladding": [(500, 1500), (600, 2000), (600, 2000), (650, 2250), (700, 2250)],
}
LARGEST = [(use, code, *size) for use, sizes in TABLE.items() for code, size in enumerate(sizes, 4)]


@pytest.mark.parametrize(("use", "code", "girth", "length"), LARGEST)
def test_the_largest_piece_of_lead_is_the_one_told_and_says_it_is_from_memory(
    use: str, code: int, girth: float, length: float
) -> None:
    pitch: dict[str, Value] = {"pitch": 30.0} if use == "pitched" else {}
    answer = metal_bays(metal="lead", code=code, use=use, length=9000, girth=600, **pitch)
    assert (answer.results["largest_girth"], answer.results["largest_length"]) == (girth, length)
    assert standings(answer)["bay_length"] == standings(answer)["bay_girth"] == "memory"
    assert answer.verdict is None


@pytest.mark.parametrize(("code", "length"), [(4, 1500), (5, 2000), (6, 2250), (7, 2250), (8, 2250)])
def test_over_60_degrees_or_at_a_pitch_not_told_the_lesser_length_is_taken(code: int, length: float) -> None:
    steep = metal_bays(metal="lead", code=code, use="pitched", length=9000, girth=600, pitch=65)
    untold = metal_bays(metal="lead", code=code, use="pitched", length=9000, girth=600)
    assert steep.results["largest_length"] == untold.results["largest_length"] == length


@pytest.mark.parametrize("use", USES)
def test_a_copper_bay_is_read_and_not_from_memory(use: str) -> None:
    answer = metal_bays(metal="copper", use=use, length=9000, girth=600)
    assert (answer.results["largest_girth"], answer.results["largest_length"]) == (600, 1800)
    assert set(standings(answer).values()) == {"read"}


@given(
    code=st.integers(4, 8),
    use=st.sampled_from(USES),
    length=st.floats(100, 30_000),
    girth=st.floats(100, 20_000),
)
def test_bays_share_it_out_and_none_is_over_the_largest(code: int, use: str, length: float, girth: float) -> None:
    answer = metal_bays(metal="lead", code=code, use=use, length=length, girth=girth)
    assert figure(answer, "bays") * figure(answer, "bay_length") == pytest.approx(length)
    assert figure(answer, "bay_length") <= figure(answer, "largest_length") + 1e-6
    assert figure(answer, "widths") * figure(answer, "bay_girth") == pytest.approx(girth)
    if use != "gutter":
        assert figure(answer, "bay_girth") <= figure(answer, "largest_girth") + 1e-6
    assert figure(answer, "mass_all") == pytest.approx(figure(answer, "pieces") * figure(answer, "mass_each"))


def test_a_gutter_is_one_piece_across_and_an_over_wide_one_is_told_and_not_failed() -> None:
    answer = metal_bays(metal="lead", code=4, use="gutter", length=3000, girth=900)
    assert answer.results["widths"] == 1
    assert answer.notes[0].startswith("A width of 900 is over 750, the widest for one piece")
    assert answer.verdict is None


# 75 mm of vertical rise: 11 degrees 393, 30 degrees 150, 45 degrees 106 (a trade page; the sums derived).
@pytest.mark.parametrize(("pitch", "lap"), [(11.0, 393.0), (30.0, 150.0), (45.0, 106.0)])
def test_a_lap_takes_75_of_height(pitch: float, lap: float) -> None:
    answer = metal_bays(metal="lead", code=5, use="pitched", length=4000, girth=600, pitch=pitch)
    assert figure(answer, "lap") == pytest.approx(lap, abs=0.5)


def test_what_it_warns_of_is_the_metal_s_own() -> None:
    light: dict[str, Value] = {"use": "flat", "length": 500.0, "girth": 500.0}
    assert metal_bays(metal="lead", code=4, **light).cautions == ("hot-work", "lead-health")
    assert metal_bays(metal="copper", **light).cautions == ("hot-work", "copper-runoff")
    assert metal_bays(metal="lead", code=6, use="flat", length=2250, girth=675).cautions == (
        "hot-work",
        "lead-health",
        "heavy-lift",
    )


BASE: dict[str, Value] = {"use": "flat", "length": 3000.0, "girth": 2000.0}


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({**BASE, "metal": "lead"}, "code is left out"),
        ({**BASE, "metal": "lead", "code": 9}, "code is 9"),
        ({**BASE, "metal": "lead", "code": 5, "pitch": 30.0}, "pitch= is for use=pitched"),
        (
            {**BASE, "metal": "lead", "code": 5, "use": "pitched", "pitch": 8.0},
            "under 11 degrees is a flat, with drips",
        ),
        ({**BASE, "metal": "lead", "code": 5, "temperature_range": 0.0}, "over 0"),
        ({**BASE, "metal": "lead", "code": 5, "use": "dome"}, "must be one of flat, pitched, gutter, cladding"),
    ],
)
def test_bays_that_can_not_be_are_refused_in_one_line(given: dict[str, Value], told: str) -> None:
    with pytest.raises(Refusal, match=told) as refusal:
        metal_bays(**given)
    assert "\n" not in refusal.value.message


def test_long_strip_goes_in_one_length_to_ten_metres_and_five_hundred_wide() -> None:
    """Copper code of practice, 15.4.2.3 (read): 10 m, usual width 500; longer is parted by a step or a cross-welt."""
    one = metal_bays(metal="copper-long-strip", use="flat", length=10_000, girth=500)
    assert (one.results["bays"], one.results["widths"]) == (1, 1)
    two = metal_bays(metal="copper-long-strip", use="pitched", length=10_001, girth=501)
    assert (two.results["bays"], two.results["widths"]) == (2, 2)
    assert standings(one)["bay_length"] == "read"


@pytest.mark.parametrize("use", ["gutter", "cladding"])
def test_long_strip_is_for_roofs_alone(use: str) -> None:
    with pytest.raises(Refusal, match=f"is for flat and pitched roofs only, so not use={use}"):
        metal_bays(metal="copper-long-strip", use=use, length=5000, girth=500)


def test_every_metal_among_the_finishes_is_taken_by_its_id() -> None:
    path = Path(__file__).parents[2] / "checklists" / "finishes.toml"
    metals = [
        one["id"] for one in tomllib.loads(path.read_text(encoding="utf-8"))["finish"] if "slopes" not in one["for"]
    ]
    assert len(metals) > 5
    for metal in metals:
        if metal != "grp":
            assert metal_bays(metal=metal, use="flat", length=1000, girth=400).results["bays"] == 1

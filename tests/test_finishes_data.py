"""The finishes as shipped: every figure against the published one, and every choice fit to work with."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from sitelog.calculators.coverings.headlaps import COVERINGS, headlap
from sitelog.calculators.coverings.slopes import gauge

PATH = Path(__file__).parents[1] / "checklists" / "finishes.toml"
DATA: dict[str, Any] = tomllib.loads(PATH.read_text(encoding="utf-8"))
SOURCES: dict[str, dict[str, str]] = {one["id"]: one for one in DATA["source"]}
FINISHES: dict[str, dict[str, Any]] = {one["id"]: one for one in DATA["finish"]}

KINDS = {
    "cover_unit_length": "length",
    "cover_unit_width": "length",
    "cover_headlap": "length",
    "cover_lap": "choice",
    "cover_max_gauge": "length",
    "cover_min_gauge": "length",
    "cover_min_pitch": "angle",
    "cover_rule": "choice",
    "cover_least_lap": "length",
    "cover_low_pitch": "angle",
    "cover_low_lap": "length",
    "cover_mass": "number",
    "batten_thickness": "length",
    "cover_thickness": "length",
    "lining_min_fall": "fall",
    "lining_upstand": "length",
    "lining_max_bay": "length",
    "lining_deck": "text",
    "lining_mass": "number",
    "lining_moisture": "number",
    "lining_trade": "choice",
}
CAUTIONS = {"lead-health", "copper-runoff", "grp-resin", "load-both-sides"}  # what is settled when it is agreed
SLOPES = [name for name, one in FINISHES.items() if "slopes" in one["for"]]
LININGS = [name for name, one in FINISHES.items() if "slopes" not in one["for"]]

# Finish, fact, the published figure, how it is held, and where it stands.
PUBLISHED: list[tuple[str, str, float | str, str]] = [
    # Trade page on plain tile sizes: 265 x 165, metricated in the 1970s
    ("plain-tiles", "cover_unit_length", 265, "second hand"),
    ("plain-tiles", "cover_unit_width", 165, "second hand"),
    # Tile maker's data page: gauge 88 to 100, headlap 65 at 100, least rafter pitch 35 for machine-made tiles
    ("plain-tiles", "cover_headlap", 65, "read"),
    ("plain-tiles", "cover_max_gauge", 100, "read"),
    ("plain-tiles", "cover_min_gauge", 88, "read"),
    ("plain-tiles", "cover_min_pitch", 35, "read"),
    # NFRC guidance on BS 5534, Table 3: 38 x 25 plain tiles, 50 x 25 slates; 25 thick in single lap as well
    ("plain-tiles", "batten_thickness", 25, "read"),
    ("slates-500x250", "batten_thickness", 25, "read"),
    ("interlocking-smooth", "batten_thickness", 25, "read"),
    # Two slate suppliers' lap tables on BS 5534, moderate exposure: 500 x 250 only from 25, lap 95 to 100
    ("slates-500x250", "cover_unit_length", 500, "read"),
    ("slates-500x250", "cover_unit_width", 250, "read"),
    ("slates-500x250", "cover_headlap", 100, "read"),
    ("slates-500x250", "cover_min_pitch", 25, "read"),
    # A roofer's figure for 500 x 250; makers' tables run from 20 to 41
    ("slates-500x250", "cover_mass", 38, "read"),
    # Tile brochure p. 37, a 420 x 330 tile: 75 headlap, gauge 345, 46 kg/m2; smooth 17.5, granular 30
    ("interlocking-smooth", "cover_unit_length", 420, "read"),
    ("interlocking-smooth", "cover_headlap", 75, "read"),
    ("interlocking-smooth", "cover_max_gauge", 345, "read"),
    ("interlocking-smooth", "cover_mass", 46, "read"),
    ("interlocking-smooth", "cover_min_pitch", 17.5, "read"),
    ("interlocking-smooth", "cover_least_lap", 75, "read"),
    ("interlocking-smooth", "cover_low_pitch", 15, "read"),
    ("interlocking-smooth", "cover_low_lap", 100, "read"),
    ("interlocking-granular", "cover_low_pitch", 25, "read"),
    # Slate suppliers' tables after BS 5534, of a moderate site: the least pitch, and the safer lap at it
    *(
        (f"slates-{long}x{wide}", name, value, "second hand")
        for long, wide, pitch, lap in (
            (600, 300, 25, 95),
            (500, 300, 20, 115),
            (450, 220, 30, 80),
            (400, 250, 30, 80),
            (400, 200, 30, 80),
            (350, 200, 30, 80),
            (300, 200, 30, 80),
        )
        for name, value in (
            ("cover_unit_length", long),
            ("cover_unit_width", wide),
            ("cover_min_pitch", pitch),
            ("cover_headlap", lap),
        )
    ),
    # Maker's data sheet, small clay interlocking 330 x 226: 191, 210 to 255, 22.5 at 75, 15 at 100, 45.1 kg/m2
    *(
        ("interlocking-small-clay", name, value, "read")
        for name, value in (
            ("cover_unit_length", 330),
            ("cover_unit_width", 191),
            ("cover_headlap", 75),
            ("cover_least_lap", 75),
            ("cover_max_gauge", 255),
            ("cover_min_gauge", 210),
            ("cover_min_pitch", 22.5),
            ("cover_low_pitch", 15),
            ("cover_low_lap", 100),
            ("cover_mass", 45.1),
        )
    ),
    # Maker's data sheet, concrete 420 x 332 double roll, South African: 301, 345, 26 at 75, 17.5 at 100, 43.4 kg/m2
    *(
        ("double-roll", name, value, "read")
        for name, value in (
            ("cover_unit_length", 420),
            ("cover_unit_width", 301),
            ("cover_headlap", 75),
            ("cover_least_lap", 75),
            ("cover_max_gauge", 345),
            ("cover_min_pitch", 26),
            ("cover_low_pitch", 17.5),
            ("cover_low_lap", 100),
            ("cover_mass", 43.4),
        )
    ),
    # BS 5534 not opened: 30 to 35 degrees, 75, 38 to 45 kg/m2; the safer of each
    ("pantiles-clay", "cover_min_pitch", 35, "memory"),
    ("pantiles-clay", "cover_headlap", 75, "memory"),
    ("pantiles-clay", "cover_least_lap", 75, "memory"),
    ("pantiles-clay", "cover_mass", 45, "memory"),
    # Timber trade magazine: 400 long, as low as 14; handbook for the United Kingdom: 9.7 kg/m2 laid
    ("shingles-400", "cover_unit_length", 400, "second hand"),
    ("shingles-400", "cover_min_pitch", 14, "second hand"),
    ("shingles-400", "cover_mass", 9.7, "read"),
    ("shingles-400", "batten_thickness", 25, "second hand"),
    # Handbooks that were not seen: copper from 6 degrees, zinc from 3 and better 7
    ("standing-seam-copper", "cover_min_pitch", 6, "memory"),
    ("standing-seam-copper", "cover_mass", 5.45, "read"),
    ("standing-seam-zinc", "cover_min_pitch", 7, "memory"),
    ("interlocking-granular", "cover_min_pitch", 30, "read"),
    # BS EN 12588 code table as trade pages list it; Code 6 is 2.65 mm x 11340 kg/m3 (pages print 30.10)
    ("lead-code-4", "lining_mass", 20.41, "second hand"),
    ("lead-code-5", "lining_mass", 25.4, "second hand"),
    ("lead-code-6", "lining_mass", 30.05, "memory"),
    ("lead-code-7", "lining_mass", 35.72, "second hand"),
    ("lead-code-8", "lining_mass", 40.26, "second hand"),
    # NHBC Standards 2020, 7.2.21: valley pieces of 1.5 m at most in code 4 or 5
    ("lead-code-4", "lining_max_bay", 1500, "read"),
    # BS 6915:2001+A1 joint-spacing tables, from memory: never a limit that fails a check
    ("lead-code-5", "lining_max_bay", 2000, "memory"),
    ("lead-code-6", "lining_max_bay", 2250, "memory"),
    ("lead-code-7", "lining_max_bay", 2500, "memory"),
    ("lead-code-8", "lining_max_bay", 3000, "memory"),
    # Handbook page on lead gutters: 1.5 in in 10 ft
    *((f"lead-code-{code}", "lining_min_fall", "1:80", "second hand") for code in range(4, 9)),
    # Copper trade association publication 156 (2002), p. 2
    ("copper-06", "lining_mass", 5.45, "read"),
    ("copper-long-strip", "lining_mass", 5.45, "read"),
    ("copper-07", "lining_mass", 6.35, "read"),
    # Copper code of practice: traditional bay 600 x 1800; 15.4.2.3, long strip to 10 m
    ("copper-06", "lining_max_bay", 1800, "read"),
    ("copper-07", "lining_max_bay", 1800, "read"),
    ("copper-long-strip", "lining_max_bay", 10_000, "read"),
    # CP 143-12:1970, from memory: 1:60 with rolls and drips; long strip from 5 degrees, 1 in 11.4
    ("copper-06", "lining_min_fall", "1:60", "memory"),
    ("copper-07", "lining_min_fall", "1:60", "memory"),
    ("copper-long-strip", "lining_min_fall", "1:11.4", "memory"),
    # BS 6229:2018 in a manufacturer's guidance; NHBC Standards 2022, 7.1: 1:80 finished
    ("grp", "lining_min_fall", "1:80", "second hand"),
    # NBS H71/620: timber 22 % at most when covered with lead, taken for copper; resin 18, from memory
    *((f"lead-code-{code}", "lining_moisture", 22, "read") for code in range(4, 9)),
    *((name, "lining_moisture", 22, "derived") for name in LININGS if name.startswith("copper")),
    ("grp", "lining_moisture", 18, "memory"),
    *((name, "lining_upstand", 150, "read") for name in LININGS),  # BS 6229:2018, 4.5; NHBC Standards 2022, 7.1.15
]

DERIVED = [
    ("plain-tiles", "cover_mass"),
    ("interlocking-smooth", "cover_unit_width"),
    ("slates-600x300", "cover_mass"),
    ("slates-400x200", "cover_mass"),
    ("grp", "lining_mass"),
]


def facts(finish: str) -> dict[str, Any]:
    return {one["name"]: one["value"] for one in FINISHES[finish]["fact"]}


def standing(finish: str, fact: str) -> str:
    (source,) = (one["source"] for one in FINISHES[finish]["fact"] if one["name"] == fact)
    return SOURCES[source]["how"]


def test_every_id_is_said_once() -> None:
    assert len(SOURCES) == len(DATA["source"])
    assert len(FINISHES) == len(DATA["finish"])
    assert set(DATA) == {"source", "finish"}


def test_every_source_says_where_it_stands_and_is_used() -> None:
    for source in SOURCES.values():
        assert set(source) == {"id", "title", "locator", "year", "how"}
        assert all(isinstance(text, str) and text for text in source.values()), source
        assert source["how"] in ("read", "second hand", "memory", "derived", "judgement")
    named = {one["source"] for f in FINISHES.values() for one in (*f["fact"], *f["asks"])}
    assert named == set(SOURCES)


@pytest.mark.parametrize("name", FINISHES)
def test_a_finish_says_only_what_a_choice_may_say(name: str) -> None:
    finish = FINISHES[name]
    assert set(finish) == {"id", "label", "for", "says", "cautions", "fact", "asks"}
    assert finish["for"] and set(finish["for"]) <= {"slopes", "flats", "curves", "eyebrows", "linings"}
    assert set(finish["cautions"]) <= CAUTIONS
    assert len(facts(name)) == len(finish["fact"]), "a fact is set once"
    prefix = "cover_" if name in SLOPES else "lining_"
    for fact in finish["fact"]:
        assert {"name", "value", "kind", "source"} <= set(fact) <= {"name", "value", "kind", "source", "agree"}
        assert fact["kind"] == KINDS[fact["name"]]
        assert fact["name"].startswith((prefix, "batten_"))
    for ask in finish["asks"]:
        assert {"topic", "says", "source"} <= set(ask) <= {"topic", "says", "source", "of", "caution"}
        assert ask.get("of", "others") == "others" and ask.get("caution") in (None, *finish["cautions"])
    lines = [finish["label"], finish["says"], *(ask["says"] for ask in finish["asks"])]
    assert all(line and "\n" not in line and len(line) <= 100 for line in lines)


@pytest.mark.parametrize(("finish", "fact", "published", "how"), PUBLISHED)
def test_figures_match_the_published_ones(finish: str, fact: str, published: float | str, how: str) -> None:
    assert facts(finish)[fact] == published
    assert standing(finish, fact) == how


def test_derived_figures_follow_from_the_published_ones() -> None:
    # maker's table: machine-made clay tile at 100 gauge, 0.628 kN/m2 on the slope; kg/m2 x 9.81/1000 = kN/m2
    assert facts("plain-tiles")["cover_mass"] == pytest.approx(0.628 * 1000 / 9.81, abs=0.5)
    # truss software maker's table, one Spanish make: 0.405 and 0.320 kN/m2
    assert facts("slates-600x300")["cover_mass"] == pytest.approx(0.405 * 1000 / 9.81, abs=0.05)
    assert facts("slates-400x200")["cover_mass"] == pytest.approx(0.320 * 1000 / 9.81, abs=0.05)
    # brochure: 9.7 of the 420 x 330 tile in a m2 at 345 (two figures: 9.65 to 9.75)
    width = facts("interlocking-smooth")["cover_unit_width"] / 1000
    assert 9.65 < 1 / (width * 0.345) < 9.75
    # GRP trade page: 2.0 kg resin on 600 g glass and 0.5 topcoat
    assert facts("grp")["lining_mass"] == pytest.approx(2.0 + 0.6 + 0.5)
    assert {standing(*one) for one in DERIVED} == {"derived"}


def test_no_figure_stands_unchecked() -> None:
    """The granular tile is held to the smooth one below; words (lap, deck) carry no figure of their own."""
    figures = {
        (name, one["name"])
        for name, finish in FINISHES.items()
        for one in finish["fact"]
        if name != "interlocking-granular" and one["kind"] not in ("choice", "text")
        if one["name"] != "batten_thickness"
    }
    assert figures <= {(finish, fact) for finish, fact, _, _ in PUBLISHED} | set(DERIVED)


@pytest.mark.parametrize("name", [one for one in SLOPES if {"cover_unit_length", "cover_max_gauge"} <= set(facts(one))])
def test_headlap_and_largest_gauge_of_a_slope_are_the_same_rule(name: str) -> None:
    """L - lap in single lap, (L - lap) / 2 in double lap: the published gauge, to the millimetre."""
    figures = facts(name)
    answer = gauge(
        slope=5000.0,
        unit_length=float(figures["cover_unit_length"]),
        headlap=float(figures["cover_headlap"]),
        lap=figures["cover_lap"],
    )
    assert answer.results["largest_gauge"] == figures["cover_max_gauge"]


def test_the_two_interlocking_tiles_differ_in_pitch_alone() -> None:
    smooth, granular = facts("interlocking-smooth"), facts("interlocking-granular")
    assert {k for k in smooth if smooth[k] != granular[k]} == {"cover_min_pitch", "cover_low_pitch"}


@pytest.mark.parametrize("name", [one for one in SLOPES if facts(one).get("cover_rule") == "slates"])
def test_a_slate_starts_from_the_tables_that_the_sum_reads(name: str) -> None:
    """Each size of the list is in the tables, and begins with the safer lap at its least pitch on a moderate site."""
    figures = facts(name)
    size = {"unit_length": float(figures["cover_unit_length"]), "unit_width": float(figures["cover_unit_width"])}
    pitch = float(figures["cover_min_pitch"])
    answer = headlap(covering="slates", **size, pitch=pitch, exposure="moderate")
    assert (answer.results["least_pitch"], answer.results["least_headlap"]) == (pitch, figures["cover_headlap"])
    severe = headlap(covering="slates", **size, pitch=60.0, exposure="severe").results["least_pitch"]
    assert f"{severe:g} " in f"{FINISHES[name]['says']} "


def test_every_covering_of_a_slope_says_by_which_rule_it_laps() -> None:
    assert {facts(name)["cover_rule"] for name in SLOPES} == set(COVERINGS)
    for name in SLOPES:
        assert facts(name).get("cover_lap") == {
            "slates": "double", "plain-tiles": "double", "single-lap": "single",
        }.get(facts(name)["cover_rule"], facts(name).get("cover_lap"))  # fmt: skip


@pytest.mark.parametrize("use", ["slopes", "flats", "curves", "eyebrows", "linings"])
def test_every_use_has_a_choice(use: str) -> None:
    assert len([one for one in FINISHES.values() if use in one["for"]]) >= 3


def test_a_bay_out_of_another_countrys_table_waits_for_the_coppersmith() -> None:
    """No UK table of copper bays was read: publication 156 names only stock, and CP 143-12 was not seen."""
    said = {
        name: fact.get("agree")
        for name, one in FINISHES.items()
        for fact in one["fact"]
        if fact["name"] == "lining_max_bay"
    }
    assert {name for name, agree in said.items() if agree} == {name for name in LININGS if name.startswith("copper")}


def test_metals_and_resin_carry_their_own_cautions() -> None:
    for name, caution in [("lead", "lead-health"), ("copper", "copper-runoff"), ("grp", "grp-resin")]:
        carriers = [one for key, one in FINISHES.items() if key.startswith(name)]
        assert carriers and all(caution in one["cautions"] for one in carriers)


def test_water_off_copper_is_every_parts_business() -> None:
    """Materials handbook, corrosion: a water path is enough, without contact."""
    for name in ("copper-06", "copper-07", "copper-long-strip"):
        (runoff,) = (ask for ask in FINISHES[name]["asks"] if ask["source"] == "copper-runoff")
        assert (runoff["of"], runoff["caution"]) == ("others", "copper-runoff")


def test_every_lining_says_who_lays_it() -> None:
    """Common practice: the metal's own trade, and a laminator for resin."""
    trades = {"lead": "leadworker", "copper": "coppersmith", "grp": "laminator"}
    assert LININGS
    for name in LININGS:
        assert facts(name)["lining_trade"] == trades[name.partition("-")[0]]

"""Each figure of the lists and calculators against print: tests/reference/roofing_values.toml names where it stands."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from sitelog.calculators.coverings.sheet_metals import COPPER, LEAD, Metal
from sitelog.calculators.decks.deck_boards import deck_boards
from sitelog.calculators.timber.scarf import scarf
from sitelog.checklist.load import load
from sitelog.checklist.schema.model import Library, Limit

ROOT = Path(__file__).resolve().parents[2]
VALUES = {one["id"]: one for one in tomllib.loads((ROOT / "tests/reference/roofing_values.toml").read_text())["value"]}

# The limit by form, stage, check and figure; the published value, and which of several it is.
LIMITS = [
    ("hipped.plates.straps.spacing", "a-straps-02", 0),
    ("hipped.plates.straps.fixing", "a-straps-03", 0),
    ("hipped.restraint.straps.spacing", "a-straps-07", 0),
    ("hipped.restraint.straps-tall.spacing", "a-straps-08", 0),
    ("cut-roof.gables.straps-tall.spacing", "a-straps-08", 0),
    ("cut-roof.valley.channel.width", "d-valley-03", 0),
    ("cut-roof.valley.channel-flat.width", "d-valley-03", 1),
    ("hipped.restraint.straps.crossed", "a-straps-11", 0),
    ("hipped.restraint.straps.turned", "a-straps-10", 0),
    ("hipped.trimming.rafters.added", "a-openings-01", 0),
    ("hipped.trimming.rafters-wide.added", "a-openings-01", 1),
    ("hipped.first-pair.stood.plumb", "b-wall-03", 0),
    ("hipped.eaves.gaps.path", "c-vent-08", 0),
    ("gabled.gables.spacing-tall.da", "a-straps-08", 0),
    ("gabled.bearing.seat.p", "a-bearing-01", 0),
    ("firred-deck.joists.straps.length", "a-straps-05", 0),
    ("firred-deck.joists.spacing.spacing", "d-deck-03", 0),
    ("firred-deck.deck.thick", "d-deck-02", 0),
    ("firred-deck.deck.thick-close", "d-deck-01", 0),
    ("firred-deck.deck.gaps.edge", "d-deck-07", 0),
    ("firred-deck.edges.gaps.clear", "c-flatvent-01", 0),
    ("firred-deck.edges.upstand", "d-upstand-01", 0),
    ("firred-deck.edges.slope", "lead-layboard", 0),
    ("firred-deck.bays.drips.step", "lead-drip", 0),
    ("parapet-gutter.sole.drips.step", "lead-drip", 0),
    ("parapet-gutter.outlets.lay-board", "lead-layboard", 0),
    ("parapet-gutter.outlets.upstand", "d-upstand-02", 0),
    ("parapet-gutter.finish.walk", "lead-gutter-width", 0),
    ("barrel-dormer.next.apron.up", "lead-flash-upstand", 0),
    ("eyebrow-dormer.finish.slope.slope", "d-eyebrow-01", 0),
    ("eyebrow-dormer.battens.pitches.flattest", "d-eyebrow-02", 0),
    ("eyebrow-dormer.face.centres", "d-eyebrow-03", 0),
    ("eyebrow-dormer.face.clear", "d-eyebrow-04", 0),
    ("eyebrow-dormer.battens.moisture", "a-moisture-05", 0),
    ("job.before.scaffold.rail", "h-rail", 0),
    ("job.before.scaffold.gap", "h-gap", 0),
]
FINISHES = [
    ("lead-code-4", "lining_mass", "lead-code4-mass", 0),
    ("lead-code-5", "lining_mass", "lead-code5-mass", 0),
    ("lead-code-7", "lining_mass", "lead-code7-mass", 0),
    ("lead-code-8", "lining_mass", "lead-code8-mass", 0),
    ("lead-code-5", "lining_moisture", "lead-substrate-mc", 0),
    ("grp", "lining_moisture", "grp-rain", 0),
    ("copper-06", "lining_mass", "cu-06", 1),
    ("copper-07", "lining_mass", "cu-07", 1),
    ("plain-tiles", "cover_headlap", "plain-lap-nhbc", 0),
    ("plain-tiles", "cover_min_pitch", "plain-pitch-nhbc", 0),
]
MASSES = [
    (LEAD[4], "lead-code4-mass", 0),
    (LEAD[5], "lead-code5-mass", 0),
    (LEAD[7], "lead-code7-mass", 0),
    (LEAD[8], "lead-code8-mass", 0),
    (COPPER[0.6], "cu-06", 1),
    (COPPER[0.7], "cu-07", 1),
]


@pytest.fixture(scope="module")
def library() -> Library:
    return load(())


def printed(id: str, which: int) -> Any:
    value = VALUES[id]["value"]
    return value[which] if isinstance(value, list) else value


def limit(library: Library, path: str) -> Limit:
    form, stage_id, check_id, *key = path.split(".")
    stages = {stage.id: stage for stage in library.lists[form].stages}
    check = stages[stage_id].check(check_id)
    assert check, path
    figure = check.figure(key[0]) if key else None
    found = figure.limit if figure else check.limit
    assert found, path
    return found


@pytest.mark.parametrize(("path", "id", "which"), LIMITS, ids=[row[0] for row in LIMITS])
def test_a_limit_is_the_figure_that_is_in_print(library: Library, path: str, id: str, which: int) -> None:
    """And what print was not read for that work is borrowed, or the house's own."""
    found = limit(library, path)
    assert found.amount == pytest.approx(printed(id, which))
    assert VALUES[id]["how"] == "read" or found.origin != "published"


@pytest.mark.parametrize(("finish", "fact", "id", "which"), FINISHES, ids=[f"{row[0]} {row[1]}" for row in FINISHES])
def test_a_finish_sets_the_figure_that_is_in_print(
    library: Library, finish: str, fact: str, id: str, which: int
) -> None:
    (found,) = [one for one in library.finishes[finish].facts if one.name == fact]
    assert found.value == printed(id, which)


@pytest.mark.parametrize(("metal", "id", "which"), MASSES, ids=[row[1] for row in MASSES])
def test_a_metal_weighs_what_is_in_print(metal: Metal, id: str, which: int) -> None:
    assert metal.mass == printed(id, which)


# The sum's input, its result; the published value, and which of several it is. An 18 board is on 45 and 58.
BOARDS = [
    ("other", "wall_gap", "d-deck-08", 0),
    ("other", "square_gap", "d-deck-07", 0),
    ("other", "edge_centres", "d-deck-05", 0),
    ("other", "field_centres", "d-deck-05", 1),
    ("other", "fixing_length", "d-deck-10", 0),
    ("resin", "wall_gap", "grp-deck-gap", 0),
    ("resin", "edge_centres", "grp-deck-fix", 1),
    ("resin", "field_centres", "grp-deck-fix", 1),
]


@pytest.mark.parametrize(("under", "result", "id", "which"), BOARDS, ids=[f"{row[0]} {row[1]}" for row in BOARDS])
def test_boards_of_a_small_deck_are_gapped_and_fixed_as_in_print(under: str, result: str, id: str, which: int) -> None:
    results = deck_boards(length=2000.0, width=1000.0, under=under).results
    assert results[result] == printed(id, which)
    into_joist = printed("grp-deck-fix", 0)
    assert deck_boards(length=2000.0, width=1000.0, under="resin").results["fixing_length"] == 18 + into_joist


def test_a_scarf_tells_the_depths_of_the_old_print() -> None:
    """Fir: unbolted, bolted, bolted and indented."""
    plain, bolted, indented = VALUES["sc-soft"]["value"]
    told = f"{plain} times the depth in softwood, {bolted} bolted, {indented} bolted and indented"
    assert any(told in note for note in scarf(depth=220).notes)


SETTLED = tomllib.loads((ROOT / "tests/reference/settled.toml").read_text())["note"]


@pytest.mark.parametrize("note", SETTLED, ids=[note["id"] for note in SETTLED])
def test_where_two_prints_differ_one_is_taken_and_it_is_said_which(note: dict[str, str]) -> None:
    """What is taken is told where it is used; what no list or calculator uses needs no word there."""
    assert note["taken"]
    if "told" in note:
        assert note["told"] in (ROOT / note["file"]).read_text(), note["file"]

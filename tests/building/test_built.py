"""A building put together block by block: what each line makes of it, and what is said of it. Sizes made up by us."""

from pathlib import Path

import pytest

from sitelog.geometry.building.named import roof_of
from sitelog.refusal import Refusal
from sitelog.wording.building.blocks import blocks_in, built_on, examples, refused_words, said_in
from sitelog.wording.building.telling import lines_in_full, lines_in_short, row_of, told_of
from sitelog.wording.prompts.drafts import Drafts

MAIN = "main 9000x6000 40"
WING = "wing off CD 0 from D 4000x4000 40 end gable"
L = f"{MAIN}; {WING}"


@pytest.mark.parametrize(
    ("text", "line", "then"),
    [
        ("", MAIN, MAIN),
        ("", L, L),
        (MAIN, WING, L),
        (L, "wing off AB 0 from B 3000x4000 8/12", f"{L}; wing2 off AB 0 from B 3000x4000 8/12"),
        (L, "wing1 off CD 0 from C 4000x3000 40", f"{L}; wing1 off CD 0 from C 4000x3000 40"),
        (L, "main 9500x6000 8/12", f"main 9500x6000 8/12; {WING}"),
        (f"{L}; sprockets 600 25", "sprockets 500 25", f"{L}; sprockets 500 25"),
        (f"{L}; purlins 1500", "drop wing", f"{MAIN}; purlins 1500"),
        (
            f"{L}; {WING.replace('from D', 'from C')}",
            "DROP wing",
            f"{MAIN}; wing2 off CD 0 from C 4000x4000 40 end gable",
        ),
        (MAIN, "drop main", ""),
    ],
)
def test_a_line_adds_a_block_changes_it_or_takes_it_away_and_leaves_the_others_as_typed(
    text: str, line: str, then: str
) -> None:
    assert built_on(text, line) == then


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("", WING, "Begin with the main roof, such as main 9000x6000 40 BC gable"),
        ("", "main 9x6 40", "Main roof: its size is 9 mm; it must be from 100 to 100000. If it is metres, type 9m"),
        (MAIN, "wing off CE 0 from D 4000x4000 40", "Wing: CE isn't a side to build on; the sides are AB, BC, CD, DA"),
        (MAIN, "wing off CD 0 from D 9000x4000 40", "Wing: it is as wide as the side that it is off: make that"),
        (L, "wing2 off CD 1000 from D 4000x4000 40", "Wing 2: another block is there on CD: move it, or make it"),
        (L, "drop wing2", "No block is called 'wing2'. Blocks here: main, wing"),
        (L, "drop", "Say which block to take away, such as drop wing"),
        (L, "drop main", "Main: take away what is built on it first: wing"),
        (
            f"{L}; wing2 off wing.left 500 from end 1500x1000 40",
            "drop wing",
            "Wing: take away what is built on it first",
        ),
        (
            f"{L}; dormer off BC 2000 from B 1500x800 35 cheek 800",
            f"{MAIN} BC gable",
            "Dormer: BC is a gable: a dormer",
        ),
        (MAIN, "wnig off CD", "'wnig' isn't a block; did you mean wing?"),
    ],
)
def test_what_cant_be_is_refused_in_one_line_by_the_blocks_name(text: str, line: str, said: str) -> None:
    with pytest.raises(Refusal) as refused:
        built_on(text, line)
    assert refused_words(refused.value).startswith(said)
    assert "\n" not in refused.value.message


def test_each_block_is_told_in_a_row() -> None:
    text = (
        "main 9000x6000 40 BC gable DA half-hip 1200 50; wing off CD 0 from D 4000x4000 40 left 35 end gable; "
        "bay off AB 3000 from A 3000x900 40 level; lean-to off BC 500 from B 3000x2000 15 plate -900; "
        "dormer off AB 6500 from A 1500x900 35 cheek 900; sprockets 600 25; purlins 1500 2600"
    )
    assert [row_of(said) for said in said_in(text).values()] == [
        "Main roof 9000 x 6000, 40; gable at BC; half-hip from 1200 at DA",
        "Wing off CD, 0 from D: 4000 x 4000, 40; left 35; end gable",
        "Bay off AB, 3000 from A: 3000 x 900, 40; splay 45; level ridge",
        "Lean-to off BC, 500 from B: 3000 x 2000, 15; plate at -900",
        "Dormer on AB, 6500 from A: 1500 wide, face 900 in, 35; cheek 900; gable",
        "Sprockets 600, 25",
        "Purlins at 1500, 2600",
    ]
    assert row_of(said_in("main 30'x20' 8/12")["main"], "imperial") == "Main roof 30' 0\" x 20' 0\", 33.69"


def test_the_corners_and_lines_of_an_l_are_told_by_name() -> None:
    """By hand: an L with a gable to its wing has hips at A, B, C and over the wing, and one valley."""
    roof = roof_of(L)
    assert lines_in_short(roof) == "hips 4, valley 1 CE-EF, ridges 2, gable 1 FG"
    assert list(lines_in_full(roof)) == [
        "4 hips: AB-BC, AB-GA, BC-CE, CE-GA.", "1 valley: CE-EF.", "2 ridges: AB-CE, EF-GA.", "1 gable: FG.",
    ]  # fmt: skip
    assert next(iter(told_of(roof))) == ("Corners", "A, B, C, E, F, G")


def test_a_valley_that_holds_water_is_said() -> None:
    """By hand: flush at B, a wing with higher plates has its far side rise to meet the main roof's end, level."""
    roof = roof_of("main 9000x6000 40; wing off AB 0 from B 4000x1000 40 plate 600")
    assert dict(told_of(roof))["Water"] == "Level valley BC-EF holds water: change a block, or drain it"
    assert "Water" not in dict(told_of(roof_of(L)))


@pytest.mark.parametrize("line", examples())
def test_every_example_can_be_typed_as_it_stands(line: str) -> None:
    text = line if line.startswith("main") else f"main 9000x6000 40; {line}"
    assert blocks_in(text)
    assert roof_of(text)


def test_a_long_roof_that_is_left_half_way_is_there_whole_the_next_time(tmp_path: Path) -> None:
    text = "; ".join([MAIN, *(f"dormer{n} off AB 500 from A 1500x900 35 cheek 800 end gable" for n in range(1, 20))])
    Drafts.of_new_job(tmp_path).keep("new-job", {"1.building": text})
    assert Drafts.of_new_job(tmp_path).typed("new-job")["1.building"] == text


def test_a_block_that_stands_over_the_main_roof_or_runs_past_a_hip_is_asked_about() -> None:
    """By hand: a bay's splays that run on meet CD at 2606.8, over the middle; the main ridge is at 2517.3.

    A dormer from 6000 to 7500 with plates at 1355 runs in to 1615, where the hip from B is at 7385.
    """
    bay = "main 9000x6000 40; bay off AB 3000 from A 3000x900 40 splay 45"
    assert [words for head, words in told_of(roof_of(bay)) if head == "Check"] == [
        "Bay: its top is 89 over the main roof's. If that's wrong, make it flatter, narrower or level"
    ]
    assert "Check" not in dict(told_of(roof_of(f"{bay} level")))
    dormer = "main 9000x6000 40; dormer off AB {} from A 1500x900 35 cheek 600"
    assert "Dormer: it runs on to slopes AB, BC" in dict(told_of(roof_of(dormer.format(6000))))["Check"]
    assert "Check" not in dict(told_of(roof_of(dormer.format(3500))))

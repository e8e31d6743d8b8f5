"""The form of each kind of block: what is typed in it makes the block's line, and opens again as it was said."""

from collections.abc import Mapping

import pytest

from sitelog.geometry.building.named import roof_of
from sitelog.geometry.building.said import BlockRefusal, Side
from sitelog.refusal import Refusal
from sitelog.wording.building.blocks import blocks_in, said_in, with_block
from sitelog.wording.building.composing import kind_of, line_of, typed_of
from sitelog.wording.building.fields import answered, check, field_about, wanted
from tests.building.test_buildings import BUILDINGS

MAIN = "main 9000x6000 40"


def line(kind: str, name: str, text: str, typed: Mapping[str, str]) -> str:
    """The line that a form over that building makes."""
    return line_of(kind, name, answered(wanted(kind, said_in(text), typed), typed))


@pytest.mark.parametrize("text", BUILDINGS.values(), ids=BUILDINGS)
def test_a_form_opened_on_a_block_and_saved_leaves_the_roof_as_it_was(text: str) -> None:
    for name, said in said_in(text).items():
        again = with_block(text, line(kind_of(said), name, text, typed_of(said)))
        assert said_in(again)[name] == said or said.sides == {"end": Side("gable")}, "which a dormer has anyway"
        assert roof_of(again).found.volume == roof_of(text).found.volume


@pytest.mark.parametrize(
    ("kind", "typed", "made"),
    [
        ("main", {"length": "9 m", "width": "6000", "pitch": "8/12", "BC": "Gable"}, "main 9mx6000 8/12 BC gable"),
        ("main", {"length": "29' 6 1/2\"", "width": "6m", "pitch": "40"}, "main 9004.3x6m 40"),
        ("octagon", {"across": "6000", "pitch": "40"}, "main octagon 6000 40"),
        ("wing", {"width": "4000", "out": "3000", "end": "gable"}, "wing off CD 0 from C 4000x3000 40 end gable"),
        (
            "wing",
            {"side": "ab", "width": "4000", "out": "3000", "end": "half hip 1200", "plate": "-300"},
            "wing off ab 0 from A 4000x3000 40 end half-hip 1200 plate -300",
        ),
        (
            "bay",
            {"distance": "1000", "width": "3000", "out": "900", "ridge": "level"},
            "bay off AB 1000 from A 3000x900 40 splay 45 level",
        ),
        (
            "lean-to",
            {"width": "3000", "out": "2000", "top": "-100", "plate": "-900"},
            "lean-to off BC 0 from B 3000x2000 top -100 plate -900",
        ),
        ("dormer", {"width": "1500", "out": "900", "cheek": "800"}, "dormer off AB 0 from A 1500x900 40 cheek 800"),
        (
            "dormer",
            {"width": "1500", "out": "900", "cheek": "800", "end": "hip"},
            "dormer off AB 0 from A 1500x900 40 cheek 800 end hip",
        ),
        ("sprockets", {"length": "600", "pitch": "25"}, "sprockets 600 25"),
        ("purlins", {"heights": "1500 2600"}, "purlins 1500 2600"),
    ],
)  # fmt: skip
def test_what_is_typed_makes_the_line_with_what_is_usual_in_blank_fields(
    kind: str, typed: Mapping[str, str], made: str
) -> None:
    assert line(kind, made.split()[0], MAIN, typed) == made
    assert with_block(MAIN, made)


def test_the_corner_that_is_usual_follows_the_side() -> None:
    text = f"{MAIN}; wing off CD 1000 from D 4000x4000 40"
    for side, corner in (("", "C"), ("da", "D"), ("wing.left", "house"), ("nowhere", "C")):
        fields = {field.key: field for field in wanted("wing", said_in(text), {"side": side})}
        assert fields["corner"].usual == corner
    assert "AB, BC, CD, DA, wing.left, wing.end, wing.right" in fields["side"].says


@pytest.mark.parametrize(
    ("kind", "key", "text", "said"),
    [
        ("wing", "width", "9", "its width is 9 mm; it must be from 100 to 100000. If it is metres, type 9m"),
        ("wing", "width", "", "its width is missing. Width along that side, over the plates, such as 4000 or 4m."),
        ("wing", "pitch", "80", "its pitch is 80; it must be from 5 to 75 degrees"),
        ("wing", "distance", "x", "its distance, 'x', isn't a figure"),
        ("dormer", "cheek", "5", "its cheek height is 5 mm; it must be from 100 to 100000. If it is metres, type 5m"),
    ],
)
def test_a_field_is_refused_by_its_own_name(kind: str, key: str, text: str, said: str) -> None:
    field = next(field for field in wanted(kind, said_in(MAIN), {}) if field.key == key)
    with pytest.raises(BlockRefusal) as refused:
        check(field, kind, text)
    assert (refused.value.what, refused.value.about) == (said, key)


@pytest.mark.parametrize(
    ("kind", "block", "field"),
    [
        ("wing", "wing off CE 0 from D 4000x4000 40", "side"),
        ("wing", "wing off CD 0 from A 4000x4000 40", "corner"),
        ("wing", "wing off CD 7000 from D 4000x4000 40", "distance"),
        ("wing", "wing off CD 0 from D 4000x4000 40 end flat", "end"),
        ("wing", "wing off CD 0 from D 9000x4000 40", "width"),
        ("bay", "bay off CD 0 from D 1000x900 40 splay 45", "width"),
        ("bay", "bay off CD 0 from D 3000x900 40 splay 5", "splay"),
        ("bay", "bay off CD 0 from D 3000x900 40 level", "distance"),
        ("lean-to", "lean-to off AB 0 from A 3000x2000 15", "plate"),
        ("dormer", "dormer off AB 0 from A 1500x900 35 cheek 5", "cheek"),
        ("main", "main 9000x6000 40 BC flat", "BC"),
        ("main", "main 9000x6000 40 AB gable BC gable CD gable DA gable", ""),
        ("octagon", "main octagon 6000 40 BC flat", "covers"),
        ("purlins", "purlins high", "heights"),
    ],
)
def test_a_refusal_names_the_field_that_it_is_about(kind: str, block: str, field: str) -> None:
    with pytest.raises(Refusal) as refused:
        with_block("" if block.startswith("main") else MAIN, block)
    assert isinstance(refused.value, BlockRefusal)
    found = field_about(kind, refused.value.about)
    keys = [one.key for one in wanted(kind, said_in(MAIN), {})]
    assert (found if found in keys else "") == field


def test_blocks_keep_the_words_that_they_were_typed_in() -> None:
    assert blocks_in("main 9mx6m 8/12; wing off CD 0 from D 4mx4m 40")["main"] == "main 9mx6m 8/12"

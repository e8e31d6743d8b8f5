"""The inputs of a calculator are a struct: its types fit its kinds, and what it refuses it refuses in one line."""

import types
from collections.abc import Sequence
from typing import Union, get_args, get_origin, get_type_hints

import pytest

from sitelog.calculators.catalogue import Calculator, Inputs, field
from sitelog.calculators.index import calculators, find
from sitelog.calculators.rafters.hips import HipInputs, hip
from sitelog.quantities.quantity import Cut, Kind, Price, Section, Tie
from sitelog.refusal import Refusal

CALCULATORS = list(calculators().values())
TYPES: dict[Kind, object] = {
    **dict.fromkeys(("length", "offset", "angle", "pitch", "fall", "number", "fraction", "share"), float),
    "count": int,
    "section": Section,
    "choice": str,
    "text": str,
    "lengths": Sequence[float],
    "offsets": Sequence[float],
    "ties": Sequence[Tie],
    "cuts": Sequence[Cut],
    "prices": Sequence[Price],
}


class Post(Inputs):
    height: float = field("length", "of the post", over=0)


class Braced(Inputs):
    brace: float | None = field("length", "of its brace", default=None)
    class_: str = field("choice", "of the timber", default="C24", choices=("C16", "C24"))


class BracedPost(Post, Braced):
    count: int = field("count", "how many", default=2, low=1)
    height: float = field("length", "of the post, braced", over=0, high=9000)


def without_none(hint: object) -> tuple[object, bool]:
    """A type without its None, and whether it had one."""
    if get_origin(hint) not in (Union, types.UnionType):
        return hint, False
    kept = [part for part in get_args(hint) if part is not types.NoneType]
    assert len(kept) == 1
    return kept[0], True


@pytest.mark.parametrize("one", CALCULATORS, ids=lambda one: one.name)
def test_the_type_of_each_input_is_that_of_its_kind_and_none_where_it_may_be_left_out(one: Calculator) -> None:
    hints = get_type_hints(one.takes)
    for row in one.inputs:
        kind, optional = without_none(hints[row.attribute])
        assert kind == TYPES[row.kind], row.name
        assert optional == row.optional, row.name


def test_inputs_are_asked_base_by_base_and_one_told_again_keeps_its_place() -> None:
    assert [row.name for row in BracedPost.rows] == ["height", "brace", "class", "count"]
    assert BracedPost.rows[0].says == "of the post, braced"
    assert Post.rows[0].says == "of the post"


def test_what_is_left_out_has_its_default() -> None:
    given = BracedPost(height=2400.0)
    assert (given.brace, given.class_, given.count) == (None, "C24", 2)
    assert given.given() == {"height": 2400.0, "class": "C24", "count": 2}


def test_given_inputs_do_not_change() -> None:
    given = BracedPost(height=2400.0)
    with pytest.raises(AttributeError):
        given.height = 2500.0  # type: ignore[misc]


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({}, "post needs height: of the post, braced"),
        ({"height": 0.0}, "post: height is 0; it must be over 0"),
        ({"height": 9001.0}, "post: height is 9001; it must be at most 9000"),
        ({"height": 1.0, "girth": 1.0}, "post doesn't have a figure called 'girth'; choose from: height, brace"),
        ({"height": 1.0, "class": "C30"}, "post: class is 'C30'; it must be one of C16, C24"),
        ({"height": 1.0, "count": 0}, "post: count is 0; it must be at least 1"),
    ],
)
def test_what_cannot_be_is_refused_by_name(values: dict[str, float | str], told: str) -> None:
    with pytest.raises(Refusal) as refused:
        BracedPost.filled("post", values)
    assert refused.value.message.startswith(told)


def test_a_calculator_takes_its_struct_or_the_same_by_name() -> None:
    given = HipInputs(pitch=35.0, run=3000.0, ridge=38.0)
    assert hip(given) == find("hip")(pitch=35.0, run=3000.0, ridge=38.0)
    assert hip(given, pitch=40.0) == hip(pitch=40.0, run=3000.0, ridge=38.0)
    with pytest.raises(Refusal, match="hip: pitch is 0; it must be at least"):
        hip(HipInputs(pitch=0.0, run=3000.0))

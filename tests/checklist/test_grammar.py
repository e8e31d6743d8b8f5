"""Operands and conditions say what they may, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitelog.checklist.schema.grammar import condition, operand
from sitelog.checklist.schema.terms import Clause, Condition, Operand, Term
from sitelog.refusal import Refusal


def fact(name: str) -> Term:
    return Term("fact", name)


def value(given: float | str) -> Term:
    return Term("value", value=given)


OPERANDS: list[tuple[object, Operand]] = [
    (10, Operand("is", (value(10.0),))),
    (-2.5, Operand("is", (value(-2.5),))),
    ("@ab", Operand("is", (fact("ab"),))),
    ("@job.covering", Operand("is", (fact("job.covering"),))),
    ("=head", Operand("is", (Term("figure", "head"),))),
    ("half @x", Operand("half", (fact("x"),))),
    ("hypot @a @b", Operand("hypot", (fact("a"), fact("b")))),
    ("minus @hip_a =head =foot", Operand("minus", (fact("hip_a"), Term("figure", "head"), Term("figure", "foot")))),
    ("plus @a 12.5", Operand("plus", (fact("a"), value(12.5)))),
    ("thickness @section", Operand("thickness", (fact("section"),))),
    ("section @a 150", Operand("section", (fact("a"), value(150.0)))),
    ("1/3", Operand("is", (value("1/3"),))),
    ("II", Operand("is", (value("II"),))),
    ("47x150", Operand("is", (value("47x150"),))),
]


@pytest.mark.parametrize(("told", "meant"), OPERANDS)
def test_an_operand_means_one_thing(told: object, meant: Operand) -> None:
    assert operand(told) == meant


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (True, "must be a number"),
        ([1], "must be a number"),
        ("", "must be a number"),
        (float("nan"), "too large"),
        (float("inf"), "too large"),
        (10**400, "too large"),
        ("half", "half takes 1"),
        ("half @a @b", "half takes 1"),
        ("hypot @a", "hypot takes 2"),
        ("minus @a", "minus takes 2 to 9"),
        ("thickness 47", "thickness takes a section that is a fact"),
        ("section @a", "section takes 2"),
        ("plus a b", "write a fact as @length"),
        ("@Length", "write a fact as @length"),
        ("@part.length", "write a fact as @length"),
        ("=", "write a fact as @length"),
        ("minus @a nan", "write a fact as @length"),
    ],
)
def test_a_bad_operand_is_told(told: object, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        operand(told)


CONDITIONS = [
    ("covering is slates", Condition((Clause("covering", "is", ("slates",)),))),
    ("covering in slates tiles", Condition((Clause("covering", "in", ("slates", "tiles")),))),
    ("pitch under 35", Condition((Clause("pitch", "under", ("35",)),))),
    ("not job.covering is slates", Condition((Clause("job.covering", "is", ("slates",), negated=True),))),
    (
        "pitch over 15.5 and not covering in a b",
        Condition((Clause("pitch", "over", ("15.5",)), Clause("covering", "in", ("a", "b"), negated=True))),
    ),
    ("a is x or b is y", Condition((Clause("a", "is", ("x",)), Clause("b", "is", ("y",))), any=True)),
]


@pytest.mark.parametrize(("told", "meant"), CONDITIONS)
def test_a_condition_means_one_thing(told: str, meant: Condition) -> None:
    assert condition(told) == meant


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("", "starts with a fact's bare name"),
        ("a is x and b is y or c is z", "don't mix and with or"),
        ("a is x and", "starts with a fact's bare name"),
        ("@a is x", "starts with a fact's bare name, not '@a'"),
        ("not", "starts with a fact's bare name"),
        ("a equals x", "not 'equals'"),
        ("a", "write is, in, over or under"),
        ("a is", "takes one value"),
        ("a is x y", "takes one value"),
        ("a in", "takes words with spaces between"),
        ("a in x, y", "without commas"),
        ("pitch over steep", "takes a number, not 'steep'"),
        ("__import__('os') is x", "bare name"),
    ],
)
def test_a_bad_condition_is_told(told: str, words: str) -> None:
    with pytest.raises(Refusal, match=words):
        condition(told)


@given(st.text(alphabet="@=.ab1 -\"',", max_size=30) | st.text(max_size=30))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (operand, condition):
        try:
            read(text)
        except Refusal as refusal:
            assert "\n" not in refusal.message or "\n" in text


@pytest.mark.parametrize("word", ["and", "or"])
def test_clauses_keep_their_order(word: str) -> None:
    told = f" {word} ".join(f"f{n} is v{n}" for n in range(9))
    assert [one.fact for one in condition(told).clauses] == [f"f{n}" for n in range(9)]

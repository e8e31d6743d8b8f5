"""No text of the program has a banned word in it: one word for one thing, and plain ones."""

import re
from pathlib import Path

import pytest

from sitelog.checklist import load
from tests.wording.banned import BANNED, banned
from tests.wording.shown import CODE, Shown, shown, texts

LINT = Path(load.__file__).parent.relative_to(CODE)  # its readers write lists: these words are the lists' own keys
KEYS = re.compile(r"\b(facts?|units?|least)\b")
TYPED = re.compile(r"`[^`]*`|sitelog [a-z]+|\S*\.files/\S+|(?<= )--?[a-z]+|\b\w+_\w+\b")  # as it stands, so in quotes
KEPT = {
    "not told": "an answer that old jobs hold",
    "Units.": "millimetres or inches",
    "Units are '{}': type metric or imperial.": "the same",
}


def _read(one: Shown) -> str:
    text = TYPED.sub("", one.text)
    return KEYS.sub("", text) if one.path.is_relative_to(LINT) else text


def test_no_banned_word_is_shown() -> None:
    found = [
        f"{one.path}:{one.line}: {word}"
        for one in shown()
        if one.text.strip() not in KEPT
        for word in banned(_read(one))
    ]
    assert not found, "\n".join(found)


def test_what_is_kept_is_still_there_and_would_be_found() -> None:
    known = {one.text.strip() for one in shown()}
    assert [text for text in KEPT if text not in known or not [*banned(text)]] == []


def test_a_banned_word_is_said_with_what_to_write_for_it() -> None:
    assert [*banned("The trimmer stands on the plate")] == [
        "'stands' in 'The trimmer stands on the plate': write is, or as fixed"
    ]
    assert not [*banned("At least 90 mm; understands nothing")], "whole words only"


@pytest.mark.parametrize("words", BANNED)
def test_a_pattern_is_of_whole_words(words: str) -> None:
    re.compile(rf"\b({words})\b")


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('"""A docstring is for programmers."""', []),
        ('async def f() -> "A note":\n    """The same."""\n    x: "another one" = 1', []),
        ('say("pitch")', []),
        ('say("The pitch")', ["The pitch"]),
        ('say("Pitch")', ["Pitch"]),
        ('say("type it.")', ["type it."]),
        ('say(f"no {what!r:>{width}} here, {len(a) + b}")', ["no {} here, {}"]),
        ("say(f\"{'one more' if a else 'less'} is left\")", ["{} is left", "one more"]),
        ('re.sub(r"a [b-c] d", "put in", text)', ["put in"]),
        ('working.step("a", "b + c", "and why")', ["and why"]),
        ('names = "rule amount".split()', []),
        ('FORMULA = "a * tan(b)"', []),
        ('say("<p>one line</p>")', []),
        ('say("-+ 0.")', []),
        ('calculator(example="a=1 b=2", does="Adds two")', ["Adds two"]),
    ],
)
def test_what_is_shown_is_known_by_what_it_is(code: str, found: list[str]) -> None:
    assert [text for _, text, _ in texts(code)] == found

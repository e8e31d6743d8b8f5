"""Every line of the shipped lists is short, and in the words of the trade: one word for one thing."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from sitelog.checklist.load import lint, load
from sitelog.checklist.schema.lines import line_of, lines
from sitelog.checklist.schema.shipped import shipped_folder, toml_files
from tests import shipped
from tests.checklist.small import FILES, changed, write
from tests.wording.banned import banned

SHOWN = {"title", "locator", "short", "label", "topic", "says", "ask", "why", "tip", "hurts", "do", "choices"}
# What a script types, or a job holds, as it always was.
NAMES = {"not told", "differ, the designer was told", "differ, not told yet", "traced, made dead and proved"}


def shown(path: Path) -> Iterator[tuple[int, str]]:
    """Each text of that list that people see, with its line."""
    text = path.read_text(encoding="utf-8")
    found = lines(text)

    def walk(inner: object, at: tuple[str | int, ...]) -> Iterator[tuple[int, str]]:
        if isinstance(inner, dict):
            for key, value in inner.items():
                yield from walk(value, (*at, key))
        elif isinstance(inner, list):
            for place, value in enumerate(inner):
                yield from walk(value, (*at, place))
        elif isinstance(inner, str) and SHOWN.intersection(at[-2:]):
            yield line_of(at, found), inner

    return walk(tomllib.loads(text), ())


@pytest.mark.parametrize("path", toml_files(shipped_folder()), ids=lambda path: path.stem)
def test_no_banned_word_is_shown(path: Path) -> None:
    told = [f"line {line}: {word}" for line, text in shown(path) if text not in NAMES for word in banned(text)]
    assert not told, "\n".join(told)


def test_the_kept_names_are_those_that_the_lists_have() -> None:
    texts = {text for path in toml_files(shipped_folder()) for _, text in shown(path)}
    assert texts >= NAMES


def test_a_choice_is_asked_as_a_question_and_a_photo_is_ordered() -> None:
    library = shipped.library()
    asks: list[tuple[str, str]] = [
        (check.kind, check.ask) for one in library.lists.values() for s in one.stages for check in s.checks
    ]
    asks += [(one.question.kind, one.question.ask) for one in library.cautions.values()]
    assert not [ask for kind, ask in asks if kind in ("choice", "place", "name") and not ask.endswith("?")]
    assert not [ask for kind, ask in asks if kind == "photo" and not ask.startswith("Photograph ")]


def test_the_shipped_lists_are_without_fault_and_short() -> None:
    assert lint([shipped_folder()]) == []


@pytest.mark.parametrize(
    ("name", "old", "new", "words"),
    [
        (
            "hipped",
            'ask = "Straps fixed and photographed"',
            'ask = "Straps fixed at most two metres apart, within 150 of each end, - and photographed"',
            "plates.straps: its question has 14 words; at most 12, so cut it or part it",
        ),
        (
            "hipped",
            'says = "AB, front"',
            'says = "AB, front, mm"',
            "plates.sides ab: take mm off its label, the unit is beside the field",
        ),
        (
            "cautions",
            'ask = "What the tag says"',
            f'ask = "{"tag " * 13}"',
            "scaffold: its question has 13 words; at most 12",
        ),
        (
            "hipped",
            'why = "Every later length is worked from these."',
            f'why = "{"word " * 17}"',
            "plates.sides: its why has 17 words; at most 16, one cause and one effect",
        ),
        (
            "hipped",
            'why = "Every later length is worked from these."',
            f'tip = "{"word " * 21}"',
            "plates.sides: its tip has 21 words; at most 20, one line",
        ),
        (
            "hipped",
            'short = "plates"',
            f'why = "{"word " * 18}"',
            "plates: its why has 18 words; at most 16",
        ),
        (
            "cautions",
            'do = "Look at the tag."',
            f'do = "Look. {"word " * 21}. Go up."',
            "scaffold: a sentence of do has 21 words; at most 20, so make it two",
        ),
    ],
)
def test_lint_counts_words_and_finds_a_unit_that_is_said_twice(
    tmp_path: Path, name: str, old: str, new: str, words: str
) -> None:
    line = FILES[name][: FILES[name].index(old)].count("\n") + 1
    folder = write(tmp_path, **{name: changed(name, old, new)})
    (told,) = lint([folder], shipped=folder)
    assert f"{name}.toml:{line}: {words}" in told
    assert load(shipped=folder), "a list that is wordier still loads"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('ask = "Straps fixed and photographed"', f'ask = "{"word " * 12}"'),
        ('why = "Every later length is worked from these."', f'why = "{"word " * 16}- ."'),
    ],
)
def test_as_many_words_as_may_be_are_no_fault(tmp_path: Path, old: str, new: str) -> None:
    folder = write(tmp_path, hipped=changed("hipped", old, new))
    assert lint([folder], shipped=folder) == []

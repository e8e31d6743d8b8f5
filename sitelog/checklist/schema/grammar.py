"""The closed grammar of the checklists, no code: operands (`half @x`), conditions (`covering is slates`)."""

import math
import re

from sitelog.checklist.schema.terms import Clause, Condition, Operand, Term
from sitelog.refusal import Refusal

ID = re.compile(r"[a-z][a-z0-9-]*")
NAME = re.compile(r"[a-z][a-z0-9_]*")  # of a fact or a figure
_FACT = re.compile(r"(?:job\.)?[a-z][a-z0-9_]*")
_NUMBER = re.compile(r"-?\d{1,9}(?:\.\d{1,9})?")
_LARGEST = 1e9
_PATH = re.compile(r"[a-z][a-z0-9_]*(?:\.[a-z0-9_-]+)*")
_TAKES = {
    "half": (1, 1),
    "hypot": (2, 2),
    "minus": (2, 9),
    "plus": (2, 9),
    "thickness": (1, 1),
    "depth": (1, 1),
    "section": (2, 2),
}


def operand(value: object) -> Operand:
    """Read `10`, `@ab`, `@job.covering`, `=head`, `half @x`, `hypot @a @b`, `minus @a =b`, `plus @a 5`,
    `thickness @section`, `section @thickness @depth`.

    Other text is a plain value.

    Raises Refusal with what is wrong and what would be right.
    """
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return Operand("is", (Term("value", value=_finite(value)),))
    if not isinstance(value, str) or not value.strip():
        raise Refusal("it must be a number, a fact as @length, a figure as =head, or text")
    first, *rest = value.split()
    if first not in _TAKES:
        return Operand("is", (_first(value.strip()),))
    _as_many_as_taken(first, rest)
    if first in ("thickness", "depth") and rest[0][0] not in "@=":
        raise Refusal(f"{first} takes a section that is a fact or a figure, as {first} @section")
    return Operand(first, tuple(_term(word, first) for word in rest))  # type: ignore[arg-type]


def _as_many_as_taken(word: str, terms: list[str]) -> None:
    """Refusal of too few or too many after a word."""
    least, most = _TAKES[word]
    if not least <= len(terms) <= most:
        wanted = f"{least}" if least == most else f"{least} to {most}"
        raise Refusal(f"{word} takes {wanted} of facts, figures and numbers, as {word} @a{' @b' * (least - 1)}")


def is_path(value: object) -> bool:
    """Whether that is the path of a result, as `pairs` or `rows.length_long_point`, and no operand."""
    return isinstance(value, str) and _PATH.fullmatch(value) is not None


def condition(text: str) -> Condition:
    """Read `pitch under 35 and not covering in slates tiles`: clauses joined by `and`, or all by `or`.

    Raises Refusal with what is wrong and what would be right.
    """
    words = text.split()
    if "and" in words and "or" in words:
        raise Refusal("don't mix and with or; join all clauses with one of them")
    joint = "or" if "or" in words else "and"
    clauses: list[list[str]] = [[]]
    for word in words:
        if word == joint:
            clauses.append([])
        else:
            clauses[-1].append(word)
    return Condition(tuple(_clause(clause) for clause in clauses), any=joint == "or")


def _finite(value: float) -> float:
    if not (-_LARGEST <= value <= _LARGEST and math.isfinite(value)):
        raise Refusal("the number is too large; a thousand million is the most")
    return float(value)


def _first(text: str) -> Term:
    """A whole operand: a reference, or a plain value."""
    if text[0] in "@=":
        return _term(text, "it")
    return Term("value", value=text)


def _term(word: str, taker: str) -> Term:
    if word[0] == "@" and _FACT.fullmatch(word[1:]):
        return Term("fact", word[1:])
    if word[0] == "=" and NAME.fullmatch(word[1:]):
        return Term("figure", word[1:])
    if _NUMBER.fullmatch(word):
        return Term("value", value=float(word))
    raise Refusal(f"{taker} can't take {word!r}; write a fact as @length, a figure as =head, or a number")


def _clause(words: list[str]) -> Clause:
    negated = words[:1] == ["not"]
    said = words[1:] if negated else words
    fact, word = (*said, "", "")[:2]
    if not _FACT.fullmatch(fact):
        raise Refusal(f"a clause starts with a fact's bare name, not {fact!r}; as covering is slates")
    if word not in ("is", "in", "over", "under"):
        raise Refusal(f"after {fact} write is, in, over or under, not {word!r}; as covering is slates")
    return Clause(fact, word, _values(fact, word, said[2:]), negated)  # type: ignore[arg-type]


def _values(fact: str, word: str, values: list[str]) -> tuple[str, ...]:
    """The values of a clause. Refusal of none, of several but after `in`, and of words where a number is compared."""
    if not values or (word != "in" and len(values) > 1):
        raise Refusal(f"{fact} {word} takes {'words with spaces between' if word == 'in' else 'one value'}")
    for value in values:
        if word in ("over", "under") and not _NUMBER.fullmatch(value):
            raise Refusal(f"{fact} {word} takes a number, not {value!r}")
        if value.strip("\"',;@") != value:
            raise Refusal(f"write {value!r} without commas or quotes; put spaces between values")
    return tuple(values)

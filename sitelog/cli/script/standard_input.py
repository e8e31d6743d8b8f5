"""`-` on the command line: the words that stand on standard input instead."""

from __future__ import annotations

import sys

from sitelog.refusal import Refusal

TYPE_CHECKING = False  # see parser.py
if TYPE_CHECKING:
    from argparse import Namespace
    from collections.abc import Sequence

MARK = "-"
LISTS = ("values", "figures")  # words each: as a shell splits them, # begins a remark
TEXTS = ("text", "answer", "reason", "note")
MOST = 100_000  # letters


def fill(options: Namespace) -> None:
    """Put what is on standard input where `-` stands. Refusal where it stands twice, or there is too much."""
    lists = [name for name in LISTS if MARK in getattr(options, name, ())]
    texts = [name for name in TEXTS if getattr(options, name, "") == MARK]
    if len(lists) + len(texts) > 1:
        raise Refusal("`-` can stand once: standard input is read once")
    for name in lists:
        setattr(options, name, words(getattr(options, name)))
    for name in texts:
        setattr(options, name, _read().strip())


def words(typed: Sequence[str]) -> list[str]:
    """The words with those of standard input where `-` stands. Refusal of an open quote, or of too much."""
    if MARK not in typed:
        return list(typed)
    import shlex

    try:
        read = shlex.split(_read(), comments=True)
    except ValueError:
        raise Refusal("A quote on standard input is never closed: close it, or leave it out") from None
    place = typed.index(MARK)
    return [*typed[:place], *read, *typed[place + 1 :]]


def _read() -> str:
    try:
        text = sys.stdin.read(MOST + 1)
    except UnicodeDecodeError:
        raise Refusal("Standard input isn't UTF-8: give it as UTF-8") from None
    if len(text) > MOST:
        raise Refusal(f"Standard input has over {MOST} letters: give less")
    return text

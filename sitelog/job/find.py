"""Where words stand in a job: its checks, notes and snags."""

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from sitelog.job.state.views import State


class Hit(Struct, frozen=True):
    """A check, note or snag that holds the words looked for, told in one line."""

    path: str
    what: Literal["check", "note", "snag"]
    line: str


def find(state: State, words: str) -> list[Hit]:
    """Every check, note and snag that holds all of the words, in any order and case; in the order of work."""
    wanted = words.casefold().split()
    if not wanted:
        return []
    return [hit for hit in _lines(state) if all(word in f"{hit.path} {hit.line}".casefold() for word in wanted)]


def _lines(state: State) -> Iterator[Hit]:
    for view in state.checks():
        yield Hit(view.path, "check", view.check.ask_in_full)
        yield from (Hit(view.path, "note", entry.note) for entry in view.history if entry.note)
    for snag in state.snags:
        yield Hit(snag.path, "snag", f"{snag.id} {snag.text}")

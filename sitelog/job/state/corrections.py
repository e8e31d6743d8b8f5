"""Answers that take the place of others: when a person has to say why, and what the record says of each.

Both answers stay in the record. The later one keeps the ids of those that it knew of under "@was", and the reason as
its note.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from msgspec import Struct

from sitelog.job.facts.evidence import RESTS_ON
from sitelog.job.log.entry import Entry, said
from sitelog.job.log.parts import items
from sitelog.job.state.views import CheckView
from sitelog.refusal import Refusal


class ReasonWanted(Refusal):
    """All is as it should be, but it corrects an answer and nothing says why: a front asks, and answers again."""


class Correction(Struct, frozen=True):
    """An answer, and the one that took its place."""

    was: Entry
    now: Entry

    @property
    def reason(self) -> str:
        """As it was given; where a stale answer was told the same again none is asked for."""
        was, now = self.was.value, self.now.value
        again = _told(was) == _told(now) and any(was.get(key) != now.get(key) for key in RESTS_ON)
        return self.now.note or ("a figure it used had changed" if again else "no reason given")


def corrections(view: CheckView) -> tuple[Correction, ...]:
    """Those of a check, oldest first. An answer that was taken back corrects nothing."""
    answers = {entry.id: entry for entry in view.history if entry.act == "answer"}
    found = []
    for now in answers.values():
        found += [Correction(answers[was], now) for was in _replaced(now) if was in answers]
    return tuple(found)


def wants_reason(view: CheckView, standing: Entry, values: Mapping[str, Any]) -> bool:
    """True where the answer that stands is good as things are, or is told otherwise now.

    One that is stale and told the same again has its reason on record, which is what has changed under it. That does
    not say why a tape reads otherwise.
    """
    return not view.stale_because or _told(standing.value) != _told(values)


def _told(value: Mapping[str, Any]) -> dict[str, Any]:
    """What a person said, but for the photos that show it."""
    return {key: word for key, word in said(value).items() if key not in ("photo", "photos")}


def _replaced(answer: Entry) -> Iterator[str]:
    """The ids of the answers that it knew of; a file may hold anything under that key."""
    yield from map(str, items(answer.value.get("@was")))

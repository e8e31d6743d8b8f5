"""What a changed roof changes in a job, in words, before it is entered: lines, plates to tape, checks and answers."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec.structs import replace

from sitelog.checklist.each import expanded
from sitelog.checklist.schema.model import Check, Checklist
from sitelog.checklist.scoped import called
from sitelog.geometry.building.named import EDGES, Roof
from sitelog.job.actions import actions
from sitelog.job.facts.fact import Fact
from sitelog.job.log.entry import Draft
from sitelog.job.state.views import State
from sitelog.text import clean, text_if
from sitelog.wording.building.blocks import roof_in
from sitelog.wording.prompts.question import Prompt, Question

MOST_NAMED = 6
PLATES = ("sides", "ties")
SAME_LENGTH = 0.5  # mm
ROOF = "@roof"  # the key of a draft: a changed roof that isn't entered yet
SAME = "No line or check comes or goes. Every figure is worked out again from the new sizes."


class Change(NamedTuple):
    """A part whose roof is changed: its list as it is written for any roof, and how the roof was said before."""

    state: State
    part: str
    listed: Checklist
    was: str


def changes(change: Change, now: str) -> list[tuple[str, str]]:
    """(first word, words) of each sort of change from the roof as it was to another; none where they are one."""
    if now == change.was:
        return []
    roofs = roof_in(change.was), roof_in(now)
    rows = [*_of_lines(*roofs), *_of_checks(change, *roofs)]
    return rows or [("Same", SAME)]


def _of_lines(was: Roof | None, now: Roof | None) -> Iterator[tuple[str, str]]:
    before, after = _lines(was), _lines(now)
    yield from _told("Comes", [name for id, name in after.items() if id not in before])
    yield from _told("Goes", [name for id, name in before.items() if id not in after])
    yield from _told("To tape", _to_tape(_plates(was), _plates(now)))


def _to_tape(before: Mapping[str, tuple[str, float]], after: Mapping[str, tuple[str, float]]) -> list[str]:
    """The sides and diagonals that are new, or drawn another length."""
    new = ("", math.inf)
    return [name for id, (name, long) in after.items() if abs(long - before.get(id, new)[1]) > SAME_LENGTH]


def _told(word: str, names: list[str]) -> Iterator[tuple[str, str]]:
    """What there is of one sort; nothing where there is none."""
    more = len(names) - MOST_NAMED
    if names:
        yield word, f"{', '.join(names[:MOST_NAMED])}{text_if(more > 0, f' and {more} more')}"


def _lines(roof: Roof | None) -> dict[str, str]:
    """Lines, blocks, slopes and gables by id, each as it is called."""
    apart = {*PLATES, *EDGES.values()}
    every = [one for one in roof.named if not set(one.each) & apart] if roof else []
    return {one.id: called(one) for one in every}


def _plates(roof: Roof | None) -> dict[str, tuple[str, float]]:
    """Sides and diagonals by id: each with its name and its length as drawn [mm]."""
    if roof is None:
        return {}
    at = roof.plates.points
    every = [one for one in roof.named if set(one.each) & set(PLATES)]
    return {one.id: (one.name, math.dist(*(at[end] for end in one.between))) for one in every}


def _of_checks(change: Change, was: Roof | None, now: Roof | None) -> Iterator[tuple[str, str]]:
    before, after = _checks(change, was), _checks(change, now)
    come, gone = after.keys() - before.keys(), [path for path in before if path not in after]
    if come or gone:
        yield "Checks", f"{len(come)} more, {len(gone)} fewer"
    answered = {view.path for view in change.state.checks() if view.by}
    kept = [before[path].ask_in_full for path in gone if path in answered]
    yield from _told("Answers kept under Earlier checks", kept)


def _checks(change: Change, roof: Roof | None) -> Mapping[str, Check]:
    stages = expanded(change.listed, roof).stages
    return {f"{change.part}.{stage.id}.{check.id}": check for stage in stages for check in stage.checks}


def change_roof(state: State, fact: Fact, text: str, changes: Sequence[tuple[str, str]]) -> Prompt:
    """A roof said block by block, changed, once what that changes in the job has been told."""
    told = ". ".join(f"{word}: {words.rstrip('.')}" for word, words in changes)
    part, _, own = fact.name.partition(".")
    ask = f"{told}. Nothing measured is lost. Type why, or leave it blank: Enter saves the new roof."
    question = Question(f"{fact.says}: what changes", ask, "why", optional=True)

    def make(words: Sequence[str]) -> Draft:
        return replace(actions.draw(state, part, {own: text}), note=clean(words[0]))

    return Prompt((question,), make, ("",))

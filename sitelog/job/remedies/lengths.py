"""The lengths of a part's timbers as one set of figures gives them, and how much another set moves each group."""

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct

from sitelog.checklist.schema.model import Library
from sitelog.checklist.schema.terms import Operand, Term
from sitelog.job.actions.answers import LAST
from sitelog.job.facts.fact import Inputs, Setting
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.given import settings, with_answer
from sitelog.job.log.entry import Entry
from sitelog.job.members import Line, lines_of
from sitelog.job.remedies.read import number
from sitelog.job.remedies.remedy import GROUPS, Group, Shift
from sitelog.job.state.views import CheckView, State

_LED: tuple[tuple[str, Group], ...] = (
    ("hip-jack", "jacks"),
    ("valley-jack", "jacks"),
    ("cripple", "jacks"),
    ("jacks", "jacks"),
    ("hip", "hips"),
    ("valley", "hips"),
    ("commons", "commons"),
    ("crown", "commons"),
    ("rafters", "commons"),
    ("ridge", "ridge"),
)
COMMON = "rafter_cut"  # the common at mid-length, where a list works it from the span there
COMMON_NAME = "Common at mid-length"
SAME_PLACE = 100.0  # mm along its plate: a quarter of a usual spacing, within which it is the same jack


class Timber(Struct, frozen=True):
    """A line of the cutting list: its id, how far along its plate it is [mm], its length [mm], name and count."""

    id: str
    at: float
    length: float
    name: str
    count: int = 1


Timbers = Mapping[Group, Sequence[Timber]]


def without(state: State, library: Library, view: CheckView) -> FactResolver:
    """The facts as if that check had never been answered: to the drawing, as far as it goes."""
    return _of(state, library, with_answer(state.given, (), view.path))


def undone(state: State, library: Library, *views: CheckView) -> FactResolver:
    """The same of several checks."""
    given = state.given
    for view in views:
        given = with_answer(given, (), view.path)
    return _of(state, library, given)


def answered(state: State, library: Library, *answers: tuple[CheckView, Mapping[str, Any]]) -> FactResolver:
    """The facts as they would be with those plain values for the answers of these checks."""
    given = state.given
    for view, values in answers:
        entry = Entry(
            id=LAST, at="", offset=0, by="", device="", seq=0, prev="", act="answer",
            part=view.part, check=f"{view.stage}.{view.check.id}", value=dict(values),
        )  # fmt: skip
        given = with_answer(given, settings(library, view.check, entry), view.path)
    return _of(state, library, given)


def sizes_read(view: CheckView) -> dict[str, float]:
    """The figures of the answer in force that are numbers, by key."""
    return {figure.key: float(figure.value) for figure in view.figures if isinstance(figure.value, (int, float))}


def drawn_as(resolver: FactResolver, part: str, name: str, value: float) -> FactResolver:
    """The same facts with another figure on the drawing; what was tried for it, by a pattern, no longer counts."""
    given, specs = resolver.given, resolver.known(part).specs
    tried = {(part, fact) for fact, spec in specs.items() if spec.worked == Operand("is", (Term("fact", name),))}
    kept = {key: rows for key, rows in given.set.items() if key not in tried}
    drawn = {**given.drawn, (part, name): value}
    return FactResolver(resolver.library, resolver.forms, Inputs(drawn, kept, given.chosen, given.usual))


def cut_at(resolver: FactResolver, part: str, pitches: Mapping[str, float]) -> FactResolver:
    """The same facts with rafters cut at other pitches [deg], by the facts that say at which; no pattern counts."""
    tried = {(part, name): (Setting("", LAST, pitch, "", measured=True),) for name, pitch in pitches.items()}
    given = resolver.given
    inputs = Inputs(given.drawn, {**given.set, **tried}, given.chosen, given.usual)
    return FactResolver(resolver.library, resolver.forms, inputs)


def _of(state: State, library: Library, given: Inputs) -> FactResolver:
    return FactResolver(state.with_own(library), state.forms, given)


def group_of(line: Line) -> Group | None:
    """The group that a line of the cutting list belongs to; None of plates, boards and what else there is."""
    return next((group for led, group in _LED if line.id.startswith(led)), None)


def lengths(resolver: FactResolver, part: str) -> dict[Group, list[Timber]]:
    """Every hip, jack, common and ridge with its length."""
    found: dict[Group, list[Timber]] = {}
    for line in lines_of(resolver, part):
        group = group_of(line)
        if group and line.member:
            at = number((line.row or {}).get("at")) or 0.0
            timber = Timber(line.id, at, line.member.length, line.member.part, line.member.count)
            found.setdefault(group, []).append(timber)
    common = resolver.now(part, COMMON)
    if isinstance(common, float) and "commons" in found:
        found["commons"].append(Timber(COMMON, 0.0, common, COMMON_NAME, 0))
    return found


def shifts(before: Timbers, after: Timbers) -> tuple[Shift, ...]:
    """How much longer each group is after than before. A jack that is there on one side alone is no shift."""
    found: list[Shift] = []
    for group in GROUPS:
        now = after.get(group, ())
        moved = [by for timber in before.get(group, ()) for by in longer(timber, now)]
        if moved:
            found.append(Shift(group, min(moved), max(moved)))
    return tuple(found)


def longer(timber: Timber, now: Sequence[Timber]) -> Iterator[float]:
    """How much longer the same timber is now; nothing where there is none at its place."""
    other = same_place(timber, now)
    if other:
        yield other.length - timber.length


def same_place(timber: Timber, now: Sequence[Timber]) -> Timber | None:
    """The same timber in another list; None where there is none at its place."""
    alike = [other for other in now if other.id == timber.id and abs(other.at - timber.at) < SAME_PLACE]
    return min(alike, key=lambda other: abs(other.at - timber.at), default=None)


def courses(resolver: FactResolver, part: str) -> float | None:
    """How far the courses run out over the worst slope [mm]: its longest common less its shortest.

    Between two gables that is the common at one end less that at the other. None where the part's list has no slope
    between two commons that may differ.
    """
    facts = {fact.key[1]: fact.now for fact in resolver.all(part)}
    if "gable_rafter" in facts:
        return _between_gables(facts)
    ends = [
        (facts.get(f"{name}_short"), facts.get(f"{name}_long"))
        for name in {name.rpartition("_")[0] for name in facts if name.startswith("common_")}
    ]
    out = [long - short for short, long in ends if isinstance(short, float) and isinstance(long, float)]
    return max(out, default=None)


def _between_gables(facts: Mapping[str, object]) -> float | None:
    at_p, at_q, pitch = (number(facts.get(name)) for name in ("common_run_p", "common_run_q", "pitch"))
    if at_p is None or at_q is None or pitch is None:
        return None
    return abs(at_q - at_p) / math.cos(math.radians(pitch))

"""A list with `each` in it must hold for any roof: it is written out for several, and each is gone through."""

from collections.abc import Iterable, Iterator
from typing import Any

from msgspec import Struct

from sitelog.calculators.surface.patterns import KINDS
from sitelog.checklist.each import expanded
from sitelog.checklist.lint.context import LintContext, Listed
from sitelog.checklist.lint.rules import MOST_CHECKS, Rule
from sitelog.checklist.schema.document import Fault, Spot
from sitelog.checklist.schema.model import Checklist, FactSpec, Stage
from sitelog.checklist.schema.terms import Clause, Term
from sitelog.checklist.scoped import BLOCKS, BUILDING, CARRIED, LAID, OF_CARRIED, OF_PATTERN, SCOPED, TAPED
from sitelog.geometry.building.named import roof_of
from sitelog.geometry.building.taped import TAPED as OF_BLOCKS

# Between them every word of EACH, a block with many lines, and one with none of a sort.
EXAMPLES = (
    "main 9000x6000 40 BC half-hip 1200; wing off CD 0 from D 4000x4000 40 end gable; lean-to off BC 500 from B "
    "3000x2000 15 plate -900; dormer off AB 3000 from A 1800x1200 35 cheek 900; purlins 1200; collars 1500",
    "main octagon 6000 40",
    "main 9000x6000 40 BC gable DA gable",
    "main 12000x6000 40; wing off CD 3000 from D 4000x3000 35; wing off AB 3000 from A 4000x3000 45; "
    "bay off AB 8000 from A 2500x700 40",
)
SIZES = tuple(dict.fromkeys(key for keys in OF_BLOCKS.values() for key in keys))
GATHERING = ((TAPED, "ties"), (LAID, "text"), *((f"{scope}{CARRIED}", "text") for scope in ("", *SCOPED)))


def lists_with_each_say_their_roof(context: LintContext) -> Iterator[Fault]:
    """A list with each has the roof as a text that is asked."""
    for listed in context.lists:
        asked = any(fact.name == BUILDING and fact.kind == "text" and fact.asked for _, fact in listed.facts())
        if listed.checklist.has_each and not asked:
            right = f"add a fact {BUILDING} of the kind text that is asked"
            yield listed.spot.fault(f"each is for a roof that is said block by block; {right}")


def lengths_are_gathered_for_the_plates(context: LintContext) -> Iterator[Fault]:
    """What gathers is plates as taped; blocks that are laid; what is taped of lean-tos; or a slope's pattern."""
    for listed in context.lists:
        each = {fact.name for _, fact in listed.facts() if fact.each}
        gathering = [(spot, fact) for spot, fact in listed.facts() if fact.gathers]
        for spot, fact in gathering:
            of_pattern = fact.name.startswith(OF_PATTERN) and len(fact.gathers.split()) == len(KINDS)
            if (fact.name, fact.kind) not in GATHERING and not of_pattern:
                known = f"the fact {TAPED} of the kind ties, {LAID} or {CARRIED} of the kind text, or {OF_PATTERN}*"
                yield spot.fault(f"gathers is for {known}; give it that name and kind")
            yield from _gathers_wrongly(spot, fact, each)


def _gathers_wrongly(spot: Spot, fact: FactSpec, each: set[str]) -> Iterator[Fault]:
    """A name that is no fact with each; or of what is taped of blocks, one that doesn't say what it is."""
    for name in fact.gathers.split():
        if name not in each:
            yield spot.at("gathers").fault(f"{name} isn't a fact that each of them has; give it each")
        elif fact.name.endswith(CARRIED) and name.removeprefix(OF_CARRIED) not in SIZES:
            right = f"call it {OF_CARRIED} and one of {', '.join(SIZES)}"
            yield spot.at("gathers").fault(f"{name} isn't a size of a lean-to or a dormer; {right}")


def each_is_asked_once(context: LintContext) -> Iterator[Fault]:
    """In a stage for each line its checks are that line's already."""
    for listed in context.lists:
        for spot, stage, check in listed.checks():
            if check.each and stage.each and not set(stage.each) <= set(BLOCKS):
                right = "take it out, or make the stage one for each block"
                yield spot.at("each").fault(f"stage {stage.id} comes for each of {' '.join(stage.each)}; {right}")


def lists_hold_for_any_roof(context: LintContext) -> Iterator[Fault]:
    """Written out for several roofs, no stage has too many checks, no two ids are one, and every fact is there."""
    for listed in context.lists:
        if listed.checklist.has_each:
            for text in EXAMPLES:
                yield from _written_out(context, listed, expanded(listed.checklist, roof_of(text)))


def _written_out(context: LintContext, listed: Listed, whole: Checklist) -> Iterator[Fault]:
    facts = {fact.name for fact in whole.facts} | {name for run in whole.sums for name in run.gives}
    known = facts | {name for name in context.known(listed) if not name.startswith(SCOPED)}
    taken: set[str] = set()
    for stage in whole.stages:
        spot = _spot(listed, stage)
        if len(stage.checks) > MOST_CHECKS:
            yield spot.fault(f"{stage.title}: {len(stage.checks)} checks; at most {MOST_CHECKS} go on a screen")
        yield from _taken_twice(spot, stage, taken)
        yield from _unknown(spot, stage, known)
    for row in (*whole.sums, *whole.members):
        yield from _unknown(listed.spot, row, known)


def _taken_twice(spot: Spot, stage: Stage, taken: set[str]) -> Iterator[Fault]:
    for check in stage.checks:
        path = f"{stage.id}.{check.id}"
        if path in taken:
            yield spot.fault(f"{path} is there twice; give its check an id of its own")
        taken.add(path)


def _unknown(spot: Spot, row: Struct, known: set[str]) -> Iterator[Fault]:
    for name in dict.fromkeys(_facts(row)):
        if name not in known:
            right = "say it where that fact is given for each, or give it there"
            yield spot.fault(f"no fact {name}: {right}")


def _facts(value: Any) -> Iterator[str]:
    """The names of all facts that are read in it."""
    if isinstance(value, Term):
        yield from (value.name,) if value.kind == "fact" else ()
        return
    if isinstance(value, Clause):
        yield value.fact
    for item in _inside(value):
        yield from _facts(item)


def _inside(value: Any) -> Iterable[Any]:
    if isinstance(value, Struct):
        return [getattr(value, name) for name in value.__struct_fields__]
    return value.values() if isinstance(value, dict) else value if isinstance(value, tuple) else ()


def _spot(listed: Listed, written: Stage) -> Spot:
    """Where the stage that it was written out of stands."""
    for spot, stage in listed.stages():
        if written.id == stage.id or written.id.endswith(f"-{stage.id}") or written.id.startswith(f"{stage.id}-"):
            return spot
    return listed.spot


RULES: tuple[Rule, ...] = (
    lists_with_each_say_their_roof,
    lengths_are_gathered_for_the_plates,
    each_is_asked_once,
    lists_hold_for_any_roof,
)

"""The templates of a part as built: from each check and each stick that has one, and what is still missing."""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from sitelog.calculators.catalogue import Answer
from sitelog.checklist.schema.model import Library
from sitelog.job.facts.facts import FactResolver
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.trial import leaves
from sitelog.job.members import Line
from sitelog.job.state.views import CheckView, State
from sitelog.job.sticks import OUT_OF_DATE, sticks
from sitelog.reports.sketches import WAITS
from sitelog.reports.templates.index import has_templates, templates_of
from sitelog.reports.templates.model import Curve, Template
from sitelog.reports.templates.ridge_ends import ridge_ends
from sitelog.reports.templates.subjects.rafters import KINDS

SEVERAL = ("hip", "rib")  # calculators that one part asks for more than one thing
LISTS = ("commons", "hip", "valley", "building")  # calculators of the members whose sticks have templates
SERVES = "the same: "  # what leads the others that a template serves
ALIKE = 2  # decimals of a millimetre to which two templates with the same cut lines are one


@dataclass(frozen=True)
class Missing:
    """A template that can't be made yet, and why."""

    name: str
    why: str


@dataclass(frozen=True)
class PartTemplates:
    """What there is of a part, each once, and what is missing."""

    part: str  # its id
    title: str
    ready: tuple[Template, ...]
    missing: tuple[Missing, ...]


@dataclass(frozen=True)
class _Source:
    """What an answer is of, "" where its templates say it themselves; without an answer, why there is none."""

    of: str
    answer: Answer | None
    why: str = ""
    drawn: tuple[str, ...] = ()  # names of facts under it that aren't measured yet


def part_templates(state: State, library: Library, part: str) -> PartTemplates:
    """The templates of a part, from the figures as built. Those cut alike are one, which says what else it serves."""
    resolver = FactResolver.of(library, state)
    sources = [*_of_sticks(state, library, part), *_of_checks(state, resolver, part)]
    order = list(dict.fromkeys(source.of for source in sources))
    sources.sort(key=lambda source: order.index(source.of))
    ready: dict[tuple[object, ...], Template] = {}
    for source in sources:
        for template in templates_of(source.answer, state.units) if source.answer else ():
            _add(ready, source.of, replace(template, drawn=_says(state, part, source.drawn)))
    missing = dict.fromkeys(Missing(source.of, source.why) for source in sources if source.answer is None)
    title = next((view.title for view in state.parts if view.id == part), part)
    return PartTemplates(part, title, tuple(_needed([*ready.values()])), tuple(missing))


def _add(ready: dict[tuple[object, ...], Template], of: str, template: Template) -> None:
    """The template among the others, under its own name; not again where one is cut alike."""
    key = (template.title, *(_rounded(line.curve) for line in template.lines if line.layer == "cut"))
    there = ready.get(key)
    if there is None:
        ready[key] = _named(of, template)
    elif of:
        ready[key] = replace(there, says=_serving(there.says, of))


def _serving(says: Sequence[str], of: str) -> tuple[str, ...]:
    """What is said of a template that serves another timber too, all of those in one line."""
    if says[-1].startswith(SERVES):
        return (*says[:-1], f"{says[-1]}, {of}")
    return (*says, f"{SERVES}{of}")


def _says(state: State, part: str, names: Sequence[str]) -> tuple[str, ...]:
    """The facts in their own words."""
    facts = [state.facts.get(f"{part}.{name}") or state.facts.get(f"{JOB}.{name}") for name in names]
    return tuple(fact.says if fact else name for fact, name in zip(facts, names, strict=True))


def _named(of: str, template: Template) -> Template:
    """What it is of leads its title, on the piece too."""
    if not of:
        return template
    title = f"{of}: {template.title[:1].lower()}{template.title[1:]}"
    return replace(template, title=title, labels=(replace(template.labels[0], text=title), *template.labels[1:]))


def _rounded(curve: Curve) -> tuple[float, ...]:
    points = curve.points()
    some = (points[0], points[len(points) // 2], points[-1])
    return tuple(round(size, ALIKE) + 0.0 for point in some for size in point)


def _needed(ready: Sequence[Template]) -> Iterator[Template]:
    """A birdsmouth by itself is not wanted beside the rafter's whole foot."""
    feet = any("irdsmouth and tail" in template.title for template in ready)
    return (template for template in ready if not (feet and template.title == "Birdsmouth"))


def _of_checks(state: State, resolver: FactResolver, part: str) -> Iterator[_Source]:
    """Of each check whose sum has templates; of those that a part needs once, the one with most on it, the latest."""
    views = [view for view in state.checks() if view.part == part and has_templates(view.check.calculator)]
    for calculator in dict.fromkeys(view.check.calculator for view in views):
        sources = [_of_check(view, resolver) for view in views if view.check.calculator == calculator]
        if calculator in SEVERAL:
            yield from sources
        else:
            yield from _fullest(sources)


def _of_check(view: CheckView, resolver: FactResolver) -> _Source:
    name = re.split(r": | for ", view.check.ask)[0]
    if view.state == "stale":
        return _Source(name, None, OUT_OF_DATE)
    if view.answer is None:
        return _Source(name, None, view.refusal or WAITS.replace("draw", "make"))
    names = {filled.fact.rpartition(".")[2] for filled in view.inputs if filled.fact}
    drawn, _ = leaves(resolver, view.part, names)
    return _Source(name if view.check.calculator in SEVERAL else "", view.answer, drawn=tuple(sorted(drawn)))


def _fullest(sources: Iterable[_Source]) -> Iterator[_Source]:
    """The answer with the most results, the latest of them; what is missing only where there is none."""
    sources = [*sources]
    answered = [source for source in reversed(sources) if source.answer]
    if answered:
        yield max(answered, key=lambda source: len(source.answer.results) if source.answer else 0)
    else:
        yield from sources


def _of_ridges(lines: Sequence[Line]) -> Iterator[_Source]:
    """Of each end of a cut roof's ridge where hips meet."""
    for end in ridge_ends(lines):
        standing = {line.standing for line in end.lines}
        if "stale" in standing:
            yield _Source(end.says, None, OUT_OF_DATE)
        else:
            waits = {name for line in end.lines if line.standing == "drawn" for name in line.waits}
            yield _Source(end.says, end.answer, drawn=tuple(sorted(waits)))


def _of_sticks(state: State, library: Library, part: str) -> Iterator[_Source]:
    found = sticks(state, library, part)
    yield from _of_ridges([line for stick in found for line in stick.lines])
    for stick in found:
        first = stick.lines[0]
        if stick.answer is not None:
            if stick.answer.inputs.get("kind") in (*KINDS, "ridge"):
                yield _Source(first.says, stick.answer, drawn=first.waits if first.standing == "drawn" else ())
        elif first.answer and first.answer.calculator in LISTS:
            yield _Source(first.says, None, stick.why)


def slug(text: str) -> str:
    """Small letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")

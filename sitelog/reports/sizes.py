"""What the next trade sets out from: drawings, sizes measured and worked, and finish of each part, built over drawn."""

from collections.abc import Iterator
from itertools import groupby

from sitelog.calculators import index, sheet
from sitelog.calculators.catalogue import Answer
from sitelog.checklist.schema.guidance import Finish, FinishFact
from sitelog.checklist.schema.kinds import unit_of_kind
from sitelog.job.facts.schema import JOB
from sitelog.job.facts.sums import unit_of
from sitelog.job.state.views import CheckView, PartView, StageView
from sitelog.reports.brief.needs import all_needs
from sitelog.reports.formatting import WITHHELD, Formatter
from sitelog.reports.measured import handed_over, measured, rests_on
from sitelog.reports.model import Block, Section, Table, Words
from sitelog.reports.phrases import joined


def sizes(tell: Formatter, to: str) -> Iterator[Section]:
    """The sections of every part of the roof for a trade, in the order of the parts."""
    for part in tell.state.parts:
        if part.id == JOB:
            continue
        for id, title, blocks in (
            ("drawings", "drawings", tuple(_drawings(tell, part))),
            ("needs", "for the next trade", tuple(all_needs(tell, part))),
            ("measured", "sizes as built", tuple(measured(tell, part, to))),
            ("worked", "sizes worked out", tuple(_worked(tell, part, to))),
            ("finish", "finish, and what it needs", tuple(_finish(tell, part))),
        ):
            if blocks:
                yield Section(f"{part.id}-{id}", f"{part.title}: {title}", blocks)


# --- drawings -----------------------------------------------------------------------------------------------------


def _drawings(tell: Formatter, part: PartView) -> Iterator[Block]:
    for sketch in tell.sketches(part.id):
        stale = sorted(sketch.rests_on & tell.stale_paths)
        if stale:
            yield Words(f"{sketch.name}: {WITHHELD}: {tell.first_again(stale)}.", strong=True)
        else:
            yield sketch.drawing or Words(f"{sketch.name} can't be drawn yet: {tell.in_names(sketch.why).rstrip('.')}.")


# --- worked -------------------------------------------------------------------------------------------------------


def _worked(tell: Formatter, part: PartView, to: str) -> Iterator[Block]:
    """The sums that this trade takes over: alike ones of a stage in one table, any other whole."""
    for stage, views in handed_over(tell, part, to):
        sums = [view for view in views if view.check.kind == "calculate"]
        alike = groupby(sums, key=lambda view: (view.check.calculator, view.check.shows))
        for _, group in ((key, list(found)) for key, found in alike):
            if len(group) > 1:
                yield _side_by_side(tell, stage, group)
            else:
                yield from _whole(tell, group[0])
            yield from rests_on(tell, group)


def _side_by_side(tell: Formatter, stage: StageView, views: list[CheckView]) -> Table:
    """A row for each sum, a column for each result that its check shows."""
    first = views[0].check
    heads = [unit_of(index.find(first.calculator), path)[1] for path in first.shows]
    rows = tuple((view.check.ask, *_results(tell, view), tell.how(view)) for view in views)
    return Table(("", *heads, "Status"), rows, (5, *(3 for _ in heads), 2), caption=stage.stage.title)


def _results(tell: Formatter, view: CheckView) -> Iterator[str]:
    under = tell.stale_under(view)
    for path in view.check.shows:
        told = sheet.scalar(view.answer, path, tell.state.units) if view.answer else ""
        yield WITHHELD if under else told or "not worked out"


def _whole(tell: Formatter, view: CheckView) -> Iterator[Block]:
    under = tell.stale_under(view)
    if under:
        yield Words(f"{view.check.ask_in_full}: {WITHHELD}: {tell.first_again(under)}.", strong=True)
        return
    if view.answer is None:
        yield Words(
            f"{view.check.ask_in_full}: not worked out. {tell.in_names(view.refusal) or 'It still needs figures'}.",
            strong=True,
        )
        return
    if view.state != "done":
        yield Words(f"{view.check.ask_in_full}: {tell.how(view)}; nobody has signed this off.", strong=True)
    yield Words(f"{view.check.ask_in_full}. {joined(_singles(tell, view.answer), '; ')}.")
    yield Words(f"Worked out from: {joined(_given(tell, view), '; ')}.")
    for printed in sheet.tables(view.answer, tell.state.units):
        yield Table(*_in_columns(printed.header, printed.rows), caption=printed.label)
    yield from (Words(f"{note[:1].upper()}{note[1:].rstrip('.')}.") for note in view.answer.notes)


def _singles(tell: Formatter, answer: Answer) -> Iterator[str]:
    for output in index.find(answer.calculator).results:
        value = answer.results.get(output.name)
        if isinstance(value, (int, float, str)):
            yield f"{output.says[:1].upper()}{output.says[1:]}: {tell.figure(output.unit, value)}"


def _given(tell: Formatter, view: CheckView) -> Iterator[str]:
    """Each input of the sum with where it came from: built, chosen, drawn, or given by the checklist."""
    for filled in view.inputs:
        if filled.value is not None:
            fact = tell.state.facts.get(filled.fact)
            chosen = filled.origin == "built" and fact is not None and not fact.measured
            origin = "chosen" if chosen else filled.origin
            value = tell.figure(unit_of_kind(filled.kind), filled.value, typed=filled.typed)
            yield f"{filled.says}: {value} ({origin})"


SIDE_BY_SIDE = 4  # pairs of columns that a page takes, so that fifty marks don't take two pages


def _in_columns(
    heads: tuple[str, ...], rows: tuple[tuple[str, ...], ...]
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """A long narrow table as several side by side, read down each."""
    if len(heads) != 2 or len(rows) <= 12:
        return heads, rows
    deep = -(-len(rows) // SIDE_BY_SIDE)
    blank = ("",) * len(heads)
    padded = [*rows, *[blank] * (deep * SIDE_BY_SIDE - len(rows))]
    wide = tuple(sum((padded[row + deep * column] for column in range(SIDE_BY_SIDE)), ()) for row in range(deep))
    return heads * SIDE_BY_SIDE, wide


# --- finish -------------------------------------------------------------------------------------------------------


def _finish(tell: Formatter, part: PartView) -> Iterator[Block]:
    for view in tell.state.checks():
        finish = None
        if view.part == part.id and view.check.finishes:
            finish = tell.library.finishes.get(str(view.value))
        if finish is None:
            continue
        if view.path in tell.stale_paths:
            yield Words(f"{view.check.ask_in_full}: {WITHHELD}: {tell.why_stale(view)}.", strong=True)
        else:
            yield Words(f"{finish.label}. {finish.says.rstrip('.')}. Chosen by {view.by}, {tell.when(view.at)}.")
            yield from _asked(tell, finish)
    yield from _asked_by_others(tell, part)


def _asked_by_others(tell: Formatter, part: PartView) -> Iterator[Block]:
    rows = tuple(
        (f"{title}: {asked.finish}", asked.ask.topic, asked.ask.says, tell.source(asked.ask.source))
        for title, asked in tell.state.asked_of(part.id)
        if asked.path not in tell.stale_paths
    )
    if rows:
        yield Table(("Needed by", "About", "What it needs", "Source"), rows, (3, 2, 6, 5))


def _asked(tell: Formatter, finish: Finish) -> Iterator[Block]:
    if finish.asks:
        asks = tuple((asked.topic, asked.says, tell.source(asked.source)) for asked in finish.asks)
        yield Table(("About", "What it needs", "Source"), asks, (2, 6, 6))
    if finish.facts:
        facts = tuple(
            (fact.name.replace("_", " "), _set(tell, fact), tell.source(fact.source)) for fact in finish.facts
        )
        yield Table(("What it sets", "Figure", "Source"), facts, (3, 3, 8))


def _set(tell: Formatter, fact: FinishFact) -> str:
    """A figure that a finish sets, in the unit of its kind; masses are of a square metre of slope."""
    unit = "kg/m2" if fact.name.endswith("_mass") else unit_of_kind(fact.kind)
    return tell.figure(unit, fact.value, with_unit=True)

"""What the next trade sets out from: the drawings, slopes, hips, gauge and finish of each part, as built over drawn."""

from collections.abc import Iterator

from sitelog.checklist.kinds import unit_of_kind
from sitelog.checklist.model import Finish, FinishFact
from sitelog.handover.sheets import Block, Section, Table, Words
from sitelog.handover.sketches import sketches
from sitelog.handover.told import WITHHELD, Teller, joined
from sitelog.job.known import JOB
from sitelog.job.views import CheckView, PartView
from sitelog.trade import index, sheet
from sitelog.trade.catalogue import Answer
from sitelog.trade.roof_lines import CORNERS, SIDES

HIP_COLUMNS = (
    ("hip", "Length on line, plate's corner to centre of ridge"),
    ("hip_cut", "To the ridge's face"),
    ("hip_pitch", "Pitch"),
    ("hip_backing", "Backing"),
    ("hip_drop", "Drop"),
)


def sizes(tell: Teller) -> Iterator[Section]:
    """The sections of every part of the roof, in the order of the parts."""
    for part in tell.state.parts:
        if part.id == JOB:
            continue
        for id, title, blocks in (
            ("drawings", "drawings", tuple(_drawings(tell, part))),
            ("slopes", "slopes", tuple(_slopes(tell, part))),
            ("hips", "hips and ridge", tuple(_hips(tell, part))),
            ("gauge", "gauge", tuple(_gauge(tell, part))),
            ("finish", "finish, and what it asks", tuple(_finish(tell, part))),
        ):
            if blocks:
                yield Section(f"{part.id}-{id}", f"{part.title}: {title}", blocks)


# --- drawings -----------------------------------------------------------------------------------------------------


def _drawings(tell: Teller, part: PartView) -> Iterator[Block]:
    for sketch in sketches(tell.state, tell.library, part.id):
        stale = sorted(sketch.rests_on & tell.stale_paths)
        if stale:
            yield Words(f"The {sketch.name} is {WITHHELD}: it rests on {', '.join(stale)}.", strong=True)
        else:
            yield sketch.drawing or Words(f"The {sketch.name} is not drawn: {sketch.why.rstrip('.')}.")


# --- slopes and hips ----------------------------------------------------------------------------------------------


def _slopes(tell: Teller, part: PartView) -> Iterator[Block]:
    """A row for each slope: its length up the slope at both ends, its eaves, its pitch, the hips at its ends."""
    sides = [side for side in SIDES if f"{part.id}.slope_{side}" in tell.state.facts]
    if not sides:
        return
    hips = f"{part.id}.hip_a" in tell.state.facts
    rows = tuple(
        (
            side.upper(),
            _figures(tell, side, _setting(tell, part, f"slope_{side}")) or tell.fact(part.id, f"slope_{side}"),
            tell.fact(part.id, f"eaves_{side}"),
            _figures(tell, side, _pitches(part)) or tell.fact(part.id, "pitch"),
            *(("\n".join(f"{c.upper()} {tell.fact(part.id, f'hip_{c}')}" for c in side),) if hips else ()),
        )
        for side in sides
    )
    heads = ("Slope", "Up the slope, tail to ridge", "Eaves, tail to tail", "Pitch", "Hips at its ends, on the line")
    count = 5 if hips else 4
    yield Table(heads[:count], rows, (2, 6, 5, 5, 6)[:count])
    yield from _rests_on(tell, part, [f"{name}_{side}" for name in ("slope", "eaves") for side in sides])


def _setting(tell: Teller, part: PartView, name: str) -> CheckView | None:
    """The check that can set a fact, if it has been answered."""
    fact = tell.state.facts.get(f"{part.id}.{name}")
    views = [tell.state.check(path) for path in (fact.setters if fact else ())]
    return next((view for view in views if view and view.by), None)


def _pitches(part: PartView) -> CheckView | None:
    """The last check of the part that read a pitch on each of its slopes."""
    views = [c for stage in part.stages if stage.applies for c in stage.shown]
    read = [v for v in views if {f.key for f in v.figures if f.kind == "pitch" and f.value is not None} >= set(SIDES)]
    return read[-1] if read else None


def _figures(tell: Teller, side: str, view: CheckView | None) -> str:
    """The figures of a check that belong to one side, by their keys (`ab`, `ab_p`); "" if it has none."""
    if view is None:
        return ""
    own = [f for f in view.figures if f.key.partition("_")[0] == side and f.value is not None]
    if own and view.path in tell.stale_paths:
        return WITHHELD
    ends = (f"{f.key.partition('_')[2].upper()} " if "_" in f.key else "" for f in own)
    return "\n".join(f"{end}{tell.read_figure(view, f)}" for end, f in zip(ends, own, strict=True))


def _hips(tell: Teller, part: PartView) -> Iterator[Block]:
    columns = [(name, head) for name, head in HIP_COLUMNS if f"{part.id}.{name}_a" in tell.state.facts]
    if not columns:
        return
    rows = tuple((c.upper(), *(tell.fact(part.id, f"{name}_{c}") for name, _ in columns)) for c in CORNERS)
    yield Table(("Hip", *(head for _, head in columns)), rows, (2, *(4 for _ in columns)))
    if f"{part.id}.ridge" in tell.state.facts:
        fall = tell.fact(part.id, "ridge_fall") if f"{part.id}.ridge_fall" in tell.state.facts else ""
        yield Words(
            joined([f"Ridge, centre to centre: {tell.fact(part.id, 'ridge')}", fall and f"its fall: {fall}"], "; ")
        )
    yield from _rests_on(tell, part, [f"hip_{c}" for c in CORNERS])


def _rests_on(tell: Teller, part: PartView, names: list[str]) -> Iterator[Block]:
    """What must be known of the checks that the figures rest on: one that was let go, is out, or is doubted."""
    facts = [tell.state.facts.get(f"{part.id}.{name}") for name in names]
    paths = {path for fact in facts if fact for path in fact.rests_on}
    found = [v for v in tell.state.checks() if v.path in paths and (v.state != "done" or v.doubted)]
    if found:
        said = "; ".join(f"{v.path} ({tell.how(v).replace(chr(10), ', ')})" for v in found)
        yield Words(f"These figures rest on {said}.", strong=True)


# --- gauge --------------------------------------------------------------------------------------------------------


def _gauge(tell: Teller, part: PartView) -> Iterator[Block]:
    for view in tell.state.checks():
        if view.part == part.id and view.check.calculator == "gauge":
            yield from _one_gauge(tell, view)


def _one_gauge(tell: Teller, view: CheckView) -> Iterator[Block]:
    under = tell.stale_under(view)
    if under:
        yield Words(f"{view.check.ask}: {WITHHELD}; it rests on {', '.join(under)}.", strong=True)
        return
    if view.answer is None:
        yield Words(f"{view.check.ask}: not worked; {view.refusal or 'figures are wanted'}.", strong=True)
        return
    if view.state != "done":
        yield Words(f"{view.check.ask}: {tell.how(view)}; nobody has accepted this sum.", strong=True)
    yield Words(f"{view.check.ask}. {joined(_singles(tell, view.answer), '; ')}.")
    yield Words(f"Worked from: {joined(_given(tell, view), '; ')}.")
    for one in sheet.tables(view.answer, tell.state.units):
        yield Table(*_in_columns(one.header, one.rows), caption=one.label)
    yield from (Words(f"{note[:1].upper()}{note[1:].rstrip('.')}.") for note in view.answer.notes)


def _singles(tell: Teller, answer: Answer) -> Iterator[str]:
    for output in index.find(answer.calculator).results:
        value = answer.results.get(output.name)
        if isinstance(value, (int, float, str)):
            yield f"{output.says[:1].upper()}{output.says[1:]}: {tell.figure(output.unit, value)}"


def _given(tell: Teller, view: CheckView) -> Iterator[str]:
    """Each input of the sum with where it came from: built, chosen, drawn, or given by the checklist."""
    for one in view.inputs:
        if one.value is not None:
            fact = tell.state.facts.get(one.fact)
            chosen = one.origin == "built" and fact is not None and not fact.measured
            origin = "chosen" if chosen else one.origin
            yield f"{one.says}: {tell.figure(unit_of_kind(one.kind), one.value)} ({origin})"


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
    wide = tuple(sum((padded[row + deep * n] for n in range(SIDE_BY_SIDE)), ()) for row in range(deep))
    return heads * SIDE_BY_SIDE, wide


# --- finish -------------------------------------------------------------------------------------------------------


def _finish(tell: Teller, part: PartView) -> Iterator[Block]:
    for view in tell.state.checks():
        finish = tell.library.finishes.get(str(view.value)) if view.part == part.id and view.check.finishes else None
        if finish is None:
            continue
        if view.path in tell.stale_paths:
            yield Words(f"{view.check.ask}: {WITHHELD}; {tell.why_stale(view)}.", strong=True)
        else:
            yield Words(f"{finish.label}. {finish.says.rstrip('.')}. Chosen by {view.by}, {tell.when(view.at)}.")
            yield from _asked(tell, finish)
    yield from _asked_by_others(tell, part)


def _asked_by_others(tell: Teller, part: PartView) -> Iterator[Block]:
    rows = tuple(
        (f"{title}: {one.finish}", one.ask.topic, one.ask.says, tell.source(one.ask.source))
        for title, one in tell.state.asked_of(part.id)
        if one.path not in tell.stale_paths
    )
    if rows:
        yield Table(("Asked by", "Of what", "What it asks", "Source"), rows, (3, 2, 6, 5))


def _asked(tell: Teller, finish: Finish) -> Iterator[Block]:
    if finish.asks:
        asks = tuple((one.topic, one.says, tell.source(one.source)) for one in finish.asks)
        yield Table(("Of what", "What it asks", "Source"), asks, (2, 6, 6))
    if finish.facts:
        facts = tuple((f.name.replace("_", " "), _set(tell, f), tell.source(f.source)) for f in finish.facts)
        yield Table(("What it sets", "Figure", "Source"), facts, (3, 3, 8))


def _set(tell: Teller, fact: FinishFact) -> str:
    """A figure that a finish sets, in the unit of its kind; masses are of a square metre of slope."""
    unit = "kg/m2" if fact.name.endswith("_mass") else unit_of_kind(fact.kind)
    return tell.figure(unit, fact.value, with_unit=True)

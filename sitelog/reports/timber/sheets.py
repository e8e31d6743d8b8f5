"""The cutting list and the order as pages: for the record, and as sheets for the saw."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress

from sitelog.calculators.timber.members import as_words, write_members
from sitelog.job.batches import Batch
from sitelog.job.buying import buy, ordered, totals, write_plan
from sitelog.job.members import Line
from sitelog.job.sources import Terms
from sitelog.job.state.views import State
from sitelog.quantities.rounding import places
from sitelog.refusal import Refusal
from sitelog.reports.model import Block, Items, Leaf, Section, Table, Words
from sitelog.reports.timber.entries import Entry, by_setting, counted, entries, marks, set_out, to_order
from sitelog.reports.timber.order import order_pages

HEADS = ("No", "Timber", "Stop, long point", "Mark each, and where it goes", "Notes", "Cut", "Up")
SHARES = (1, 4, 3, 6, 5, 1, 1)
LONG_POINT = (
    "Lengths are from long point to long point. Left or right: the side the long point is on,"
    " looking up the timber from its foot."
)
TRY_FIRST = "The first of each is the pattern: try it before you cut the rest."
FROM_HERE = "Check each length on the roof before you cut. The engineer gives sections and joints."


def saw_sheets(lines: Sequence[Line], state: State, terms: Terms | None = None) -> Iterator[Leaf]:
    """A page a section: batches under the setting of the saw. Then the marks on the plates, and the order."""
    listed = [entry for entry in entries(lines, state) if entry.section]
    for section in dict.fromkeys(entry.section for entry in listed):
        head = Words(f"{total(section, lines)}. {LONG_POINT} {TRY_FIRST} {FROM_HERE}")
        yield Leaf(f"Cutting list, {section}", (head, *_settings(section, listed, state)))
    if marked := set_out(lines, state.units):
        yield Leaf("Marks along the plates", (_marked(marked),))
    for_yard, for_saw = order_pages(to_order(lines, state), state.units, terms)
    yield Leaf("Timber to order", for_yard)
    if for_saw:
        yield Leaf("Sticks to saw", for_saw)


def cutting(state: State, lines: Sequence[Line], terms: Terms | None = None) -> Iterator[Section]:
    """The cutting list of every part that has one, and what to buy for all of them."""
    for part in state.parts:
        own = [line for line in lines if line.part == part.id]
        if own:
            yield Section(f"{part.id}-cutting", f"{part.title}: cutting list", tuple(_list(own, state)))
    if lines:
        for_yard, for_saw = order_pages(to_order(lines, state), state.units, terms)
        yield Section("order", "Timber to order", (*for_yard, *for_saw))


def _list(lines: Sequence[Line], state: State) -> Iterator[Block]:
    yield Words(f"{LONG_POINT} {FROM_HERE}")
    found = entries(lines, state)
    for section in dict.fromkeys(entry.section for entry in found if entry.section):
        yield Words(total(section, lines), strong=True)
        yield from _settings(section, found, state)
    if marked := set_out(lines, state.units):
        yield _marked(marked)
    left = tuple((one.what, (one.more,)) for one in found if not one.section)
    if left:
        yield Words("Left off the list, and why:", strong=True)
        yield Items(left)


def _settings(section: str, found: Sequence[Entry], state: State) -> Iterator[Table]:
    """A table for each setting of the saw, with what its lengths stand on."""
    own = [entry for entry in found if entry.section == section]
    for told, alike in by_setting(own, state):
        yield Table(HEADS, tuple(_saw_row(entry, state) for entry in alike), SHARES, caption=f"Saw: {told}")


def _saw_row(entry: Entry, state: State) -> tuple[str, ...]:
    if entry.batch is None:
        return "", entry.what, entry.length, "", entry.stands, "", ""
    where = next(part.title for part in state.parts if part.id == entry.part)
    done = [str(count) if count else "" for count in (entry.batch.cut, entry.batch.up)]
    return entry.count, entry.what, entry.length, f"{where}: {entry.marks}", entry.more, *done


def _marked(rows: Sequence[tuple[str, str]]) -> Table:
    return Table(("Marks along the plates", "Number, and its middle from the corner"), tuple(rows), (3, 8))


def total(section: str, lines: Sequence[Line]) -> str:
    """All pieces of one section together, in words."""
    found = next((one for one in totals(lines) if str(one.section) == section), None)
    if found:
        return told_total(section, found.count, found.length, found.mass)
    return section


def told_total(section: str, count: int, length_mm: float, mass: float) -> str:
    """One section's pieces together."""
    return (
        f"{section}: {count} piece{'s' if count != 1 else ''}, {places(length_mm / 1000, 1)} m,"
        f" {places(mass, 0)} kg dry"
    )


BATCH_COLUMNS = (
    *("part", "timber", "section_mm", "stop_length_mm", "spread_mm", "count", "hand", "marks"),
    *("head_cut_deg", "head_bevel_deg", "head_bevel_2_deg", "head_tilt_deg", "head_tilt_2_deg"),
    *("foot_cut_deg", "foot_seat_deg", "standing", "cut", "up", "spoiled", "short", "trial"),
)


def batch_row(batch: Batch) -> tuple[str | int | float, ...]:
    """The cells of a batch, in the order of BATCH_COLUMNS; lengths to a tenth of a mm, angles of a degree."""
    alike, head, foot = batch.alike, batch.head, batch.foot
    angles = (head.cut, head.bevel, head.bevel_2, head.tilt, head.tilt_2, foot.cut, foot.seat)
    return (
        alike.part, alike.what, alike.section, round(batch.length, 1), round(batch.spread, 1), batch.count, batch.hand,
        marks(batch), *(round(angle, 1) for angle in angles), batch.standing, batch.cut, batch.up, batch.spoiled,
        batch.short, batch.trial.word if batch.trial else "",
    )  # fmt: skip


def write_batches(found: Iterable[Batch]) -> str:
    """The batches as CSV, in the order in which the saw takes them; words that a spreadsheet runs are marked."""
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(BATCH_COLUMNS)
    for batch in found:
        writer.writerow([as_words(cell) if isinstance(cell, str) else cell for cell in batch_row(batch)])
    return written.getvalue()


def files(lines: Sequence[Line], state: State, terms: Terms | None = None) -> Iterator[tuple[str, str]]:
    """The lists that go with the pack for other programs: the members, and what to buy where that can be worked."""
    if made := ordered(lines, by_part=len({line.part for line in lines}) > 1):
        yield "members.csv", write_members(made)
        yield "batches.csv", write_batches(counted(lines, state))
        with suppress(Refusal):  # the page says why
            yield "order.csv", write_plan(buy(to_order(lines, state), terms))

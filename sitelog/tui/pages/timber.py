"""The cutting list of the job as built, section by section, and behind it the plan of what to buy."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.calculators.catalogue import Answer, Input, Value
from sitelog.job.buying import buy, totals
from sitelog.job.members import Line
from sitelog.job.sources import ASKED, terms_of
from sitelog.job.state.views import State
from sitelog.job.sticks import stick_for
from sitelog.job.yard import yard_for
from sitelog.refusal import Refusal
from sitelog.reports.timber.entries import Entry, all_lines, entries, to_order
from sitelog.reports.timber.order import not_bought, yard_told
from sitelog.reports.timber.sheets import told_total
from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.pages.calculators import CalculatorPage
from sitelog.tui.registry import screen
from sitelog.tui.widgets.fields import Field
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, heading, row
from sitelog.wording.formatting import in_words
from sitelog.wording.prompts import prompts

OF_YARD = {  # what two of the fields mean where there is a yard file
    "lengths": "which of the yard's lengths; all if left out",
    "prices": "prices to use instead of the yard's",
}
STANDING = {"built": "built", "drawn": "drawn", "stale": "STALE", "none": "none"}


class TimberPage(ListPage[None]):
    """Each length with its number and its mass, and whether it is as built."""

    PLACE = "timber"
    BINDINGS: ClassVar[list[BindingType]] = bindings("timber")
    HEADING = " Cutting list, as built"
    HEAD = (
        Cell(""),
        Cell("length", 9, right=True),
        Cell("no.", 4, right=True),
        Cell("short", 5, right=True),
        Cell("", 5),
    )
    EMPTY = "No cutting list: this job's checklists don't list any timbers."

    def rows(self) -> Iterable[Row]:
        """Each part, section by section, with the totals of a section in its title."""
        state = self.site.state
        self._told: dict[str, Entry] = {}
        for part in state.parts:
            lines = [line for line in self._lines() if line.part == part.id]
            yield from self._of_part(part.title if len(state.parts) > 2 else "", lines, state)

    def _lines(self) -> tuple[Line, ...]:
        return all_lines(self.site.state, self.site.job.library) if self.site.job else ()

    def _of_part(self, title: str, lines: list[Line], state: State) -> Iterator[Row]:
        found = entries(lines, state)
        summed = {
            str(total.section): told_total(str(total.section), total.count, total.length, total.mass)
            for total in totals(lines)
        }
        for section in dict.fromkeys(entry.section for entry in found):
            said = summed.get(section, section) if section else "Left off the list"
            yield heading(f"{title}: {said}" if title else said)
            for one in (one for one in found if one.section == section):
                key = f"{one.part}.{one.key}"
                self._told[key] = one
                yield _row(key, one)

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Its section and cuts, and what its length follows from; or why it is left off."""
        entry = self._told[key]
        if not entry.section:
            return [("", entry.what), ("Why", in_words(entry.more, self.site.state))]
        stands = entry.stands if entry.standing == "built" else in_words(entry.stands, self.site.state)
        weight = f"{entry.mass} kg each" if entry.mass else ""
        told = [
            ("", ", ".join(filter(None, (entry.what, entry.section, entry.count, weight)))),
            ("Cuts", entry.cuts),
            ("Marks", entry.marks),
            ("Beside", entry.more),
        ]
        return [*((lead, words) for lead, words in told if words), ("State", stands)]

    def action_drawing(self) -> None:
        """The timber under the cursor as it is marked on the bench, or one line that says why it can't be drawn."""
        job = self.site.job
        entry = self._told.get(self.listing.key or "") if job else None
        if job is None or entry is None or entry.batch is None:
            self.say("Put the cursor on a timber to see how it is marked.")
            return
        try:
            answer = stick_for(self.site.state, job.library, entry.batch.pieces[0].line)
        except Refusal as refusal:
            self.say(f"{entry.what}: {refusal.message}")
            return
        self.app.push_screen(screen("drawing-of-answer", answer, self.site.state.units))

    @on(Listing.OptionSelected)
    @work
    async def action_tally(self) -> None:
        """Count more pieces of the batch under the cursor."""
        entry = self._told.get(self.listing.key or "")
        batch = entry.batch if entry else None
        if batch is None:
            self.say("Nothing to count here: go to a timber with a length.")
        elif await prompted.do(self, lambda: prompts.tally(batch, self.site.state.units)):
            self.say("Counted. Press u to undo.")

    def action_buy(self) -> None:
        """Work out what to buy for the whole list."""
        lines = self._lines()
        if lines:
            self.app.push_screen(OrderPage(to_order(lines, self.site.state)))
        else:
            self.say(self.EMPTY)


def _row(key: str, entry: Entry) -> Row:
    length = "withheld" if entry.standing == "stale" else entry.length
    short = entry.batch.short if entry.batch else ""
    return row(
        key,
        Cell(entry.what),
        Cell(length, 9, right=True),
        Cell(entry.count, 4, right=True),
        Cell(str(short), 5, right=True),
        Cell("held" if entry.trial == "held" else STANDING[entry.standing], 5),
    )


class OrderPage(CalculatorPage):
    """What to buy for the list: the sum `stock` with its cuts taken from there, worked on Enter."""

    def __init__(self, lines: tuple[Line, ...]) -> None:
        super().__init__("stock")
        self.lines = lines

    @property
    def yard(self) -> Path | None:
        """The yard file of the job, if it has one."""
        return yard_for(self.site.job.file.files) if self.site.job else None

    def heading(self) -> str:
        """That it is for the list, not for any lengths."""
        return " What to buy for the cutting list"

    def idle(self) -> list[str]:
        """Whose lengths it buys."""
        return [*self._folded(yard_told(self.yard)), *super().idle()]

    def _words(self, wanted: Input, typed: bool = False) -> str:
        said = OF_YARD.get(wanted.name) if self.yard else None
        return said or super()._words(wanted, typed)

    def _fields(self) -> Iterator[Field]:
        return (field for field in super()._fields() if field.key in ASKED)

    def worked(self, texts: Mapping[str, str], standing: Mapping[str, Value]) -> tuple[list[str], Answer]:
        """What is not bought, and the plan of what is. Refusal as from `buy`."""
        purchase = buy(self.lines, terms_of(texts, self.yard))
        return [*not_bought(purchase)], purchase.answer

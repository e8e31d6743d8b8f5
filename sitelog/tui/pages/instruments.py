"""The register of instruments: what each has measured, and the one that is found to read wrong marked bad."""

from collections.abc import Iterable, Iterator
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.state.marks import state_word
from sitelog.job.state.record_views import Instrument
from sitelog.job.state.views import CheckView
from sitelog.text import counted, text_after, text_if
from sitelog.tui.dialogs import prompted
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.dialogs.tools import register
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, row
from sitelog.wording.formatting import day, row_figures
from sitelog.wording.prompts.prompts import Question, doubt
from sitelog.wording.prompts.tools import measured_with, named


class InstrumentsPage(ListPage[None]):
    """Each instrument, and under it the checks that it measured: the row's key is its name, or name and path."""

    PLACE = "instruments"
    BINDINGS: ClassVar[list[BindingType]] = bindings("instruments")
    HEAD = (Cell("tool, and what was measured with it"), Cell("state", 18, right=True))
    EMPTY = "No tools listed. Press n to add one."

    def heading(self) -> str:
        """How many there are."""
        return f" Tools: {len(self.site.state.instruments)}"

    def rows(self) -> Iterator[Row]:
        """Each tool, and under it the checks that were measured with it."""
        self._rows: dict[str, tuple[Instrument, CheckView | None]] = {}
        for tool in self.site.state.instruments.values():
            views = measured_with(tool.id, self.site.state)
            yield self._row(tool, None, named(tool), "MARKED BAD" if tool.doubted else counted(len(views), "check"))
            for view in views:
                yield self._row(tool, view, f"    {view.check.ask_in_full}", state_word(view))

    def _row(self, tool: Instrument, view: CheckView | None, words: str, stands: str) -> Row:
        key = f"{tool.id} {view.path if view else ''}"
        self._rows[key] = tool, view
        return row(key, Cell(words), Cell(stands, 18, right=True), shade=text_if(tool.doubted, "out"))

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Of a tool whether it is bad, and why; of a check, its figures."""
        tool, view = self._rows[key]
        if tool.doubted:
            yield "Bad", f"{tool.why} ({tool.by}, {day(tool.at)})"
        if view is None:
            yield (
                "",
                "Everything measured with it is flagged."
                if tool.doubted
                else "If it reads wrong, press Enter to mark it bad.",
            )
            return
        yield "Read", row_figures(view, self.site.state.units) or state_word(view)
        if view.instrument != tool.id:
            yield "Since", f"measured again{text_after(' with ', view.instrument)}"
        yield "By", f"{view.by}, {day(view.at)}"

    # -- acts --

    @on(Listing.OptionSelected)
    @work
    async def action_doubt(self) -> None:
        """Mark the tool bad, with what is wrong with it; all that was measured with it is flagged."""
        found = self._rows.get(self.listing.key)
        if found is None or not await prompted.named(self):
            return
        tool = found[0]
        if tool.doubted:
            self.say(f"{tool.id} was already marked bad by {tool.by}: {tool.why}")
            return
        if await prompted.do(self, lambda: doubt(self.site.state, tool)):
            count = len(measured_with(tool.id, self.site.state))
            self.say(f"{tool.id} is marked bad; {counted(count, 'check')} flagged. Press u to undo.")

    @work
    async def action_register(self) -> None:
        """Put a new tool on the list."""
        if not await prompted.named(self):
            return
        words = await ask_words(self, Question("New tool", "What is written on it?", "name"))
        if not words:
            return
        if words[0] in self.site.state.instruments:
            self.say(f"{words[0]} is already on the list.")
        elif await register(self, words[0], f"{words[0]}: a new tool"):
            self.say(f"{words[0]} is on the list.")

    def action_go(self) -> None:
        """Go to the check that the cursor stands on."""
        _, view = self._rows.get(self.listing.key, (None, None))
        if view is not None:
            self.go_to(view.path)
        else:
            self.say("Move to one of the checks listed under it.")

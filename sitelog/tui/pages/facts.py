"""Every figure of the job: as drawn, as built, how far apart, and who says so."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.actions.setup import is_building
from sitelog.job.facts.fact import Fact
from sitelog.job.facts.in_use import in_use
from sitelog.job.state.views import Asked, State
from sitelog.text import counted, text_if
from sitelog.tui.building.changed import changed_roof
from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, heading, row
from sitelog.wording.figures import apart, asked_lines, check_of, drawn_words, elsewhere, fact_lines, is_shown
from sitelog.wording.formatting import value_text
from sitelog.wording.prompts.prompts import change

ASKED = "asked "  # opens the key of a row that says what another part's finish asks


class FactsPage(ListPage[None]):
    """A figure off the drawing can be changed here; any other is measured or worked, and says where."""

    PLACE = "facts"
    BINDINGS: ClassVar[list[BindingType]] = bindings("facts")
    HEADING = " Figures, drawn and built"
    HEAD = (Cell(""), Cell("drawn", 11, right=True), Cell("built", 11, right=True), Cell("apart", 9, right=True))

    def rows(self) -> Iterable[Row]:
        """The figures of each part, and what it asks of the finishes of others."""
        state = self.site.state
        for part in state.parts:
            facts = list(filter(is_shown, self._in_use(part.id)))
            if facts:
                yield heading(part.title)
                yield from (_row(fact, state) for fact in facts)
            yield from (
                row(f"{ASKED}{state.asked.index(asked)}", Cell(f"{title} needs: {asked.ask.says}"))
                for title, asked in state.asked_of(part.id)
            )

    def _in_use(self, part: str) -> Iterable[Fact]:
        return in_use(self.site.job.library, self.site.state, part) if self.site.job else ()

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Where a figure comes from, and who drew or measured it."""
        asked, state = self._asked(key), self.site.state
        if asked is None:
            return fact_lines(state.facts[key], state, "; press Enter to change it")
        return asked_lines(asked, state, self.site.job.library.sources if self.site.job else {})

    def _asked(self, key: str) -> Asked | None:
        """What another part's finish asks, if that is what the row says."""
        if not key.startswith(ASKED):
            return None
        return self.site.state.asked[int(key.removeprefix(ASKED))]

    @on(Listing.OptionSelected)
    @work
    async def action_change(self) -> None:
        """Ask for the figure on the drawing; one that is measured says where."""
        fact = self.site.state.facts.get(self.listing.key)
        if fact is None:
            self.say(
                text_if(self._asked(self.listing.key), "This comes from another part's finish. Press g to go there.")
            )
            return
        if not (fact.asked or fact.drawable):
            self.say(f"{elsewhere(fact, self.site.state)}{text_if(fact.setters, ' Press g to go there.')}")
            return
        if is_building(fact):
            done = await changed_roof(self, fact)
        else:
            done = await prompted.do(self, lambda: change(self.site.state, fact))
        if done:
            stale = len(self.site.state.stale)
            more = text_if(stale, f" {counted(stale, 'check is', 'checks are')} now out of date.")
            self.say(f"{fact.says}: drawing figure changed.{more}")

    def action_go(self) -> None:
        """Go to the check that sets it, or say that none does."""
        asked = self._asked(self.listing.key)
        if asked:
            self.go_to(asked.path)
            return
        fact = self.site.state.facts.get(self.listing.key)
        found = check_of(fact, self.site.state) if fact else ""
        if found:
            self.go_to(found)
        else:
            self.say("No check sets this figure.")


def _row(fact: Fact, state: State) -> Row:
    return row(
        fact.name,
        Cell(fact.says),
        Cell(drawn_words(fact, state), 11, right=True),
        Cell(value_text(fact.unit, fact.built, state.units, typed=fact.built_typed), 11, right=True),
        Cell(apart(fact, state) or text_if(fact.origin == "usual", "usual"), 9, right=True),
    )

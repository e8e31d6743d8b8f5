"""The diary, a day at a time: what was logged writes itself, and weather, people, deliveries and delays are added."""

from collections.abc import Iterable
from datetime import date
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType

from sitelog.job.state.record_views import DiaryDay
from sitelog.text import text_if
from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, DetailPane, Listing, Paragraphs, Row, RuledLine, row
from sitelog.wording.diary import day_lines, days, page_of
from sitelog.wording.entries import local_time, what
from sitelog.wording.formatting import at_the_end, name_of, when
from sitelog.wording.prompts.prompts import diary, diary_label


class JournalPage(ListPage[None]):
    """One day at a time: what is written on it, and what was logged."""

    PLACE = "journal"
    BINDINGS: ClassVar[list[BindingType]] = bindings("journal")

    def __init__(self) -> None:
        super().__init__()
        self.day = ""

    def body(self) -> ComposeResult:
        """The page of the day above what was logged, the entry under the cursor told beneath."""
        yield Paragraphs(id="day")
        yield RuledLine(classes="rule", markup=False)
        yield Listing()
        yield RuledLine(id="place", classes="rule", markup=False)
        yield DetailPane(id="told")

    def begin(self) -> None:
        """Today, at its last entry."""
        self.day = self._today()
        self.call_after_refresh(self._to_end)

    def _today(self) -> str:
        return self.site.now().date().isoformat()

    def _days(self) -> list[str]:
        """Every day with something in it, and today, in order."""
        return days(self.site.state, self._today())

    def _page(self) -> DiaryDay:
        return page_of(self.site.state, self.day)

    def heading(self) -> str:
        """The day, and which of how many."""
        if not self.day:
            return " Site diary"
        known = self._days()
        at = known.index(self.day) + 1 if self.day in known else len(known)
        return f" {_named(self.day)}, day {at} of {len(known)}"

    # -- showing --

    def rows(self) -> Iterable[Row]:
        """What was entered that day, but for the words of the diary itself."""
        for entry in self._page().entries:
            if entry.act != "diary":
                yield row(entry.id, Cell(local_time(entry), 5), Cell(what(entry, self.site.state)), Cell(entry.by, 12))

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Who entered it, when and on what device; when it was done, if before; where."""
        entry = next((entry for entry in self._page().entries if entry.id == key), None)
        if entry is None:
            return []
        done = text_if(entry.done, f"; done {when(entry.done)}")
        told = [("Who", f"{entry.by}, entered {local_time(entry)}{done}, device {entry.device}")]
        if entry.path:
            return [*told, ("At", name_of(entry.path, self.site.state))]
        return told

    def state_changed(self) -> None:
        """The day again, with what was just written."""
        self.query_one("#day", Paragraphs).show(day_lines(self._page()))
        super().state_changed()
        if not self.listing.rows:
            self.query_one("#told", Paragraphs).show([("", "Nothing recorded this day.")])
        self.show_title()

    def _to_end(self) -> None:
        self.listing.action_last()

    # -- acts --

    def action_day(self, step: int) -> None:
        """The day before (-1) or after (1)."""
        known = self._days()
        at = known.index(self.day) + step if self.day in known else len(known) - 1
        if 0 <= at < len(known):
            self.day = known[at]
            self.state_changed()
            self._to_end()
        else:
            self.say(at_the_end("day", step))

    @on(Listing.OptionSelected)
    def _stay(self) -> None:
        self.say("Entries can't be edited. Press u to undo the last one.")

    @work
    async def action_write(self, what: str) -> None:
        """Ask for one of the words of the day, such as the weather, and write it down."""
        if await prompted.do(self, lambda: diary(self._page(), what)):
            self.say(f"{diary_label(what).capitalize()} is in the site diary.")

    @work
    async def action_photo(self) -> None:
        """Attach photos to the page of the day."""
        from sitelog.tui.dialogs import attach

        if await attach.diary(self, self.day):
            self.say("Added to the site diary.")


def _named(day: str) -> str:
    """The day with its weekday; as it stands in the record, if that is no date."""
    try:
        return f"{date.fromisoformat(day):%A %d %B %Y}"
    except ValueError:
        return day

"""Find a check, a note or a snag by words of it, as they are typed."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import Key
from textual.widgets import Input

from sitelog.job.find import Hit, find
from sitelog.text import text_if
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import Cell, Listing, Row, row
from sitelog.tui.widgets.page import Page

MOST = 200


class FindPage(Page[str | None]):
    """Gives the path of what was chosen, or None."""

    PLACE = "find"
    BINDINGS: ClassVar[list[BindingType]] = bindings("find")
    HEADING = " Find a check, a note or a snag"

    def body(self) -> ComposeResult:
        """A field for the words, and what they find."""
        yield Entry(id="words", max_length=100, placeholder="type a word")
        yield Listing()

    def on_mount(self) -> None:
        """The cursor stands in the field."""
        self.hits: list[Hit] = []
        self.query_one("#words").focus()

    @on(Input.Changed)
    def _find(self, event: Input.Changed) -> None:
        found = find(self.site.state, event.value)
        self.hits = found[:MOST]
        self.query_one(Listing).show([self._row(str(number), hit) for number, hit in enumerate(self.hits)])
        more = text_if(len(found) > MOST, f", {len(found) - MOST} more. Add another word")
        self.say(text_if(event.value.strip(), f"{len(found)} found{more}"))

    def _row(self, key: str, hit: Hit) -> Row:
        stage = self.site.state.stage(".".join(hit.path.split(".")[:2]))
        where = stage.stage.title if stage else hit.path
        return row(key, Cell(hit.what, 5), Cell(hit.line), Cell(where, 18))

    def on_key(self, event: Key) -> None:
        """Up and down move in what was found."""
        move_cursor(self.query_one(Listing), event)

    @on(Input.Submitted)
    @on(Listing.OptionSelected)
    def action_accept(self) -> None:
        """Go to what the cursor stands on; a snag that is tied to no check says so."""
        key = self.query_one(Listing).key
        if not key:
            self.say("Nothing found. Try another word.")
            return
        path = self.hits[int(key)].path
        if path:
            self.dismiss(path)
        else:
            self.say("That snag isn't tied to a check. Press k on the job page to see it.")

    def action_back(self) -> None:
        """Leave without going anywhere."""
        self.dismiss(None)


def move_cursor(listing: Listing, event: Key) -> None:
    """Up and down move in the list while the words are being typed."""
    if event.key in ("down", "up") and isinstance(listing.screen.focused, Input):
        (listing.action_cursor_down if event.key == "down" else listing.action_cursor_up)()
        event.stop()

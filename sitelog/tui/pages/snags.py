"""All the snags: the open ones first, each with who puts it right and by when."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.job.actions import actions
from sitelog.job.state.record_views import Snag
from sitelog.text import text_if
from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row
from sitelog.wording.snags import snag_lines, who_and_when


class SnagsPage(ListPage[None]):
    """A row tells what is wrong, who puts it right and by when."""

    PLACE = "snags"
    BINDINGS: ClassVar[list[BindingType]] = bindings("snags")
    HEAD = (Cell("no", 3, right=True), Cell("what is wrong, who fixes it, by when"))
    EMPTY = "No snags. Press s to raise one on the job; to snag a check, press s on it."

    def heading(self) -> str:
        """How many are open, of how many."""
        return f" Snags: {len(self.site.state.open_snags)} open of {len(self.site.state.snags)}"

    def rows(self) -> Iterable[Row]:
        """The open ones first."""
        return [_row(snag) for snag in sorted(self.site.state.snags, key=lambda snag: not snag.open)]

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Who raised it, where, and how it was closed."""
        snag = self._snag(key)
        if snag is None:
            return []
        return snag_lines(snag, self.site.state)

    def _snag(self, key: str) -> Snag | None:
        return next((snag for snag in self.site.state.snags if snag.id == key), None)

    @on(Listing.OptionSelected)
    @work
    async def action_close(self) -> None:
        """Close it: it is put right."""
        snag = self._snag(self.listing.key)
        if snag is None or not await prompted.named(self):
            return
        if self.site.attempt(lambda: actions.close_snag(self.site.state, snag.id)):
            self.say(f"Snag {snag.id} closed by {self.site.by}. Press u to undo.")

    @work
    async def action_raise(self) -> None:
        """Raise one on the job in general."""
        await prompted.snag(self, "")

    def action_go(self) -> None:
        """Go to its check."""
        snag = self._snag(self.listing.key)
        if snag is None:
            return
        if snag.path and (self.site.state.check(snag.path) or self.site.state.stage(snag.path)):
            self.go_to(snag.path)
        else:
            self.say("This snag isn't tied to a check.")


def _row(snag: Snag) -> Row:
    """The snag, and beneath it who puts it right."""
    state = Cell("open" if snag.open else "fixed", 9, right=True)
    return Row(
        snag.id,
        (
            (Cell(snag.id, 3, right=True), Cell(snag.text), state),
            (Cell("", 3), Cell(who_and_when(snag))),
        ),
        shade=text_if(snag.open, "snag"),
    )

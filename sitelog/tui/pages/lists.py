"""What newer lists would change in the job, and the earlier checks; from here the job is brought to the newest."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on, work
from textual.binding import BindingType

from sitelog.tui.dialogs import prompted
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.list_page import ListPage
from sitelog.tui.widgets.listing import Cell, Listing, Row, heading
from sitelog.wording.lists import BROUGHT, NEWEST, OLDER, Item, groups
from sitelog.wording.prompts.prompts import newest_lists


class ListsPage(ListPage[None]):
    """What newer lists would change, and the answers to checks that they no longer have."""

    PLACE = "lists"
    BINDINGS: ClassVar[list[BindingType]] = bindings("lists")
    EMPTY = f"{NEWEST}, and no earlier checks were removed."

    def begin(self) -> None:
        """Nothing is known until the rows are worked."""
        self._items: dict[str, Item] = {}

    def heading(self) -> str:
        """Whether newer lists are out."""
        return f" {OLDER if self.site.state.changed_lists else NEWEST}"

    def rows(self) -> Iterable[Row]:
        """The changes and the earlier checks, under their titles."""
        found = groups(self.site.job) if self.site.job else []
        self._items = {item.key: item for _, items in found for item in items}
        for title, items in found:
            yield heading(title)
            yield from (Row(item.key, ((Cell(item.words),),)) for item in items)

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """Where it is and what changes, or the answer with who gave it."""
        if key not in self._items:
            return ()
        return self._items[key].told

    @on(Listing.OptionSelected)
    @work
    async def action_bring(self) -> None:
        """Bring the job to the newest lists, once that has been confirmed by a word."""
        job = self.site.job
        if job and await prompted.do(self, lambda: newest_lists(job.newest_lists)):
            self.say(f"{BROUGHT}, by {self.site.by}.")

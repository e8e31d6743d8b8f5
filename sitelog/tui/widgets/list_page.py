"""A page that is one list: its rows, and the row under the cursor told whole beneath them."""

from collections.abc import Iterable
from typing import Generic

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from sitelog.tui.widgets.listing import Cell, DetailPane, Listing, Paragraphs, Row, RuledLine, laid
from sitelog.tui.widgets.page import T
from sitelog.tui.widgets.site_page import SitePage


class HeadLine(Static):
    """The names of the columns."""

    def __init__(self, cells: tuple[Cell, ...]) -> None:
        super().__init__("", id="head", markup=False)
        self.cells = cells

    def on_resize(self) -> None:
        """Lay the names out over the columns of the rows."""
        # One column for the list's own scrollbar, which the head has none of.
        self.update(Content("\n".join(f" {line}" for line in laid(self.cells, self.size.width - 2))))


class ListPage(SitePage[T], Generic[T]):
    """`HEAD` names the columns; `rows` and `told` come from the state as it stands."""

    HEAD: tuple[Cell, ...] = ()
    EMPTY = ""

    def body(self) -> ComposeResult:
        """The names of the columns, the rows, and room to tell one of them."""
        if self.HEAD:
            yield HeadLine(self.HEAD)
        yield Listing()
        yield RuledLine(id="place", classes="rule", markup=False)
        yield DetailPane(id="told")

    def on_mount(self) -> None:
        """Show the rows, with the cursor among them."""
        self.begin()
        self.state_changed()
        self.listing.focus()

    def begin(self) -> None:
        """What a page needs before its rows are first shown."""

    @property
    def listing(self) -> Listing:
        """Its rows."""
        return self.query_one("#list", Listing)

    def rows(self) -> Iterable[Row]:
        """The rows as the job stands."""
        return ()

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """What stands beneath the list of the row with that key."""
        return ()

    def state_changed(self) -> None:
        """The rows anew; where there are none, a line says what to do."""
        rows = list(self.rows())
        self.listing.show(rows)
        if not rows:
            self.query_one("#told", Paragraphs).show([("", self.EMPTY)])
        self._tell()

    @on(Listing.OptionHighlighted)
    def _tell(self) -> None:
        self.query_one("#place", RuledLine).say(self.listing.place)
        if self.listing.key:
            self.query_one("#told", Paragraphs).show(self.told(self.listing.key))
            # More words beneath leave less of the list: the row must not end up under them.
            self.call_after_refresh(self.listing.scroll_to_highlight)

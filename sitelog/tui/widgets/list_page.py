"""A page that is one list: its rows, and the row under the cursor told whole beneath them."""

from collections.abc import Iterable
from typing import Generic

from textual import on, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from sitelog.tui.dialogs import prompted
from sitelog.tui.widgets.listing import HEIGHTS, Cell, DetailPane, Listing, Paragraphs, Row, RuledLine, laid
from sitelog.tui.widgets.page import Page, T


class HeadLine(Static):
    """The names of the columns."""

    def __init__(self, cells: tuple[Cell, ...]) -> None:
        super().__init__("", id="head", markup=False)
        self.cells = cells

    def on_resize(self) -> None:
        # One column for the list's own scrollbar, which the head has none of.
        self.update(Content("\n".join(f" {line}" for line in laid(self.cells, self.size.width - 2))))


class SitePage(Page[T], Generic[T]):
    """The acts that every page behind the job's has."""

    VERTICAL_BREAKPOINTS = HEIGHTS

    def go_to(self, path: str) -> None:
        """Leave for the check or stage at that path on the job's page."""
        from sitelog.tui.pages.job import JobPage

        self.dismiss()
        for page in reversed(self.app.screen_stack):
            if isinstance(page, JobPage):
                page.show_path(path)
                return

    @work
    async def action_undo(self) -> None:
        await prompted.undo(self)

    def action_acts(self) -> None:
        from sitelog.tui.dialogs.palette import open_palette

        open_palette(self)

    def action_help(self) -> None:
        from sitelog.tui.dialogs.help import HelpPage

        self.app.push_screen(HelpPage())


class ListPage(SitePage[T], Generic[T]):
    """`HEAD` names the columns; `rows` and `told` come from the state as it stands."""

    HEAD: tuple[Cell, ...] = ()
    EMPTY = ""

    def body(self) -> ComposeResult:
        if self.HEAD:
            yield HeadLine(self.HEAD)
        yield Listing()
        yield RuledLine(classes="rule", markup=False)
        yield DetailPane(id="told")

    def on_mount(self) -> None:
        self.begin()
        self.state_changed()
        self.listing.focus()

    def begin(self) -> None:
        """What a page needs before its rows are first shown."""

    @property
    def listing(self) -> Listing:
        return self.query_one("#list", Listing)

    def rows(self) -> Iterable[Row]:
        return ()

    def told(self, key: str) -> Iterable[tuple[str, str]]:
        """What stands beneath the list of the row with that key."""
        return ()

    def state_changed(self) -> None:
        rows = list(self.rows())
        self.listing.show(rows)
        if not rows:
            self.query_one("#told", Paragraphs).show([("", self.EMPTY)])
        self._tell()

    @on(Listing.OptionHighlighted)
    def _tell(self) -> None:
        if self.listing.key:
            self.query_one("#told", Paragraphs).show(self.told(self.listing.key))
            # More words beneath leave less of the list: the row must not end up under them.
            self.call_after_refresh(self.listing.scroll_to_highlight)

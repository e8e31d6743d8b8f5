"""What stands beneath the rows of a page, to its end."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from sitelog.text import text_if
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.listing import Paragraphs
from sitelog.tui.widgets.page import Page


class WholePage(Page[None]):
    """The panel of another page, with as much room as the screen has."""

    PLACE = "whole"
    BINDINGS: ClassVar[list[BindingType]] = bindings("whole")

    def __init__(self, heading: str, told: tuple[tuple[str, str], ...]) -> None:
        super().__init__()
        self._heading, self._told = heading, told

    def heading(self) -> str:
        """That of the page it was opened from."""
        return self._heading

    def body(self) -> ComposeResult:
        """Room for the words, which scroll."""
        with VerticalScroll(id="form"):
            yield Paragraphs(id="whole")

    def on_mount(self) -> None:
        """The words, and the cursor where arrows scroll them."""
        super().on_mount()
        self.query_one("#whole", Paragraphs).show(self._told)
        self.query_one("#form").focus()

    def on_resize(self) -> None:
        """Say whether more is below."""
        self.call_after_refresh(self._more)

    def _more(self) -> None:
        self.say(text_if(self.query_one("#form").max_scroll_y, "More below: press down."))

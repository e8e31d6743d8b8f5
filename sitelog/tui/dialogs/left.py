"""What was found with the job, told over the foot of the page: left as it is, or dealt with."""

from collections.abc import Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from sitelog.tui.host import host_of
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.over import OverPage


class LeftPage(OverPage[bool]):
    """Gives True for the second choice; Esc is the first, which changes nothing. None has the cursor to begin with."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "keep", show=False)]

    def __init__(self, title: str, lines: Sequence[str], choices: tuple[str, str]) -> None:
        super().__init__()
        self.heading = title
        self.lines = tuple(lines)
        self.choices = choices

    def compose(self) -> ComposeResult:
        """What it is, and the two choices."""
        with Vertical(id="ask"):
            yield Static(self._content(self.heading), id="ask-title", markup=False)
            for line in self.lines:
                yield Static(self._content(line), classes="ask-words", markup=False)
            rows = (f"{number}  {choice}" for number, choice in enumerate(self.choices, 1))
            yield OptionList(*(Option(self._content(row)) for row in rows), id="choices", markup=False)
            yield from self.foot("enter choose", "esc leave it")

    def _content(self, text: str) -> Content:
        return Content(lettered(text, host_of(self).ascii_only))

    def on_mount(self) -> None:
        """The cursor waits above the choices."""
        choices = self.query_one(OptionList)
        choices.highlighted = None
        choices.focus()

    def on_key(self, event: Key) -> None:
        """A digit chooses."""
        if event.character in ("1", "2"):
            self.dismiss(event.character == "2")
            event.stop()

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_index == 1)

    def action_keep(self) -> None:
        """Leave it as it is."""
        self.dismiss(False)

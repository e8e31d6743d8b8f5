"""What somebody else typed and did not save, told over the foot of the page: kept for them, or thrown away."""

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
from sitelog.wording.prompts.left import left_choices, left_title


class LeftPage(OverPage[bool]):
    """Gives True where it is to be thrown away; Esc keeps it. No choice is under the cursor to begin with."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "keep", show=False)]

    def __init__(self, by: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.by = by
        self.lines = tuple(lines)

    def compose(self) -> ComposeResult:
        """Whose it is, what it is, and the two choices."""
        with Vertical(id="ask"):
            yield Static(self._content(left_title(self.by)), id="ask-title", markup=False)
            for line in self.lines:
                yield Static(self._content(line), classes="ask-words", markup=False)
            rows = (f"{number}  {choice}" for number, choice in enumerate(left_choices(self.by), 1))
            yield OptionList(*(Option(self._content(row)) for row in rows), id="choices", markup=False)
            yield from self.foot("enter choose", "esc keep it")

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
        """Keep it."""
        self.dismiss(False)

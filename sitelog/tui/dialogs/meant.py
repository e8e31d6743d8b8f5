"""A figure that is likely a slip, asked about over the foot of the page before it is taken."""

from collections.abc import Callable
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.tui.host import host_of
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.over import OverPage


class MeantPage(OverPage[bool]):
    """y takes what was probably meant; n or Esc goes back to the field. Enter does nothing here: it is hit unread."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("y", "answer(True)", show=False),
        Binding("n,escape", "answer(False)", show=False),
    ]

    keeps_typed = True  # in the field beneath

    def __init__(self, slip: Slip) -> None:
        super().__init__()
        self.slip = slip

    def compose(self) -> ComposeResult:
        """What was probably meant, how to keep what was typed, and the two keys."""

        def line(words: str, **how: Any) -> Static:
            return Static(Content(lettered(words, host_of(self).ascii_only)), markup=False, **how)

        with Vertical(id="ask"):
            yield line(self.slip.question, id="ask-title")
            yield line(f"Type {self.slip.kept} in the field if you mean it.", classes="ask-words")
            take = lettered(f"y take {self.slip.likely}", host_of(self).ascii_only)
            yield from self.foot(take, "n back to the field")

    def action_answer(self, yes: bool) -> None:
        """True takes what was probably meant."""
        self.dismiss(yes)


def slip_in(read: Callable[[], object]) -> Slip | None:
    """What is asked about a figure that `read` reads, if anything is."""
    try:
        read()
    except Slip as slip:
        return slip
    except Refusal:
        pass  # told where it is refused
    return None


def ask(page: Screen[Any], slip: Slip, field: Input, say: Callable[[str], object], then: Callable[[], object]) -> None:
    """Go on with `then` once the field holds what was probably meant; what can mean nothing else is said by `say`."""
    field.focus()
    if not slip.likely:
        page.call_after_refresh(say, slip.message)  # after the field's own hint
        return

    def answered(yes: bool | None) -> None:
        if yes:
            field.value = slip.likely
            then()

    page.app.push_screen(MeantPage(slip), answered)

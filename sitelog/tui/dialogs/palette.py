"""Every act of a page by its words: typed to narrow the list, Enter to do it."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.events import Key as KeyEvent
from textual.widgets import Input

from sitelog.tui.dialogs.find import move_cursor
from sitelog.tui.keys import Key, bindings, keys_of
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import Cell, Listing, row
from sitelog.tui.widgets.page import Page

# What the program does on every page, though not every page has a key for it.
PROGRAM = (
    Key("app.theme", "", "", "theme", "Light or dark screen", ()),
    Key("app.quit", "", "", "quit", "Quit; everything is already saved", ()),
)


def acts_of(place: str) -> list[Key]:
    """The acts of a page, then the program's, each once."""
    found = {key.act: key for key in (*keys_of(place), *PROGRAM) if key.act != "acts"}
    own = {key.act: key for key in keys_of(place)}
    return [own.get(act, key) for act, key in found.items()]


class PalettePage(Page[str | None]):
    """Gives the act that was chosen, as an action of the page it was opened from."""

    PLACE = "palette"
    BINDINGS: ClassVar[list[BindingType]] = bindings("palette")
    HEADING = " All commands"

    def __init__(self, place: str) -> None:
        super().__init__()
        self.acts = acts_of(place)

    def body(self) -> ComposeResult:
        """A field for part of a command, and the commands with it."""
        yield Entry(id="words", max_length=60, placeholder="type part of a command")
        yield Listing()

    def on_mount(self) -> None:
        """All of them, and the cursor in the field."""
        self._show("")
        self.query_one("#words").focus()

    def _show(self, typed: str) -> None:
        words = typed.casefold().split()
        found = [key for key in self.acts if all(word in f"{key.word} {key.says}".casefold() for word in words)]
        self.query_one(Listing).show(
            [row(key.act, Cell(key.word, 16), Cell(key.says), Cell(key.shown, 6, right=True)) for key in found]
        )
        self.say("" if found else "No command found. Try another word.")

    @on(Input.Changed)
    def _narrow(self, event: Input.Changed) -> None:
        self._show(event.value)

    def on_key(self, event: KeyEvent) -> None:
        """Up and down move in the list."""
        move_cursor(self.query_one(Listing), event)

    @on(Input.Submitted)
    @on(Listing.OptionSelected)
    def action_accept(self) -> None:
        """Give the command that the cursor stands on."""
        if self.query_one(Listing).key:
            self.dismiss(self.query_one(Listing).key)

    def action_back(self) -> None:
        """Leave without doing any."""
        self.dismiss(None)

"""Where the job stands, after a start or a rest: what was done last, by whom, what is next, and who is here now."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from sitelog.text import clean, stepped
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.listing import Pointed, lettered
from sitelog.tui.widgets.page import Page
from sitelog.wording.recap import clock_told, names_in, opened, where_it_stands


class RecapPage(Page[bool]):
    """Gives True once somebody goes on under a name, False where it was left.

    Enter, a digit or a finger takes one of the names; Space, which goes to what is next, does nothing here.
    """

    PLACE = "recap"
    HEADING = "Where this job is up to"
    BINDINGS: ClassVar[list[BindingType]] = bindings("recap")

    def __init__(self, *, known: bool = False) -> None:
        """`known` says that who is there need not be asked again."""
        super().__init__()
        self._known = known
        self._told: list[str] = []

    def body(self) -> ComposeResult:
        """Room for the lines, and the names."""
        with VerticalScroll(can_focus=False):
            yield Static("", id="recap", markup=False)
            yield Pointed(id="names", markup=False)

    def on_mount(self) -> None:
        """Where the job stands, and the names in its record by number."""
        by = self.site.by
        self.names = [by] if self._known and by else names_in(by, self.site.job.entries if self.site.job else ())
        self._told = clean("\n".join(self._lines()), lines=True, most=4000).splitlines()
        self._lay()
        names = self.query_one(Pointed)
        rows = [*(f"  {number}  {known}" for number, known in enumerate(self.names, 1)), "  0  someone else"]
        names.add_options(Option(Content(lettered(row, self.site.ascii_only))) for row in rows)
        names.highlighted = 0
        names.focus()

    def on_resize(self) -> None:
        """Fold the lines for the new width."""
        self._lay()

    def _lay(self) -> None:
        folded = [part for line in self._told for part in stepped(line, max(20, self.size.width - 1), 7)]
        self.query_one("#recap", Static).update(Content("\n".join(folded)))

    def _lines(self) -> list[str]:
        lines = [""]
        if self.site.job:
            lines += where_it_stands(self.site.job)
            lines += clock_told(self.site.job, self.site.author())
        if self.site.session:
            lines += [line for told in opened(self.site.session) for line in ("", told)]
        if self.site.read_only:
            lines += ["", f"Read only: {self.site.read_only}"]
        if self.site.session and self.site.session.damage:
            lines += ["", self.site.session.damage]
        if self._known and self.site.by:
            return [*lines, "", f"You are {self.site.by}. Press Enter to go on.", ""]
        return [*lines, "", "Who are you?", ""]

    def on_key(self, event: Key) -> None:
        """A number takes that name and goes on; 0 asks for another."""
        if not event.character or not event.character.isdecimal():
            return
        event.stop()
        self._take(int(event.character))

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        at = event.option_index
        self._take(at + 1 if at < len(self.names) else 0)

    def _take(self, number: int) -> None:
        """The name of that number; nought asks for another."""
        if number == 0:
            self._somebody_else()
        elif number <= len(self.names):
            self.site.by = self.names[number - 1]
            self.dismiss(True)

    def action_accept(self) -> None:
        """The name under the cursor."""
        self.query_one(Pointed).action_select()

    def action_back(self) -> None:
        """Back to where it was opened from, with nobody's name changed."""
        if self.site.may_leave():
            self.dismiss(False)

    def _somebody_else(self) -> None:
        from sitelog.tui.dialogs.ask import ask_words  # all that can be asked comes with them: seldom wanted here
        from sitelog.wording.prompts.prompts import name

        async def ask() -> None:
            words = await ask_words(self, name(ask="It goes on every entry you make."))
            if words:
                self.site.by = words[0]
                self.dismiss(True)

        self.run_worker(ask(), exclusive=True)

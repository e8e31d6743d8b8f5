"""Where the job stands, after a start or a rest: what was done last, by whom, what is next, and who is here now."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from sitelog.text import clean
from sitelog.tui.dialogs.ask import ask_words
from sitelog.tui.widgets.page import Page
from sitelog.wording.prompts.prompts import name
from sitelog.wording.recap import clock_told, named_job, names_in, opened, standing


class RecapPage(Page[None]):
    """A digit takes one of the names and goes on. The keys that tick and accept do nothing here."""

    PLACE = "recap"
    HEADING = "Where this job is up to"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("q", "app.quit", show=False)]

    def body(self) -> ComposeResult:
        """Room for the lines."""
        yield Static("", id="recap", markup=False)

    def on_mount(self) -> None:
        """Where the job stands, and the names in its record by number."""
        self.names = names_in(self.site.by, self.site.job.entries if self.site.job else ())
        self.query_one("#recap", Static).update(Content(clean("\n".join(self._lines()), lines=True, most=4000)))

    def _lines(self) -> list[str]:
        state = self.site.state
        lines = ["", named_job(state), ""]
        lines += standing(state)
        if self.site.job:
            lines += clock_told(self.site.job, self.site.author())
        if self.site.session:
            lines += [line for told in opened(self.site.session) for line in ("", told)]
        if self.site.read_only:
            lines += ["", f"Read only: {self.site.read_only}"]
        if self.site.session and self.site.session.damage:
            lines += ["", self.site.session.damage]
        lines += ["", "Who are you?", ""]
        lines += [f"  {number}  {name}" for number, name in enumerate(self.names, 1)]
        return [*lines, "  0  someone else"]

    def on_key(self, event: Key) -> None:
        """A number takes that name and goes on; 0 asks for another."""
        if not event.character or not event.character.isdecimal():
            return
        number = int(event.character)
        if number == 0:
            self._somebody_else()
        elif number <= len(self.names):
            self.site.by = self.names[number - 1]
            self.dismiss()

    def _somebody_else(self) -> None:
        async def ask() -> None:
            words = await ask_words(self, name(ask="It goes on every entry you make."))
            if words:
                self.site.by = words[0]
                self.dismiss()

        self.run_worker(ask(), exclusive=True)

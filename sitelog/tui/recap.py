"""Where the job stands, after a start or a rest: what was done last, by whom, what is next, and who is here now."""

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from sitelog.job.views import State
from sitelog.telling.entries import what
from sitelog.telling.told import counted, next_words, when
from sitelog.text import clean
from sitelog.tui.ask import Question, ask_words
from sitelog.tui.page import Page

if TYPE_CHECKING:
    from sitelog.tui.app import SitelogApp

MOST_NAMES = 6


class RecapPage(Page[None]):
    """A digit takes one of the names and goes on. The keys that tick and accept do nothing here."""

    PLACE = "recap"
    HEADING = "Where this job stands"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("q", "app.quit", show=False)]

    def body(self) -> ComposeResult:
        yield Static("", id="recap", markup=False)

    def on_mount(self) -> None:
        self.names = names_in(self.site)
        self.query_one("#recap", Static).update(Content(clean("\n".join(self._lines()), lines=True, most=4000)))

    def _lines(self) -> list[str]:
        state = self.site.state
        lines = ["", f"{state.title}{', ' + state.place if state.place else ''}", ""]
        lines += standing(state)
        if self.site.read_only:
            lines += ["", f"To read only: {self.site.read_only}"]
        lines += ["", "Who is entering?", ""]
        lines += [f"  {number}  {name}" for number, name in enumerate(self.names, 1)]
        return [*lines, "  0  somebody else"]

    def on_key(self, event: Key) -> None:
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
            words = await ask_words(self, Question("Your name", "It stands beside every entry you make.", "name"))
            if words:
                self.site.by = words[0]
                self.dismiss()

        self.run_worker(ask(), exclusive=True)


def names_in(site: "SitelogApp") -> list[str]:
    """The names in the record, the last to enter first."""
    names = dict.fromkeys([site.by] if site.by else [])
    if site.job:
        names.update(dict.fromkeys(entry.by for entry in reversed(site.job.entries)))
    return list(names)[:MOST_NAMES]


def standing(state: State) -> list[str]:
    """What was done last, what is next, and what is open."""
    lines = []
    if state.last:
        lines.append(f"Last   {what(state.last, state)}")
        lines.append(f"       {state.last.by}, {when(state.last.at)}")
    lines.append(f"Next   {next_words(state)}")
    stands = (
        len(state.open_snags) and f"{counted(len(state.open_snags), 'snag')} open",
        len(state.releases) and f"{len(state.releases)} released as it is",
        len(state.stale) and f"{len(state.stale)} stale",
        sum(d.open for d in state.deferrals) and f"{sum(d.open for d in state.deferrals)} for later",
    )
    lines.append(f"Stands {', '.join(words for words in stands if words) or 'nothing out of the way'}")
    if state.changed_lists:
        lines.append(
            f"Lists  {', '.join(state.changed_lists)} changed since this job was set up: look at what is asked"
        )
    return lines

"""The sum of one check, whole: inputs with where they came from, results, working and rule."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from sitelog.text import text_if
from sitelog.tui.keys import bindings
from sitelog.tui.widgets.page import Page
from sitelog.wording.result import columned_at, input_lines, outcome_lines, working_lines


class WorkingPage(Page[None]):
    """Of the check at `path`."""

    PLACE = "working"
    BINDINGS: ClassVar[list[BindingType]] = bindings("working")

    def __init__(self, path: str) -> None:
        super().__init__()
        self.path = path

    def heading(self) -> str:
        """What the check asks."""
        view = self.site.state.check(self.path)
        if not view:
            return ""
        return view.check.ask_in_full

    def body(self) -> ComposeResult:
        """Room for the working, which scrolls."""
        with VerticalScroll(id="form"):
            yield Static("", id="work", markup=False)

    def on_mount(self) -> None:
        """The working as the job stands, and the cursor where arrows scroll it."""
        self.show_title()
        self.state_changed()
        self.query_one("#form").focus()

    def on_resize(self) -> None:
        """Lay it out for the new width, and say whether more is below."""
        self.state_changed()
        self.call_after_refresh(self._more)

    def _more(self) -> None:
        self.say(text_if(self.query_one("#form").max_scroll_y, "More below: press down."))

    def state_changed(self) -> None:
        """Work it with the figures as they stand now."""
        view, units = self.site.state.check(self.path), self.site.state.units
        if view:
            working = working_lines(view.answer, units, max(20, min(79, self.size.width - 2))) if view.answer else []
            row = columned_at(self.size.width)
            self.put(
                "#work", [*input_lines(view, units, row), *outcome_lines(view, self.site.state, row=row), *working]
            )

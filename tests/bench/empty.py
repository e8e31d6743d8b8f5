"""The floor of the screens: a Textual app with a list of two rows and nothing else. Run by screen.py, not by hand."""

from textual.app import App, ComposeResult
from textual.widgets import OptionList


class Empty(App[None]):
    def compose(self) -> ComposeResult:
        yield OptionList("one", "two", markup=False)


if __name__ == "__main__":
    Empty().run()

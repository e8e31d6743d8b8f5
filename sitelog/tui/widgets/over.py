"""A question shown over the foot of the page that it was asked from: the page stays in sight behind it."""

from typing import Generic, TypeVar

from textual.app import ComposeResult
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from sitelog.tui.host import host_of
from sitelog.tui.keys import foot_of
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.page import FootLine

T = TypeVar("T")


class OverPage(ModalScreen[T], Generic[T]):
    """A line of notice above the keys; `keeps_typed` says whether what is typed outlives it."""

    keeps_typed = False

    def foot(self, *keys: str) -> ComposeResult:
        """The notice and the keys."""
        yield Static("", id="ask-notice", markup=False)
        yield FootLine(foot_of(*keys), classes="keys")

    def say(self, words: str) -> None:
        """One line above the keys."""
        from sitelog.wording.formatting import in_words  # see Page.say

        site = host_of(self)
        told = in_words(words, site.state) if site.job else words
        self.query_one("#ask-notice", Static).update(Content(lettered(told, site.ascii_only)))

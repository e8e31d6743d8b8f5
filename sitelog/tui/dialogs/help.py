"""What every key does, what every mark means, how figures are typed, and when a reading is good."""

from collections.abc import Iterator
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from sitelog.job.state.marks import CAUTION, CHECK, HOLD, Mark
from sitelog.quantities.quantity import ACCEPTS
from sitelog.tui.keys import KEYS, LEAVE_HELP, bindings
from sitelog.tui.widgets.listing import Paragraphs
from sitelog.tui.widgets.site_page import SitePage
from sitelog.wording.actions.kinds import LISTS

PLACES = {
    "recap": "Where the job is up to",
    "job": "The job",
    "check": "A check",
    "field": "Typing in a form",
    "jobs": "The jobs of the folder",
    "new-job": "A new job",
    "building": "Building a roof",
    "block": "A block of the roof",
    "caution": "A caution",
    "facts": "Figures",
    "calculators": "Calculators",
    "calculator": "A calculator",
    "sum": "A slow calculation",
    "solving": "While it is worked out",
    "timber": "The cutting list",
    "journal": "The site diary",
    "snags": "Snags",
    "sources": "Where it comes from",
    "lists": "Newer checklists and earlier checks",
    "whole": "Reading the whole panel",
    "instruments": "Tools",
    "photos": "Photos",
    "handover": "Handing over",
    "replies": "Replies from the next trade",
    "find": "Find, and all commands",
    "drawing": "The drawing",
    "templates": "Full-size templates",
}
VERDICT = (
    "OK: inside the limit even if the tape is at its worst. OUT: outside the limit even allowing for the tape. "
    "TOO CLOSE: in between, so this tape can't tell."
)
MEANS: dict[str, str] = {
    "open": "to be done",
    "done": "done, and inside any limit",
    "out": "outside the limit: fix it, snag it or carry on as it is",
    "unsure": "too close to call: use a better tool, or take three readings",
    "snagged": "someone has to fix it by a date",
    "released": "carried on as it is, with a name and a reason",
    "not applicable": "does not apply here, for the reason given",
    "stale": "a figure it used has changed: do it again",
    "deferred": "left until a later stage",
}


def help_lines(ascii_only: bool, first: str = "") -> Iterator[tuple[str, str]]:
    """(first word, words): keys by page, each told once, then marks, figures and the rule for a verdict.

    `first` is the page that comes before the others.
    """
    everywhere = [key for key in KEYS if set(LISTS) <= set(key.places)]
    for number, (place, title) in enumerate(sorted(PLACES.items(), key=lambda place: place[0] != first)):
        if number:
            yield "", ""
        yield "", title.upper()
        for key in KEYS:
            if place in key.places and key not in everywhere:
                yield key.shown, key.says
    yield "", ""
    yield "", "EVERYWHERE"
    for key in everywhere:
        yield key.shown, key.says
    yield from _marks(ascii_only)
    yield from _figures()


def _marks(ascii_only: bool) -> Iterator[tuple[str, str]]:
    yield "", ""
    yield "", "MARKS"
    rows: list[tuple[Mark, str]] = [(mark, f"{mark.word}: {MEANS[state]}") for state, mark in CHECK.items()]
    rows += [(HOLD, "HOLD: sign this before you go on")]
    rows += [(CAUTION, "caution: read before you start")]
    yield from ((mark.sign(ascii_only), words) for mark, words in rows)


def _figures() -> Iterator[tuple[str, str]]:
    yield "", ""
    yield "", "HOW TO TYPE FIGURES"
    yield from ((kind, words) for kind, words in ACCEPTS.items())
    yield "", ""
    yield "", "WHEN A READING PASSES"
    yield "", VERDICT


class HelpPage(SitePage[None]):
    """The whole help on one page that scrolls."""

    PLACE = "help"
    BINDINGS: ClassVar[list[BindingType]] = bindings("help")
    HEADING = " What every key does"

    def __init__(self, first: str = "") -> None:
        """`first` is the page that it was opened from: its keys come first."""
        super().__init__()
        self.first = first

    def body(self) -> ComposeResult:
        """Room for the help."""
        with VerticalScroll(id="help"):
            yield Paragraphs(id="help-words")

    def on_mount(self) -> None:
        """Fill it in, with the signs that this terminal can show."""
        self.query_one("#help-words", Paragraphs).show(help_lines(self.site.ascii_only, self.first))
        self.query_one("#help").focus()

    def action_help(self) -> None:
        """Say how to leave: it is open already."""
        self.say(LEAVE_HELP)

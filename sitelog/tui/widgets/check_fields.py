"""The fields of a check: its choices, its figures, its word, its photo, and what it was measured with."""

from collections.abc import Mapping

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from sitelog.job.state.views import CheckView
from sitelog.text import text_if
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import lettered
from sitelog.wording.prompts.asking import TOOL, WORDS
from sitelog.wording.prompts.tools import wants_tool
from sitelog.wording.result import figure_label

PHOTO, WHOLE = "photo", "@whole"
Starts = Mapping[str, tuple[str, str]]  # what stands in a field to begin with, and what of it the program offers


def takes_photo(view: CheckView) -> bool:
    """Whether a photo goes with the answer, or is the answer."""
    return view.check.kind == "photo" or view.check.photo


def check_fields(view: CheckView, starts: Starts, *, plain: bool) -> ComposeResult:
    """The fields that the check has, top to bottom; `starts` by their keys."""
    kind = view.check.kind
    if kind == "choice":
        yield _choices(view, plain)
    for figure in view.check.figures:
        label = figure_label(figure.says, figure.kind, view.check)
        yield _field(figure.key, lettered(label, plain), starts, figure.kind, words=f"drawn-{figure.key}")
    if kind in WORDS and kind != "photo":
        yield _field("value", lettered(WORDS[kind], plain), starts)
    if takes_photo(view):
        yield _field(PHOTO, "photo", starts)
        yield _field(WHOLE, "time and place", starts, words="whole-words")
    if wants_tool(view):
        yield _field(TOOL, "measured with", starts, "text")


def _choices(view: CheckView, plain: bool) -> OptionList:
    rows = [f"{number}  {choice.label}" for number, choice in enumerate(view.check.choices, 1)]
    return OptionList(*(Option(Content(lettered(row, plain))) for row in rows), id="choices", markup=False)


def _field(key: str, label: str, starts: Starts, kind: str = "", words: str | None = None) -> Horizontal:
    """A label, the field, and room for words beside it: what is drawn, where it is a figure."""
    start, offered = starts.get(key, ("", ""))
    beside = " -worded" if words else text_if(not kind, " -alone")  # words or a photo's name may be long
    return Horizontal(
        Static(Content(label), classes="field-label", markup=False),
        Horizontal(
            Entry(start, offered=offered, kind=kind, name=key, classes=text_if(words, "figure")),
            Static("", id=words, classes="field-words", markup=False),
            classes="field-pair",
        ),
        classes=f"field-line{beside}",
    )

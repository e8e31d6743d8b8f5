"""One caution: what can hurt, what to do, who to ask, and the question about this job that alone lets it go."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from sitelog.checklist.schema.guidance import Caution, Question
from sitelog.checklist.schema.model import Library
from sitelog.job.actions import actions
from sitelog.job.cautions.answers import in_turn
from sitelog.text import text_after
from sitelog.tui.keys import STEP, bindings
from sitelog.tui.widgets.entry import Entry
from sitelog.tui.widgets.listing import Paragraphs, RuledLine, lettered
from sitelog.tui.widgets.page import Page
from sitelog.wording.caution import UNANSWERED, caution_words, choice_lines, question_line, stop_line, wanted

ROOMY = 24  # rows of a screen that has room for lines between


class CautionPage(Page[bool]):
    """Gives True once it is read and lets the work go on; False when it was left, or when the answer stops the work.

    Enter, Space or Esc alone never clears it: nothing is filled in and no answer is under the cursor to begin with.
    """

    PLACE = "caution"
    BINDINGS: ClassVar[list[BindingType]] = bindings("caution")

    def __init__(self, caution_id: str, at: str = "", place: str = "") -> None:
        """`at` is the stage that the answer is for, where each stage asks anew; `place` is such as "2 of 3"."""
        super().__init__()
        self.at = at
        self.place = place
        self.caution_id = caution_id

    @property
    def library(self) -> Library:
        """The lists of the open job. LookupError where none is open."""
        if self.site.job is None:
            raise LookupError("no job is open")
        return self.site.job.library

    @property
    def caution(self) -> Caution:
        """The caution that is shown."""
        return self.library.cautions[self.caution_id]

    def heading(self) -> str:
        """Its title, and which of how many it is."""
        return f" ! {self.caution.title}{text_after(' · ', self.place)}"

    def body(self) -> ComposeResult:
        """Its words, which scroll, then the question and where the answer goes."""
        with VerticalScroll(id="caution", can_focus=False):
            yield Paragraphs(id="caution-words")
        yield RuledLine(classes="rule", markup=False)
        yield Static("", id="caution-ask", markup=False)
        yield from self._answer_field(self.caution.question)

    def _answer_field(self, question: Question) -> ComposeResult:
        if question.kind == "choice":
            yield OptionList(*self._choices(question), id="choices", markup=False)
            return
        with Horizontal(classes="field-line"):
            yield Static(Content(question.kind), classes="field-label", markup=False)
            yield Entry(id="answer", max_length=200)
            yield Static(Content(self._plain(question.unit or in_turn(question))), classes="field-words", markup=False)

    def _choices(self, question: Question) -> list[Option]:
        return [Option(Content(self._plain(line))) for line in choice_lines(question)]

    def on_mount(self) -> None:
        """The question stands there; no choice is under the cursor to begin with."""
        question = self.caution.question
        self.query_one("#caution-ask", Static).update(Content(self._plain(question_line(question))))
        for choices in self.query(OptionList):
            choices.highlighted = None
        self.query_one("#choices, #answer").focus()

    def on_resize(self) -> None:
        """The words again, with lines between where there is room."""
        self.query_one("#caution-words", Paragraphs).show(self._words())
        self.call_after_refresh(self._more)

    def _more(self) -> None:
        """Where not all of it fits, say how the rest is read: nothing of a caution may go unseen."""
        if self.query_one("#caution").max_scroll_y:
            self.say("More below: press down.")

    def _words(self) -> list[tuple[str, str]]:
        space = [("", "")] if self.size.height >= ROOMY else []
        *told, first = caution_words(self.caution, self.library, self.site.state)
        spaced = [line for lead, words in told for line in ((lead, words), *(space if lead != "Figure" else []))]
        return [*spaced, *space, first]

    def _plain(self, text: str) -> str:
        return lettered(text, self.site.ascii_only)

    # -- answering --

    def on_key(self, event: Key) -> None:
        """A digit puts the cursor on a choice; Enter then takes it. Up and down read on while words are typed."""
        choices = self.focused
        if event.key in STEP and isinstance(choices, Input):
            self.query_one("#caution").scroll_relative(y=STEP[event.key], animate=False)
            event.stop()
        if isinstance(choices, OptionList) and event.character and event.character.isdecimal():
            at = int(event.character) - 1
            if 0 <= at < choices.option_count:
                choices.highlighted = at
                self.say(f"{self.caution.question.choices[at]}: press Enter to choose it")
            event.stop()

    @on(Input.Submitted)
    def action_accept(self) -> None:
        """Take what was typed; nothing typed clears nothing."""
        self._take(self.query_one("#answer", Input).value if self.query("#answer") else "")

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self._take(self.caution.question.choices[event.option_index])

    def _take(self, answer: str) -> None:
        if not answer.strip():
            self.say(f"{UNANSWERED}: type {wanted(self.caution.question)}.")
            return
        caution = self.caution
        if not self.site.attempt(
            lambda: actions.read_caution(self.site.state, self.library, caution.id, answer, at=self.at)
        ):
            return
        if self.site.state.readings[-1].stops:
            self.dismiss(False)
            self.site.tell(stop_line(caution, answer))
        else:
            self.dismiss(True)

    def action_back(self) -> None:
        """Leave it unread."""
        self.dismiss(False)

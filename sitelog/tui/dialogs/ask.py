"""A question with typed answers: words, a name, a reason. Shown over the foot of the page it was asked from."""

from collections.abc import Callable
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.events import Key
from textual.screen import Screen
from textual.widgets import Input, Static

from sitelog.quantities.slips import Slip
from sitelog.refusal import Refusal
from sitelog.tui.dialogs import meant
from sitelog.tui.host import host_of
from sitelog.tui.keys import STEP
from sitelog.tui.widgets.entry import LONG_PASTE, Entry
from sitelog.tui.widgets.fields import WIDTHS, InSight
from sitelog.tui.widgets.listing import lettered
from sitelog.tui.widgets.over import OverPage
from sitelog.wording.prompts.question import Question, kept


class AskPage(OverPage[list[str] | None]):
    """Enter goes to the next line and, on the last, accepts; Esc leaves it.

    `prove` refuses answers that can't be entered: they are told why here, where they can be put right. What is typed is
    kept under the name of the `form`, where it has one, until it is entered.
    """

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]
    HORIZONTAL_BREAKPOINTS = WIDTHS

    def __init__(
        self, questions: tuple[Question, ...], prove: Callable[[list[str]], object] | None = None, form: str = ""
    ) -> None:
        super().__init__()
        self.questions = questions
        self.prove = prove
        self.form = form
        self.keeps_typed = bool(form)
        self._refused = False  # what stands there: it isn't kept when the page is left

    def compose(self) -> ComposeResult:
        """The first title, each question with its field, a line of notice and the two keys."""
        with Vertical(id="ask"):
            plain = host_of(self).ascii_only
            typed = host_of(self).drafts.typed(self.form)
            yield Static(Content(lettered(self.questions[0].title, plain)), id="ask-title", markup=False)
            with InSight(id="ask-form", can_focus=False):
                for number, question in enumerate(self.questions):
                    yield Static(Content(lettered(question.ask, plain)), classes="ask-words", markup=False)
                    with Horizontal(classes="field-line"):
                        yield Static(Content(lettered(question.label, plain)), classes="field-label", markup=False)
                        start = typed.get(question.label, question.start)
                        yield Entry(start, offered=question.start, id=f"answer-{number}")
            yield from self.foot("enter save", "esc back")

    def on_mount(self) -> None:
        """The cursor stands in the first field."""
        self.query_one("#answer-0", Input).focus()

    @on(Input.Changed)
    def _typed(self) -> None:
        self._refused = False
        # A field tells its first change while the page is still being put together.
        if self.form and len(self.query(Input)) == len(self.questions):
            host_of(self).drafts.keep(self.form, kept(self.questions, self._texts()))

    def _texts(self) -> list[str]:
        return [self.query_one(f"#answer-{place}", Input).value for place in range(len(self.questions))]

    def on_resize(self) -> None:
        """As many of the questions as there is room for; the rest is scrolled to."""
        self.call_after_refresh(self._fit)

    def _fit(self) -> None:
        """The title, the notice and the keys are never pushed off the screen."""
        form = self.query_one("#ask-form")
        beside = sum(part.outer_size.height for part in self.query_one("#ask").children if part is not form)
        asked = sum(part.outer_size.height for part in form.children)
        form.styles.height = max(1, min(asked, self.size.height - beside))

    @on(Input.Submitted)
    def _next(self, event: Input.Submitted) -> None:
        number = int((event.input.id or "answer-0").rpartition("-")[2])
        question = self.questions[number]
        if not event.value.strip() and not question.optional:
            self.say(f"{question.label}: type something here.")
            return
        if number + 1 < len(self.questions):
            self.query_one(f"#answer-{number + 1}", Input).focus()
            return
        answers = [text.strip() for text in self._texts()]
        missing = next(
            (place for place, question in enumerate(self.questions) if not answers[place] and not question.optional),
            None,
        )
        if missing is None:
            self._accept(answers)
        else:
            self.query_one(f"#answer-{missing}", Input).focus()

    @on(Entry.TooLong)
    def _too_long(self) -> None:
        self.say(LONG_PASTE)

    def _accept(self, answers: list[str]) -> None:
        try:
            if self.prove:
                self.prove(answers)
        except Slip as slip:
            field = self.query_one("#answer-0", Input)  # a figure is asked for by itself
            meant.ask(self, slip, field, self.say, lambda: self._accept([field.value.strip(), *answers[1:]]))
        except Refusal as refusal:
            self._refused = True
            self.say(refusal.message)
            at = next((number for number, text in enumerate(answers) if text and repr(text) in refusal.message), None)
            if at is not None:
                self.query_one(f"#answer-{at}", Input).focus()
        else:
            self.dismiss(answers)

    def say(self, words: str) -> None:
        """One line above the keys, which may take room from the questions."""
        super().say(words)
        self.call_after_refresh(self._fit)

    def on_key(self, event: Key) -> None:
        """Up and down move between the lines."""
        if event.key in STEP:
            fields = list(self.query(Input))
            at = next((number for number, field in enumerate(fields) if field.has_focus), 0) + STEP[event.key]
            fields[max(0, min(at, len(fields) - 1))].focus()
            event.stop()

    def action_leave(self) -> None:
        """Leave it unanswered."""
        if self._refused:
            host_of(self).drafts.drop(self.form)
        self.dismiss(None)


async def ask_words(
    page: Screen[Any], *questions: Question, prove: Callable[[list[str]], object] | None = None, form: str = ""
) -> list[str] | None:
    """The answers, in order; None if it was left. Call it from a worker."""
    return await page.app.push_screen_wait(AskPage(questions, prove, form))

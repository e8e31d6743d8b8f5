"""A question with typed answers: words, a name, a reason. Shown over the foot of the page it was asked from."""

from dataclasses import dataclass
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen, Screen
from textual.widgets import Input, Static

from sitelog.text import clean


@dataclass(frozen=True)
class Question:
    title: str
    ask: str
    label: str
    start: str = ""
    optional: bool = False


class AskPage(ModalScreen[list[str] | None]):
    """Enter goes to the next line and, on the last, accepts; Esc leaves it."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", show=False)]

    def __init__(self, questions: tuple[Question, ...]) -> None:
        super().__init__()
        self.questions = questions

    def compose(self) -> ComposeResult:
        with Vertical(id="ask"):
            yield Static(Content(clean(self.questions[0].title)), id="ask-title", markup=False)
            for number, question in enumerate(self.questions):
                yield Static(Content(clean(question.ask, most=2000)), classes="ask-words", markup=False)
                with Horizontal(classes="field-line"):
                    yield Static(Content(clean(question.label)), classes="field-label", markup=False)
                    yield Input(question.start, id=f"answer-{number}", max_length=400, select_on_focus=False)
            yield Static("", id="ask-notice", markup=False)
            yield Static("enter accept  esc leave", classes="keys", markup=False)

    def on_mount(self) -> None:
        self.query_one("#answer-0", Input).focus()

    @on(Input.Submitted)
    def _next(self, event: Input.Submitted) -> None:
        number = int((event.input.id or "answer-0").rpartition("-")[2])
        question = self.questions[number]
        if not event.value.strip() and not question.optional:
            self.query_one("#ask-notice", Static).update(Content(f"{question.label}: some words are wanted here."))
            return
        if number + 1 < len(self.questions):
            self.query_one(f"#answer-{number + 1}", Input).focus()
            return
        answers = [self.query_one(f"#answer-{i}", Input).value.strip() for i in range(len(self.questions))]
        missing = next((i for i, q in enumerate(self.questions) if not answers[i] and not q.optional), None)
        if missing is None:
            self.dismiss(answers)
        else:
            self.query_one(f"#answer-{missing}", Input).focus()

    def action_leave(self) -> None:
        self.dismiss(None)


async def ask_words(page: Screen[Any], *questions: Question) -> list[str] | None:
    """The answers, in order; None if it was left. Call it from a worker."""
    return await page.app.push_screen_wait(AskPage(questions))
